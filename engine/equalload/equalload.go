package equalload

import (
	"fmt"

	"thole/engine/oar"
	"thole/engine/stroke"
)

// Adjust is the measure of an oar that EqualLoad changes.
type Adjust uint8

// What can be adjusted. Outboard and Length keep the inboard, Inboard keeps the length.
const (
	Outboard Adjust = iota
	Inboard
	Length
)

// Adjusts lists the measures as they are typed, in the order of the constants.
var Adjusts = []string{"outboard", "inboard", "length"}

func (a Adjust) String() string { return Adjusts[a] }

// window is where the measure may lie, m.
func (a Adjust) window() (low, high float64) {
	switch a {
	case Inboard:
		return 0.50, 1.50
	case Length:
		return 1.50, 4.50
	}
	return 0.90, 3.20
}

// Of is the measure of an oar, m.
func (a Adjust) Of(o *oar.Oar) float64 {
	switch a {
	case Inboard:
		return o.Inboard
	case Length:
		return o.Length
	}
	return o.Outboard()
}

func (a Adjust) set(o oar.Oar, x float64) oar.Oar {
	switch a {
	case Inboard:
		o.Inboard = x
	case Length:
		o.Length = x
	default:
		o.Length = o.Inboard + x
	}
	return o
}

// Match is the quantity that is to stay the same on another oar.
type Match uint8

// What can be matched, seat by seat.
const (
	MatchDriveTime Match = iota
	MatchTravel
	MatchHeaviness
	MatchEarlyLoad
	MatchPeakForce
)

// Matches lists the quantities as they are typed, in the order of the constants.
var Matches = []string{"drive_time", "travel", "heaviness", "early_load", "peak_force"}

func (m Match) String() string { return Matches[m] }

// of is the quantity for one rower of a seat, SI.
func (m Match) of(s *stroke.Stroke, seat int) float64 {
	switch m {
	case MatchTravel:
		return s.Seats[seat].Travel
	case MatchHeaviness:
		return s.Heaviness(seat)
	case MatchEarlyLoad:
		return s.EarlyLoad(seat)
	case MatchPeakForce:
		return s.Seats[seat].PeakForce
	}
	return s.Seats[seat].DriveTime
}

// says writes the quantity in its trade unit, with enough digits to tell two apart.
func (m Match) says(x float64) string {
	switch m {
	case MatchTravel:
		return fmt.Sprintf("%.3f m", x)
	case MatchHeaviness:
		return fmt.Sprintf("%.1f N·s/m", x)
	case MatchEarlyLoad, MatchPeakForce:
		return fmt.Sprintf("%.1f N", x)
	}
	return fmt.Sprintf("%.3f s", x)
}

// words name the quantity in a sentence.
func (m Match) words() string {
	return [...]string{"drive time", "travel in the drive", "heaviness", "early load", "peak force"}[m]
}

// Question asks for the oar that loads a crew as a stroke does. The zero value
// of Adjust, Match and At is not the language's default for At: set it to Speed.
type Question struct {
	Oars   []oar.Oar // the new oars: one for every seat of the stroke's problem, or one for all
	Adjust Adjust
	Match  Match
	At     stroke.Hold // Speed, Power or Effort, as the stroke has it

	// KeepReach says that the hands keep their reach when the inboard changes:
	// the stroke's angles were measured on an oar (oar.KeepReach).
	KeepReach bool
}

// Matched is the answer of EqualLoad for one seat of the problem.
type Matched struct {
	Oar    oar.Oar
	Wanted float64 // the quantity in the stroke, SI
	Got    float64 // the quantity on Oar
	Other  *oar.Oar
}

// Answer is the answer of EqualLoad.
type Answer struct {
	Seats   []Matched      // one for each seat of the problem
	Stroke  *stroke.Stroke // the stroke on the new oars
	Strokes int            // strokes solved to find it
}

// matchedWithin is how closely the quantity is met, relative. A steady stroke is
// solved to 1e-9; what is promised is 1e-6.
const matchedWithin = 1e-8

// Find gives, seat by seat, the oar that loads this crew as the stroke
// does, in its hull, wind and water: the new oar with one measure adjusted so
// that the matched quantity is that of the stroke. It is searched outward from
// the stroke's own oar to the measure's window or the first oar without a
// stroke; where two oars match, the nearer one is the answer and the other is
// told. An error is a *Failure: no oar of the window matches, or the question
// has no answer (heaviness at a held speed; forces but at a held effort).
func Find(s *stroke.Stroke, e Question, settings stroke.Settings) (*Answer, error) {
	if f := e.check(s); f != nil {
		return nil, f
	}
	q := ready(s, e, settings)
	if len(q.groups) == 1 {
		return q.alone()
	}
	return q.together()
}

// check refuses what means nothing, with the reason (model 8).
func (e *Question) check(s *stroke.Stroke) *stroke.Failure {
	refuse := func(typ, why, what string) *stroke.Failure {
		return &stroke.Failure{Cause: stroke.BadProblem, What: what, Why: why, Type: typ}
	}
	switch {
	case len(e.Oars) != 1 && len(e.Oars) != len(s.Problem.Seats):
		return refuse("one oar for all, or one a seat",
			"the stroke's seats and the oars go together one by one",
			fmt.Sprintf("%d oars for %d seats", len(e.Oars), len(s.Problem.Seats)))
	case e.At != stroke.Speed && e.At != stroke.Power && e.At != stroke.Effort:
		return refuse(`at="speed"`, "a load is held equal at the same speed, power or effort",
			fmt.Sprintf("at=%q is no way to hold", e.At))
	case e.Match == MatchHeaviness && e.At == stroke.Speed:
		return refuse(`match="drive_time", or at="power"`,
			"at a held speed a bigger blade makes heaviness neither rise nor fall: 10 % of area asks for "+
				"-0.3 to +0.6 cm of oar, which is no answer",
			"heaviness cannot be matched at the same speed")
	case (e.Match == MatchEarlyLoad || e.Match == MatchPeakForce) && e.At != stroke.Effort:
		why := "at a held speed the forces ask for three to four times the change of oar that rowers make"
		if e.At == stroke.Power {
			why = "at a held power the forces move the wrong way with the oar, or reach no equal at all"
		}
		return refuse(`match="drive_time", or at="effort"`, why,
			fmt.Sprintf("%s can be matched only at the same effort", e.Match.words()))
	}
	return nil
}
