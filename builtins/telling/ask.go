package telling

import (
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/views"
	"thole/engine/document"
	"thole/engine/table"
)

var askRecord = &lang.Record{
	Name: "ask", Topic: "telling",
	Summary: "a question that hides what follows until it is guessed or revealed", Tells: true, Fills: true,
	Rest: places,
	Params: []lang.Param{
		{Name: "question", Is: lang.Text, Needed: true, Help: "a question"},
		{Name: "answer", Is: lang.Text | lang.Number, Needed: true, ByName: true,
			Help: "the right choice, or the number; best what the study computed"},
		{Name: "choices", Is: lang.List, ByName: true,
			Help: "texts to choose from; without them a number is asked for"},
		{Name: "tolerance", Is: lang.Number, ByName: true, Default: 0, Low: 0, High: 1e9,
			Help: "how far a guess may be off and still count"},
		{Name: "unit", Is: lang.Text, ByName: true, Help: "of the number asked for"},
		{Name: "because", Is: lang.Text, ByName: true, Help: "the reason, told with the answer"},
		{Name: "before", Is: lang.ThingOf, Types: []string{"stroke"}, ByName: true,
			Help: "the stroke drawn beside the question"},
		{Name: "after", Is: lang.ThingOf, Types: []string{"stroke"}, ByName: true,
			Help: "the stroke that the reveal moves the drawing to"},
		{Name: "picture", Is: lang.Text, ByName: true, Default: "oar",
			Choices: []string{"oar", "path", "perfect"},
			Help:    "the oar on its pin, the blade's path, or the path that becomes its perfect grip"},
		{Name: "about", Is: lang.Text, ByName: true,
			Help: "the field that is asked for: marked in the drawing, and the answer held to it"}},
	Gives: "nothing",
	Errors: []string{"an answer that is none of the choices",
		"an answer that the strokes before and after contradict"},
	Example: `ask("How does the arc change?", choices=["longer", "the same"], answer="the same", ` +
		`because="The hands set it.", before=usual, about="arc")`,
	Do: askDo,
}

func askDo(c *lang.Call) (starlark.Value, error) {
	ask := &document.Ask{Unit: c.Text("unit"), Tolerance: c.Number("tolerance"), About: c.Text("about")}
	var err error
	if ask.Question, err = filled(c, "question"); err != nil {
		return nil, err
	}
	if ask.Because, err = filled(c, "because"); err != nil {
		return nil, err
	}
	if ask.Choices, err = c.Texts("choices"); err != nil {
		return nil, err
	}
	number, isNumber := lang.AsNumber(c.Value("answer"))
	switch {
	case len(ask.Choices) > 0:
		ask.Answer = views.Line(c.Value("answer"))
		if !slices.Contains(ask.Choices, ask.Answer) {
			return nil, c.Wrong("answer", lang.Mistake("the choices are "+strings.Join(ask.Choices, ", "),
				"answer="+starlark.String(ask.Choices[0]).String(), "answer %q is none of the choices",
				ask.Answer))
		}
	case isNumber:
		ask.Number, ask.Answer = number, table.Fixed(number, -1)
	default:
		return nil, c.Wrong("answer", lang.Mistake("without choices a number is asked for",
			`answer=2.3, unit="%"`, "this question has no choices and no number for an answer"))
	}
	if err := picture(c, ask); err != nil {
		return nil, err
	}
	tell(c, ask)
	return starlark.None, nil
}
