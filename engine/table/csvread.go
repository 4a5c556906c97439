package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Limits of a CSV file: far above any club's register, far below what would
// hold up a laptop.
const (
	MaxBytes   = 16 << 20
	MaxLines   = 200_000
	MaxColumns = 1_000
	MaxField   = 10_000 // characters in one cell
)

// reading is one CSV file on its way to a table.
type reading struct {
	file, asker string
	text        string
	starts      []int // byte at which each line begins
	comma       rune
	positions   [][2]int // line and column of each cell of the record at hand
	headers     []header
	decimals    byte   // ',' or '.' once a cell showed it, else 0
	decimalsAt  int    // the line that showed it
	example     string // the first number with a decimal comma
}

// ReadCSV reads the columns a study asks for. A heading in brackets, as "mass
// (kg)" or "count (-)", is a column of numbers, a bare one of texts; a column
// that is only in optional may be missing and is then left out of the table.
//
// Comma, semicolon or tab between cells; decimal point or comma; UTF-8 with or
// without byte-order mark, UTF-16 with one, else Windows-1252; cells in quotes
// may hold line ends. Names match without case; a unit in the file's header
// converts to the one asked for, and where none is written the column is taken
// as asked. Blank cells are blanks.
//
// The notes say how the file was read, for stderr. An error is an *Error with
// its place. asker says who asks, "d_season.star:4", or is empty.
func ReadCSV(file string, data []byte, columns, optional []string, asker string) (*Table, []string, error) {
	if asker == "" {
		asker = "the study"
	}
	r := &reading{file: file, asker: asker}
	wants, err := askedFor(columns, optional)
	if err != nil {
		return nil, nil, err
	}
	if len(data) > MaxBytes {
		return nil, nil, r.whole(fmt.Sprintf("the file is %.1f MB; at most %d MB are read",
			float64(len(data))/(1<<20), MaxBytes>>20),
			"a register of every club in the world would fit", "a file with the lines of this study only")
	}
	if r.text, err = decode(data); err != nil {
		return nil, nil, r.whole(err.Error(),
			"a CSV file is text: lines, with a comma, ; or tab between the cells",
			"in the spreadsheet: save as, CSV (UTF-8)")
	}
	r.text = withoutSeparatorLine(r.text, &r.comma)
	empty := r.whole("the file is empty", fmt.Sprintf("%s asks for %s", asker, quoteAll(columns)),
		strings.Join(columns, ",")+" as the first line, then a line each")
	r.findLines()
	if r.comma == 0 {
		r.comma = r.findComma(wants)
	}

	records := r.reader()
	first, err := r.next(records)
	if errors.Is(err, io.EOF) {
		return nil, nil, empty
	}
	if err != nil {
		return nil, nil, err
	}
	if len(first) > MaxColumns {
		return nil, nil, r.whole(fmt.Sprintf("the file has %d columns; at most %d are read", len(first),
			MaxColumns), "this looks like something else than a register",
			"a file with the columns of this study")
	}
	r.headers = make([]header, len(first))
	for j, text := range first {
		r.headers[j] = headerOf(text)
	}
	place, err := r.match(wants)
	if err != nil {
		return nil, nil, err
	}

	table := &Table{}
	for k, want := range wants {
		if place[k] < 0 {
			continue
		}
		kind := Text
		if want.number {
			kind = Number
		}
		table.Columns = append(table.Columns, NewColumn(want.name, want.unit, kind))
	}
	for {
		cells, err := r.next(records)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, nil, err
		}
		if err := r.addLine(table, wants, place, cells); err != nil {
			return nil, nil, err
		}
		table.FileLines = append(table.FileLines, r.positions[0][0])
		if table.Len() > MaxLines {
			return nil, nil, r.whole(fmt.Sprintf("the file has more than %d lines", MaxLines),
				"no more are read", "a file with the lines of this study only")
		}
	}
	return table, r.notes(table, wants, place), nil
}

