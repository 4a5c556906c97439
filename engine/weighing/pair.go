package weighing

import (
	"bytes"
	"errors"
	"math"
	"reflect"

	"thole/engine/canonical"
	"thole/engine/forms"
	"thole/engine/stroke"
)

// Pair is the question's two strokes under one set of assumptions.
type Pair struct{ Before, After *stroke.Stroke }

// Key is the same for two pairs of which both strokes are asked alike.
func (p Pair) Key() string {
	return string(canonical.Bytes(canonical.Bytes(nil, p.Before.Problem), p.After.Problem))
}

// Rower rows a problem: stroke.Row, or one that remembers.
type Rower func(p stroke.Problem) (*stroke.Stroke, error)

// Held are the holds at which a question is tried, in the order told.
var Held = []stroke.Hold{stroke.Power, stroke.HandlePower, stroke.Effort, stroke.Speed}

// field is the result field that a hold holds.
func field(h stroke.Hold) *stroke.Field {
	name := h.String()
	if h == stroke.Force {
		name = "peak_force"
	}
	f, _ := stroke.FieldNamed(name)
	return f
}

// ErrAskedAway is the answer of a form that replaces what the strokes of the question differ in.
var ErrAskedAway = errors.New("the strokes differ in what this replaces: it would ask something else")

// errSame is the answer of a hold under which nothing of the question is left.
var errSame = errors.New("nothing is left of what was asked: the strokes differ in what this holds")

// At rows the second stroke again at the first one's value of what is held. The first
// one has that value already.
func (p Pair) At(h stroke.Hold, row Rower) (Pair, error) {
	after, err := heldAs(&p.Before.Problem, p.Before, p.After.Problem, h)
	if err != nil {
		return Pair{}, err
	}
	s, err := row(after)
	if err != nil {
		return Pair{}, err
	}
	return Pair{p.Before, s}, nil
}

// heldAs is a problem at the hold of a solved stroke, of the same crew.
func heldAs(first *stroke.Problem, solved *stroke.Stroke, p stroke.Problem, h stroke.Hold) (stroke.Problem,
	error) {
	alike := len(first.Seats) == len(p.Seats)
	before := *first
	p.Seats = append([]stroke.Seat(nil), p.Seats...)
	if alike {
		for i := range p.Seats {
			p.Seats[i].Rower.Power = first.Seats[i].Rower.Power
		}
	}
	p.Hold, p.Target = h, field(h).Of(solved)
	if h == first.Hold && first.OwnPower() && alike {
		p.Target = math.NaN()
	} else if first.OwnPower() {
		p.ShareAs(solved.Seats)
		before.ShareAs(solved.Seats)
	}
	before.Hold, before.Target = p.Hold, p.Target
	if same(&before, &p) {
		return p, errSame
	}
	return p, nil
}

func same(a, b *stroke.Problem) bool {
	return bytes.Equal(canonical.Bytes(nil, *a), canonical.Bytes(nil, *b))
}

// AsksAway says whether under these forms the strokes differ in less than they do as
// set: then the forms replace a part of what is asked.
func AsksAway(set forms.Set, before, after stroke.Problem) bool {
	a, b := set.Apply(before), set.Apply(after)
	return differences(reflect.ValueOf(a), reflect.ValueOf(b)) <
		differences(reflect.ValueOf(before), reflect.ValueOf(after))
}

// FormsFor gives the forms under which strokes are asked one at a time: not those that are
// as set already. Those that ask away what they differ in are noted as such.
func (w *Weighed) FormsFor(before, after stroke.Problem) []forms.Set {
	var sets []forms.Set
	for _, f := range forms.All() {
		set := forms.Set{f}
		switch {
		case Leaves(set, before, after):
		case AsksAway(set, before, after):
			w.Add(FormOf, f.Name, set, Pair{}, ErrAskedAway)
		default:
			sets = append(sets, set)
		}
	}
	return sets
}

// Leaves says whether forms leave both problems as they are: what is as set already.
func Leaves(set forms.Set, before, after stroke.Problem) bool {
	a, b := set.Apply(before), set.Apply(after)
	return same(&a, &before) && same(&b, &after)
}

// differences counts the numbers and texts in which two values of one kind differ.
func differences(a, b reflect.Value) int {
	switch a.Kind() {
	case reflect.Struct:
		n := 0
		for i := range a.NumField() {
			n += differences(a.Field(i), b.Field(i))
		}
		return n
	case reflect.Slice:
		n := max(a.Len(), b.Len()) - min(a.Len(), b.Len())
		for i := range min(a.Len(), b.Len()) {
			n += differences(a.Index(i), b.Index(i))
		}
		return n
	case reflect.Float64:
		if x, y := a.Float(), b.Float(); x == y || math.IsNaN(x) && math.IsNaN(y) {
			return 0
		}
	case reflect.String:
		if a.String() == b.String() {
			return 0
		}
	case reflect.Bool:
		if a.Bool() == b.Bool() {
			return 0
		}
	case reflect.Int:
		if a.Int() == b.Int() {
			return 0
		}
	case reflect.Uint8:
		if a.Uint() == b.Uint() {
			return 0
		}
	default:
		panic("weighing: a problem holds a " + a.Kind().String())
	}
	return 1
}
