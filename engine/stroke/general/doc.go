// Package general is the general route to a steady stroke: the equations of motion
// (terms.go, one function a term; motion.go solves for the accelerations) integrated in
// time by the adaptive pair of engine/num, and Newton's method on top (steady.go). It
// takes every problem: flexible shafts, unlike rowers, measured blades.
//
// Call Route.Row with a problem that is checked and merged. The zero Route is ready, and
// is used again from problem to problem so that a warm one allocates nothing; it is not
// for several goroutines at once. Whoever wants the motion itself calls SetUp, sets
// every Moment's Effort, calls Run with Mode.Recorded, and reads Trajectory, At and
// Moments, as engine/stroke/replay does.
//
// θ is 0 with the shaft square to the hull, negative toward the bow; x forward. SI.
package general
