package record

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"math"

	"thole/engine/table"
)

// Table is a table as JSON: columns with their units, then lines of cells. A
// cell is a number, a text, an estimate as an object, or null for a blank. A tall table
// has no lines here: they lie once, in a CSV file beside the record, which is known by its hash.
type Table struct {
	Name    string   `json:"name"`
	Columns []Column `json:"columns"`
	Lines   [][]any  `json:"lines"`
	Tall    *Tall    `json:"tall,omitempty"`
}

// Tall is where the lines of a tall table lie.
type Tall struct {
	Lines  int    `json:"lines"`
	SHA256 string `json:"sha256"`         // of the CSV file
	File   string `json:"file,omitempty"` // "" where none was written
}

// tallCells is how large a table may be that stands in the record itself: a record is read whole,
// and a cell takes about sixty bytes of memory.
const tallCells = 200_000

// Column is the head of one column. Units and Places are there only where the
// lines of a column differ in them, as in a comparison of many quantities.
type Column struct {
	Name   string   `json:"name"`
	Unit   string   `json:"unit"`
	Kind   string   `json:"kind"` // "number", "text", "estimate"
	Digits int      `json:"digits"`
	Change int      `json:"change"`
	Signed bool     `json:"signed,omitempty"`
	Units  []string `json:"units,omitempty"`
	Places []int    `json:"places,omitempty"`
}

// estimate is a drawn value as a cell.
type estimate struct {
	Value   *float64 `json:"value"`
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	AsSet   *float64 `json:"as_set"`
	Unit    string   `json:"unit"`
	Digits  int      `json:"digits"`
	Signed  bool     `json:"signed,omitempty"`
	Verdict string   `json:"verdict"`
}

var kindNames = map[table.Kind]string{table.Number: "number", table.Text: "text", table.Measured: "estimate"}

// FromTable makes the JSON form of a table, under this name.
func FromTable(name string, t *table.Table) *Table {
	out := &Table{Name: name, Columns: []Column{}, Lines: [][]any{}}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, Column{Name: c.Name, Unit: c.Unit, Kind: kindNames[c.Kind],
			Digits: c.Digits, Change: c.Change, Signed: c.Signed, Units: c.Units, Places: c.Places})
	}
	if t.Len()*len(t.Columns) > tallCells {
		sum := sha256.New()
		table.WriteCSV(sum, t) // a hash takes all that is written
		out.Tall = &Tall{Lines: t.Len(), SHA256: hex.EncodeToString(sum.Sum(nil))}
		return out
	}
	for i := range t.Len() {
		line := make([]any, len(t.Columns))
		for j, c := range t.Columns {
			line[j] = cell(c, i)
		}
		out.Lines = append(out.Lines, line)
	}
	return out
}

func cell(c *table.Column, i int) any {
	if c.Blank(i) {
		return nil
	}
	switch c.Kind {
	case table.Text:
		return c.Texts[i]
	case table.Measured:
		e := c.Estimates[i]
		return estimate{finite(e.Value), finite(e.Low), finite(e.High), finite(e.AsSet), e.Unit, e.Digits,
			e.Signed, e.Verdict}
	}
	return number(c.Nums[i])
}

// ErrTall is a table whose lines do not stand in the record.
var ErrTall = errors.New("its lines are not kept in the record")

// ToTable gives back the table, or says what is wrong with its JSON.
func (t *Table) ToTable() (*table.Table, error) {
	if t.Tall != nil {
		return nil, ErrTall
	}
	out := &table.Table{Name: t.Name}
	for j, head := range t.Columns {
		c := &table.Column{Name: head.Name, Unit: head.Unit, Digits: head.Digits, Change: head.Change,
			Signed: head.Signed}
		if len(head.Units) == len(t.Lines) {
			c.Units = head.Units
		}
		if len(head.Places) == len(t.Lines) {
			c.Places = head.Places
		}
		switch head.Kind {
		case "number":
			c.Kind = table.Number
		case "text":
			c.Kind = table.Text
		case "estimate":
			c.Kind = table.Measured
		default:
			return nil, fmt.Errorf("table %q: column %q is of no known kind", t.Name, head.Name)
		}
		for i, line := range t.Lines {
			if len(line) != len(t.Columns) {
				return nil, fmt.Errorf("table %q: line %d has %d cells for %d columns", t.Name, i+1,
					len(line), len(t.Columns))
			}
			if err := fillCell(c, line[j]); err != nil {
				return nil, fmt.Errorf("table %q, column %q, line %d: %w", t.Name, head.Name, i+1, err)
			}
		}
		out.Columns = append(out.Columns, c)
	}
	return out, nil
}

func fillCell(c *table.Column, v any) error {
	switch c.Kind {
	case table.Number:
		x, ok := v.(float64)
		if !ok {
			if v != nil {
				return fmt.Errorf("%v is no number", v)
			}
			x = math.NaN()
		}
		c.Nums = append(c.Nums, x)
	case table.Text:
		s, ok := v.(string)
		if !ok && v != nil {
			return fmt.Errorf("%v is no text", v)
		}
		c.Texts = append(c.Texts, s)
	case table.Measured:
		e, err := toEstimate(v)
		if err != nil {
			return err
		}
		c.Estimates = append(c.Estimates, e)
	}
	return nil
}

// toEstimate reads an estimate that came as the decoder's map, or as we wrote it.
func toEstimate(v any) (*table.Estimate, error) {
	if v == nil {
		return nil, nil
	}
	raw, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	var e estimate
	if err := json.Unmarshal(raw, &e); err != nil {
		return nil, fmt.Errorf("no estimate: %w", err)
	}
	return &table.Estimate{Value: orNaN(e.Value), Low: orNaN(e.Low), High: orNaN(e.High),
		AsSet: orNaN(e.AsSet),
		Unit:  e.Unit, Digits: e.Digits, Signed: e.Signed, Verdict: e.Verdict}, nil
}

// number gives x as JSON can hold it: null where there is no number.
func number(x float64) any {
	if p := finite(x); p != nil {
		return *p
	}
	return nil
}

func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

func orNaN(p *float64) float64 {
	if p == nil {
		return math.NaN()
	}
	return *p
}

func (t *Table) length() int {
	if t.Tall != nil {
		return t.Tall.Lines
	}
	return len(t.Lines)
}
