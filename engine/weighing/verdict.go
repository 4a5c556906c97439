package weighing

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"thole/engine/stroke"
	"thole/engine/study"
)

// Turn is one thing that turns a quantity: another sign, or worth where there was none.
type Turn struct {
	What   string // "the hold: at the same effort", "force along the shaft"
	Change float64
	Sign   bool // it turns the sign and not the worth alone
}

// turnsOf lists what turns a quantity, nothing where nothing does, against how it is as set, holds first, the
// farthest of a kind first. What only one in a crowd of combinations turns is told once.
func (w *Weighed) turnsOf(k int) []Turn {
	weight := w.Weight(k)
	if j := weight.Judge(); j != study.Turns && j != study.Undecided {
		return nil
	}
	asSet := weight.AsSet
	turned := func(x float64) (turns, sign bool) {
		sign = x*asSet < 0
		return sign || math.Abs(x) >= weight.Worth && math.Abs(asSet) < weight.Worth, sign
	}
	var out []Turn
	add := func(what string, x float64) {
		if turns, sign := turned(x); turns {
			out = append(out, Turn{what, x, sign})
		}
	}
	for i := range w.Tries {
		if t := &w.Tries[i]; t.Kind == HoldOf && t.Change != nil {
			add(t.Assumption, t.Change[k])
		}
	}
	if len(out) == 0 {
		for i := range w.ByHold {
			t := &w.ByHold[i]
			add(HoldWords(holdNamed(t.Hold))+" with "+t.Assumption, t.Change[k])
		}
	}
	for i := range w.Tries {
		if t := &w.Tries[i]; (t.Kind == FormOf || t.Kind == Definition) && t.Change != nil {
			add(t.Assumption, t.Change[k])
		}
	}
	if low, high := w.Interval(k); low*asSet < 0 || high*asSet < 0 {
		far := low
		if high*asSet < 0 {
			far = high
		}
		out = append(out, Turn{"the inputs in doubt", far, true})
	}
	if len(out) == 0 {
		for i := range w.Crossed {
			if t := &w.Crossed[i]; t.Change != nil {
				add(HoldWords(holdNamed(t.Hold))+" with "+t.Assumption, t.Change[k])
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Sign && !out[j].Sign })
	return out
}

// mostTurns are named in a verdict; the others are counted.
const mostTurns = 3

// Brief is the verdict on a quantity as the line of a table has room for it: without what
// each way gives, and where it depends on more than two, the first named and the others counted.
func (w *Weighed) Brief(k int) string {
	weight := w.Weight(k)
	if weight.Judge() != study.Turns {
		return w.Verdict(k)
	}
	turns := w.turnsOf(k)
	on := dependsOn(turns, len(turns))
	if len(on) <= 2 {
		return study.DependsOn + listed(on)
	}
	return fmt.Sprintf("%s%s and %d more (see weigh)", study.DependsOn, on[0], len(on)-1)
}

// Main is the quantity that is told first: the speed, or where it is held the effort.
func (w *Weighed) Main() int {
	if w.Tries[0].Change[w.Index("speed")] == 0 && w.Held == HoldWords(stroke.Speed) {
		return w.Index("effort")
	}
	return w.Index("speed")
}

// dependsOn names what turns a quantity: the hold first and once, then what else there is
// among the first so many.
func dependsOn(turns []Turn, first int) []string {
	var on []string
	hold := false
	for i, t := range turns {
		if strings.HasPrefix(t.What, "at the same ") {
			hold = true
		} else if i < first {
			on = append(on, t.What)
		}
	}
	if hold {
		on = append([]string{"the hold"}, on...)
	}
	return on
}

// Verdict is the verdict on a quantity, whole.
func (w *Weighed) Verdict(k int) string {
	weight := w.Weight(k)
	j := weight.Judge()
	if j == study.Holds || j == study.Small {
		if len(w.weighed()) == 0 {
			if weight.AsSet > 0 {
				return study.MoreUnweighed
			}
			return study.LessUnweighed
		}
	}
	if j != study.Turns {
		return j.Word(weight.AsSet)
	}
	turns := w.turnsOf(k)
	on := dependsOn(turns, mostTurns)
	var ways []string
	for _, t := range turns[:min(mostTurns, len(turns))] {
		ways = append(ways, t.What+" "+w.says(k, t.Change))
	}
	asSet := "as set "
	if w.Held != "" {
		asSet = w.Held + " "
	}
	out := study.DependsOn + listed(on) + ": " + asSet + w.says(k, weight.AsSet)
	if len(ways) > 0 {
		out += ", " + strings.Join(ways, ", ")
	}
	if more := len(turns) - mostTurns; more > 0 {
		out += fmt.Sprintf(", and %d more", more)
	}
	return out
}

func listed(xs []string) string {
	switch len(xs) {
	case 0:
		return "what was crossed"
	case 1:
		return xs[0]
	}
	return strings.Join(xs[:len(xs)-1], ", ") + " and " + xs[len(xs)-1]
}

// weighed are the tries besides as set and inputs.
func (w *Weighed) weighed() []Try {
	var out []Try
	for _, t := range w.Tries {
		if t.Change != nil && t.Kind != AsSet && t.Kind != Input {
			out = append(out, t)
		}
	}
	return out
}

// Turns says what turns a quantity, a text each.
func (w *Weighed) Turns(k int) []string {
	var out []string
	for _, t := range w.turnsOf(k) {
		what := "worth it"
		if t.Sign {
			what = "the other way"
		}
		out = append(out, fmt.Sprintf("%s: %s, %s", t.What, w.says(k, t.Change), what))
	}
	return out
}

// Sentence is the answer on a quantity: change, hold, verdict and the crossed count.
func (w *Weighed) Sentence(k int) string {
	q := &w.Quantities[k]
	at := ""
	if w.Held != "" {
		at = " " + w.Held
	}
	name := strings.ReplaceAll(q.Name, "_", " ")
	s := fmt.Sprintf("%s %s%s: %s", name, w.says(k, w.Tries[0].Change[k]), at, w.Verdict(k))
	if weight := w.Weight(k); weight.Judge() == study.Nothing && weight.Both() {
		s += ", and not always the same way"
	}
	if same, of := w.Same(k); of > 0 && w.Tries[0].Change[k] != 0 {
		low, high := span(w.Crossed, k, func(*Try) bool { return true })
		s += fmt.Sprintf("; law, hold, body and air crossed: the same sign in %d of %d, %s to %s", same, of,
			w.says(k, low), w.says(k, high))
	} else if low, high := w.Span(k, FormOf); !math.IsNaN(low) {
		s += fmt.Sprintf("; forms of the model, one at a time: %s to %s", w.says(k, low), w.says(k, high))
	}
	return s
}

// CrewIsLimit says in a sentence, where the second stroke has a longer outboard or a larger
// blade and wins by that at the same effort, that nothing in the model ends it; "" elsewhere.
func (w *Weighed) CrewIsLimit() string {
	a, b := &w.Pair.Before.Problem.Seats[0].Oar, &w.Pair.After.Problem.Seats[0].Oar
	what := ""
	switch {
	case b.Blade.Area > a.Blade.Area && b.Outboard() >= a.Outboard():
		what = "a larger blade"
	case b.Outboard() > a.Outboard() && b.Blade.Area >= a.Blade.Area:
		what = "a longer outboard"
	default:
		return ""
	}
	k := w.Index("speed")
	for _, t := range w.Tries {
		if effort := t.Hold == stroke.Effort.String(); (effort || w.Held == HoldWords(stroke.Effort) &&
			t.Kind == AsSet) && t.Change != nil && t.Change[k] > 0 {
			return "nothing in the model stops " + what + " at the same effort (" + w.says(k, t.Change[k]) +
				"): the crew is the limit, not the water; hold the heaviness or the drive time, as " +
				"equal_load does"
		}
	}
	return ""
}
