// Package window sets what a study told in the lines of a terminal's window:
// Told a whole run, BlockAtPrompt one thing at the prompt, Comparison two runs
// beside each other. It draws nothing into a page and writes nothing anywhere:
// it gives lines, which a term.Terminal prints.
package window

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/term"
	"unicode"
)

// A table stands in a run whole up to sixty lines, else by head and tail with the
// count; the file has them all.
const (
	longTable = 60
	runHead   = 40
	runTail   = 10
	pageLines = 200 // a page has no more of a table either
)

// Told sets what a study told, in the order of a run: title, parameters, the
// blocks, Cautions, and the Answer last.
func Told(w term.Window, doc *document.Document) []string {
	var lines []string
	if doc.Title != "" {
		for _, line := range w.Wrap("", 0, doc.Title) {
			lines = append(lines, term.Bold.In(line))
		}
	}
	for _, text := range doc.Load {
		lines = append(lines, Load(w, text)...)
	}
	for _, p := range doc.Params {
		lines = append(lines, param(w, p)...)
	}
	for _, b := range doc.Blocks {
		lines = Apart(lines, block(w, b))
	}
	var end []string
	for _, c := range doc.Cautions {
		end = append(end, caution(w, c.Text)...)
	}
	if doc.Answer != "" {
		end = append(end, Answer(w, doc.Answer)...)
	}
	return Apart(lines, end)
}

// Apart puts a blank line between two pieces.
func Apart(lines, more []string) []string {
	if len(lines) > 0 && len(more) > 0 {
		lines = append(lines, "")
	}
	return append(lines, more...)
}

// param says what a parameter was and whether it was set.
func param(w term.Window, p document.Param) []string {
	value := func(text string) string {
		if text == "" {
			return "(empty)"
		}
		return text
	}
	said := "as written"
	if p.Set {
		said = "set; as written " + value(p.Written)
	}
	return w.Wrap("  ", 4, fmt.Sprintf("%s = %s (%s)", p.Name, table.WithUnit(value(p.Value), p.Unit), said))
}

// caution and answer carry their word in a margin.
func caution(w term.Window, text string) []string {
	lines := w.Wrap("Caution  ", 9, text)
	lines[0] = term.Yellow.In("Caution") + strings.TrimPrefix(lines[0], "Caution")
	return lines
}

// Load sets the line that comes before all others: how the load changes of those who need
// care.
func Load(w term.Window, text string) []string {
	lines := w.Wrap("", 6, text)
	for i := range lines {
		lines[i] = term.Bold.In(lines[i])
	}
	return lines
}

func Answer(w term.Window, text string) []string {
	lines := w.Wrap("Answer   ", 9, text)
	for i := range lines {
		lines[i] = term.Bold.In(lines[i])
	}
	return lines
}

// block sets one thing told. A figure stands as its name and its sentence: the
// picture is in the page.
func block(w term.Window, b document.Block) []string {
	switch b := b.(type) {
	case *document.Note:
		return prose(w, b.Markdown)
	case *document.Shown:
		return Shown(w, b, term.Cutting{})
	case *document.Figure:
		return figure.InWords(w, b)
	case *document.Ask:
		return ask(w, b)
	case *document.RigCard:
		return rigCard(w, b)
	case *document.Explore:
		return explore(w, b)
	}
	panic(fmt.Sprintf("a block of type %T", b)) // a new kind of block needs its line here
}

// BlockAtPrompt sets one thing told at the prompt: as in a run, but figures are
// drawn in the window.
func BlockAtPrompt(w term.Window, b document.Block) []string {
	if f, ok := b.(*document.Figure); ok {
		return figure.Window(w, f)
	}
	return block(w, b)
}

