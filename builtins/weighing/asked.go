package weighing

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/asking"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/builtins/units"
	"thole/engine/forms"
	"thole/engine/study"
	"thole/engine/table"
	"thole/engine/weighing"
)

// asked is what is asked: a function that gives two strokes, or two strokes.
type asked struct {
	c             *lang.Call
	fn            starlark.Callable
	before, after *rowing.Stroke // where there is no function
	names         []string       // of the inputs in doubt
	ranges        []study.Range
	base          study.Point
	keys          [2]string // of the strokes, from the first answer
}

// point is the two strokes under one set of assumptions, with their names.
type point struct {
	asking.Pair
	names [2]string
}

func newAsked(c *lang.Call) (*asked, error) {
	a := &asked{c: c, fn: c.Func("fn"), names: asking.NamesOf(c.Rest)}
	if a.fn == nil {
		a.before, _ = rowing.StrokeType.From(c.Value("fn"))
		if !c.Given("after") {
			return nil, c.Wrong("fn", lang.Mistake("it weighs what comes after against what was before",
				"weigh(now, new), or weigh(fn) with  return {\"now\": a, \"new\": b}",
				"weigh has one stroke only"))
		}
		a.after, _ = rowing.StrokeType.From(c.Value("after"))
		return a, a.readInputs()
	}
	if c.Given("after") {
		return nil, c.Wrong("after", lang.Mistake("the function gives both strokes",
			"weigh(fn), or two strokes: weigh(now, new)", "weigh has a function and a stroke"))
	}
	asking.LeaveOut(c)
	a.names = asking.NamesOf(c.Rest)
	q, err := asking.NewQuestion(c, a.names, "weighing")
	if err != nil {
		return nil, err
	}
	if a.ranges, err = q.Ranges(c.Rest); err != nil {
		return nil, err
	}
	a.base = study.Bases(a.ranges)
	return a, nil
}

// readInputs reads the ranges of two strokes alone: by names of what every stroke has.
func (a *asked) readInputs() error {
	for _, name := range a.names {
		if _, ok := forms.Input(name, 0); ok {
			continue
		}
		typ := "def pair(" + name + "): ... return {\"now\": a, \"new\": b}, and weigh(pair, " + name +
			"=...)"
		if near := table.Nearest(name, forms.Inputs()); near != "" {
			typ = near + "="
		}
		e := lang.Mistake("of two strokes it knows "+strings.Join(forms.Inputs(), ", ")+
			"; a function takes any input", typ, "two strokes have no %q in common", name)
		e.Part = lang.AtName
		return a.c.Wrong(name, e)
	}
	q := &asking.Question{C: a.c, Names: a.names}
	var err error
	if a.ranges, err = q.Ranges(a.c.Rest); err != nil {
		return err
	}
	a.base = study.Bases(a.ranges)
	return nil
}

// one asks at the base, under these assumptions.
func (a *asked) one(under *rowing.Assumed) (point, error) {
	points, err := a.many([]*rowing.Assumed{under})
	if err != nil {
		return point{}, err
	}
	if p := points[0]; p.Err != nil {
		return p, p.Err
	}
	a.keys = points[0].names
	return points[0], nil
}

// many asks at the base, under each of these assumptions.
func (a *asked) many(under []*rowing.Assumed) ([]point, error) {
	if a.fn == nil {
		return a.rowed(len(under), func(i int) *rowing.Assumed { return under[i] })
	}
	return a.called(len(under), func(int) study.Point { return a.base },
		func(i int) any { return under[i] })
}

// at asks at points of the inputs in doubt, the model as set.
func (a *asked) at(points []study.Point) ([]point, error) {
	if a.fn != nil {
		plain := &rowing.Assumed{}
		return a.called(len(points), func(i int) study.Point { return points[i] },
			func(int) any { return plain })
	}
	return a.rowed(len(points), func(i int) *rowing.Assumed {
		now := &rowing.Assumed{}
		for k, name := range a.names {
			f, _ := forms.Input(name, units.SI(points[i][k], a.ranges[k].Unit))
			now.Forms = append(now.Forms, f)
		}
		return now
	})
}

// called calls the function n times in parallel, its strokes rowed again where they were
// rowed outside of it.
func (a *asked) called(n int, at func(i int) study.Point, under func(i int) any) ([]point, error) {
	inputs := func(i int) []starlark.Tuple {
		var values []starlark.Value
		for _, x := range at(i) {
			values = append(values, lang.Num(x))
		}
		return session.Inputs(a.names, values)
	}
	got, err := session.Of(a.c.Thread).Each(a.c, session.Calls{Fn: a.fn, N: n, Inputs: inputs, By: "weigh",
		What: "weighing", Quiet: true, Under: under})
	if err != nil {
		return nil, err
	}
	points := make([]point, n)
	for i, g := range got {
		if g.Err != nil {
			points[i].Err = g.Err
			continue
		}
		if points[i], err = a.read(g.Value); err != nil {
			return nil, err
		}
		now, _ := under(i).(*rowing.Assumed)
		points[i].Bring(a.c.Thread, now)
	}
	return points, nil
}

