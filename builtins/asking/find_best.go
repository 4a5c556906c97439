package asking

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/stroke"
	"thole/engine/study"
	"thole/engine/table"
)

var findBest = &lang.Record{
	Name: "find_best", Topic: "asking", Says: "it finds the best within limits",
	Summary: "the highest or lowest a function goes within limits, checked with a grid",
	Params: []lang.Param{fnParam,
		{Name: "maximise", Is: lang.Text, ByName: true, Help: "the number wanted high",
			Also: []string{"maximize"}},
		{Name: "minimise", Is: lang.Text, ByName: true, Help: "or the one wanted low",
			Also: []string{"minimize"}},
		{Name: "limits", Is: lang.Dict, ByName: true,
			Help: `{"heaviness": (None, 225)}: low and high, None is open`}},
	Rest: rangeParam,
	Gives: "a line: the inputs and all that fn gives there; .note says whether it lies on an edge, a " +
		"limit or beyond the usual, and within what nothing can be told apart; .usual is the best within " +
		"the " +
		"usual ranges",
	Errors: []string{"limits that nothing meets: with the nearest miss",
		"speed, split or time over length, outboard, catch or finish without a limit on heaviness, " +
			"drive_time or rhythm"},
	Example: `find_best(lambda outboard: usual.change(oar=sculls.change(outboard=outboard)), ` +
		`maximise="speed", limits={"heaviness": (None, usual.heaviness)}, outboard=(190, 210))`,
	Sources: []string{"model 8: the longest oar always wins a little at a held power",
		"smallest change that matters in races, 0.3 %: Smith & Hopkins 2011"},
}

func init() {
	findBest.Do = findBestDo
}

func findBestDo(c *lang.Call) (starlark.Value, error) {
	goal, err := goalOf(c)
	if err != nil {
		return nil, err
	}
	if err := NeedRanges(c, "outboard=(190, 210)"); err != nil {
		return nil, err
	}
	q, ranges, err := searching(c, "searching")
	if err != nil {
		return nil, err
	}
	watch := &bestLength{q: q, goal: goal}
	best, err := study.FindBest(c.Context(), watch.batch, ranges, goal)
	var nothing *study.NothingMeets
	if errors.As(err, &nothing) {
		return nil, c.Wrong("limits", nothingMeets(nothing))
	}
	if err != nil {
		var no *study.NoSuchOutput
		if errors.As(err, &no) && no.Of != goal.Of {
			return nil, c.Wrong("limits", limitOnNothing(q, no))
		}
		return nil, q.Tell(err, goalParam(c))
	}
	q.aloud(best.At)
	note := bestNote(ranges, goal, best)
	inside, usual := q.bestWithin(ranges, goal, best)
	if usual != "" {
		q.tellUsual("the best at " + placeText(ranges, best.At) + ": " + usual)
		note += "; " + usual
	}
	if watch.note != "" {
		note += "; " + watch.note
	}
	return pointLine(ranges, best.At, best.Outcome, starlark.StringDict{"note": starlark.String(note),
		"usual": pointLine(ranges, inside.At, inside.Outcome, nil)}), nil
}

// limitOnNothing is a limit on a number that the function does not give.
func limitOnNothing(q *Question, no *study.NoSuchOutput) *lang.Error {
	near := cmp.Or(table.Nearest(no.Of, no.Gives), cmp.Or(no.Gives...), "heaviness")
	return lang.Mistake(FnName(q.Fn)+" gives "+fewNames(no.Gives), fmt.Sprintf("limits={%q: (None, ...)}",
		near), "there is a limit on %s, which %s does not give", no.Of, FnName(q.Fn))
}

func goalParam(c *lang.Call) string {
	if c.Given("maximise") {
		return "maximise"
	}
	return "minimise"
}

// goalOf reads what is wanted and within which limits.
func goalOf(c *lang.Call) (study.Goal, error) {
	if c.Given("maximise") == c.Given("minimise") {
		return study.Goal{}, lang.Mistake("find_best wants one number high, or one low", `maximise="speed"`,
			"say either maximise or minimise")
	}
	g := study.Goal{Maximise: c.Given("maximise"), Of: c.Text(goalParam(c))}
	wanted := study.Quantity{Name: g.Of}
	if field, ok := stroke.FieldNamed(g.Of); ok {
		wanted.Unit = field.Unit
	}
	g.Worthwhile = worthwhileOf(0.3)(wanted)
	limits, _ := c.Value("limits").(*starlark.Dict)
	if limits == nil {
		return g, nil
	}
	for _, kv := range limits.Items() {
		name, ok := starlark.AsString(kv[0])
		ends, isPair := lang.Items(kv[1])
		if !ok || !isPair || len(ends) != 2 {
			return g, c.Wrong("limits",
				lang.Mistake("a limit is a name with (low, high), None where it is open",
					`limits={"heaviness": (None, 225)}`, "a limit is no pair"))
		}
		limit := study.Limit{Of: name, Low: math.NaN(), High: math.NaN()}
		for i, end := range []*float64{&limit.Low, &limit.High} {
			if ends[i] == starlark.None {
				continue
			}
			x, ok := lang.AsNumber(ends[i])
			if !ok {
				return g, c.Wrong("limits", lang.Mistake("the ends are numbers, or None where it is open",
					fmt.Sprintf("limits={%q: (None, ...)}", name), "the limit on %s has an end that is %s",
					name, lang.KindOf(ends[i])))
			}
			*end = x
		}
		switch {
		case math.IsNaN(limit.Low) && math.IsNaN(limit.High):
			return g, c.Wrong("limits", lang.Mistake("one end at least has to be a number",
				fmt.Sprintf("limits={%q: (None, 225)}", name), "the limit on %s bounds nothing", name))
		case limit.Low > limit.High:
			return g, c.Wrong("limits", lang.Mistake("a limit is given low, high",
				fmt.Sprintf("limits={%q: (%s, %s)}", name, table.Fixed(limit.High, -1), table.Fixed(limit.Low,
					-1)),
				"the limit on %s goes from %s down to %s", name, table.Fixed(limit.Low, -1),
				table.Fixed(limit.High, -1)))
		}
		g.Limits = append(g.Limits, limit)
	}
	return g, nil
}

