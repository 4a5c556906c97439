package table

import (
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// WriteCSV writes a table with full precision: comma between cells, decimal
// point, UTF-8, a first line of "name (unit)". Numbers stand plain. A text
// that a spreadsheet would take for a formula or an order (Defused) gets an
// apostrophe in front; one with a semicolon or a tab stands in quotes, so that it
// stays one cell where those part cells. An estimate fills four columns: value,
// low, high and verdict.
func WriteCSV(w io.Writer, t *Table) error {
	var out strings.Builder
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
	writeLine(&out, heads)
	for i := range t.Len() {
		var cells []string
		for _, c := range t.Columns {
			cells = append(cells, csvCells(t, c, i)...)
		}
		writeLine(&out, cells)
		if out.Len() > 1<<16 {
			if _, err := io.WriteString(w, out.String()); err != nil {
				return err
			}
			out.Reset()
		}
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// writeLine writes the cells of one line as RFC 4180 has it, in quotes also where
// another sign than the comma may part cells. (encoding/csv quotes for the comma
// alone.)
func writeLine(out *strings.Builder, cells []string) {
	for i, cell := range cells {
		if i > 0 {
			out.WriteByte(',')
		}
		first, _ := utf8.DecodeRuneInString(cell)
		if strings.ContainsAny(cell, ",;\t\"\r\n") || unicode.IsSpace(first) || len(cells) == 1 &&
			cell == "" {
			cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
		}
		out.WriteString(cell)
	}
	out.WriteByte('\n')
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

// Defused puts an apostrophe before a text that a spreadsheet would run: one that
// begins with = + - @, half or full width, or a control sign, also behind blanks;
// and one that it would take for the order to part cells otherwise ("sep=;").
func Defused(text string) string {
	bare := strings.TrimLeftFunc(text, func(r rune) bool {
		return r == ' ' || r == '\u00a0' ||
			r == '\u3000'
	})
	if bare == "" {
		return text
	}
	first, _ := utf8.DecodeRuneInString(bare)
	order := len(bare) >= 4 && strings.EqualFold(bare[:4], "sep=")
	if order || unicode.IsControl(first) || strings.ContainsRune("=+-@＝＋－＠", first) {
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
