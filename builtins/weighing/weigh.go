// Package weighing holds weigh: one question to a function of the study, asked under
// everything that could turn its answer. weigh.go has its record and the order of the
// asking, asked.go how strokes are got, weighed.go the value that scripts see, tables.go its
// tables. What is tried and how it is judged is engine/weighing's and engine/forms'.
package weighing

import (
	"fmt"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/engine/equalload"
	"thole/engine/forms"
	"thole/engine/stroke"
	"thole/engine/weighing"
	"thole/engine/words"
)

// Records are this room's functions.
func Records() []*lang.Record { return []*lang.Record{weighRecord} }

var weighRecord = &lang.Record{
	Name: "weigh", Topic: "asking", Says: "it asks one question under everything that could turn it",
	Summary: "one question under everything that could turn its answer: inputs, forms, holds, definitions",
	Params: []lang.Param{
		{Name: "fn", Is: lang.Func | lang.ThingOf, Types: []string{"stroke"}, Needed: true,
			Help: "gives two strokes by name, the first is before; or the stroke before itself"},
		{Name: "after", Is: lang.ThingOf, Types: []string{"stroke"},
			Help: "the stroke after, where no search stands between the two"},
		{Name: "draws", Is: lang.Whole, ByName: true, Default: 200, Low: 10, High: 100000,
			Help: "of the inputs in doubt"},
		{Name: "seed", Is: lang.Whole, ByName: true, Default: 1, Low: 0, High: 1e9,
			Help: "the same seed gives the same draws"},
		{Name: "forms", Is: lang.Flag, ByName: true, Default: true,
			Help: "ask under every form of the model, and under forms crossed with holds"},
		{Name: "holds", Is: lang.Flag, ByName: true, Default: true,
			Help: "ask at the same power, handle power, effort and speed"},
		{Name: "worthwhile", Unit: "%", Is: lang.Number, ByName: true, Default: 0.3, Low: 0.001, High: 50,
			Help: "the smallest change of speed, split or race time that matters"},
	},
	Rest: &lang.Param{Name: "ranges", Help: "inputs in doubt: (low, high) or about(value, sd)"},
	Gives: "a weighing: .table .assumptions .turns .measure .pieces .crossed .by_hold .says, and " +
		"w[\"speed\"], the line of a quantity",
	Errors: []string{
		"a function that gives one stroke, or more than two",
		"other names from draw to draw",
		"a range by a name that two strokes alone do not have",
	},
	Example: `w = weigh(usual, usual.change(oar=sculls.change(length=290)))
w["speed"].verdict`,
	Sources: []string{"0.3 %: smallest change that matters in races, Smith & Hopkins 2011"},
	Notes: []string{
		"holds: more, holds: less: the same sign and worth it, whatever was tried; more (less), of small " +
			"worth: the same sign, somewhere too small; too small to matter: everywhere",
		"depends on ...: another sign, or worth at one hold and not at another; cannot be told apart: the " +
			"inputs in doubt go from more to less",
		"at another hold the first stroke keeps what it has and the second is rowed at that value",
		"an oar found before the call stays what it was; search inside the function, with equal_load, and " +
			"it is found anew under each form and each definition of load",
		"a form that replaces what the strokes differ in, or that cannot be rowed, is told as such",
	},
}

func init() { weighRecord.Do = weighDo }

