package asking

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/builtins/views"
	"thole/engine/study"
	"thole/engine/table"
)

var fnParam = lang.Param{Name: "fn", Is: lang.Func, Needed: true,
	Help: "a def or lambda, handed its inputs by name; gives a number, a stroke, a dict of numbers, or a " +
		"dict of strokes"}

var varyRecord = &lang.Record{
	Name: "vary", Topic: "asking", Says: "it rows one thing over many values",
	Summary: "one function over every combination of its inputs' values",
	Params: []lang.Param{fnParam, {Name: "of", Is: lang.Text | lang.List, ByName: true, Shown: "all",
		Help: "the fields to keep of what fn gives: a million lines of four take little room"}},
	Rest: &lang.Param{Name: "axes", Is: lang.List,
		Help: "a list of numbers, texts or things, or steps(first, last, by), by the input's name"},
	Gives: "a table: a column an axis, what fn gives, and reason, which says why a line is blank",
	Errors: []string{"an axis that fn does not take", "a function that gives nothing back",
		"a function that tells or reads files", "a field in of= that fn does not give"},
	Example: `vary(lambda outboard: usual.change(oar=sculls.change(outboard=outboard)), ` +
		`outboard=steps(196, 204, 2))`,
	Notes: []string{"the order is that of the axes as written, the last one running fastest, whatever the " +
		"cores", "a point without a stroke stays as a blank line with its reason"},
	Do: varyDo,
}

func varyDo(c *lang.Call) (starlark.Value, error) {
	if len(c.Rest) == 0 {
		return nil, lang.Mistake("an axis says over which values",
			fmt.Sprintf("vary(%s, outboard=steps(192, 206, 1))", FnName(c.Func("fn"))), "vary has no axis")
	}
	axes := make([]study.Axis, len(c.Rest))
	items := make([][]starlark.Value, len(c.Rest))
	lines := 1
	for i, named := range c.Rest {
		var err *lang.Error
		if axes[i], items[i], err = axisOf(c, named); err != nil {
			return nil, c.Wrong(named.Name, err)
		}
		lines *= len(items[i])
		if err := lang.HostOf(c.Thread).Check("table", lines); err != nil {
			return nil, err
		}
	}
	q, err := NewQuestion(c, NamesOf(c.Rest), "rowing")
	if err != nil {
		return nil, err
	}
	q.thing = func(i int, x float64) starlark.Value {
		if axes[i].Labels == nil {
			return nil
		}
		return items[i][int(x)]
	}
	of, err := c.Texts("of")
	if err != nil {
		return nil, err
	}
	if c.Given("of") && len(of) == 0 {
		return nil, c.Wrong("of", lang.Mistake("it names the fields to keep, and without it all are kept",
			`of=["speed", "heaviness"]`, "of keeps nothing"))
	}
	q.share, q.all = session.Of(c.Thread).Config().Share, lines
	v, err := study.Vary(c.Context(), q.Batch, axes, of)
	if err != nil {
		if v != nil {
			session.Of(c.Thread).Keep(v.Table)
		}
		return nil, q.Tell(err, "of")
	}
	if err := sayFailed(c, q, v.Failed, lines); err != nil {
		return nil, err
	}
	if v.Alike {
		sayAlike(c, v.Table.Len())
	}
	v.Table.Held = heldInLines(v.Spans)
	return lang.NewTable(v.Table), nil
}

// heldInLines says what the strokes of a table share, "" for one of other things and
// where each line holds its own. Fields that are not kept say it too.
func heldInLines(spans map[string]study.Span) string {
	for _, name := range rowing.HeldFields {
		if _, ok := spans[name]; !ok {
			return ""
		}
	}
	for _, name := range rowing.HeldFields {
		if s := spans[name]; rowing.Constant([]float64{s.First, s.Low, s.High}) {
			return rowing.AtTheSame(name)
		}
	}
	return ""
}

// NamesOf lists the names of further arguments.
func NamesOf(named []lang.Named) []string {
	names := make([]string, len(named))
	for i, n := range named {
		names[i] = n.Name
	}
	return names
}

