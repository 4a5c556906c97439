package weighing

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/forms"
	"thole/engine/stroke"
	"thole/engine/study"
)

// Kind is the kind of a thing tried.
type Kind string

// The kinds, as tables show them.
const (
	AsSet      Kind = "as set"
	Input      Kind = "input"
	FormOf     Kind = "form"
	HoldOf     Kind = "hold"
	Definition Kind = "definition"
)

// Try is one thing tried: what it was and by how much every quantity changes there.
type Try struct {
	Kind       Kind
	Assumption string // in words: "at the same effort"
	Set        forms.Set
	Hold       string    // as it is typed, where it is not that of the question
	Change     []float64 // in the order of Quantities; NaN where this settles the quantity
	Why        string    // it was not rowed, and why; Change is nil
}

// Question is one question while it is weighed.
type Question struct {
	Row        Rower
	Worthwhile float64 // % of a pace
	Forms      bool
	Holds      bool
}

// Weighed is a question with everything that was tried.
type Weighed struct {
	Names      [2]string // of the two strokes
	Pair       Pair      // as set
	Held       string    // what both strokes hold as set, in words; "" where they hold different things
	Quantities []Quantity
	Worthwhile float64

	Tries   []Try         // as set first, then inputs, forms, holds, definitions
	ByHold  []Try         // every form at every other hold
	Crossed []Try         // law x hold x travel x air
	Draws   [][]float64   // [quantity][draw]; nil: no input was drawn
	Drawn   []study.Point // the inputs of the draws, and their names
	Inputs  []string
	Strokes int // rowed for it
}

// Begin weighs a pair as it is set.
func (q *Question) Begin(p Pair, names [2]string) *Weighed {
	w := &Weighed{Names: names, Pair: p, Quantities: Quantities(), Worthwhile: q.Worthwhile}
	a, b := &p.Before.Problem, &p.After.Problem
	if was, is := field(b.Hold).Of(p.Before), field(b.Hold).Of(p.After); a.Hold == b.Hold ||
		math.Abs(is-was) < 1e-6*was { // the second stroke may be held at what the first one had
		w.Held = HoldWords(b.Hold)
	}
	w.Tries = []Try{{Kind: AsSet, Assumption: "as set", Change: w.changes(p, nil)}}
	return w
}

// HoldWords says what is held, for the end of a sentence.
func HoldWords(h stroke.Hold) string {
	return "at the same " + [...]string{"power", "handle power", "effort", "peak force", "speed"}[h]
}

// changes are the changes of all quantities; those that a hold settles are blank.
func (w *Weighed) changes(p Pair, h *stroke.Hold) []float64 {
	out := make([]float64, len(w.Quantities))
	for i := range w.Quantities {
		out[i] = w.Quantities[i].Change(p)
		if h != nil && w.Quantities[i].settledBy(*h) {
			out[i] = math.NaN()
		}
	}
	return out
}

// Add notes a pair under an assumption, or why there is none.
func (w *Weighed) Add(kind Kind, assumption string, set forms.Set, p Pair, err error) {
	t := Try{Kind: kind, Assumption: assumption, Set: set}
	if err != nil {
		t.Why = err.Error()
	} else {
		t.Change = w.changes(p, nil)
	}
	w.Tries = append(w.Tries, t)
}

// otherHolds are the holds that are not the question's own.
func (w *Weighed) otherHolds() []stroke.Hold {
	var out []stroke.Hold
	for _, h := range Held {
		if w.Held != HoldWords(h) {
			out = append(out, h)
		}
	}
	return out
}

// AddHolds rows the question as set at every other hold.
func (q *Question) AddHolds(w *Weighed) {
	for _, h := range w.otherHolds() {
		held, err := w.Pair.At(h, q.Row)
		t := Try{Kind: HoldOf, Assumption: HoldWords(h), Hold: h.String()}
		if err != nil {
			t.Why = err.Error()
		} else {
			t.Change = w.changes(held, &h)
		}
		w.Strokes++
		w.Tries = append(w.Tries, t)
	}
}

// AddByHold rows a pair under forms at every other hold but the speed, which all forms
// share.
func (q *Question) AddByHold(w *Weighed, set forms.Set, p Pair) {
	for _, h := range w.otherHolds() {
		if h == stroke.Speed {
			continue
		}
		held, err := p.At(h, q.Row)
		w.Strokes++
		if err == nil {
			w.ByHold = append(w.ByHold, Try{Kind: HoldOf, Assumption: set.Name(), Set: set, Hold: h.String(),
				Change: w.changes(held, &h)})
		}
	}
}