// Shown sets a value put on view. With no cutting given a long table is cut as
// in a run.
func Shown(w term.Window, s *document.Shown, cutting term.Cutting) []string {
	var lines []string
	if s.Card != nil {
		if s.Name != "" && s.Name != s.Card.Title {
			lines = w.Wrap("", 2, s.Name)
		}
		return append(lines, card(w, s.Card)...)
	}
	if s.Table == nil {
		text := s.Line
		if s.Name != "" {
			text = s.Name + ": " + text
		}
		for _, line := range strings.Split(w.CleanLines(text), "\n") {
			// a value of more than one line, as a plain card, keeps its lines
			if strings.HasPrefix(line, " ") && term.Width(line) <= w.Width {
				lines = append(lines, line)
				continue
			}
			lines = append(lines, w.Wrap("", 2, line)...)
		}
		return append(lines, footLines(w, s.Foot)...)
	}
	head, side, foot := s.Head, s.Side, s.Foot
	if head == "" {
		head = s.Table.Head
	}
	if side == "" {
		side = s.Table.Side
	}
	if len(foot) == 0 {
		foot = s.Table.Foot
	}
	if held := s.Table.Held; held != "" {
		head = strings.TrimPrefix(head+", "+held, ", ")
	}
	switch {
	case s.Name != "" && head != "" && s.Name != head:
		lines = append(w.Wrap("", 2, s.Name), w.HeadLine("  "+w.Clean(head), side)...)
	case s.Name != "":
		lines = w.HeadLine(s.Name, side)
	case head != "" || side != "":
		lines = w.HeadLine(head, side)
	}
	t, unchanged := withoutUnchanged(saidOnce(s.Table, side))
	if unchanged != "" {
		foot = append([]string{unchanged}, foot...)
	}
	if cutting == (term.Cutting{}) && t.Len() > longTable {
		cutting = term.Cutting{Head: runHead, Tail: runTail, More: "in the page"}
		switch {
		case s.Name != "":
			cutting.More = "in " + FileName(s.Name) + ".csv"
		case t.Len() > pageLines:
			cutting.More = "in the CSV file beside the page"
		}
	}
	return append(append(lines, w.Table(t, cutting)...), footLines(w, foot)...)
}

// saidOnce leaves out a verdict that says in every line what stands at the edge
// of the head already.
func saidOnce(t *table.Table, side string) *table.Table {
	v := t.Column("verdict")
	if v == nil || v.Kind != table.Text || side == "" {
		return t
	}
	for _, text := range v.Texts {
		if text != side {
			return t
		}
	}
	short := *t
	short.Columns = slices.DeleteFunc(slices.Clone(t.Columns), func(c *table.Column) bool { return c == v })
	return &short
}

func footLines(w term.Window, foot []string) []string {
	var lines []string
	for _, f := range foot {
		lines = append(lines, w.Wrap("  ", 2, f)...)
	}
	return lines
}

// ask shows a question with its answer: on paper and in a window there is
// nothing to guess into.
func ask(w term.Window, a *document.Ask) []string {
	question := w.Clean(a.Question)
	if len(a.Choices) > 0 {
		question += " (" + w.Clean(strings.Join(a.Choices, ", ")) + ")"
	}
	answer := w.Clean(table.WithUnit(a.Answer, a.Unit))
	if a.Because != "" {
		answer += ". " + w.Clean(a.Because)
	}
	return append(w.Wrap("", 2, question), w.Wrap("  ", 2, answer)...)
}

// explore says what the page's sliders move.
func explore(w term.Window, e *document.Explore) []string {
	states := 1
	var axes, fields []string
	for _, a := range e.Axes {
		switch {
		case len(a.Texts) > 0:
			states *= len(a.Texts)
			axes = append(axes, a.Name+" ("+strings.Join(a.Texts, ", ")+")")
		case len(a.Values) > 0:
			states *= len(a.Values)
			digits := table.ColumnDigits(a.Values, a.Digits)
			axes = append(axes, a.Name+" "+table.WithUnit(table.Range(a.Values[0], a.Values[len(a.Values)-1],
				digits,
				false), a.Unit))
		}
	}
	for _, f := range e.Fields {
		fields = append(fields, f.Name)
	}
	lines := []string{"(sliders)"}
	return append(lines, w.Wrap("  ", 2,
		fmt.Sprintf("%s: %d states of %s, to be moved in the page.", strings.Join(axes, ", "), states,
			strings.Join(fields, ", ")))...)
}

// FileName makes a file's name of a title, one that every system takes: blanks as
// _, what no system takes in a name as -, signs that cannot be seen (control,
// direction, line ends) left out, 80 bytes at most, and none that Windows keeps
// for its devices.
func FileName(title string) string {
	name := strings.Map(func(c rune) rune {
		switch {
		case c == '_' || unicode.Is(unicode.Zs, c):
			return '_'
		case c < ' ' || strings.ContainsRune(`/\<>:"|?*.`, c):
			return '-'
		case unicode.In(c, unicode.C, unicode.Zl, unicode.Zp):
			return -1
		}
		return c
	}, term.StripControls(strings.TrimSpace(title)))
	if len(name) > 80 {
		name = strings.ToValidUTF8(name[:80], "")
	}
	name = strings.Trim(name, "-_")
	if device.MatchString(name) {
		name += "_"
	}
	return name
}

// device are the names that Windows keeps for its devices, whatever stands behind a
// full stop.
var device = regexp.MustCompile(`(?i)^(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])$`)
