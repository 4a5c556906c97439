package problem

import "fmt"

// Cause is why there is no stroke.
type Cause uint8

// The causes of failure.
const (
	BadProblem   Cause = iota // something asked that cannot be
	DriveTooLong              // less than a fifth of the stroke is left to recover
	DriveStops                // the drive never gets going
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

	// Seat is the seat of the merged problem that it is about, counted from 1; 0 where
	// it is about the boat.
	Seat int
	// Advise works out what to type where Type is not known already; nil where nobody
	// can. Whoever solves problems sets it.
	Advise func() string
}

func (f *Failure) Error() string { return f.What }

// Advice says what to type instead: the nearest problem that has a stroke, found by
// rowing neighbours where Type is not known already; "" where nothing near helps. It
// takes as long as a few dozen strokes, so it is asked only for a message that is
// shown.
func (f *Failure) Advice() string {
	if f.Type != "" || f.Advise == nil {
		return f.Type
	}
	return f.Advise()
}

// TooLongDrive is the failure of a drive of this length [s] on a merged seat; more
// says that it would be at least that long.
func TooLongDrive(p *Problem, seat int, drive float64, more bool) *Failure {
	t := p.Period()
	f := &Failure{
		Cause: DriveTooLong,
		What:  fmt.Sprintf("the drive would take %.2f s of a %.2f s stroke", drive, t),
		Why: fmt.Sprintf("%.0f %% leaves %.2f s to come forward; a fifth, %.2f s, is the least",
			100*drive/t, t-drive, LeastRecovery*t),
		Seat: seat + 1,
	}
	if more {
		f.What = fmt.Sprintf("the drive would take more than %.2f s of a %.2f s stroke", drive, t)
		f.Why = fmt.Sprintf("a fifth of the stroke, %.2f s, is the least to come forward in: %s",
			LeastRecovery*t, tooLittle(p))
	}
	return f
}

// tooLittle names what is too small where a drive takes too long.
func tooLittle(p *Problem) string {
	switch {
	case p.OwnPower():
		return fmt.Sprintf("too little power for rate %.4g and this arc", p.Rate)
	case p.Hold == Power || p.Hold == HandlePower:
		return fmt.Sprintf("%.4g W are too little power for rate %.4g and this arc", p.Target, p.Rate)
	case p.Hold == Speed:
		return fmt.Sprintf("%.4g m/s are too slow for rate %.4g and this arc", p.Target, p.Rate)
	}
	return fmt.Sprintf("%.4g N are too little for rate %.4g and this arc", p.Target, p.Rate)
}

// LeastRecovery is the share of the stroke that must be left to come forward.
const LeastRecovery = 0.2

// Refuse turns down a solution, of either route, whose drive leaves too little time to
// come forward, or whose hull runs backward for a while: numbers, but no rowing.
func Refuse(p *Problem, sol *Solution) *Failure {
	if sol.MinSpeed <= 0 {
		return Stopped(p)
	}
	seat, drive := 0, 0.0
	for i := range sol.Seats {
		if sol.Seats[i].DriveTime > drive {
			seat, drive = i, sol.Seats[i].DriveTime
		}
	}
	if drive <= (1-LeastRecovery)*p.Period() {
		return nil
	}
	return TooLongDrive(p, seat, drive, false)
}

// Stopped is the failure of a boat that the water or the wind brings to a stop.
func Stopped(p *Problem) *Failure {
	f := &Failure{Cause: OutOfReach, What: "the boat would come to a stop between the strokes",
		Why:  fmt.Sprintf("at rate %.4g its drag takes all its way before the next catch", p.Rate),
		Type: "a higher rate or more power"}
	if p.Wind > 3 {
		f.Why = fmt.Sprintf("at rate %.4g a headwind of %.3g m/s takes all its way before the next catch",
			p.Rate, p.Wind)
		f.Type = "less wind, a higher rate or more power"
	}
	return f
}
