package telling

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/units"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/rounding"
	"thole/engine/stroke"
	"thole/engine/table"
)

// The drawing beside a question, and the answer held to the strokes it is drawn of: a lesson
// whose numbers were changed must not go on teaching the old answer.

// picture draws what stands beside a question: the stroke before, and what the reveal moves
// it to.
func picture(c *lang.Call, ask *document.Ask) error {
	before, drawn := rowing.StrokeType.From(c.Value("before"))
	after, moves := rowing.StrokeType.From(c.Value("after"))
	if !drawn {
		if moves || ask.About != "" {
			return c.Wrong("before", lang.Mistake("the drawing begins with a stroke", "before=usual",
				"there is nothing to draw before the answer"))
		}
		return nil
	}
	var err error
	switch c.Text("picture") {
	case "oar":
		ask.Before = oarOf(before)
		if moves {
			ask.After = oarOf(after)
		}
	case "path":
		if ask.Before, err = wayOf(called(before), before.BladePath); err == nil && moves {
			ask.After, err = wayOf(called(after), after.BladePath)
		}
	case "perfect":
		if ask.Before, err = wayOf(called(before), before.BladePath); err == nil {
			ask.After, err = wayOf("perfect grip", before.PerfectPath)
			ask.After.Paths[0].Reference = true
		}
	}
	if err != nil {
		return rowing.NoStroke(err)
	}
	if moves && ask.About != "" {
		return held(c, ask, before, after)
	}
	return nil
}

// oarOf is a stroke's oar on its pin, with or without a rig.
func oarOf(s *rowing.Stroke) *document.Figure {
	r, rigged := s.Rigged(0, called(s))
	if !rigged {
		o, seat := s.Oars[0], s.Problem.Seats[0]
		cm := func(x float64) float64 { return rounding.Clean(x / units.Cm) }
		r = document.Rigged{Name: called(s), Inboard: cm(o.Inboard), Outboard: cm(o.Outboard()),
			BladeLength: cm(o.Blade.Length), Catch: seat.Catch / units.Deg, Finish: seat.Finish / units.Deg}
	}
	return &document.Figure{Kind: figure.Rig, Rigs: []document.Rigged{r}}
}

// wayOf is a blade's way through the water, marked every tenth of a second.
func wayOf(name string, of func(seat int, at stroke.Moments) (*table.Table, error)) (*document.Figure,
	error) {
	path, err := pathOf(name, stroke.Moments{Every: .1}, of)
	return &document.Figure{Kind: figure.Paths, Every: .1, Paths: []document.Path{path}}, err
}

// What choices say of a change. A choice in other words is not judged.
var (
	sayMore = []string{"more", "longer", "bigger", "larger", "wider", "heavier", "higher", "faster",
		"it rises", "rises"}
	saySame = []string{"the same", "same", "unchanged", "as before", "it stays", "neither"}
	sayLess = []string{"less", "shorter", "smaller", "narrower", "lighter", "lower", "slower", "it falls",
		"falls"}
)

// held refuses an answer that two strokes contradict: a choice that says another direction, a
// number that is neither the change, nor the change in per cent, nor the value after. Signs are left
// out: "how much shorter" is answered by a size.
func held(c *lang.Call, ask *document.Ask, before, after *rowing.Stroke) error {
	was, digits, err := fieldOf(c, before)
	if err != nil {
		return err
	}
	is, _, err := fieldOf(c, after)
	if err != nil {
		return err
	}
	step := math.Pow(10, -float64(digits))
	change := is - was
	rows := fmt.Sprintf("%s is %s before and %s after", strings.ReplaceAll(ask.About, "_", " "),
		table.Fixed(was, digits), table.Fixed(is, digits))
	if len(ask.Choices) > 0 {
		wrong := slices.Contains(sayMore, ask.Answer) && change < step/2 ||
			slices.Contains(sayLess, ask.Answer) && change > -step/2 ||
			slices.Contains(saySame, ask.Answer) && math.Abs(change) > step/2
		if wrong {
			return c.Wrong("answer",
				lang.Mistake(rows, "the answer that holds for these strokes, or other strokes",
					"the answer %q is not what these strokes do", ask.Answer))
		}
		return nil
	}
	near := math.Max(ask.Tolerance, step)
	for _, right := range []float64{change, is, change / was * 100} {
		if math.Abs(math.Abs(ask.Number)-math.Abs(right)) <= near {
			return nil
		}
	}
	return c.Wrong("answer", lang.Mistake(rows,
		fmt.Sprintf("answer=round(after.%s - before.%s, 1)", ask.About, ask.About),
		"the answer %s is not what these strokes do", ask.Answer))
}

// fieldOf reads the field that a question is about, with the digits it is told in.
func fieldOf(c *lang.Call, s *rowing.Stroke) (value float64, digits int, err error) {
	name := c.Text("about")
	switch name { // of the drawing, in the words of riggers
	case "inboard":
		return s.Oars[0].Inboard / units.Cm, 1, nil
	case "outboard":
		return s.Oars[0].Outboard() / units.Cm, 1, nil
	}
	f, ok := stroke.FieldNamed(name)
	if !ok {
		return 0, 0, c.Wrong("about", lang.Mistake("what is asked for is a number of a stroke",
			`about="arc", "catch", "heaviness", "speed" ...`, "a stroke has no number %q", name))
	}
	return f.Of(s.Stroke), f.Digits, nil
}

// called is how the drawing names a stroke.
func called(s *rowing.Stroke) string {
	if s.Name == "" {
		return "as rowed"
	}
	return s.Name
}
