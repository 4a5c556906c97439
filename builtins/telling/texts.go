package telling

import (
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/engine/document"
	"thole/engine/table"
)

// places is what every function that tells takes besides: names for the places
// in its texts.
var places = &lang.Param{Name: "places", Is: lang.Any,
	Help: "names for the places of the text, as {cut:1 cm}"}

// filled gives a text argument with its places filled and its common indent off.
func filled(c *lang.Call, param string) (string, error) {
	if !c.Given(param) {
		return "", nil
	}
	s, err := lang.Fill(c.Thread, c.Text(param), c.Rest)
	if e := lang.AsError(err); e != nil {
		return "", c.Wrong(param, e)
	}
	return s, err
}

// telling makes a record that tells one text.
func telling(name, summary, param, help, example string, tell func(s *session.Study,
	text string)) *lang.Record {
	return &lang.Record{
		Name: name, Topic: "telling", Summary: summary, Tells: true, Fills: true, Rest: places,
		Params:  []lang.Param{{Name: param, Is: lang.Text, Needed: true, Help: help}},
		Gives:   "nothing",
		Example: example,
		Do: func(c *lang.Call) (starlark.Value, error) {
			text, err := filled(c, param)
			if err == nil {
				if s := session.Of(c.Thread); s != nil {
					tell(s, strings.TrimSpace(text))
				}
			}
			return starlark.None, err
		},
	}
}

var titleRecord = telling("title", "the question a study answers, as a heading", "text", "a question",
	`title("How long an outboard for the Otter quad?")`, func(s *session.Study, text string) {
		s.Title(text)
	})

var answerRecord = telling("answer", "the one sentence that answers it", "text", "a sentence",
	`answer("Rowed at {usual.speed}, it is a {usual.heaviness} oar.")`, func(s *session.Study, text string) {
		s.Answer(text)
	})

var noteRecord = telling("note", "text for the page; one that opens with ## starts a section", "markdown",
	"CommonMark: paragraphs, lists, *stress*",
	`note("The drive takes {usual.drive_time}.")`, func(s *session.Study, text string) {
		s.Tell(&document.Note{Markdown: text})
	})

var cautionRecord = &lang.Record{
	Name: "caution", Topic: "telling", Summary: "a sentence that the reader must see", Tells: true,
	Fills: true, Rest: places,
	Params:  []lang.Param{{Name: "text", Is: lang.Text, Needed: true, Help: "a sentence"}},
	Gives:   "nothing",
	Example: `caution("With novices, lighter first.")`,
}

var assumeRecord = &lang.Record{
	Name: "assume", Topic: "telling", Summary: "what the study takes for granted, with its source",
	Tells: true, Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "text", Is: lang.Text, Needed: true, Help: "a statement"},
		{Name: "source", Is: lang.Text, ByName: true, Help: "where it comes from"}},
	Gives:   "nothing",
	Example: `assume("The crew keeps its angles.", source="measured on 3 May")`,
}

var resultRecord = &lang.Record{
	Name: "result", Topic: "telling", Summary: "a named value, kept for the season", Tells: true, Fills: true,
	Rest: places,
	Params: []lang.Param{
		{Name: "name", Is: lang.Text, Needed: true,
			Help: `each name once, with its unit: "best outboard (cm)"`},
		{Name: "value", Is: lang.Number | lang.Text | lang.ThingOf, Types: []string{"estimate"}, Needed: true,
			Help: "a number, a text or an estimate"}},
	Gives:   "nothing",
	Errors:  []string{"a name given twice", "None or NaN"},
	Example: `result("speed", usual.speed)`,
}

var fillRecord = &lang.Record{
	Name: "fill", Topic: "telling", Summary: "a text with its places filled", Fills: true, Rest: places,
	Params: []lang.Param{{Name: "text", Is: lang.Text, Needed: true,
		Help: "with {name}, {name.field}, {x:1 cm}, {x:+1 %}; {{ for a brace"}},
	Gives:   "the text",
	Example: `fill("{x:1 cm}", x=6.64)`,
}

func init() {
	cautionRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		text, err := filled(c, "text")
		if err == nil {
			text = strings.TrimSpace(text)
			lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{Text: text, Key: text})
		}
		return starlark.None, err
	}
	assumeRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		text, err := filled(c, "text")
		if s := session.Of(c.Thread); err == nil && s != nil {
			s.Assume(document.Assumption{What: strings.TrimSpace(text), Source: c.Text("source")})
		}
		return starlark.None, err
	}
	resultRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		r, err := resultOf(c)
		if s := session.Of(c.Thread); err == nil && s != nil {
			err = s.Result(r)
		}
		return starlark.None, err
	}
	fillRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		text, err := filled(c, "text")
		return starlark.String(text), err
	}
}

// resultOf reads a result: the unit stands in the name, or is that of the
// stroke's field of this name, or the estimate's own.
func resultOf(c *lang.Call) (document.Result, error) {
	name, unit, bracketed := table.Heading(c.Text("name"))
	// a result's name is a heading, not an identifier: its blanks stay
	shown := strings.TrimSpace(c.Text("name"))
	if bracketed {
		shown = strings.TrimSpace(shown[:strings.LastIndex(shown, "(")])
	}
	if shown == "" {
		return document.Result{}, c.Wrong("name",
			lang.Mistake("a result is found again by its name, next season and in the JSON",
				`result("speed", ...)`, "a result without a name"))
	}
	digits, _ := table.DigitsFor(name, unit)
	if f, ok := lang.HostOf(c.Thread).Quantity(name); ok && !bracketed {
		unit, digits = f.Unit, f.Digits
	}
	r := document.Result{Name: shown, Unit: unit, Digits: digits}
	switch v := c.Value("value").(type) {
	case starlark.String:
		r.Text, r.IsText, r.Unit = string(v), true, ""
	case *lang.Estimate:
		r.Estimate, r.Value = v.E, v.E.Value
		if !bracketed {
			r.Unit, r.Digits = v.E.Unit, v.E.Digits
		}
	default:
		x, ok := lang.AsNumber(v)
		if !ok || math.IsNaN(x) || math.IsInf(x, 0) {
			return r, c.Wrong("value", lang.Mistake("a result is a number, a text or an estimate",
				`result("speed", usual.speed)`, "result %q has no value", shown))
		}
		r.Value = x
	}
	return r, nil
}
