package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Limits of a CSV file: far above any club's register, far below what would
// hold up a laptop.
const (
	MaxBytes   = 16 << 20
	MaxLines   = 200_000
	MaxColumns = 1_000
	MaxField   = 10_000 // characters in one cell
)

// reading is one CSV file, or one sheet, on its way to a table.
type reading struct {
	file, asker string
	sheet       string // of a workbook; "" in a CSV file
	text        string
	starts      []int // byte at which each line begins
	comma       rune
	next        func() ([]string, error) // the next record that is not all blank, io.EOF at the end
	positions   [][2]int                 // line and column of each cell of the record at hand
	headers     []header
	decimals    byte   // ',' or '.' once a cell showed it, else 0
	decimalsAt  int    // the line that showed it
	example     string // the first number with a decimal comma
	thousands   thousands
	guessed     bool // the file's letters, by no mark
	faults      Faults
	forgiven    forgiven
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
// A title above the names is skipped, "#N/A", "n/a", "-" and "?" are blanks, a
// unit written in a cell converts: each with a note.
//
// The notes say how the file was read, for stderr. What is wrong with the file
// comes as Faults, all of them, each with its place, beside the table as far as
// it could be read: what was at fault is blank. Any other error is about what
// the study asks for. asker says who asks, "d_season.star:4", or is empty.
func ReadCSV(file string, data []byte, columns, optional []string, asker string) (*Table, []string, error) {
	r := newReading(file, asker)
	wants, err := askedFor(columns, optional)
	if err != nil {
		return nil, nil, err
	}
	if err := r.openCSV(data, wants); err != nil {
		return emptyTable(wants), nil, Faults{err}
	}
	return r.read(wants)
}

func newReading(file, asker string) *reading {
	if asker == "" {
		asker = "the study"
	}
	return &reading{file: file, asker: asker}
}

// openCSV decodes a file and finds what stands between its cells.
func (r *reading) openCSV(data []byte, wants []asked) *Error {
	if len(data) > MaxBytes {
		return r.whole(fmt.Sprintf("the file is %.1f MB; at most %d MB are read",
			float64(len(data))/(1<<20), MaxBytes>>20),
			"a register of every club in the world would fit", "a file with the lines of this study only")
	}
	var err error
	if r.text, r.guessed, err = decode(data); err != nil {
		return r.whole(err.Error(), "a CSV file is text: lines, with a comma, ; or tab between the cells",
			"in the spreadsheet: save as, CSV (UTF-8)")
	}
	r.text = withoutSeparatorLine(r.text, &r.comma)
	r.findLines()
	if r.comma == 0 {
		r.comma = r.findComma(wants)
	}
	records := r.reader()
	r.next = func() ([]string, error) { return r.nextCSV(records) }
	return nil
}

// read makes the table out of the records.
func (r *reading) read(wants []asked) (*Table, []string, error) {
	err := r.findHeads(wants)
	if err != nil {
		return emptyTable(wants), nil, asFaults(err)
	}
	place := r.match(wants)
	table := &Table{}
	for k, want := range wants {
		if place[k] >= 0 || !want.optional {
			table.Columns = append(table.Columns, want.column())
		}
	}
	for {
		cells, err := r.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.faults = append(r.faults, asFaults(err)...)
			break
		}
		r.addLine(table, wants, place, cells)
		table.FileLines = append(table.FileLines, r.positions[0][0])
		if table.Len() > MaxLines {
			r.faults = append(r.faults, r.whole(fmt.Sprintf("the file has more than %d lines", MaxLines),
				"no more are read", "a file with the lines of this study only"))
			break
		}
	}
	notes := r.notes(table, wants, place)
	if len(r.faults) > 0 {
		return table, notes, r.faults
	}
	return table, notes, nil
}

// titleLines is how far down the names of the columns are looked for.
const titleLines = 10

// findHeads takes the first record that holds names asked for; what stands above
// it is a title, and skipped. Where none does, the first record is taken.
func (r *reading) findHeads(wants []asked) error {
	var first []string
	var at [][2]int
	for k := 0; k < titleLines; k++ {
		cells, err := r.next()
		if errors.Is(err, io.EOF) && k == 0 {
			return r.whole("the file is empty", fmt.Sprintf("%s asks for %s", r.asker, headings(wants)),
				plainHeadings(wants)+" as the first line, then a line each")
		}
		if err != nil && k == 0 {
			return err
		}
		if err != nil {
			break
		}
		if len(cells) > MaxColumns {
			return r.whole(fmt.Sprintf("the file has %d columns; at most %d are read", len(cells),
				MaxColumns),
				"this looks like something else than a register", "a file with the columns of this study")
		}
		if n := namesIn(cells, wants); n > 0 && (k == 0 || n > 1 || len(wants) == 1) {
			if k > 0 {
				r.forgiven.title = strings.Join(strings.Fields(strings.Join(first, " ")), " ")
			}
			r.takeHeads(cells)
			return nil
		}
		if k == 0 {
			first, at = cells, slices.Clone(r.positions)
		}
	}
	r.positions = at
	r.takeHeads(first)
	return nil
}

