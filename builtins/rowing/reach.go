package rowing

import (
	"errors"
	"fmt"
	"math"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/blade"
	"thole/engine/oar"
	"thole/engine/rigging"
	"thole/engine/rounding"
	"thole/engine/table"
)

// Catch and finish belong to the oar and the rig they were measured on. On another oar
// the hands keep their reach; in another rig they move with the body, by what stretcher
// and slides have moved against the pins.

// seatRigs reads the rigs, one for all or one a seat, and holds them to the boat.
func seatRigs(c *lang.Call, s *Stroke, seats int) (err error) {
	if s.Rigs, err = perSeat(c, "rig", seats, things.RigType); err != nil || len(s.Rigs) == 0 {
		return err
	}
	s.Rig = s.Rigs[0]
	for _, r := range s.Rigs {
		switch {
		case s.Hull.Sculling() && math.IsNaN(r.Span):
			return c.Wrong("rig", lang.Mistake("a "+s.Hull.Boat+" is sculled: its pins are measured from "+
				"one to the other", "rig(span=159)", "a spread belongs to sweep boats, and this is a %s",
				s.Hull.Boat))
		case !s.Hull.Sculling() && math.IsNaN(r.Spread):
			return c.Wrong("rig", lang.Mistake("in a "+s.Hull.Boat+" each rower has one oar: its pin is "+
				"measured from the hull's midline", "rig(spread=85)",
				"a span belongs to sculling, and this is a %s", s.Hull.Boat))
		case r.Sides != "" && len(r.Sides) != seats:
			return c.Wrong("rig", lang.Mistake("a letter a seat, bow first: p port, s starboard",
				fmt.Sprintf("sides=%q", "psspspps"[:seats]), "sides %q seat %d, a %s has %d seats", r.Sides,
				len(r.Sides), s.Hull.Boat, seats))
		}
	}
	return nil
}

// bodyMoved gives how far each seat's body has gone sternward, m, since the angles were
// measured: one for all, or one a seat; none where nothing says so.
func bodyMoved(c *lang.Call, s *Stroke, seats int) ([]float64, error) {
	measured, err := perSeat(c, "measured_rig", seats, things.RigType)
	if err != nil || len(measured) == 0 {
		return nil, err
	}
	if s.Rig == nil {
		return nil, c.Wrong("measured_rig",
			lang.Mistake("the angles were measured on a rig; say in which one the crew sits now",
				"rig=... , too", "measured_rig without rig tells nothing"))
	}
	moved := make([]float64, max(len(measured), len(s.Rigs)))
	for i := range moved {
		was, now := measured[min(i, len(measured)-1)], s.RigOf(i)
		if moved[i], err = rigging.Moved(&was.Rig, &now.Rig); err != nil {
			return nil, c.Wrong("rig", untold(err))
		}
		moved[i] = rounding.Clean(moved[i])
	}
	return moved, nil
}

// untold is the error of two rigs of which only one says a measure.
func untold(err error) *lang.Error {
	var u *rigging.Untold
	if !errors.As(err, &u) {
		return lang.NoAnswer("", "", "%v", err)
	}
	which := "this rig has no %s, and the one that the angles were measured on has"
	if u.Measured {
		which = "the rig that the angles were measured on has no %s, and this one has"
	}
	return lang.Mistake("how far the body moves is the difference between two rigs: both must say it, or "+
		"neither", u.Measure+"=... in both rigs",
		which, u.Measure)
}

// reached gives the angles of seat i on its oar and rig.
func reached(c *lang.Call, measured []*things.Oar, moved []float64, i int, o *things.Oar,
	catch, finish float64) (float64, float64, error) {
	was, by := o, 0.0
	if len(measured) > 0 {
		was = measured[min(i, len(measured)-1)]
	}
	if len(moved) > 0 {
		by = moved[min(i, len(moved)-1)]
	}
	newCatch, newFinish, err := oar.MoveReach(&was.Oar, &o.Oar, catch, finish, by)
	if err == nil {
		if was.Lever() != o.Lever() {
			account.KeptReach(c)
		}
		return newCatch, newFinish, nil
	}
	if by != 0 {
		return 0, 0, c.Wrong("rig",
			lang.NoAnswer("the hands move along the boat with the body; "+err.Error(),
				"a shorter way of stretcher and slides, or a longer inboard",
				"with the body moved %s cm %s the oar cannot follow the hands",
				table.Fixed(math.Abs(by)/units.Cm,
					1), sternward(by)))
	}
	return 0, 0, c.Wrong("measured_on",
		lang.NoAnswer("the hands keep their reach: L_in sin(angle) at catch and finish",
			"an inboard nearer to that of measured_on", "%v", err))
}

func sternward(by float64) string {
	if by < 0 {
		return "to the bow"
	}
	return "to the stern"
}

// handCautions are what angles and rig together bring about: a catch further than gates
// and rowers turn, hands that come to the body at the finish.
func (s *Stroke) handCautions() []string {
	var out []string
	seats := max(len(s.Problem.Seats), len(s.Rigs))
	for i := range seats {
		p, who := &s.Problem.Seats[min(i, len(s.Problem.Seats)-1)], ""
		if seats > 1 {
			who = fmt.Sprintf("Seat %d: ", i+1)
		}
		if p.Catch > 80*units.Deg {
			out = append(out, who+fmt.Sprintf("Catch %s deg lies past 80: nobody rows there, and few "+
				"gates turn so far.", table.Fixed(p.Catch/units.Deg, 1)))
		}
		r := s.RigOf(i)
		if r == nil || p.Oar.Kind() != blade.Scull {
			continue
		}
		room := things.Fact("rig", "hands_room", "")
		if apart := rigging.HandlesApart(&p.Oar, &r.Rig, p.Finish) / units.Cm; apart < room {
			out = append(out, who+fmt.Sprintf("At the finish the handles are %s cm apart, less than %s: "+
				"the hands come into the body. Stretcher further to the bow, or more span.",
				table.Fixed(apart, 1), table.Fixed(room, -1)))
		}
	}
	return out
}
