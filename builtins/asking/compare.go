package asking

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/engine/study"
	"thole/engine/table"
	"thole/engine/weighing"
)

var compareRecord = &lang.Record{
	Name: "compare", Topic: "asking", Says: "it holds things against the first",
	Summary: "strokes, oars or rigs beside the first, quantity by quantity, with a verdict",
	Params: []lang.Param{
		{Name: "first", Is: lang.ThingOf, Types: []string{"stroke", "oar", "rig", "uncertainty"},
			Needed: true, Help: "what the others are held against; or an uncertainty over a dict of strokes"},
		{Name: "worthwhile", Unit: "%", Is: lang.Number, ByName: true, Default: 0.3, Low: 0, High: 50,
			Help: "the smallest change of speed, split or race time that matters"},
	},
	More: &lang.Param{Name: "others", Help: "things of the same kind"},
	Gives: "a table: quantity unit case before after change percent low high forms_low forms_high verdict; " +
		"what changed comes first",
	Errors: []string{
		"things of different kinds", "an uncertainty over numbers: only strokes by name can be compared",
	},
	Example: `compare(usual, usual.change(wind=3, name="3 m/s ahead"))`,
	Sources: []string{"0.3 %: smallest change that matters in races, Smith & Hopkins 2011"},
	Notes: []string{
		"two strokes are weighed besides, under every form of the model and at every hold, one at a time: " +
			"the verdicts are those of weigh, forms_low and forms_high the span over the forms, percent or " +
			"the quantity's unit",
		"a page rows 60 strokes for that at most: what comes after, more than two strokes and what stands " +
			"inside a function is not weighed: one run, or, drawn, more or less, not weighed",
		"too small to matter: under worthwhile for speed, split and race times, under 0.5 % for anything " +
			"else, whatever the draws say",
	},
	Do: compareDo,
}

func compareDo(c *lang.Call) (starlark.Value, error) {
	worthwhile := worthwhileOf(c.Number("worthwhile"))
	first := c.Value("first")
	if u, ok := first.(*drawnValue); ok {
		return compareDrawn(c, u, worthwhile)
	}
	if len(c.More) == 0 {
		return nil, lang.Mistake("the others are held against the first", "compare(now, new)",
			"compare has one %s only", first.Type())
	}
	compared := []lang.AnyThing{first.(lang.AnyThing)}
	for _, other := range c.More {
		if other.Type() != first.Type() {
			return nil, lang.Mistake("like is compared with like", fmt.Sprintf("compare(a, b) of two %ss",
				first.Type()), "%s cannot be compared with %s", lang.KindOf(first), lang.KindOf(other))
		}
		compared = append(compared, other.(lang.AnyThing))
	}
	names := namesOf(compared)
	var changes []study.Change
	for i := range c.More {
		before, after := caseOf(first, names[0]), caseOf(c.More[i], names[i+1])
		if s, ok := rowing.StrokeType.From(c.More[i]); ok {
			was, _ := rowing.StrokeType.From(first)
			moved := s.SeatsMoved(was)
			before.Values = append(ofSeats(was, moved), before.Values...)
			after.Values = append(ofSeats(s, moved), after.Values...)
		}
		changes = append(changes, study.CompareOnce(before, after)...)
	}
	strokes := strokesOf(compared)
	w, err := weighedPair(c, strokes, names)
	if err != nil {
		return nil, err
	}
	t := changeTable(changes, names, "one run", w)
	t.T.Held = rowing.HeldAlike(strokes...)
	for i := 1; i < len(strokes); i++ {
		rowing.TellLoad(account.BookOf(c.Thread), strokes[0], strokes[i], names[0], names[i])
		tellUnfelt(c.Thread, strokes[0], strokes[i])
	}
	return t, nil
}

// weighedPair weighs two strokes, nil where there are others or none.
func weighedPair(c *lang.Call, strokes []*rowing.Stroke, names []string) (*weighing.Weighed, error) {
	if len(strokes) != 2 {
		if len(strokes) > 2 {
			account.NotWeighed(c.Thread, headOf(names))
		}
		return nil, nil
	}
	first := Pair{Before: strokes[0], After: strokes[1]}
	return quietly(c, first, [2]string(names), nil, func(assumed []*rowing.Assumed) ([]Pair, error) {
		return PairsUnder(c, first.Before, first.After, len(assumed),
			func(i int) *rowing.Assumed { return assumed[i] })
	})
}

// strokesOf are the strokes among things compared.
func strokesOf(compared []lang.AnyThing) []*rowing.Stroke {
	var out []*rowing.Stroke
	for _, thing := range compared {
		if s, ok := rowing.StrokeType.From(thing); ok {
			out = append(out, s)
		}
	}
	return out
}