func (r *reading) takeHeads(cells []string) {
	r.headers = make([]header, len(cells))
	for j, text := range cells {
		r.headers[j] = headerOf(text)
	}
}

// namesIn counts the columns asked for that are named in a line.
func namesIn(cells []string, wants []asked) int {
	found := 0
	for _, want := range wants {
		if slices.ContainsFunc(cells,
			func(text string) bool { return headerOf(text).name == flatName(want.name) }) {
			found++
		}
	}
	return found
}

// addLine puts one record into the table; a cell at fault is left blank.
func (r *reading) addLine(t *Table, wants []asked, place []int, cells []string) {
	ragged := r.tooManyCells(cells)
	if ragged != nil {
		r.faults = append(r.faults, ragged)
	}
	column := 0
	for k, want := range wants {
		j := place[k]
		if j < 0 && want.optional {
			continue
		}
		c := t.Columns[column]
		column++
		cell := ""
		if j >= 0 && j < len(cells) && ragged == nil { // behind a separator too many nothing is in its place
			cell = strings.TrimFunc(cells[j], isBlank)
		}
		value, err := r.cell(cell, j, want)
		if err != nil {
			r.named(err, t, wants)
			r.faults = append(r.faults, err)
		}
		c.add(value)
	}
}

// tooManyCells refuses a line that has more cells than there are names.
func (r *reading) tooManyCells(cells []string) *Error {
	for j := len(r.headers); j < len(cells); j++ {
		if strings.TrimSpace(cells[j]) == "" {
			continue
		}
		e := r.atCell(j, fmt.Sprintf("the line has %d cells, the first line %d names", len(cells),
			len(r.headers)), "there is a separator too many", "the cell in quotes")
		switch {
		case r.sheet != "":
			e.Why, e.Type = "a cell without a name above it belongs to nothing",
				"a name above it, or an empty cell"
		case r.comma == ',':
			e.Why = "a comma inside a cell, or a decimal comma, looks like the next cell"
			e.Type = "decimals behind a point, 1.5; or save the file with ; between the columns"
		}
		return e
	}
	return nil
}

// cell reads one cell: a text, a number in the unit asked for, or nil.
func (r *reading) cell(cell string, j int, want asked) (any, *Error) {
	switch {
	case utf8.RuneCountInString(cell) > MaxField:
		return nil, r.atCell(j, fmt.Sprintf("a cell of %d characters", utf8.RuneCountInString(cell)),
			fmt.Sprintf("at most %d are read; a quote may have been left open", MaxField),
			"the closing quote")
	case brokenFormula[strings.ToUpper(cell)]:
		return nil, r.atCell(j, fmt.Sprintf("%s holds the error %s", plainName(want.name), cell),
			"the formula in this cell went wrong in the spreadsheet",
			"the formula mended, or the value itself")
	case noValue[strings.ToLower(cell)]:
		r.forgiven.blanks.add(fmt.Sprintf("%q under %s, %s", cell, plainName(want.name), r.said(j)))
		cell = ""
	}
	if cell == "" {
		if want.number {
			return nil, nil
		}
		return "", nil
	}
	if !want.number {
		return norm.NFC.String(cell), nil // a name is the same, whichever keyboard wrote its accents
	}
	x, unit, err := r.number(cell, j, want)
	if err != nil {
		return nil, err
	}
	if unit == "" && r.headers[j].has {
		unit = r.headers[j].unit
	}
	if unit != "" && unit != want.unit && want.unit != "" {
		converted, err := Convert(x, unit, want.unit)
		if err != nil {
			return nil, r.atCell(j, err.Error(), "", "")
		}
		x = converted
	}
	return x, nil
}

// reader opens the text with the separator found.
func (r *reading) reader() *csv.Reader {
	records := csv.NewReader(strings.NewReader(r.text))
	records.Comma = r.comma
	records.FieldsPerRecord = -1
	records.TrimLeadingSpace = r.comma != '\t'
	return records
}

// nextCSV gives the next record that is not all blank, and keeps where its cells
// stand.
func (r *reading) nextCSV(records *csv.Reader) ([]string, error) {
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
// found in one line, then the one that makes most cells.
func (r *reading) findComma(wants []asked) rune {
	best, score := ';', -1
	for _, comma := range []rune{',', ';', '\t'} {
		r.comma = comma
		records := r.reader()
		found, wide := 0, 0
		for range titleLines { // a title may stand above the names
			cells, err := r.nextCSV(records)
			if err != nil {
				break
			}
			if wide == 0 {
				wide = len(cells)
			}
			if n := namesIn(cells, wants); n > found {
				found, wide = n, len(cells)
			}
		}
		if wide < 2 {
			continue // a file of one column: any separator would do but the decimal comma
		}
		if s := found*MaxColumns + min(wide, MaxColumns-1); s > score {
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
