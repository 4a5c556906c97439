package window

import (
	"fmt"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/term"
)

// mostPanels is how many charts are drawn beneath each other.
const mostPanels = 6

// Figure draws a figure, its sentence beneath. A kind that only a page can show
// stands in words.
func Figure(w term.Window, f *document.Figure) []string {
	var lines []string
	switch {
	case len(f.Paths) > 0:
		lines = paths(w, f.Paths)
	case f.Kind == figure.Bars:
		lines = bars(w, f.Table)
	case f.Table != nil && (f.Kind == figure.Lines || f.Kind == figure.Curves):
		lines = charts(w, f)
	case f.Table != nil && f.Kind == figure.Heat:
		lines = heat(w, f)
	case f.Table != nil && f.Kind != figure.Moving:
		lines = w.Table(f.Table, term.Cutting{})
	default:
		return inWords(w, f)
	}
	return append(lines, sentence(w, f, "", 0)...)
}

// inWords is how a figure stands in a run: its name and its sentence. The
// picture is in the page.
func inWords(w term.Window, f *document.Figure) []string {
	what := "(figure)"
	if f.Kind == figure.Moving {
		what = "(moving picture)"
	}
	name := w.Clean(f.Name)
	if name != "" {
		name += "  "
	}
	return append([]string{name + what}, sentence(w, f, "  ", 2)...)
}

// sentence sets what a figure says in words: its own caption, then what was made
// from its data.
func sentence(w term.Window, f *document.Figure, head string, hang int) []string {
	var lines []string
	for _, text := range []string{f.Caption, f.Sentence} {
		if strings.Trim(text, " .") != "" {
			lines = append(lines, w.Wrap(head, hang, text)...)
		}
	}
	return lines
}

// charts draws lines over x: each unit and each value of the panel is a chart of
// its own, one beneath the other.
func charts(w term.Window, f *document.Figure) []string {
	all := chartsOf(f)
	var lines []string
	for i, c := range all {
		if i == mostPanels {
			more := fmt.Sprintf("%d more panels stand in the page", len(all)-i)
			return append(lines, term.Dim.In(more))
		}
		lines = append(lines, w.Chart(c)...)
	}
	return lines
}