// axisOf reads an axis: numbers stand for themselves, texts and things are
// shown by their name.
func axisOf(c *lang.Call, n lang.Named) (study.Axis, []starlark.Value, *lang.Error) {
	a := study.Axis{Name: n.Name}
	items, ok := lang.Items(n.Value)
	if !ok {
		return a, nil, lang.Mistake("an axis is a list, or steps(first, last, by)", fmt.Sprintf("%s=[%s]",
			n.Name, typedValue(n.Value)), "%s is %s, not a list", n.Name, lang.KindOf(n.Value))
	}
	if len(items) == 0 {
		return a, nil, lang.Mistake("an axis needs a value at least", n.Name+"=steps(192, 206, 1)",
			"%s has no values", n.Name)
	}
	a.Unit, a.Digits = UnitOf(c, n.Name)
	numbers := 0
	for _, v := range items {
		if x, ok := lang.AsNumber(v); ok {
			numbers++
			a.Numbers = append(a.Numbers, x)
		}
	}
	switch numbers {
	case len(items):
		return a, items, nil
	case 0:
	default:
		return a, nil, lang.Mistake("an axis holds numbers alone, or texts and things alone",
			n.Name+"=["+typedValue(items[0])+", ...], all of one kind", "%s has numbers and others mixed",
			n.Name)
	}
	a.Unit, a.Digits, a.Numbers = "", table.AutoDigits, nil
	for _, v := range items {
		label, ok := labelOf(v)
		if !ok {
			return a, nil, lang.Mistake("an axis holds numbers, texts or things", n.Name+"=[...]",
				"%s among %s cannot stand on an axis", lang.KindOf(v), n.Name)
		}
		for unlike, n := label, 2; slices.Contains(a.Labels, label); n++ {
			label = fmt.Sprintf("%s (%d)", unlike, n)
		}
		a.Labels = append(a.Labels, label)
	}
	return a, items, nil
}

// labelOf is how an axis calls a value that is no number.
func labelOf(v starlark.Value) (label string, ok bool) {
	switch v := v.(type) {
	case starlark.String:
		return string(v), true
	case lang.AnyThing:
		if label = v.Label(); label == "" {
			label = views.Line(v)
		}
		return label, true
	case starlark.Bool:
		return v.String(), true
	}
	return "", false
}

// typedValue writes a value as one would type it.
func typedValue(v starlark.Value) string {
	if x, ok := lang.AsNumber(v); ok {
		return table.Fixed(x, -1)
	}
	if s, ok := starlark.AsString(v); ok {
		return strconv.Quote(s)
	}
	return "..."
}

// sayFailed cautions of points without an answer; when none has one there is no
// table to go on with.
func sayFailed(c *lang.Call, q *Question, f *study.Failed, lines int) error {
	if f == nil || errors.Is(f.Reason, errOtherPart) {
		return nil
	}
	if f.Count == lines {
		return q.failed(f)
	}
	blank := "its line stays, blank"
	has := "has"
	if f.Count > 1 {
		blank, has = "their lines stay, blank", "have"
	}
	lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{
		Text: fmt.Sprintf("%d of %d points %s no answer; %s", f.Count, lines, has, blank),
		Why:  f.Reason.Error(),
		Type: fmt.Sprintf("t.complete() for the %d rowed; t.only(%q, \"reason\") for all", lines-f.Count,
			c.Rest[0].Name),
	})
	return nil
}

// rigOnly are measures of a rig that move no blade by themselves: what they do move, and
// how to ask for it.
var rigOnly = map[string]lang.Gone{
	"span": {Why: "span moves no blade by itself; it acts when the collar follows it",
		Type: `s.change(rig=s.rig.change(span=span), collar="follows")`},
	"spread": {Why: "spread moves no blade by itself; it acts when the collar follows it",
		Type: `s.change(rig=s.rig.change(spread=spread), collar="follows")`},
	"height": {Why: "height moves the hands, not the blade",
		Type: "lambda height: hands(s.change(rig=s.rig.change(height=height)))"},
	"pitch": {Why: "pitch lifts blade and hands, and moves no speed here",
		Type: `s.trace("angle", "lift_at_hands")`},
	"outward_pitch": {Why: "outward pitch lifts blade and hands, and moves no speed here",
		Type: `s.trace("angle", "lift_at_hands")`},
	"stretcher": {Why: "the stretcher moves catch and finish from the rig they were measured on",
		Type: "s.change(rig=s.rig.change(stretcher=stretcher))"},
	"work_through": {Why: "the work-through moves catch and finish from the rig they were measured on",
		Type: "s.change(rig=s.rig.change(work_through=work_through))"},
}

// sayAlike cautions that the axes moved nothing at all.
func sayAlike(c *lang.Call, lines int) {
	caution := lang.Caution{Text: fmt.Sprintf("all %d lines are alike", lines), Arg: "fn",
		Why:  "what fn gives does not rest on " + strings.Join(NamesOf(c.Rest), ", "),
		Type: "use " + c.Rest[0].Name + " inside the function"}
	for _, a := range c.Rest {
		if only, ok := rigOnly[a.Name]; ok {
			caution.Why, caution.Type = only.Why, only.Type
		}
	}
	lang.HostOf(c.Thread).Caution(c.Thread, caution)
}
