// Package stroke rows boats: it puts hull, blades, oars and crew together and finds the
// steady stroke, the one that ends at the speed it began with. Call Row with a Problem;
// the Stroke it gives answers by Fields (one table of result fields), Energy, Seats,
// Trace, BladePath, PerfectPath, SlipMap, Frames and YawMoment. A Solver does the same
// for many problems in memory it keeps.
//
// Frame: x in the direction of travel, y outward on the oar's side; θ is 0 with
// the shaft square to the hull, negative toward the bow, and grows through the
// drive. SI throughout (m, kg, s, N, rad; the rate alone is in strokes/min), but
// tables and Field.Of, which are read by people, are in the trade's units.
//
// The work is done in the rooms below, which do not know this one:
//
//   - problem: what is asked and what is answered; checks; levers, inertias and curves
//     worked out once (Plan).
//   - general: the equations of motion in time, term by term, for every problem.
//   - fast: the same over the angle, for rowers alike.
//   - replay: a solved stroke looked at moment by moment.
//
// Left out: sideways forces, yaw, heave, pitch, the vertical, the oar's way
// through the air, waves that depend on speed.
package stroke
