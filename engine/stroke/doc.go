// Package stroke puts hull, blades, oars and crew together: the equations of
// motion of one stroke, the steady stroke that repeats itself, and all that is
// read off it. Call Row with a Problem; the Stroke it gives answers by Fields
// (one table of result fields), Energy, Seats, Trace, BladePath, PerfectPath,
// SlipMap and YawMoment.
//
// Frame: x in the direction of travel, y outward on the oar's side; θ is 0 with
// the shaft square to the hull, negative toward the bow, and grows through the
// drive. SI throughout (m, kg, s, N, rad; the rate alone is in strokes/min), but
// tables and Field.Of, which are read by people, are in the trade's units.
//
// Two routes lead to one stroke (Settings.Route): the general one, in time, for
// every problem; the fast one, over the angle, for rigid oars and rowers alike.
//
// Left out: sideways forces, yaw, heave, pitch, the vertical, the oar's way
// through the air, waves that depend on speed.
package stroke
