package asking

import (
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/engine/study"
	"thole/engine/table"
)

// tellLoad notes, of all points that were asked, the one at which the load of those who need
// care rises most, or falls least: against the stroke it was changed from, else against the
// first point; of strokes by name, against the first of them.
func (q *Question) tellLoad(done []session.Point, at func(n int) study.Point) {
	var first, before, after *rowing.Stroke
	var firstName, beforeName, afterName string
	var worst rowing.LoadChange
	consider := func(b, a *rowing.Stroke, bName string, aName func() string) {
		if l := a.LoadAgainst(b); l.Over(worst) {
			worst, before, after, beforeName, afterName = l, b, a, bName, aName()
		}
	}
	for n, p := range done {
		place := func() string { return q.placeOf(at(n)) }
		if d, ok := p.Value.(*starlark.Dict); ok {
			q.considerCases(d, len(done) > 1, place, consider)
			continue
		}
		s, ok := rowing.StrokeType.From(p.Value)
		switch {
		case !ok:
		case s.Before() != nil:
			consider(s.Before(), s, s.Before().Called("the stroke before"), place)
		case first == nil:
			first, firstName = s, place()
		default:
			consider(first, s, firstName, place)
		}
	}
	if after != nil {
		rowing.TellLoad(account.BookOf(q.C.Thread), before, after, beforeName, afterName)
	}
}

// considerCases holds the strokes of a dict against its first.
func (q *Question) considerCases(d *starlark.Dict, many bool, place func() string,
	consider func(b, a *rowing.Stroke, bName string, aName func() string)) {
	var first *rowing.Stroke
	firstName := ""
	for _, kv := range d.Items() {
		s, ok := rowing.StrokeType.From(kv[1])
		name, _ := starlark.AsString(kv[0])
		switch {
		case !ok:
		case first == nil:
			first, firstName = s, name
		default:
			consider(first, s, firstName, func() string {
				if many {
					return name + " at " + place()
				}
				return name
			})
		}
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