func compareDrawn(c *lang.Call, u *drawnValue,
	worthwhile func(study.Quantity) float64) (starlark.Value, error) {
	switch {
	case len(c.More) > 0:
		return nil, lang.Mistake("one uncertainty holds its alternatives already, draw by draw; two would "+
			"have draws of their own", `one function that returns {"now": a, "new": b}`,
			"two uncertainties cannot be compared")
	case len(u.d.Cases) < 2:
		return nil, c.Wrong("first", lang.Mistake("it compares the strokes that fn gives by name, draw by "+
			"draw", `return {"now": s, "new": t} in the function`,
			"this uncertainty is over %s, not over strokes by name", fewNames(outputNames(u.d))))
	}
	var changes []study.Change
	for after := 1; after < len(u.d.Cases); after++ {
		changes = append(changes, study.CompareDrawn(u.d, 0, after, worthwhile)...)
	}
	w, err := u.weighed(c, changes)
	if err != nil {
		return nil, err
	}
	side := fmt.Sprintf("middle of %d draws; changes pair by pair, 95 %%", len(u.d.Values[0][0]))
	t := changeTable(changes, u.d.Cases, side, w)
	t.T.Held = heldInDraws(u.d)
	return t, nil
}

// weighed weighs an uncertainty over two strokes, nil where it is over more.
func (u *drawnValue) weighed(c *lang.Call, changes []study.Change) (*weighing.Weighed, error) {
	if len(u.d.Cases) != 2 || u.d.NotSet != nil {
		account.NotWeighed(c.Thread, headOf(u.d.Cases))
		return nil, nil
	}
	if session.Inside(c.Thread) {
		return nil, nil
	}
	under := func(assumed []*rowing.Assumed) ([]Pair, error) {
		return u.from.under(c, u.d.Cases, assumed)
	}
	first, err := under([]*rowing.Assumed{{}})
	if err != nil {
		return nil, err
	}
	if first[0].Err != nil {
		account.NotWeighed(c.Thread, headOf(u.d.Cases))
		return nil, nil
	}
	var draws [][]float64
	for _, q := range weighing.Quantities() {
		k := slices.IndexFunc(u.d.Outputs, func(o study.Quantity) bool { return o.Name == q.Name })
		was, is := u.d.Values[0][k], u.d.Values[1][k]
		paired := make([]float64, len(was))
		for i := range was {
			paired[i] = q.ChangeOf(was[i], is[i])
		}
		draws = append(draws, paired)
	}
	return quietly(c, first[0], [2]string(u.d.Cases), draws, under)
}

// heldInDraws says what the strokes of an uncertainty share in every draw.
func heldInDraws(d *study.Drawn) string {
	for _, name := range rowing.HeldFields {
		k := slices.IndexFunc(d.Outputs, func(q study.Quantity) bool { return q.Name == name })
		if k < 0 {
			return "" // numbers of the study's own
		}
		same := true
		for draw := range d.Values[0][k] {
			values := make([]float64, len(d.Cases))
			for i := range d.Cases {
				values[i] = d.Values[i][k][draw]
			}
			same = same && rowing.Constant(values)
		}
		if same {
			return rowing.AtTheSame(name)
		}
	}
	return rowing.NothingHeld
}

// worthwhileOf gives the part of a value below which a change of it is too
// small to matter: percent for what decides races, 0.5 % for anything else,
// which is what the model may be wrong by.
func worthwhileOf(percent float64) func(study.Quantity) float64 {
	return func(q study.Quantity) float64 {
		if isPace(q.Name) || q.Unit == "m/s" || q.Unit == "s/500 m" {
			return percent / 100
		}
		return 0.005
	}
}

// caseOf reads the numbers of a thing under its name.
func caseOf(v starlark.Value, name string) study.Case {
	thing := v.(lang.AnyThing)
	c := study.Case{Name: name}
	if s, ok := rowing.StrokeType.From(v); ok {
		c.Values = fieldValues(s)
		return c
	}
	for _, name := range thing.FieldNames() {
		x, f, ok := thing.Field(name)
		if n, isNumber := lang.AsNumber(x); ok && isNumber {
			c.Values = append(c.Values, study.Value{Quantity: study.Quantity{Name: name, Unit: f.Unit,
				Digits: f.Digits, Change: f.Change}, Number: n})
		}
	}
	return c
}

// set are quantities that are chosen, not found: where they change they come first.
var set = []string{"outboard", "inboard", "length", "catch", "finish", "arc", "rate"}

// foremost is what a coach looks at before all other quantities: how fast, in
// what rhythm, and how heavy in the hands: force for each m/s beside time under load.
var foremost = []string{"speed", "split", "time_2000", "heaviness", "drive_time", "recovery_time", "rhythm",
	"distance_per_stroke", "travel"}

