package rowing

import (
	"sync/atomic"

	"go.starlark.net/starlark"

	"thole/builtins/session"
	"thole/engine/forms"
	"thole/engine/oar"
	"thole/engine/stroke"
)

// Assumed is what is in force while a question is asked again: forms of the model that
// every stroke obeys, and another definition of load. The study's text need not know.
type Assumed struct {
	Forms     forms.Set
	Match, At string      // of equal_load, in place of its own; "" as asked
	Searched  atomic.Bool // an equal_load was asked while this was in force
}

// AssumedOn gives what is in force on a thread, nil for nothing.
func AssumedOn(thread *starlark.Thread) *Assumed {
	a, _ := session.Under(thread).(*Assumed)
	return a
}

func (a *Assumed) apply(p stroke.Problem) stroke.Problem {
	if a == nil {
		return p
	}
	return a.Forms.Apply(p)
}

// forms in force; none for nothing.
func (a *Assumed) forms() forms.Set {
	if a == nil {
		return nil
	}
	return a.Forms
}

// lend gives a problem the value that another stroke has of what it holds, and, among
// unlike rowers, how they share the effort: so an oar of equal load goes back into row
// as it was found.
func lend(p *stroke.Problem, other *Stroke) {
	name := p.Hold.String()
	if p.Hold == stroke.Force {
		name = "peak_force"
	}
	f, _ := stroke.FieldNamed(name)
	p.Target = f.Of(other.Stroke)
	if other.Problem.OwnPower() {
		p.ShareAs(other.Stroke.Seats)
	}
}

// InForce is this stroke under what is in force now: itself where it was rowed so, else
// rowed again. The error is that of a problem without a stroke.
func (s *Stroke) InForce(thread *starlark.Thread) (*Stroke, error) {
	return s.Under(thread, AssumedOn(thread))
}

// Under is this stroke under these assumptions, nil for the study's own.
func (s *Stroke) Under(thread *starlark.Thread, now *Assumed) (*Stroke, error) {
	if s.under == now || s.under.forms().Name() == now.forms().Name() {
		return s, nil
	}
	again, p := *s, s.asked
	if s.lender != nil {
		lender, err := s.lender.Under(thread, now)
		if err != nil {
			return nil, err
		}
		again.lender = lender
		lend(&p, lender)
	}
	again.under = now
	var err error
	if again.Stroke, err = RowOrRecall(thread, now.apply(p)); err != nil {
		return nil, NoStroke(err)
	}
	return &again, nil
}

// OarInForce is an oar as the forms in force have it in this stroke's boat.
func (s *Stroke) OarInForce(thread *starlark.Thread, o oar.Oar) oar.Oar {
	now := AssumedOn(thread)
	if now == nil {
		return o
	}
	p := s.asked
	seat := p.Seats[0]
	seat.Oar = o
	p.Seats = []stroke.Seat{seat}
	return now.apply(p).Seats[0].Oar
}

// Asked is the problem as the study has it, without the forms in force.
func (s *Stroke) Asked() stroke.Problem { return s.asked }
