package figure

import (
	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/words"
)

// Lines over a setting: Table with X and every column of Y, each unit its own
// panel; By (text or number) makes the lines, Panel the small multiples. A Y
// of estimates is drawn as a line with its 95 % band. Lines keep the order in
// which their names first appear: the first is series 1, "now".
const Lines document.Kind = "lines"

// Curves over the arc or the time: as Lines, with By (or the column "case") the
// stroke's name. Over "angle", 0 is named square and the ends catch and finish.
const Curves document.Kind = "curves"

var (
	linesKind  = linesRecord(Lines)
	curvesKind = linesRecord(Curves)
)

func linesRecord(name document.Kind) *Kind {
	return &Kind{
		Name: name,
		Needs: func(f *document.Figure) []Need {
			needs := []Need{{Name: f.X}}
			for _, y := range f.Y {
				needs = append(needs, Need{Name: y})
			}
			return needs
		},
		Lacks:    lacksLines,
		Title:    linesTitle,
		Sentence: linesSentence,
		Reading:  func(f *document.Figure) string { return words.Sentence(Describe(f)) + cutAxes(f) },
		Parts:    linesParts,
		Window:   linesInWindow,
	}
}

// byColumn is the column that makes the lines, "" where there is one line.
func byColumn(f *document.Figure) string {
	if f.By == "" && f.Kind == Curves && f.Table.Column("case") != nil {
		return "case"
	}
	return f.By
}

func lacksLines(f *document.Figure) string {
	if len(f.Y) == 0 {
		return "it names no column to draw"
	}
	for _, name := range f.Y {
		if c := f.Table.Column(name); c.Kind != table.Text && !c.AllBlank() {
			return ""
		}
	}
	return "every value in it is blank"
}

func linesTitle(f *document.Figure) string {
	var ys []string
	for _, y := range f.Y {
		ys = append(ys, words.Spaced(y))
	}
	if len(ys) == 0 {
		return named(f, "Lines")
	}
	over := " against " + words.Spaced(f.X)
	switch f.X {
	case "angle":
		over = " over the arc"
	case "time":
		over = " over time"
	}
	return words.Capital(words.List(ys)) + over
}

// linesParts splits a figure of many panels into one drawing a quantity, so that
// no drawing is so high that print has to shrink it.
func linesParts(f *document.Figure) []Drawing {
	rows := rowsOf(f)
	panels := len(rows)
	for _, r := range rows {
		if differences(r) != nil {
			panels++
		}
	}
	if len(f.Y) < 2 || panels < 3 || len(rows) != len(f.Y) {
		return []Drawing{drawing(f, linesTitle(f), drawLines)}
	}
	var out []Drawing
	for _, y := range f.Y {
		part := *f
		part.Y = []string{y}
		part.Sentence = ""
		out = append(out, drawing(&part, linesTitle(&part), drawLines))
	}
	return out
}

// cutAxes is the sentence that says which axes do not begin at nought.
func cutAxes(f *document.Figure) string {
	var names []string
	for _, r := range rowsOf(f) {
		if r.axis(6).Spans() != "" {
			names = append(names, words.Spaced(r.name))
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return " The axis of " + names[0] + " does not begin at 0."
	}
	return " The axes of " + words.List(names) + " do not begin at 0."
}
