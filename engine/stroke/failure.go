package stroke

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