// AddCrossed rows a pair under crossed forms at power, handle power and effort.
func (q *Question) AddCrossed(w *Weighed, set forms.Set, p Pair) {
	for _, h := range []stroke.Hold{stroke.Power, stroke.HandlePower, stroke.Effort} {
		held, err := p.At(h, q.Row)
		w.Strokes++
		t := Try{Kind: FormOf, Assumption: set.Name(), Set: set, Hold: h.String()}
		if err != nil {
			t.Why = err.Error()
		} else {
			t.Change = w.changes(held, &h)
		}
		w.Crossed = append(w.Crossed, t)
	}
}

// Index finds a quantity by its name, -1 for none.
func (w *Weighed) Index(name string) int {
	for i := range w.Quantities {
		if w.Quantities[i].Name == name {
			return i
		}
	}
	return -1
}

// Span is the least and the largest change of a quantity among tries of a kind; NaN for none.
func (w *Weighed) Span(k int, kind Kind) (low, high float64) {
	return span(w.Tries, k, func(t *Try) bool { return t.Kind == kind })
}

// FormsAt is the span over all forms at one other hold, the model as set among them.
func (w *Weighed) FormsAt(k int, hold string) (low, high float64) {
	return span(append(append([]Try(nil), w.Tries...), w.ByHold...), k,
		func(t *Try) bool { return t.Hold == hold })
}

func span(tries []Try, k int, take func(*Try) bool) (low, high float64) {
	low, high = math.NaN(), math.NaN()
	for i := range tries {
		t := &tries[i]
		if t.Change == nil || !take(t) || math.IsNaN(t.Change[k]) {
			continue
		}
		if x := t.Change[k]; !(x >= low) {
			low = x
		}
		if x := t.Change[k]; !(x <= high) {
			high = x
		}
	}
	return low, high
}

// Interval is the middle 95 % of the draws of a quantity; NaN without draws.
func (w *Weighed) Interval(k int) (low, high float64) {
	if w.Draws == nil {
		return math.NaN(), math.NaN()
	}
	e := study.Sum(w.Draws[k])
	return e.Low, e.High
}

// Weight gathers what was tried of a quantity.
func (w *Weighed) Weight(k int) study.Weight {
	q := &w.Quantities[k]
	out := study.Weight{AsSet: w.Tries[0].Change[k], Worth: q.Worth(w.Worthwhile, q.Of(w.Pair.Before))}
	out.Low, out.High = w.Interval(k)
	for i := range w.Tries {
		t := &w.Tries[i]
		switch {
		case t.Change == nil || t.Kind == Input:
		case t.Kind == HoldOf:
			out.Holds = append(out.Holds, t.Change[k])
		default:
			out.Doubts = append(out.Doubts, t.Change[k])
		}
	}
	for _, t := range w.ByHold {
		out.Holds = append(out.Holds, t.Change[k])
	}
	for _, t := range w.Crossed {
		if t.Change == nil {
			continue
		}
		if own := w.Held == HoldWords(holdNamed(t.Hold)); own {
			out.Doubts = append(out.Doubts, t.Change[k])
		} else {
			out.Holds = append(out.Holds, t.Change[k])
		}
	}
	return out
}

func holdNamed(name string) stroke.Hold {
	for _, h := range Held {
		if h.String() == name {
			return h
		}
	}
	return stroke.Force
}

// Same counts the crossed combinations of a quantity with the sign that it has as set.
func (w *Weighed) Same(k int) (same, of int) {
	for _, t := range w.Crossed {
		if t.Change == nil || math.IsNaN(t.Change[k]) {
			continue
		}
		of++
		if t.Change[k]*w.Tries[0].Change[k] > 0 {
			same++
		}
	}
	return same, of
}

// Says is a span of changes in words: "+0.36 to +0.61 %".
func (w *Weighed) says(k int, x float64) string {
	q := &w.Quantities[k]
	if q.Percent {
		return fmt.Sprintf("%+.2f %%", x)
	}
	return strings.TrimSpace(fmt.Sprintf("%+.2f %s", x, q.Unit))
}

// HoldNamed says a hold by its typed name, for the end of a sentence.
func HoldNamed(name string) string { return HoldWords(holdNamed(name)) }
