package study

import "math"

// The verdicts on a change, the same in every table, answer, page and record.
const (
	HoldsMore = "holds: more" // the same sign, and worth it, whatever was tried
	HoldsLess = "holds: less"
	SmallMore = "more, of small worth" // the same sign, somewhere too small to matter
	SmallLess = "less, of small worth"
	TooSmall  = "too small to matter"  // everywhere
	DependsOn = "depends on "          // sign or worth changes; what on and what each way gives follow
	NotApart  = "cannot be told apart" // the inputs' interval goes from more to less

	MoreUnweighed = "more, not weighed" // the same sign over the inputs; no form of the model was tried
	LessUnweighed = "less, not weighed"
	OneRun        = "one run"
)

// Weight is what is to be known of one change to judge it, in one unit.
type Weight struct {
	AsSet     float64
	Low, High float64   // 95 % over the inputs in doubt; NaN where none is
	Doubts    []float64 // under forms and definitions, one hold; NaN where one says nothing
	Holds     []float64 // at other holds, under any form
	Worth     float64   // the smallest size that matters, above 0
}

// Judgement is how a change stands.
type Judgement uint8

// How a change can stand.
const (
	Blank     Judgement = iota // nothing is known
	Holds                      // same sign, worth it everywhere
	Small                      // same sign, somewhere too small
	Nothing                    // too small everywhere
	Turns                      // sign or worth changes
	Undecided                  // the inputs' interval spans nought on both sides of what matters
)

// Judge reads a change against everything that was tried. A hold is a choice: worth that
// changes with it is said to depend on it. Forms, definitions and inputs are doubts: while
// they leave the sign alone, worth that they lessen is small worth.
func (w *Weight) Judge() Judgement {
	if math.IsNaN(w.AsSet) {
		return Blank
	}
	if w.Low <= -w.Worth && w.High >= w.Worth {
		return Undecided
	}
	doubts := w.doubted()
	all := append(doubts, known(w.Holds)...)
	least, most := math.Inf(1), 0.0
	for _, x := range all {
		least, most = min(least, math.Abs(x)), max(most, math.Abs(x))
	}
	switch {
	case most < w.Worth:
		return Nothing
	case signs(all):
		return Turns
	case least >= w.Worth:
		return Holds
	case !math.IsNaN(w.heldOnly()) && w.heldOnly() >= w.Worth && biggest(doubts) < w.Worth:
		return Turns
	}
	return Small
}

// Both says whether it is more under one thing that was tried and less under another.
func (w *Weight) Both() bool { return signs(append(w.doubted(), known(w.Holds)...)) }

// doubted are all changes at the hold of the question.
func (w *Weight) doubted() []float64 {
	return known(append([]float64{w.AsSet, w.Low, w.High}, w.Doubts...))
}

// heldOnly is the largest size at another hold, NaN where there is none.
func (w *Weight) heldOnly() float64 { return biggest(known(w.Holds)) }

func known(xs []float64) []float64 {
	var out []float64
	for _, x := range xs {
		if !math.IsNaN(x) {
			out = append(out, x)
		}
	}
	return out
}

func biggest(xs []float64) float64 {
	most := math.NaN()
	for _, x := range xs {
		if !(math.Abs(x) <= most) {
			most = math.Abs(x)
		}
	}
	return most
}

// signs says whether there are both: more and less.
func signs(xs []float64) bool {
	more, less := false, false
	for _, x := range xs {
		more, less = more || x > 0, less || x < 0
	}
	return more && less
}

// Word is the verdict without what it depends on.
func (j Judgement) Word(asSet float64) string {
	more := asSet > 0
	pick := func(a, b string) string {
		if more {
			return a
		}
		return b
	}
	switch j {
	case Holds:
		return pick(HoldsMore, HoldsLess)
	case Small:
		return pick(SmallMore, SmallLess)
	case Nothing:
		return TooSmall
	case Undecided:
		return NotApart
	case Turns:
		return DependsOn
	}
	return ""
}
