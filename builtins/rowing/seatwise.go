package rowing

import (
	"math"
	"slices"

	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/engine/stroke"
)

// A what-if on one rower's rig: the others sit as they sat, and nobody has told them. Held
// at power, the one with the lighter oar would be made to pull harder until the watts are
// the same, and the oar would hardly feel lighter; so each one's effort is held.

// effortGoesOn says whether a change sets the oar or the rig of some seats and leaves
// others, and nothing says what is to be held.
func (s *Stroke) effortGoesOn(c *lang.Call) bool {
	for _, told := range []string{"hold", "target", "crew", "hull"} {
		if c.Given(told) || s.Given.Has(told) && (told == "hold" || told == "target") {
			return false
		}
	}
	seats := s.Hull.Seats()
	moved := make([]bool, seats)
	if oars, err := perSeat(c, "oar", seats, things.OarType); err == nil && len(oars) == seats {
		for i, o := range oars {
			moved[i] = !o.Equal(&s.Oar(i).Oar)
		}
	}
	if rigs, err := perSeat(c, "rig", seats, things.RigType); err == nil && len(rigs) == seats {
		for i, r := range rigs {
			moved[i] = moved[i] || s.RigOf(i) != nil && !things.SameRig(r, s.RigOf(i))
		}
	}
	return slices.Contains(moved, true) && slices.Contains(moved, false)
}

// SeatsMoved are the seats, from 0, whose oar, rig or angles are not those of another
// stroke of the same boat; none where no seat differs, or every one.
func (s *Stroke) SeatsMoved(other *Stroke) []int {
	seats := s.Hull.Seats()
	if other.Hull.Seats() != seats {
		return nil
	}
	var moved []int
	for i := range seats {
		a, b := s.at(i), other.at(i)
		if !a.Oar.Equal(&b.Oar) || math.Abs(a.Catch-b.Catch) > 1e-9 || math.Abs(a.Finish-b.Finish) > 1e-9 {
			moved = append(moved, i)
		}
	}
	if len(moved) == seats {
		return nil
	}
	return moved
}

// at is what was asked of a seat, bow 0, where one may stand for all.
func (s *Stroke) at(seat int) *stroke.Seat {
	return &s.asked.Seats[min(seat, len(s.asked.Seats)-1)]
}

// OfSeat is a result of one seat, bow 0.
func (s *Stroke) OfSeat(f *stroke.Field, seat int) float64 {
	return f.Seat(s.Stroke, min(seat, len(s.Stroke.Seats)-1))
}
