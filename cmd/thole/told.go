package main

import (
	"fmt"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
)

// inRun is how long tables stand in a run: whole up to sixty lines, else head
// and tail with the count; the file has them all.
const (
	longTable = 60
	runHead   = 40
	runTail   = 10
)

// told sets what a study told, in the order of a run: title, parameters, the
// blocks, Cautions, and the Answer last.
func (w Window) told(doc *document.Document) []string {
	var lines []string
	if doc.Title != "" {
		for _, line := range w.wrap("", 0, w.say(doc.Title)) {
			lines = append(lines, bold.in(line))
		}
	}
	for _, p := range doc.Params {
		lines = append(lines, w.param(p)...)
	}
	for _, b := range doc.Blocks {
		lines = apart(lines, w.block(b))
	}
	var end []string
	for _, c := range doc.Cautions {
		end = append(end, w.caution(c.Text)...)
	}
	if doc.Answer != "" {
		end = append(end, w.answer(doc.Answer)...)
	}
	return apart(lines, end)
}

// apart puts a blank line between two pieces.
func apart(lines, more []string) []string {
	if len(lines) > 0 && len(more) > 0 {
		lines = append(lines, "")
	}
	return append(lines, more...)
}

// param says what a parameter was and whether it was set.
func (w Window) param(p document.Param) []string {
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
	return w.wrap("  ", 4, w.say(fmt.Sprintf("%s = %s (%s)", p.Name, table.WithUnit(value(p.Value), p.Unit), said)))
}

// caution and answer carry their word in a margin.
func (w Window) caution(text string) []string {
	lines := w.wrap("Caution  ", 9, w.say(text))
	lines[0] = yellow.in("Caution") + strings.TrimPrefix(lines[0], "Caution")
	return lines
}

func (w Window) answer(text string) []string {
	lines := w.wrap("Answer   ", 9, w.say(text))
	for i := range lines {
		lines[i] = bold.in(lines[i])
	}
	return lines
}

// block sets one thing told. A figure stands as its name and its sentence: the
// picture is in the page.
func (w Window) block(b document.Block) []string {
	switch b := b.(type) {
	case *document.Note:
		return w.prose(b.Markdown)
	case *document.Shown:
		return w.shown(b, Cutting{})
	case *document.Figure:
		return w.figureInWords(b)
	case *document.Ask:
		return w.ask(b)
	case *document.RigCard:
		return w.rigCard(b)
	case *document.Explore:
		return w.explore(b)
	}
	panic(fmt.Sprintf("a block of type %T", b)) // a new kind of block needs its line here
}

// blockAtPrompt sets one thing told at the prompt: as in a run, but figures are
// drawn in the window.
func (w Window) blockAtPrompt(b document.Block) []string {
	if f, ok := b.(*document.Figure); ok {
		return w.figure(f)
	}
	return w.block(b)
}

// shown sets a value put on view. With no cutting given a long table is cut as
// in a run.
func (w Window) shown(s *document.Shown, cutting Cutting) []string {
	var lines []string
	if s.Card != nil {
		if s.Name != "" && s.Name != s.Card.Title {
			lines = w.wrap("", 2, w.say(s.Name))
		}
		return append(lines, w.card(s.Card)...)
	}
	if s.Table == nil {
		text := s.Line
		if s.Name != "" {
			text = s.Name + ": " + text
		}
		for _, line := range strings.Split(w.sayLines(text), "\n") {
			// a value of more than one line, as a plain card, keeps its lines
			if strings.HasPrefix(line, " ") && wide(line) <= w.Width {
				lines = append(lines, line)
				continue
			}
			lines = append(lines, w.wrap("", 2, line)...)
		}
		return append(lines, w.footLines(s.Foot)...)
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
	switch {
	case s.Name != "" && head != "" && s.Name != head:
		lines = append(w.wrap("", 2, w.say(s.Name)), w.headLine("  "+w.say(head), w.say(side))...)
	case s.Name != "":
		lines = w.headLine(w.say(s.Name), w.say(side))
	case head != "" || side != "":
		lines = w.headLine(w.say(head), w.say(side))
	}
	t, unchanged := withoutUnchanged(saidOnce(s.Table, side))
	if unchanged != "" {
		foot = append([]string{unchanged}, foot...)
	}
	if cutting == (Cutting{}) && t.Len() > longTable {
		cutting = Cutting{Head: runHead, Tail: runTail, More: "in the page"}
		if s.Name != "" {
			cutting.More = "in " + fileName(s.Name) + ".csv"
		}
	}
	return append(append(lines, w.table(t, cutting)...), w.footLines(foot)...)
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

func (w Window) footLines(foot []string) []string {
	var lines []string
	for _, f := range foot {
		lines = append(lines, w.wrap("  ", 2, w.say(f))...)
	}
	return lines
}

// ask shows a question with its answer: on paper and in a window there is
// nothing to guess into.
func (w Window) ask(a *document.Ask) []string {
	question := w.say(a.Question)
	if len(a.Choices) > 0 {
		question += " (" + w.say(strings.Join(a.Choices, ", ")) + ")"
	}
	answer := w.say(table.WithUnit(a.Answer, a.Unit))
	if a.Because != "" {
		answer += ". " + w.say(a.Because)
	}
	return append(w.wrap("", 2, question), w.wrap("  ", 2, answer)...)
}

// explore says what the page's sliders move.
func (w Window) explore(e *document.Explore) []string {
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
			axes = append(axes, a.Name+" "+table.WithUnit(table.Range(a.Values[0], a.Values[len(a.Values)-1], digits, false), a.Unit))
		}
	}
	for _, f := range e.Fields {
		fields = append(fields, f.Name)
	}
	lines := []string{"(sliders)"}
	return append(lines, w.wrap("  ", 2, w.say(fmt.Sprintf("%s: %d states of %s, to be moved in the page.", strings.Join(axes, ", "), states, strings.Join(fields, ", "))))...)
}