// rowed rows the two strokes n times.
func (a *asked) rowed(n int, under func(i int) *rowing.Assumed) ([]point, error) {
	pairs, err := asking.PairsUnder(a.c, a.before, a.after, n, under)
	points := make([]point, n)
	for i, p := range pairs {
		points[i] = point{p, [2]string{a.before.Called("before"), a.after.Called("after")}}
	}
	return points, err
}

// read reads what the function gave: two strokes by name, or in a list.
func (a *asked) read(v starlark.Value) (point, error) {
	var items []starlark.Value
	names := []string{"before", "after"}
	if d, ok := v.(*starlark.Dict); ok {
		names = nil
		for _, kv := range d.Items() {
			key, _ := starlark.AsString(kv[0])
			names, items = append(names, key), append(items, kv[1])
		}
	} else if list, ok := lang.Items(v); ok {
		items = list
	} else {
		items = []starlark.Value{v}
	}
	var strokes []*rowing.Stroke
	for _, x := range items {
		s, ok := rowing.StrokeType.From(x)
		if !ok {
			return point{}, a.gives(lang.KindOf(x) + " where a stroke should stand")
		}
		strokes = append(strokes, s)
	}
	switch {
	case len(strokes) == 1:
		return point{}, a.gives("one stroke: there is nothing to weigh it against")
	case len(strokes) != 2:
		return point{}, a.gives(fmt.Sprintf("%d strokes: one question has two", len(strokes)))
	}
	p := point{asking.Pair{Before: strokes[0], After: strokes[1]}, [2]string(names)}
	if a.keys != [2]string{} && p.names != a.keys {
		return point{}, a.gives(fmt.Sprintf("%q and %q in one draw and %q and %q in another", a.keys[0],
			a.keys[1], p.names[0], p.names[1]))
	}
	return p, nil
}

func (a *asked) gives(what string) error {
	return a.c.Wrong("fn", lang.Mistake("it weighs two strokes, the first is before",
		`return {"now": a, "new": b}, the same names each time`, "%s gives %s", asking.FnName(a.fn), what))
}

// inputs draws the inputs in doubt, and asks at both ends of each.
func (a *asked) inputs(c *lang.Call, w *weighing.Weighed) error {
	d := study.Doubt{Ranges: a.ranges, Draws: c.Whole("draws"), Seed: uint64(c.Whole("seed"))}
	if s := session.Of(c.Thread); s != nil {
		s.Seed(int64(d.Seed))
	}
	drawn, err := study.Uncertainty(c.Context(), a.batch(w), d)
	if err != nil {
		var failed *study.Failed
		if e := lang.AsError(err); e != nil {
			return e
		}
		if errors.As(err, &failed) {
			return c.Wrong("fn", lang.NoAnswer("most of them: "+failed.Reason.Error(), "narrower ranges",
				"%d of %d draws have no answer", failed.Count, failed.Of))
		}
		return c.Wrong(a.names[0], lang.Mistake("a range is given low, high", "", "%v", err))
	}
	w.Draws, w.Inputs = drawn.Values[0], a.names
	var ends []study.Point
	var names []string
	for k, r := range a.ranges {
		for _, x := range []float64{r.Low, r.High} {
			p := slices.Clone(a.base)
			p[k] = x
			ends = append(ends, p)
			names = append(names, r.Name+" "+table.WithUnit(table.Fixed(x, -1), r.Unit))
		}
	}
	points, err := a.at(ends)
	if err != nil {
		return err
	}
	for i, p := range points {
		w.Add(weighing.Input, names[i], nil, p.Solved(), p.Err)
	}
	return nil
}

// batch answers draws with the changes of all quantities, and notes the draws that came.
func (a *asked) batch(w *weighing.Weighed) study.Batch {
	return func(ctx context.Context, points []study.Point) []study.Result {
		results := make([]study.Result, len(points))
		got, err := a.at(points)
		if err != nil {
			results[0].Err = &study.Stop{Err: err}
			return results
		}
		for i, p := range got {
			if p.Err != nil {
				results[i].Err = p.Err
				continue
			}
			results[i].Outcome = study.Outcome{{Values: w.Values(p.Solved())}}
			if i > 0 { // the first is the base
				w.Drawn = append(w.Drawn, points[i])
			}
		}
		return results
	}
}