func weighDo(c *lang.Call) (starlark.Value, error) {
	account.Weighed(c)
	a, err := newAsked(c)
	if err != nil {
		return nil, err
	}
	q := &weighing.Question{Worthwhile: c.Number("worthwhile"), Forms: c.Flag("forms"),
		Holds: c.Flag("holds"),
		Row:   func(p stroke.Problem) (*stroke.Stroke, error) { return rowing.RowOrRecall(c.Thread, p) }}

	first := &rowing.Assumed{}
	start, err := a.one(first)
	if err != nil {
		return nil, err
	}
	rowing.TellLoad(account.BookOf(c.Thread), start.Before, start.After, start.names[0], start.names[1])
	w := q.Begin(start.Solved(), start.names)
	if len(a.ranges) > 0 {
		if err := a.inputs(c, w); err != nil {
			return nil, err
		}
	}
	if q.Forms {
		if err := a.forms(q, w, start); err != nil {
			return nil, err
		}
	}
	if q.Holds {
		q.AddHolds(w)
	}
	if first.Searched.Load() {
		if err := a.definitions(w); err != nil {
			return nil, err
		}
	}
	if q.Forms && q.Holds {
		if err := a.crossed(q, w, start); err != nil {
			return nil, err
		}
	}
	if low, high := w.Interval(w.Index("speed")); len(a.ranges) > 0 && low == high {
		return nil, a.noEffect(c)
	}
	if q.Forms && q.Holds && !session.Inside(c.Thread) {
		tellOther(c, w, account.KeepWeighing(c.Thread, w))
	}
	return &weighedValue{w}, nil
}

// tellOther says where a comparison that stands before on the page, which tries less, gave
// what is told first another verdict.
func tellOther(c *lang.Call, w, compared *weighing.Weighed) {
	if compared == nil || compared.Crossed != nil {
		return
	}
	k := w.Main()
	was, is := compared.Brief(k), w.Brief(k)
	if was == is {
		return
	}
	lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{
		Text: fmt.Sprintf("%s of %s -> %s: %q in compare, %q in weigh; weigh's holds", words.Spaced(
			w.Quantities[k].Name), w.Names[0], w.Names[1], was, is),
		Why:  "compare tries forms and holds one at a time, weigh each form at each hold as well",
		Type: "weigh(...) in a line above compare(...), which then shows weigh's verdicts"})
}

// noEffect is the error of ranges that change nothing.
func (a *asked) noEffect(c *lang.Call) error {
	return c.Wrong(a.names[0], lang.Mistake("the strokes are the same in every draw",
		"the input used inside the function, as in  def pair("+a.names[0]+"): ...",
		"%s moves neither stroke", a.names[0]))
}

// definitions asks under every definition of load that is allowed.
func (a *asked) definitions(w *weighing.Weighed) error {
	var under []*rowing.Assumed
	var names []string
	for _, d := range equalload.Definitions() {
		under = append(under, &rowing.Assumed{Match: d.Match.String(), At: d.At.String()})
		names = append(names, d.Words())
	}
	points, err := a.many(under)
	if err != nil {
		return err
	}
	for i, p := range points {
		w.Add(weighing.Definition, names[i], nil, p.Solved(), p.Err)
	}
	return nil
}

// forms asks under every form that is not as set already, and at every other hold.
func (a *asked) forms(q *weighing.Question, w *weighing.Weighed, start point) error {
	sets := w.FormsFor(start.Before.Asked(), start.After.Asked())
	under := make([]*rowing.Assumed, len(sets))
	for i, set := range sets {
		under[i] = &rowing.Assumed{Forms: set}
	}
	points, err := a.many(under)
	if err != nil {
		return err
	}
	for i, p := range points {
		w.Add(weighing.FormOf, sets[i].Name(), sets[i], p.Solved(), p.Err)
		if q.Holds && p.Err == nil {
			q.AddByHold(w, sets[i], p.Solved())
		}
	}
	return nil
}

// crossed asks under every combination of the forms that pull on each other.
func (a *asked) crossed(q *weighing.Question, w *weighing.Weighed, start point) error {
	var sets []forms.Set
	var under []*rowing.Assumed
	for _, set := range forms.Crossed() {
		if !weighing.AsksAway(set, start.Before.Asked(), start.After.Asked()) {
			sets = append(sets, set)
			under = append(under, &rowing.Assumed{Forms: set})
		}
	}
	points, err := a.many(under)
	if err != nil {
		return err
	}
	for i, p := range points {
		if p.Err == nil {
			q.AddCrossed(w, sets[i], p.Solved())
		}
	}
	return nil
}
