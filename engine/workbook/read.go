package workbook

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"thole/engine/table"
	"thole/engine/words"
)

// Sheet gives the cells of a sheet. Its name matches without case; "" is the
// first one. Of a formula the value is taken that the spreadsheet last saved.
// Errors are *table.Error.
func Sheet(file string, data []byte, sheet string) (g *table.Grid, err error) {
	if err := guard(file, data); err != nil {
		return nil, err
	}
	damaged := &table.Error{What: "the workbook is damaged", Why: "its parts do not fit together",
		Type: "in the spreadsheet: open it, and save it as .xlsx once more", File: file}
	defer func() { // the library may stumble over a workbook made to hurt
		if recover() != nil {
			g, err = nil, damaged
		}
	}()
	// with both limits alike no part is ever unpacked to the disk
	book, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: MaxUnpacked, UnzipXMLSizeLimit: MaxUnpacked})
	if err != nil {
		return nil, damaged
	}
	defer book.Close()
	name, err := find(file, book.GetSheetList(), sheet)
	if err != nil {
		return nil, err
	}
	g = &table.Grid{File: file, Sheet: name}
	rows, err := book.Rows(name)
	if err != nil {
		return nil, damaged
	}
	defer rows.Close()
	for rows.Next() {
		cells, err := rows.Columns()
		if err != nil {
			return nil, damaged
		}
		if len(g.Rows) > table.MaxLines {
			return nil, &table.Error{What: fmt.Sprintf("the sheet %s has more than %d lines", name,
				table.MaxLines),
				Why: "no more are read", Type: "a sheet with the lines of this study only", File: file}
		}
		g.Rows = append(g.Rows, cells)
	}
	if rows.Error() != nil {
		return nil, damaged
	}
	if err := mergedCells(book, g); err != nil {
		return nil, err
	}
	return g, unsavedFormulas(book, g)
}

// find gives the sheet's own name.
func find(file string, sheets []string, asked string) (string, error) {
	if asked == "" && len(sheets) > 0 {
		return sheets[0], nil
	}
	for _, name := range sheets {
		if strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(asked)) {
			return name, nil
		}
	}
	e := &table.Error{What: fmt.Sprintf("the workbook has no sheet %q", asked), File: file,
		Why: "it has " + words.List(sheets), Type: fmt.Sprintf("a sheet named %s, or its name in the study",
			asked)}
	if near := table.Nearest(asked, sheets); near != "" {
		e.Type = fmt.Sprintf("%q", near)
	}
	return "", e
}

// mergedCells refuses cells that are joined over columns: below joined heads
// nobody knows which column is meant. A title in the first lines may be joined
// where it stands alone in its line.
func mergedCells(book *excelize.File, g *table.Grid) error {
	merged, err := book.GetMergeCells(g.Sheet)
	if err != nil {
		return nil // none can be read: none
	}
	for _, m := range merged {
		column, row, err := excelize.CellNameToCoordinates(m.GetStartAxis())
		if err != nil || row > len(g.Rows) || filled(g.Rows[row-1]) <= 1 && row < headRows {
			continue
		}
		return &table.Error{What: fmt.Sprintf("the cells %s to %s are joined to one", m.GetStartAxis(),
			m.GetEndAxis()), Why: "then nobody knows to which column and line the value belongs",
			Type: "in the spreadsheet: the cells divided again, each with its own name or value",
			File: fmt.Sprintf("%s, sheet %s, cell %s", g.File, g.Sheet, table.CellName(column, row))}
	}
	return nil
}

// headRows is how far down a title may stand.
const headRows = 10

func filled(cells []string) int {
	n := 0
	for _, cell := range cells {
		if strings.TrimSpace(cell) != "" {
			n++
		}
	}
	return n
}

// mostFormulas bounds the looking for formulas: one look-up walks a line.
const mostFormulas = 20_000

// unsavedFormulas refuses formulas without a value: a program wrote them, and no
// spreadsheet has computed them since.
func unsavedFormulas(book *excelize.File, g *table.Grid) error {
	looked := 0
	for i, row := range g.Rows {
		for j, cell := range row {
			if cell != "" {
				continue
			}
			if looked++; looked > mostFormulas {
				return nil
			}
			at := table.CellName(j+1, i+1)
			if formula, err := book.GetCellFormula(g.Sheet, at); err == nil && formula != "" {
				return &table.Error{What: "a formula without a value",
					Why:  "no spreadsheet has computed it yet",
					Type: "in the spreadsheet: open the workbook and save it; or the value itself",
					File: fmt.Sprintf("%s, sheet %s, cell %s", g.File, g.Sheet, at)}
			}
		}
	}
	return nil
}
