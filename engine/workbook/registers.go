package workbook

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"

	"thole/engine/table"
)

// columnsFile explains the registers' columns: a line each with its sheet, its
// head, what stands in it, and what it may hold where that is a choice.
const columnsFile = "columns.csv"

// explained is the name of the sheet that tells what stands in the others.
const explained = "what stands where"

// Registers makes one workbook of registers kept as CSV files: a sheet a register
// in the order of columns.csv, each choice as a list to pick from, and a sheet
// that explains every column in a line. A column that no register has yet stands
// there empty.
func Registers(files fs.FS) ([]byte, error) {
	text, err := fs.ReadFile(files, columnsFile)
	if err != nil {
		return nil, err
	}
	columns, _, err := table.ReadCSV(columnsFile, text, []string{"sheet", "column", "what stands in it",
		"choices"}, nil, "")
	if err != nil {
		return nil, err
	}
	sheet, head, choices := columns.Columns[0].Texts, columns.Columns[1].Texts, columns.Columns[3].Texts
	var pages []Page
	heads := map[string][]string{}
	for i, name := range sheet {
		if heads[name] == nil {
			pages = append(pages, Page{Name: name, Choices: map[string][]string{}})
		}
		heads[name] = append(heads[name], head[i])
		if choices[i] != "" {
			plain, _, _ := table.Heading(head[i])
			pages[len(pages)-1].Choices[plain] = strings.Fields(choices[i])
		}
	}
	for i := range pages {
		if pages[i].Table, err = register(files, pages[i].Name, heads[pages[i].Name]); err != nil {
			return nil, err
		}
	}
	pages = append(pages, Page{Name: explained, Table: columns})
	var b bytes.Buffer
	if err := Write(&b, pages); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// register reads one register with all columns that are explained.
func register(files fs.FS, name string, heads []string) (*table.Table, error) {
	text, err := fs.ReadFile(files, name+".csv")
	if err != nil {
		return nil, err
	}
	t, _, err := table.ReadCSV(name+".csv", text, heads[:1], heads[1:], "")
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	whole := &table.Table{Name: name}
	for _, heading := range heads {
		plain, unit, number := table.Heading(heading)
		c := t.Column(plain)
		if c == nil {
			kind := table.Text
			if number {
				kind = table.Number
			}
			c = table.NewColumn(plain, unit, kind).Pick(blanks(t.Len()))
		}
		whole.Columns = append(whole.Columns, c)
	}
	return whole, nil
}

func blanks(n int) []int {
	lines := make([]int, n)
	for i := range lines {
		lines[i] = -1
	}
	return lines
}
