package workbook

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"thole/engine/table"
)

// Page is one sheet to be written: a table under its name.
type Page struct {
	Name    string
	Table   *table.Table
	Choices map[string][]string // what a column's cells may hold, offered as a list
}

// MostCells is how large a table may be that goes into a workbook: writing more takes a
// kilobyte a cell, and nobody pages through it. Its CSV file holds all.
const MostCells = 200_000

// choiceLines is how far down a list of choices is offered.
const choiceLines = 500

// lineHeight is a line of text of the usual size, in points.
const lineHeight = 15.0

// widest is how wide a column may become, in characters; the rest is read by
// widening it.
const widest = 48

// Write writes a workbook: a sheet a table, the units in the heads, numbers as
// numbers with all their digits and shown with those of their column, the heads
// frozen, widths fitted. An estimate fills the columns that it fills in a CSV
// file. The same pages give the same bytes.
func Write(w io.Writer, pages []Page) error {
	book := excelize.NewFile()
	defer book.Close()
	names := sheetNames{}
	for i, p := range pages {
		name := names.of(p.Name)
		if i == 0 {
			if err := book.SetSheetName("Sheet1", name); err != nil {
				return err
			}
		} else if _, err := book.NewSheet(name); err != nil {
			return err
		}
		if err := writePage(book, name, p); err != nil {
			return err
		}
	}
	_, err := book.WriteTo(w)
	return err
}

func writePage(book *excelize.File, name string, p Page) error {
	headStyle, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true},
		Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"},
		Border:    []excelize.Border{{Type: "bottom", Style: 1, Color: "808080"}}})
	if err != nil {
		return err
	}
	// printed, a table is as wide as the sheet of paper and as long as it needs
	landscape, wide, long, fit := "landscape", 1, 0, true
	if err := book.SetPageLayout(name, &excelize.PageLayoutOptions{Orientation: &landscape,
		FitToWidth: &wide, FitToHeight: &long}); err != nil {
		return err
	}
	if err := book.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	column := 0
	lines := map[int]int{} // how many lines of text a row takes, where that is more than one
	for _, c := range table.Spread(p.Table) {
		column++
		if err := writeColumn(book, name, column, c, lines); err != nil {
			return err
		}
		at := table.CellName(column, 1)
		if err := book.SetCellStyle(name, at, at, headStyle); err != nil {
			return err
		}
		if choices := p.Choices[c.Name]; len(choices) > 0 {
			if err := offer(book, name, column, choices); err != nil {
				return err
			}
		}
	}
	if column == 0 {
		return nil
	}
	for _, row := range slices.Sorted(maps.Keys(lines)) { // not every spreadsheet fits them itself
		if err := book.SetRowHeight(name, row, float64(lines[row])*lineHeight); err != nil {
			return err
		}
	}
	return book.SetPanes(name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2",
		ActivePane: "bottomLeft"})
}

func writeColumn(book *excelize.File, sheet string, column int, c *table.Column, lines map[int]int) error {
	head := c.Name
	if c.Unit != "" {
		head += " (" + c.Unit + ")"
	}
	head = strings.ReplaceAll(head, "_", " ")
	if err := book.SetCellStr(sheet, table.CellName(column, 1), head); err != nil {
		return err
	}
	letter := strings.TrimRight(table.CellName(column, 1), "0123456789")
	width := min(utf8.RuneCountInString(head), 16) // longer heads break over two lines
	shown := c.Shown()
	for i := range c.Len() {
		at := table.CellName(column, i+2)
		var err error
		switch {
		case c.Kind == table.Text && c.Texts[i] != "":
			err = book.SetCellStr(sheet, at, c.Texts[i])
		case c.Kind == table.Number && !math.IsNaN(c.Nums[i]) && !math.IsInf(c.Nums[i], 0):
			err = book.SetCellFloat(sheet, at, c.Nums[i], -1, 64)
		default:
			continue
		}
		if err != nil {
			return err
		}
		width = max(width, utf8.RuneCountInString(shown[i]))
	}
	if c.Kind == table.Number && c.Len() > 0 {
		style, err := book.NewStyle(&excelize.Style{CustomNumFmt: numberFormat(shown),
			Alignment: &excelize.Alignment{Vertical: "top"}})
		if err != nil {
			return err
		}
		if err := book.SetCellStyle(sheet, table.CellName(column, 2), table.CellName(column, c.Len()+1),
			style); err != nil {
			return err
		}
	}
	if c.Kind == table.Text && c.Len() > 0 {
		style, err := book.NewStyle(&excelize.Style{Alignment: &excelize.Alignment{WrapText: true,
			Vertical: "top"}})
		if err != nil {
			return err
		}
		if err := book.SetCellStyle(sheet, table.CellName(column, 2), table.CellName(column, c.Len()+1),
			style); err != nil {
			return err
		}
	}
	width = min(width, widest)
	long := func(row int, text string) {
		if n := (utf8.RuneCountInString(text) + width - 1) / max(width, 1); n > max(lines[row], 1) {
			lines[row] = n
		}
	}
	long(1, head)
	for i := range c.Texts {
		long(i+2, c.Texts[i])
	}
	return book.SetColWidth(sheet, letter, letter, float64(width)+2)
}

// numberFormat shows as many decimals as the column's cells have elsewhere.
func numberFormat(shown []string) *string {
	places := 0
	for _, s := range shown {
		if i := strings.IndexByte(s, '.'); i >= 0 && !strings.ContainsAny(s, "eE") {
			places = max(places, len(s)-i-1)
		}
	}
	format := "0"
	if places > 0 {
		format += "." + strings.Repeat("0", places)
	}
	return &format
}

// offer gives a column's cells a list to choose from. Other words are taken too,
// with a question: a register is never refused by its own workbook.
func offer(book *excelize.File, sheet string, column int, choices []string) error {
	v := excelize.NewDataValidation(true)
	v.Sqref = table.CellName(column, 2) + ":" + table.CellName(column, choiceLines)
	if err := v.SetDropList(choices); err != nil {
		return err
	}
	v.SetError(excelize.DataValidationErrorStyleWarning, "Another word",
		"One of: "+strings.Join(choices, ", "))
	return book.AddDataValidation(sheet, v)
}

// sheetNames gives each sheet a name of its own that a spreadsheet takes: 31
// characters at most, without : \ / ? * [ ] (ISO/IEC 29500-1, 18.2.19; the signs:
// common practice, no source).
type sheetNames map[string]bool

func (n sheetNames) of(wanted string) string {
	name := strings.Map(func(c rune) rune {
		if strings.ContainsRune(`:\/?*[]`, c) || c < ' ' {
			return ' '
		}
		return c
	}, wanted)
	name = strings.Trim(strings.Join(strings.Fields(name), " "), "'")
	if name == "" {
		name = "table"
	}
	free := cut(name, 31)
	for k := 2; n[strings.ToLower(free)]; k++ {
		behind := fmt.Sprintf(" %d", k)
		free = cut(name, 31-len(behind)) + behind
	}
	n[strings.ToLower(free)] = true
	return free
}

// cut leaves at most n UTF-16 units, in which the limit is counted.
func cut(name string, n int) string {
	units := 0
	for i, c := range name {
		if units++; c > 0xffff {
			units++
		}
		if units > n {
			return strings.TrimSpace(name[:i])
		}
	}
	return name
}