// nothingMeets says by how much the nearest point misses.
func nothingMeets(e *study.NothingMeets) *lang.Error {
	var misses, relax []string
	for _, m := range e.Misses {
		end := m.Limit.High
		if m.Value < m.Limit.Low {
			end = m.Limit.Low
		}
		misses = append(misses, fmt.Sprintf("%s %s, %s beyond %s", m.Limit.Of, table.Fixed(m.Value, -1),
			table.Fixed(m.By, -1), table.Fixed(end, -1)))
		low, high := "None", table.Fixed(m.Value, -1)
		if m.Value < m.Limit.Low {
			low, high = table.Fixed(m.Value, -1), "None"
		}
		relax = append(relax, fmt.Sprintf("%q: (%s, %s)", m.Limit.Of, low, high))
	}
	return lang.NoAnswer(fmt.Sprintf("the nearest, %s, has %s", placeText(e.Ranges, e.At),
		strings.Join(misses, "; ")),
		"limits={"+strings.Join(relax, ", ")+"}, or a wider range", "nothing in the ranges meets the limits")
}

// placeText says where a point lies: "outboard 184.2 cm, catch 60.0 deg".
func placeText(ranges []study.Range, at study.Point) string {
	parts := make([]string, len(ranges))
	for i, r := range ranges {
		parts[i] = r.Name + " " + table.WithUnit(table.Fixed(at[i], r.Digits), r.Unit)
	}
	return strings.Join(parts, ", ")
}

// unstopped are the inputs on which nothing in the model puts an end, and which way.
var unstopped = map[string]bool{"length": true, "outboard": true, "area": true, "catch": true,
	"inboard": false}

// crewIsLimit is the sentence where a search for speed ran to the end of a range that the
// water does not stop: "" where it did not.
func crewIsLimit(g study.Goal, b *study.Best) string {
	if !isPace(g.Of) && g.Of != "speed" {
		return ""
	}
	for _, edge := range b.AtEdge {
		if up, ok := unstopped[edge.Input]; ok && up == edge.High {
			return `nothing in the water stops it, the crew is the limit: a coach would hold the load, ` +
				`limits={"heaviness": (None, today.heaviness)}`
		}
	}
	return ""
}

// bestNote says what stops the best and how flat it is.
func bestNote(ranges []study.Range, g study.Goal, b *study.Best) string {
	var parts, limits []string
	for _, limit := range b.AtLimit {
		v, _ := b.Outcome.Get(limit.Of)
		end := limit.High
		if math.IsNaN(end) {
			end = limit.Low
		}
		limits = append(limits, limit.Of+" "+quantity(v.Quantity, end))
	}
	switch len(limits) {
	case 0:
	case 1:
		parts = append(parts, "stopped by the limit "+limits[0])
	default:
		parts = append(parts, "stopped by the limits "+lang.Listed(limits, "and", len(limits)))
	}
	var edges []string
	for _, edge := range b.AtEdge {
		for i, r := range ranges {
			if r.Name == edge.Input {
				end := "low"
				if edge.High {
					end = "high"
				}
				edges = append(edges, fmt.Sprintf("%s (%s end)", placeText(ranges[i:i+1], b.At[i:i+1]), end))
			}
		}
	}
	if len(edges) > 0 {
		parts = append(parts, "at an end of its range, "+lang.Listed(edges, "and", len(edges))+
			": the best may lie beyond")
	}
	if len(b.AtLimit) > 0 && len(b.AtEdge) == 0 {
		parts[len(parts)-1] += ", not at an end of the range"
	}
	if limit := crewIsLimit(g, b); limit != "" {
		parts = append(parts, limit)
	}
	if b.Level {
		parts = []string{g.Of + " is the same all over the ranges: nothing in them moves it"}
	}
	if len(parts) == 0 {
		parts = append(parts, "inside the ranges, stopped by nothing")
	}
	var flat []string
	for i, f := range b.Flat {
		flat = append(flat, fmt.Sprintf("%s %s", f.Input, table.WithUnit(table.Range(f.Low, f.High,
			setDigits(ranges[i]), false), ranges[i].Unit)))
	}
	parts = append(parts, fmt.Sprintf("not told apart from it (%s within %s %%): %s", g.Of,
		table.Fixed(100*g.Worthwhile, 1), strings.Join(flat, ", ")))
	if len(b.LocalOptima) > 0 {
		parts = append(parts, fmt.Sprintf("another, lower top at %s: %s", placeText(ranges,
			b.LocalOptima[0].At), quantity(b.Output, b.LocalOptima[0].Value)))
	}
	if b.Failed != nil {
		parts = append(parts, fmt.Sprintf("%d of the %d points of the grid have no answer", b.Failed.Count,
			b.Grid))
	}
	return strings.Join(parts, "; ")
}

// setDigits gives the decimals an input is told with: those of its unit; a bare
// number gets as many as tell a hundredth of its range apart.
func setDigits(r study.Range) int {
	if r.Digits >= 0 || !(r.High > r.Low) {
		return max(r.Digits, 0)
	}
	return int(min(max(2-math.Floor(math.Log10(r.High-r.Low)), 0), 6))
}
