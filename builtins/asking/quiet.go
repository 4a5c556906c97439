package asking

import (
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/engine/stroke"
	"thole/engine/study"
	"thole/engine/weighing"
	"thole/engine/words"
)

// quietly weighs a comparison of two strokes without being asked: under every form of the
// model at the hold of the question, and as set at every other hold, one at a time. under
// gives the pair under each of several assumptions. Two strokes that were weighed before keep that
// verdict: a page has one. nil: the page has rowed as many such
// strokes as it may, or the comparison stands inside a function that is called many times.
func quietly(c *lang.Call, first Pair, names [2]string, more [][]float64,
	under func([]*rowing.Assumed) ([]Pair, error)) (*weighing.Weighed, error) {
	if session.Inside(c.Thread) {
		return nil, nil
	}
	if found := account.WeighingOf(c.Thread, first.Solved()); found != nil {
		w := *found
		w.Worthwhile = c.Number("worthwhile")
		if more != nil {
			w.Draws = more
		}
		return &w, nil
	}
	q := &weighing.Question{Worthwhile: c.Number("worthwhile"), Forms: true, Holds: true,
		Row: func(p stroke.Problem) (*stroke.Stroke, error) { return rowing.RowOrRecall(c.Thread, p) }}
	w := q.Begin(first.Solved(), names)
	w.Draws = more
	if more == nil && !slices.ContainsFunc(w.Tries[0].Change, func(x float64) bool { return x != 0 }) {
		account.RowQuietly(c.Thread, 0, "") // the same stroke twice: nothing is left unweighed
		return nil, nil
	}
	sets := w.FormsFor(first.Before.Asked(), first.After.Asked())
	if !account.RowQuietly(c.Thread, 2*len(sets)+len(weighing.Held), names[0]+" -> "+names[1]) {
		return nil, nil
	}
	assumed := make([]*rowing.Assumed, len(sets))
	for i, set := range sets {
		assumed[i] = &rowing.Assumed{Forms: set}
	}
	pairs, err := under(assumed)
	if err != nil {
		return nil, err
	}
	for i, p := range pairs {
		w.Add(weighing.FormOf, sets[i].Name(), sets[i], p.Solved(), p.Err)
	}
	q.AddHolds(w)
	account.KeepWeighing(c.Thread, w)
	return w, nil
}

// judged gives changes the verdicts of a weighing, and says of the foremost in a sentence.
func judged(changes []study.Change, w *weighing.Weighed) (foot string) {
	for i := range changes {
		if k := w.Index(changes[i].Name); k >= 0 && changes[i].Verdict != "" {
			changes[i].Verdict = w.Brief(k)
			changes[i].Change.Verdict = changes[i].Verdict
		}
	}
	return words.Capital(w.Sentence(w.Main())) + "."
}

// drawnFrom is what an uncertainty was drawn from, to be asked again.
type drawnFrom struct {
	fn    starlark.Callable
	names []string
	base  study.Point
}

// under asks for the two strokes at the base under each of these assumptions.
func (d *drawnFrom) under(c *lang.Call, cases []string, assumed []*rowing.Assumed) ([]Pair, error) {
	inputs := func(int) []starlark.Tuple {
		var values []starlark.Value
		for _, x := range d.base {
			values = append(values, lang.Num(x))
		}
		return session.Inputs(d.names, values)
	}
	got, err := session.Of(c.Thread).Each(c,
		session.Calls{Fn: d.fn, N: len(assumed), Inputs: inputs, By: "compare",
			What: "weighing", Quiet: true, Under: func(i int) any { return assumed[i] }})
	if err != nil {
		return nil, err
	}
	pairs := make([]Pair, len(got))
	for i, g := range got {
		if pairs[i].Err = g.Err; g.Err != nil {
			continue
		}
		given, _ := g.Value.(*starlark.Dict)
		strokes := make([]*rowing.Stroke, 2)
		for k, name := range cases {
			v, _, err := given.Get(starlark.String(name))
			if err != nil {
				return nil, err
			}
			s, ok := rowing.StrokeType.From(v)
			if !ok { // an alternative that this form leaves without a stroke
				pairs[i].Err = errNoStroke
				break
			}
			strokes[k] = s
		}
		if pairs[i].Err == nil {
			pairs[i].Before, pairs[i].After = strokes[0], strokes[1]
			pairs[i].Bring(c.Thread, assumed[i])
		}
	}
	return pairs, nil
}