// addLine puts one record into the table.
func (r *reading) addLine(t *Table, wants []asked, place []int, cells []string) error {
	for j := len(r.headers); j < len(cells); j++ {
		if strings.TrimSpace(cells[j]) == "" {
			continue
		}
		e := r.atCell(j, fmt.Sprintf("the line has %d cells, the first line %d names", len(cells),
			len(r.headers)), "there is a separator too many", "the cell in quotes")
		if r.comma == ',' {
			e.Why = "a comma inside a cell, or a decimal comma, looks like the next cell"
			e.Type = "decimals behind a point, 1.5; or save the file with ; between the columns"
		}
		return e
	}
	column := 0
	for k, want := range wants {
		j := place[k]
		if j < 0 {
			continue
		}
		c := t.Columns[column]
		column++
		cell := ""
		if j < len(cells) {
			cell = strings.TrimFunc(cells[j], isBlank)
		}
		if utf8.RuneCountInString(cell) > MaxField {
			return r.atCell(j, fmt.Sprintf("a cell of %d characters", utf8.RuneCountInString(cell)),
				fmt.Sprintf("at most %d are read; a quote may have been left open", MaxField),
				"the closing quote")
		}
		if !want.number {
			c.add(cell)
			continue
		}
		if cell == "" {
			c.add(nil)
			continue
		}
		x, err := r.number(cell, j, want)
		if err != nil {
			return err
		}
		if h := r.headers[j]; h.has && h.unit != want.unit && want.unit != "" {
			if x, err = Convert(x, h.unit, want.unit); err != nil {
				return r.atCell(j, err.Error(), "", "")
			}
		}
		c.add(x)
	}
	return nil
}

// reader opens the text with the separator found.
func (r *reading) reader() *csv.Reader {
	records := csv.NewReader(strings.NewReader(r.text))
	records.Comma = r.comma
	records.FieldsPerRecord = -1
	records.TrimLeadingSpace = r.comma != '\t'
	return records
}

// next gives the next record that is not all blank, and keeps where its cells
// stand.
func (r *reading) next(records *csv.Reader) ([]string, error) {
	for {
		cells, err := records.Read()
		if errors.Is(err, io.EOF) {
			return nil, io.EOF
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			return nil, r.badQuote(broken)
		}
		if err != nil {
			return nil, r.whole("the file cannot be read", err.Error(), "save it once more as CSV")
		}
		r.positions = r.positions[:0]
		blank := true
		for j, cell := range cells {
			line, col := records.FieldPos(j)
			r.positions = append(r.positions, [2]int{line, col})
			blank = blank && strings.TrimFunc(cell, isBlank) == ""
		}
		if !blank {
			return cells, nil
		}
	}
}

// findComma picks the separator under which most of the columns asked for are
// found in the first line, then the one that makes most cells.
func (r *reading) findComma(wants []asked) rune {
	best, score := ';', -1
	for _, comma := range []rune{',', ';', '\t'} {
		r.comma = comma
		cells, err := r.next(r.reader())
		if err != nil {
			continue
		}
		found := 0
		for _, text := range cells {
			name := headerOf(text).name
			for _, want := range wants {
				if flatName(want.name) == name {
					found++
				}
			}
		}
		if len(cells) < 2 {
			continue // a file of one column: any separator would do but the decimal comma
		}
		if s := found*MaxColumns + min(len(cells), MaxColumns-1); s > score {
			best, score = comma, s
		}
	}
	return best
}

// withoutSeparatorLine takes off the line "sep=;" that a spreadsheet writes,
// and keeps the lines' numbers.
func withoutSeparatorLine(text string, comma *rune) string {
	first, rest, _ := strings.Cut(text, "\n")
	first = strings.TrimRight(first, "\r")
	if len(first) == 5 && strings.EqualFold(first[:4], "sep=") && strings.ContainsAny(first[4:], ",;\t") {
		*comma = rune(first[4])
		return "\n" + rest
	}
	return text
}

// hasNul tells text from other files: no text in these encodings holds a zero.
func hasNul(data []byte) bool { return bytes.IndexByte(data, 0) >= 0 }
