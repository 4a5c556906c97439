package stroke

import (
	"thole/engine/stroke/problem"
	"thole/engine/stroke/replay"
)

// What a caller of Row needs from the rooms below, under this room's name.
type (
	// Problem is one stroke to be solved: see problem.Problem.
	Problem = problem.Problem
	// Seat is one rower at one place with one kind of oar: see problem.Seat.
	Seat = problem.Seat
	// Hold is the quantity a steady stroke is held at: see problem.Hold.
	Hold = problem.Hold
	// Settings are how a problem is solved: see problem.Settings.
	Settings = problem.Settings
	// Route is the way a stroke is solved: see problem.Route.
	Route = problem.Route
	// Solution is the steady stroke, as both routes give it: see problem.Solution.
	Solution = problem.Solution
	// SeatSolution is what the steady stroke is for one rower: see problem.SeatSolution.
	SeatSolution = problem.SeatSolution
	// Energy is the energy book of one stroke, J: see problem.Energy.
	Energy = problem.Energy
	// Failure is the error of a problem without a stroke: see problem.Failure.
	Failure = problem.Failure
	// Cause is why there is no stroke: see problem.Cause.
	Cause = problem.Cause
	// Replay is a solved stroke rowed once more: see replay.Replay.
	Replay = replay.Replay
	// Moments are the times at which a path is looked at: see replay.Moments.
	Moments = replay.Moments
	// Frame is one picture of a moving stroke: see replay.Frame.
	Frame = replay.Frame
	// Places is where the pins stand for a yawing moment: see replay.Places.
	Places = replay.Places
)

// The quantities that can be held; see problem.Hold.
const (
	Power       = problem.Power
	HandlePower = problem.HandlePower
	Effort      = problem.Effort
	Force       = problem.Force
	Speed       = problem.Speed
)

// The routes; see problem.Route.
const (
	Auto    = problem.Auto
	General = problem.General
	Fast    = problem.Fast
)

// The causes of a failure; see problem.Cause.
const (
	BadProblem   = problem.BadProblem
	DriveTooLong = problem.DriveTooLong
	DriveStops   = problem.DriveStops
	OutOfReach   = problem.OutOfReach
	NotFound     = problem.NotFound
)

// HighEffort is the effort beyond which a stroke carries a caution, N.
const HighEffort = problem.HighEffort

// Holds lists the holds as they are typed, in the order of the constants.
var Holds = problem.Holds

// Traces lists the columns of a trace, as they are typed.
var Traces = replay.Traces
