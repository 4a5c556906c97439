package asking

import (
	"strings"
	"sync"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/rowing"
	"thole/engine/study"
	"thole/engine/table"
)

// loadWatch looks, over all points of a question, for the one at which the load of those who
// need care rises most, or falls least: against the stroke it was changed from, or among
// strokes by name against their first; of strokes rowed from their parts, against the first
// point's. It holds a handful of strokes, whatever the number of points, and the same
// whatever the cores.
type loadWatch struct {
	mu                  sync.Mutex
	many                bool // points
	place               func(study.Point) string
	worst               loadFound
	first, heavy, light loadFound // rowed from their parts
}

// loadFound is a change of load, or a stroke, with its point.
type loadFound struct {
	rowing.LoadChange
	before, after         *rowing.Stroke
	beforeName, afterName string
	n                     int
	p                     study.Point
}

// see takes what the function gave at point n.
func (w *loadWatch) see(n int, p study.Point, v starlark.Value) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if d, ok := v.(*starlark.Dict); ok {
		w.cases(loadFound{n: n, p: p}, d)
		return
	}
	s, ok := rowing.StrokeType.From(v)
	if !ok || len(account.CarefulOf(s.Crew.Categories())) == 0 {
		return
	}
	if before := s.Before(); before != nil {
		w.consider(loadFound{before: before, after: s, beforeName: before.Called("the stroke before"), n: n,
			p: p})
		return
	}
	heaviness, at := s.Of("heaviness"), loadFound{after: s, n: n, p: p}
	if w.first.after == nil || n < w.first.n {
		w.first = at
	}
	if w.heavy.after == nil || heaviness > w.heavy.after.Of("heaviness") ||
		heaviness == w.heavy.after.Of("heaviness") && n < w.heavy.n {
		w.heavy = at
	}
	if w.light.after == nil || heaviness < w.light.after.Of("heaviness") ||
		heaviness == w.light.after.Of("heaviness") && n < w.light.n {
		w.light = at
	}
}

// cases holds the strokes of a dict against its first.
func (w *loadWatch) cases(f loadFound, d *starlark.Dict) {
	for _, kv := range d.Items() {
		s, ok := rowing.StrokeType.From(kv[1])
		name, _ := starlark.AsString(kv[0])
		if !ok {
			continue
		}
		if f.before == nil {
			f.before, f.beforeName = s, name
			continue
		}
		f.after, f.afterName = s, name
		w.consider(f)
	}
}

func (w *loadWatch) consider(f loadFound) {
	f.LoadChange = f.after.LoadAgainst(f.before)
	if f.Over(w.worst.LoadChange) || f.Text != "" && !w.worst.Over(f.LoadChange) && f.n < w.worst.n {
		w.worst = f
	}
}

// tell notes what was found.
func (w *loadWatch) tell(book *account.Book) {
	for _, f := range []loadFound{w.heavy, w.light} {
		if f.after != nil && f.n != w.first.n {
			f.before, f.beforeName = w.first.after, w.place(w.first.p)
			w.consider(f)
		}
	}
	if f := w.worst; f.after != nil {
		switch {
		case f.afterName == "":
			f.afterName = w.place(f.p)
		case w.many:
			f.afterName += " at " + w.place(f.p)
		}
		rowing.TellLoad(book, f.before, f.after, f.beforeName, f.afterName)
	}
}

// placeOf names a point by its inputs: "outboard 206, wind 2".
func (q *Question) placeOf(p study.Point) string {
	var parts []string
	for i, x := range p {
		said := table.Fixed(x, -1)
		if _, digits := UnitOf(q.C, q.Names[i]); len(said) > 6 { // a place that was searched for
			said = table.Fixed(x, digits)
		}
		if q.thing != nil {
			if v := q.thing(i, x); v != nil {
				said, _ = labelOf(v)
			}
		}
		parts = append(parts, q.Names[i]+" "+said)
	}
	return strings.Join(parts, ", ")
}
