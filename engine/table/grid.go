package table

import (
	"io"
	"strconv"
	"strings"
)

// Grid is the cells of a workbook's sheet, as texts: numbers with a decimal point
// and all their digits.
type Grid struct {
	File, Sheet string
	Rows        [][]string
}

// ReadGrid reads the columns a study asks for out of a sheet, with the rules,
// notes and faults of ReadCSV.
func ReadGrid(g *Grid, columns, optional []string, asker string) (*Table, []string, error) {
	r := newReading(g.File, asker)
	r.sheet = g.Sheet
	wants, err := askedFor(columns, optional)
	if err != nil {
		return nil, nil, err
	}
	row := 0
	r.next = func() ([]string, error) {
		for row < len(g.Rows) {
			cells := g.Rows[row]
			row++
			if strings.TrimFunc(strings.Join(cells, ""), isBlank) == "" {
				continue
			}
			r.positions = r.positions[:0]
			for j := range max(len(cells), len(r.headers)) { // cells left empty at the end have a place too
				r.positions = append(r.positions, [2]int{row, j + 1})
			}
			return cells, nil
		}
		return nil, io.EOF
	}
	t, notes, err := r.read(wants)
	t.Name = g.Sheet
	return t, notes, err
}

// CellName is a cell's name in a sheet, "E7", column and row from 1.
func CellName(column, row int) string {
	letters := ""
	for ; column > 0; column = (column - 1) / 26 {
		letters = string(rune('A'+(column-1)%26)) + letters
	}
	return letters + strconv.Itoa(row)
}
