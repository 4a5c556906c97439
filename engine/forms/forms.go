// Package forms is the one table of the forms of the model: different but defensible
// equations or coefficients that every stroke of a question shares. A form changes a
// stroke's problem; it reads and writes nothing else. weigh, help, pages and the tests
// read this table. A number of a form that is also a default's span is read from there.
//
// Not here: what a study itself sets. A form that replaces what the strokes of a question
// differ in asks the question away; Weighable says so.
package forms

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"thole/engine/stroke/problem"
)

// Axis is what a form is a form of; forms of one axis exclude each other.
type Axis string

// The axes of the model that forms lie on.
const (
	Law         Axis = "the law of the blade"
	Lift        Axis = "lift"
	Along       Axis = "force along the shaft"
	AddedMass   Axis = "added mass"
	Drag        Axis = "drag"
	Entry       Axis = "momentum at the entry"
	FreeSpeed   Axis = "free speed"
	Travel      Axis = "body travel"
	Style       Axis = "style"
	Strips      Axis = "strips of the blade"
	Waves       Axis = "waves"
	Air         Axis = "air"
	Transition  Axis = "laminar start"
	Drift       Axis = "drift"
	ClassFactor Axis = "class factor"
	Shaft       Axis = "bend of the shaft"
	Bury        Axis = "depth of the blade"
)

// Form is one form of the model.
type Form struct {
	Axis    Axis
	Name    string // in words, as a table shows it: "force across the shaft alone"
	Changes string // what becomes of the problem, with units
	Why     string // why it is as defensible as the default
	Source  string // keys of engine/sources, or "common practice, no source", "a guess"

	// seat changes one seat, whole what belongs to the boat; either may be nil. The
	// problem's seats are its own when they are called.
	seat  func(s *problem.Seat)
	whole func(p *problem.Problem)
}

// Apply gives the problem under this form; p and its seats stay as they are.
func (f *Form) Apply(p problem.Problem) problem.Problem {
	p.Seats = append([]problem.Seat(nil), p.Seats...)
	if f.seat != nil {
		for i := range p.Seats {
			f.seat(&p.Seats[i])
		}
	}
	if f.whole != nil {
		f.whole(&p)
	}
	return p
}

// Set is several forms in force together, none for the model as it is set.
type Set []*Form

// Apply gives the problem under every form of the set.
func (s Set) Apply(p problem.Problem) problem.Problem {
	for _, f := range s {
		p = f.Apply(p)
	}
	return p
}

// Name tells the forms of a set, "as set" for none.
func (s Set) Name() string {
	if len(s) == 0 {
		return "as set"
	}
	names := make([]string, len(s))
	for i, f := range s {
		names[i] = f.Name
	}
	return strings.Join(names, ", ")
}

// Find gives a form by its name.
func Find(name string) (*Form, bool) {
	for i := range table {
		if table[i].Name == name {
			return &table[i], true
		}
	}
	return nil, false
}

// All gives every form, in the order of the documentation. The slice is the caller's own.
func All() []*Form {
	out := make([]*Form, len(table))
	for i := range table {
		out[i] = &table[i]
	}
	return out
}

// Crossed are the sets in which the forms that pull on each other are combined: the
// blade's law, the way of the body and the air, every combination of their forms. A
// travel of None is the one as set.
func Crossed() []Set {
	var out []Set
	for _, law := range on(Law) {
		for _, travel := range append([]*Form{nil}, on(Travel)...) {
			for _, air := range crossedAir() {
				set := Set{law}
				if travel != nil {
					set = append(set, travel)
				}
				out = append(out, append(set, air))
			}
		}
	}
	return out
}

func on(axis Axis) []*Form {
	var out []*Form
	for i := range table {
		if table[i].Axis == axis {
			out = append(out, &table[i])
		}
	}
	return out
}

// crossedAir are the two ends of how much air there is.
func crossedAir() []*Form {
	less, _ := Find(lessAir)
	more, _ := Find(moreAir)
	return []*Form{less, more}
}

// times is x times by, unset where x is.
func times(x *float64, by float64) {
	if !math.IsNaN(*x) {
		*x *= by
	}
}

// Input is a value of an input in doubt as a form for all strokes of a question; ok is
// false for a name that is no number every stroke has one of. x is in SI.
func Input(name string, x float64) (f *Form, ok bool) {
	change, ok := inputs[name]
	if !ok {
		return nil, false
	}
	return &Form{Axis: Axis(name), Name: fmt.Sprintf("%s %.17g", name, x),
		whole: func(p *problem.Problem) { change(p, x) }}, true
}

// Inputs lists the names that Input knows, in order.
func Inputs() []string {
	names := slices.Collect(maps.Keys(inputs))
	slices.Sort(names)
	return names
}

func eachSeat(set func(s *problem.Seat, x float64)) func(*problem.Problem, float64) {
	return func(p *problem.Problem, x float64) {
		for i := range p.Seats {
			set(&p.Seats[i], x)
		}
	}
}

// inputs are what every stroke has one of: those that doubt() gives, rate and wind.
var inputs = map[string]func(p *problem.Problem, x float64){
	"drag":        eachSeat(func(s *problem.Seat, x float64) { s.Oar.Blade.Drag = x }),
	"lift":        eachSeat(func(s *problem.Seat, x float64) { s.Oar.Blade.Lift = x }),
	"along":       eachSeat(func(s *problem.Seat, x float64) { s.Oar.Blade.Along = x }),
	"added_mass":  eachSeat(func(s *problem.Seat, x float64) { s.Oar.Blade.AddedMass = x }),
	"bury":        eachSeat(func(s *problem.Seat, x float64) { s.Oar.Blade.Bury = x }),
	"free_speed":  eachSeat(func(s *problem.Seat, x float64) { s.Rower.FreeSpeed = x }),
	"body_travel": eachSeat(func(s *problem.Seat, x float64) { s.Rower.BodyTravel = x }),
	"air_area":    func(p *problem.Problem, x float64) { p.Hull.AirArea = x },
	"body_area":   func(p *problem.Problem, x float64) { p.Hull.BodyArea = x },
	"wave_factor": func(p *problem.Problem, x float64) { p.Hull.WaveFactor = x },
	"transition":  func(p *problem.Problem, x float64) { p.Hull.Transition = x },
	"wind":        func(p *problem.Problem, x float64) { p.Wind = x },
	"rate":        func(p *problem.Problem, x float64) { p.Rate = x },
}
