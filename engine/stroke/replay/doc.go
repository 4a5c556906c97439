// Package replay looks at a solved stroke moment by moment: Follow rows it once more by
// the general equations, finer than it was solved, and the Replay gives Trace, BladePath,
// PerfectPath, SlipMap, Frames and YawMoment. It solves no steady stroke.
//
// x in the direction of travel, y outward from the pin's line on the oar's side; θ is 0
// with the shaft square to the hull, negative toward the bow. Tables are in the trade's
// units (cm, deg), Frame in SI.
package replay
