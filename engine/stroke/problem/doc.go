// Package problem holds what is asked of a stroke and what is answered: Problem, Seat,
// Hold and Settings; Solution, SeatSolution and Energy; Failure with its causes. Check
// says what is asked that cannot be, Plan works out once what the equations of motion
// ask for, Refuse turns down a solution that is no rowing.
//
// SI throughout (m, kg, s, N, rad), but the rate, in strokes/min. Catch and finish are
// both magnitudes from the square; the oar angle θ runs from −Catch to +Finish.
//
// It solves nothing: that is done by the rooms general and fast, between which
// engine/stroke chooses.
package problem
