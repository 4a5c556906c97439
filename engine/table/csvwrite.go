package table

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteCSV writes a table with full precision: comma between cells, decimal
// point, UTF-8, a first line of "name (unit)". Numbers stand plain. A text
// that a spreadsheet would take for a formula (= + - @ or a control character
// first) gets an apostrophe in front. An estimate fills four columns: value,
// low, high and verdict.
func WriteCSV(w io.Writer, t *Table) error {
	out := csv.NewWriter(w)
	var heads []string
	for _, c := range t.Columns {
		heads = append(heads, csvHeads(t, c)...)
	}
	for i := range heads {
		heads[i] = Defused(heads[i])
	}
	if len(heads) == 0 {
		return nil
	}
	if err := out.Write(heads); err != nil {
		return err
	}
	for i := range t.Len() {
		var cells []string
		for _, c := range t.Columns {
			cells = append(cells, csvCells(t, c, i)...)
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func csvHeads(t *Table, c *Column) []string {
	head := headWithUnit(c.Name, c.Unit)
	if c.Kind != Measured {
		return []string{head}
	}
	heads := []string{head}
	for _, part := range estimateParts(t, c) {
		unit := c.Unit
		if part == "verdict" {
			unit = ""
		}
		heads = append(heads, headWithUnit(c.Name+"_"+part, unit))
	}
	return heads
}

// estimateParts are the further columns an estimate needs: none that the table
// has as columns of its own, as a comparison does.
func estimateParts(t *Table, c *Column) []string {
	var parts []string
	for _, part := range []string{"low", "high", "verdict"} {
		if t.Column(part) == nil && t.Column(c.Name+"_"+part) == nil {
			parts = append(parts, part)
		}
	}
	return parts
}

func headWithUnit(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + " (" + unit + ")"
}

func csvCells(t *Table, c *Column, i int) []string {
	switch c.Kind {
	case Text:
		return []string{Defused(c.Texts[i])}
	case Measured:
		e := c.Estimates[i]
		if e == nil {
			return make([]string, 1+len(estimateParts(t, c)))
		}
		cells := []string{plainNumber(e.Value)}
		for _, part := range estimateParts(t, c) {
			switch part {
			case "low":
				cells = append(cells, plainNumber(e.Low))
			case "high":
				cells = append(cells, plainNumber(e.High))
			case "verdict":
				cells = append(cells, Defused(e.Verdict))
			}
		}
		return cells
	}
	return []string{plainNumber(c.Nums[i])}
}

func plainNumber(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// Defused puts an apostrophe before a text that a spreadsheet would run.
func Defused(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r\n", rune(text[0])) {
		return "'" + text
	}
	return text
}

// Spread gives the columns that a table fills in a file: texts and numbers, an
// estimate as value, low, high and verdict.
func Spread(t *Table) []*Column {
	var out []*Column
	for _, c := range t.Columns {
		if c.Kind != Measured {
			out = append(out, c)
			continue
		}
		value := NewColumn(c.Name, c.Unit, Number)
		value.Digits = c.Digits
		parts := map[string]*Column{}
		columns := []*Column{value}
		for _, part := range estimateParts(t, c) {
			kind, unit := Number, c.Unit
			if part == "verdict" {
				kind, unit = Text, ""
			}
			parts[part] = NewColumn(c.Name+"_"+part, unit, kind)
			parts[part].Digits = c.Digits
			columns = append(columns, parts[part])
		}
		for _, e := range c.Estimates {
			if e == nil {
				for _, column := range columns {
					column.add(nil)
				}
				continue
			}
			value.add(e.Value)
			for part, x := range map[string]any{"low": e.Low, "high": e.High, "verdict": e.Verdict} {
				if column := parts[part]; column != nil {
					column.add(x)
				}
			}
		}
		out = append(out, columns...)
	}
	return out
}