// changeTable lays changes out as lines: case by case what was chosen, what
// followed, and last what did not change.
//
// w, nil where nothing was weighed, gives the verdicts and the span over the forms of the model.
func changeTable(changes []study.Change, names []string, side string, w *weighing.Weighed) *lang.Table {
	var foot []string
	if w != nil {
		foot = []string{judged(changes, w)}
		side += ", weighed"
	}
	sort.SliceStable(changes, func(i, j int) bool {
		return rank(changes[i], names) < rank(changes[j], names)
	})
	quantity, unit, kase := table.NewColumn("quantity", "", table.Text), table.NewColumn("unit", "",
		table.Text), table.NewColumn("case", "", table.Text)
	before, after, percent := table.NewColumn("before", "", table.Number), table.NewColumn("after", "",
		table.Number), table.NewColumn("percent", "%", table.Number)
	low, high, verdict := table.NewColumn("low", "", table.Number), table.NewColumn("high", "", table.Number),
		table.NewColumn("verdict", "", table.Text)
	change := table.NewColumn("change", "", table.Number)
	for _, c := range changes {
		if !math.IsNaN(c.Change.Low) {
			change.Kind = table.Measured
		}
	}
	formsLow := table.NewColumn("forms_low", "", table.Number)
	formsHigh := table.NewColumn("forms_high", "", table.Number)
	for _, col := range []*table.Column{low, high, formsLow, formsHigh} {
		col.Signed = true
	}
	for i := range changes {
		c := &changes[i]
		quantity.Texts, unit.Texts, kase.Texts = append(quantity.Texts, c.Name), append(unit.Texts, c.Unit),
			append(kase.Texts, c.Case)
		before.Nums, after.Nums, percent.Nums = append(before.Nums, c.Before), append(after.Nums, c.After),
			append(percent.Nums, c.Percent)
		low.Nums, high.Nums, verdict.Texts = append(low.Nums, c.Change.Low), append(high.Nums, c.Change.High),
			append(verdict.Texts, c.Verdict)
		if w != nil {
			from, to, unit, places := math.NaN(), math.NaN(), "", 0
			if k := w.Index(c.Name); k >= 0 { // a seat's own number is none of the boat's
				from, to = w.Span(k, weighing.FormOf)
				unit, places = w.Quantities[k].ChangeUnit(), w.Quantities[k].ChangeDigits()
			}
			for _, col := range []*table.Column{formsLow, formsHigh} {
				col.Units, col.Places = append(col.Units, unit), append(col.Places, places)
			}
			formsLow.Nums, formsHigh.Nums = append(formsLow.Nums, from), append(formsHigh.Nums, to)
		}
		if change.Kind == table.Measured {
			change.Estimates = append(change.Estimates, &c.Change)
		} else {
			change.Nums = append(change.Nums, c.Change.Value)
		}
		for _, col := range []*table.Column{before, after} {
			col.Units, col.Places = append(col.Units, c.Unit), append(col.Places, c.Digits)
		}
		for _, col := range []*table.Column{change, low, high} {
			col.Units, col.Places = append(col.Units, c.Unit), append(col.Places, c.Quantity.Change)
		}
	}
	t := &table.Table{Head: headOf(names), Side: side, Foot: foot,
		Columns: []*table.Column{quantity, unit, kase, before, after, change, percent, low, high}}
	if w != nil {
		t.Columns = append(t.Columns, formsLow, formsHigh)
	}
	t.Columns = append(t.Columns, verdict)
	return &lang.Table{T: t, LineText: changeLine}
}

// rank orders changes: by case, changed settings before changed results before
// what did not change.
func rank(c study.Change, names []string) int {
	r := 0
	for i, n := range names {
		if n == c.Case {
			r = 1000 * i
		}
	}
	switch {
	case c.Change.Value == 0 || math.Abs(c.Change.Value) <= 1e-9*math.Abs(c.Before):
		return r + 100
	case strings.HasPrefix(c.Name, "seat "): // the seat that was changed before the boat's means
		return r
	case slices.Contains(set, c.Name):
		return r + 1
	case slices.Contains(foremost, c.Name):
		return r + 2 + slices.Index(foremost, c.Name)
	}
	return r + 50
}

// changeLine writes one change: "speed: 3.706 -> 3.675 m/s, change -0.031, -0.8 %: one run".
func changeLine(t *table.Table, i int) string {
	for _, name := range []string{"quantity", "before", "after", "change"} {
		if t.Column(name) == nil {
			return ""
		}
	}
	b, a, ch := t.Column("before"), t.Column("after"), t.Column("change")
	line := fmt.Sprintf("%s: %s -> %s", t.Column("quantity").Texts[i], table.Fixed(b.Nums[i], b.DigitsAt(i)),
		table.WithUnit(table.Fixed(a.Nums[i], a.DigitsAt(i)), a.UnitAt(i)))
	if ch.Kind == table.Measured {
		e := ch.Estimates[i]
		return line + ", change " + e.String()
	}
	line += ", change " + table.Signed(ch.Nums[i], ch.DigitsAt(i))
	if p := t.Column("percent"); p != nil && !p.Blank(i) {
		line += ", " + table.Signed(p.Nums[i], 1) + " %"
	}
	if v := t.Column("verdict"); v != nil {
		line += ": " + v.Texts[i]
	}
	return line
}
