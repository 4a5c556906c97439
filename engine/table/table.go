// Package table holds columns with a name, a unit and digits: the only currency
// between results, figures and pages. It knows no rowing and no scripting.
package table

import "math"

// Kind says what the cells of a column are.
type Kind uint8

const (
	Number   Kind = iota // Nums, NaN is a blank
	Text                 // Texts, "" is a blank
	Measured             // Estimates, nil is a blank
)

// AutoDigits shows a number with four figures: what a bare number gets.
const AutoDigits = -1

// Column is a named column of cells, all of one kind. Exactly one of Nums,
// Texts and Estimates is in use, as Kind says, with one cell a line.
type Column struct {
	Name   string // as it is typed: "outboard", blanks already written as _
	Unit   string // "cm"; "" for a text or a bare number
	Digits int    // decimals shown, or AutoDigits
	Change int    // decimals shown for a change of this quantity, or AutoDigits
	Kind   Kind
	Signed bool // numbers are changes: always shown with their sign

	Nums      []float64
	Texts     []string
	Estimates []*Estimate

	// Units and Places are set only where the lines of one column differ in
	// unit and digits, as in a comparison of many quantities: one a line.
	Units  []string
	Places []int
}

// Table is an ordered set of columns of the same length.
type Table struct {
	Name    string // the title it was shown under; names its CSV file
	Columns []*Column

	// FileLines is the line of the file each line was read from; nil where
	// there was no file, or lines were picked since.
	FileLines []int

	// What stands around the table: a line above it ("now -> broad"), a remark
	// set right on that line ("middle of 200 draws"), sentences beneath. Held is what
	// all that it compares were rowed at ("at the same power"), said with the head.
	// WriteIn makes it a sheet to print and fill in: blanks are lines to write on.
	Head    string
	Held    string
	Side    string
	Foot    []string
	WriteIn bool
}

// Estimate is a value with its 95 % interval, out of paired draws.
type Estimate struct {
	Value   float64 // middle of the draws
	Low     float64 // 2.5 % of the draws lie below
	High    float64 // 97.5 % of the draws lie below
	AsSet   float64 // with every input at its base value; NaN where there is none
	Unit    string
	Digits  int    // decimals shown, or AutoDigits
	Signed  bool   // a change: always shown with its sign
	Verdict string // in words, as "cannot be told apart"
}

// Len gives the number of cells.
func (c *Column) Len() int {
	switch c.Kind {
	case Text:
		return len(c.Texts)
	case Measured:
		return len(c.Estimates)
	}
	return len(c.Nums)
}

// Blank says whether cell i holds nothing.
func (c *Column) Blank(i int) bool {
	switch c.Kind {
	case Text:
		return c.Texts[i] == ""
	case Measured:
		return c.Estimates[i] == nil
	}
	return math.IsNaN(c.Nums[i])
}

// UnitAt gives the unit of cell i.
func (c *Column) UnitAt(i int) string {
	if c.Units != nil {
		return c.Units[i]
	}
	return c.Unit
}

// DigitsAt gives the decimals of cell i.
func (c *Column) DigitsAt(i int) int {
	if c.Places != nil {
		return c.Places[i]
	}
	return c.Digits
}

// Len gives the number of lines.
func (t *Table) Len() int {
	if len(t.Columns) == 0 {
		return 0
	}
	return t.Columns[0].Len()
}

// Column gives the column of that name, or nil.
func (t *Table) Column(name string) *Column {
	for _, c := range t.Columns {
		if c.Name == name {
			return c
		}
	}
	return nil
}

// TextColumn gives a column of texts by its name; nil where there is none, or it
// holds numbers.
func (t *Table) TextColumn(name string) *Column {
	if c := t.Column(name); c != nil && c.Kind == Text {
		return c
	}
	return nil
}

// AllBlank says whether no cell of a column holds anything.
func (c *Column) AllBlank() bool {
	for i := range c.Len() {
		if !c.Blank(i) {
			return false
		}
	}
	return true
}

// Varies says whether a column of texts holds more than one text.
func (c *Column) Varies() bool {
	for _, s := range c.Texts {
		if s != c.Texts[0] {
			return true
		}
	}
	return false
}
