package record

import (
	"fmt"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
)

// Document tells a comparison as a page or a terminal shows it: the causes, then
// the effects as a table, then where they come from.
func (c *Comparison) Document() *document.Document {
	d := &document.Document{
		Study:  c.Before + " and " + c.After,
		Title:  fmt.Sprintf("What changed from %s to %s?", c.Before, c.After),
		Answer: strings.TrimSpace(c.Verdict + " " + c.Count),
	}
	cause := &strings.Builder{}
	cause.WriteString("## Cause\n\n")
	for _, line := range c.CauseLines() {
		fmt.Fprintf(cause, "- %s\n", markdownEscape(line))
	}
	d.Blocks = append(d.Blocks, &document.Note{Markdown: cause.String()})
	if len(c.Effects)+len(c.Tables) > 0 || c.Answers != nil {
		d.Blocks = append(d.Blocks, &document.Note{Markdown: "## Effect"})
	}
	if len(c.Effects) > 0 {
		d.Blocks = append(d.Blocks, &document.Shown{Name: "results", Table: c.Table()})
	}
	if lines := c.EffectLines(); len(lines) > 0 {
		list := &strings.Builder{}
		for _, line := range lines {
			fmt.Fprintf(list, "- %s\n", markdownEscape(line))
		}
		d.Blocks = append(d.Blocks, &document.Note{Markdown: list.String()})
	}
	return d
}

// CauseLines gives the causes as lines, what is the same last.
func (c *Comparison) CauseLines() []string {
	var lines []string
	for _, cause := range c.Causes {
		for _, line := range cause.Lines {
			switch {
			case cause.Kind == OfVersion && c.Version != "":
				lines = append(lines, "thole "+line+": "+c.Version)
			case cause.Kind == OfParam:
				lines = append(lines, "parameter "+line)
			default:
				lines = append(lines, cause.Where+", "+line)
			}
		}
	}
	if len(c.Same) > 0 {
		lines = append(lines, "the same: "+strings.Join(c.Same, ", "))
	}
	return lines
}

// EffectLines gives the effects that stand in no column: tables and answer.
func (c *Comparison) EffectLines() []string {
	var lines []string
	for _, t := range c.Tables {
		lines = append(lines, "table "+t.Name+": "+strings.Join(t.Lines, "; "))
	}
	if c.Answers != nil {
		lines = append(lines, c.Before+" answered: "+c.Answers.Before, c.After+" answered: "+c.Answers.After)
	}
	return lines
}

// Table gives the results side by side. Columns that part the change into data
// and version stand in it only where the version had a share, that of
// tolerances only where one was given.
func (c *Comparison) Table() *table.Table {
	names, units, differs := textColumn("result"), textColumn("unit"), textColumn("verdict")
	before, after, parted := c.sideColumns()
	change := &table.Column{Name: "change", Signed: true, Digits: table.AutoDigits, Change: table.AutoDigits}
	data := &table.Column{Name: "by_data", Signed: true, Digits: table.AutoDigits, Change: table.AutoDigits}
	version := &table.Column{Name: "by_version", Signed: true, Digits: table.AutoDigits,
		Change: table.AutoDigits}
	tolerance := &table.Column{Name: "tolerance", Digits: table.AutoDigits, Change: table.AutoDigits}
	for _, e := range c.Effects {
		names.Texts = append(names.Texts, e.Name)
		units.Texts = append(units.Texts, e.Unit)
		places := e.places()
		for _, part := range []*float64{e.Change, e.Inputs, e.Version} {
			if part != nil {
				places = max(places, min(moreDigits(*part, places), places+3))
			}
		}
		for _, col := range []struct {
			c *table.Column
			x *float64
		}{{change, e.Change}, {data, e.Inputs}, {version, e.Version}} {
			col.c.Nums = append(col.c.Nums, orNaN(col.x))
			col.c.Places = append(col.c.Places, places)
		}
		tolerance.Nums = append(tolerance.Nums, e.Tolerance)
		word := ""
		if e.Differs {
			word = "differs"
		}
		differs.Texts = append(differs.Texts, word)
	}
	t := &table.Table{Name: "results", Columns: []*table.Column{names, units, before, after, change}}
	if parted {
		t.Columns = append(t.Columns, data, version)
	}
	if slices.Max(append(tolerance.Nums, 0)) > 0 {
		t.Columns = append(t.Columns, tolerance)
	}
	t.Columns = append(t.Columns, differs)
	return t
}

func textColumn(name string) *table.Column { return &table.Column{Name: name, Kind: table.Text} }

// places is how many decimals a result is compared with: those of a change.
func (e *Effect) places() int {
	if e.Digits < 0 {
		return e.Digits
	}
	_, change := table.DigitsFor(e.Name, e.Unit)
	return max(e.Digits, change)
}

// sideColumns gives the two runs' values: numbers where all are numbers, else
// texts, and whether the version had a share in any change.
func (c *Comparison) sideColumns() (before, after *table.Column, parted bool) {
	numbers := true
	for _, e := range c.Effects {
		_, x := e.Before.(float64)
		_, y := e.After.(float64)
		numbers = numbers && (x || e.Before == nil) && (y || e.After == nil)
		parted = parted || e.Version != nil && *e.Version != 0
	}
	side := func(name string, value func(Effect) any) *table.Column {
		col := &table.Column{Name: name, Digits: table.AutoDigits, Change: table.AutoDigits}
		if !numbers {
			col.Kind = table.Text
		}
		for _, e := range c.Effects {
			v := value(e)
			if numbers {
				x, ok := v.(float64)
				if !ok {
					x = orNaN(nil)
				}
				col.Nums = append(col.Nums, x)
				col.Places = append(col.Places, e.places())
				continue
			}
			text := ""
			switch v := v.(type) {
			case float64:
				text = table.Fixed(v, e.places())
			case string:
				text = v
			}
			col.Texts = append(col.Texts, text)
		}
		return col
	}
	before = side(c.Before, func(e Effect) any { return e.Before })
	after = side(c.After, func(e Effect) any { return e.After })
	return before, after, parted
}

// markdownEscape keeps a file's own characters from acting as Markdown.
func markdownEscape(s string) string {
	var b strings.Builder
	for _, r := range s {
		if strings.ContainsRune("\\`*_{}[]<>#+|!&~$", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}
