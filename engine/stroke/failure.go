package stroke

import "fmt"

// Cause is why there is no stroke.
type Cause uint8

// The causes of failure.
const (
	BadProblem   Cause = iota // something asked that cannot be
	DriveTooLong              // less than a fifth of the stroke is left to recover
	DriveStops                // the drive never reaches the finish
	OutOfReach                // the held quantity cannot be met
	NotFound                  // the solver found no steady stroke, though nothing says there is none
)

// Failure is the error of a problem without a stroke, in a coach's words: What
// happened, Why, and what to Type instead (may be empty; Advice works it out).
type Failure struct {
	Cause Cause
	What  string
	Why   string
	Type  string

	problem *Problem // what was asked, for Advice
}

func (f *Failure) Error() string { return f.What }

// driveTooLong is the failure of a drive of this length [s].
func driveTooLong(p *Problem, drive float64) *Failure {
	t := p.Period()
	return &Failure{
		Cause: DriveTooLong,
		What:  fmt.Sprintf("the drive would take %.2f s of a %.2f s stroke", drive, t),
		Why: fmt.Sprintf("%.0f %% leaves %.2f s to come forward; a fifth, %.2f s, is the least",
			100*drive/t, t-drive, shortest*t),
		problem: p,
	}
}

// failure words an error of the solver.
func (g *general) failure(p *Problem, err error) *Failure {
	return &Failure{Cause: NotFound, What: "no steady stroke was found: " + err.Error(), problem: p}
}
