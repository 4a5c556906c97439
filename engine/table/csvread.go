package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
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

// asked is a column the study wants.
type asked struct {
	heading  string // as the study writes it
	name     string
	unit     string
	number   bool
	optional bool
}

// header is a column the file has.
type header struct {
	text string // as the file writes it
	name string // for matching: lower case, blanks and _ alike
	unit string
	has  bool // a unit was written
}

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
		return nil, nil, r.whole(fmt.Sprintf("the file is %.1f MB; at most %d MB are read", float64(len(data))/(1<<20), MaxBytes>>20),
			"a register of every club in the world would fit", "a file with the lines of this study only")
	}
	if r.text, err = decode(data); err != nil {
		return nil, nil, r.whole(err.Error(), "a CSV file is text: lines, with a comma, ; or tab between the cells", "in the spreadsheet: save as, CSV (UTF-8)")
	}
	r.text = withoutSeparatorLine(r.text, &r.comma)
	empty := r.whole("the file is empty", fmt.Sprintf("%s asks for %s", asker, quoteAll(columns)), strings.Join(columns, ",")+" as the first line, then a line each")
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
		return nil, nil, r.whole(fmt.Sprintf("the file has %d columns; at most %d are read", len(first), MaxColumns), "this looks like something else than a register", "a file with the columns of this study")
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
			return nil, nil, r.whole(fmt.Sprintf("the file has more than %d lines", MaxLines), "no more are read", "a file with the lines of this study only")
		}
	}
	return table, r.notes(table, wants, place), nil
}

// askedFor reads the headings of a study.
func askedFor(columns, optional []string) ([]asked, error) {
	var wants []asked
	seen := map[string]int{}
	add := func(heading string, may bool) error {
		name, unit, number := Heading(heading)
		if name == "" {
			return &Error{What: "a column without a name is asked for", Why: "a heading is a name, and its unit in brackets", Type: `"mass (kg)"`}
		}
		if at, twice := seen[name]; twice {
			if may { // named in both lists: it may be missing
				wants[at].optional = true
				return nil
			}
			return &Error{What: fmt.Sprintf("column %q is asked for twice", name), Why: "a column's name stands once", Type: "each name once"}
		}
		seen[name] = len(wants)
		wants = append(wants, asked{heading, name, unit, number, may})
		return nil
	}
	for _, h := range columns {
		if err := add(h, false); err != nil {
			return nil, err
		}
	}
	for _, h := range optional {
		if err := add(h, true); err != nil {
			return nil, err
		}
	}
	if len(wants) == 0 {
		return nil, &Error{What: "no columns are asked for", Why: "a study names what it reads, and with brackets what is a number", Type: `columns=["crew", "mass (kg)"]`}
	}
	return wants, nil
}

// headerOf reads a header of a file; (..) and [..] hold a unit.
func headerOf(text string) header {
	h := header{text: strings.TrimSpace(text)}
	name := h.text
	for _, brackets := range []string{"()", "[]"} {
		open := strings.LastIndexByte(name, brackets[0])
		if open >= 0 && strings.HasSuffix(name, brackets[1:]) {
			h.unit, h.has = CanonicalUnit(name[open+1:len(name)-1]), true
			name = name[:open]
			break
		}
	}
	h.name = flatName(name)
	return h
}

// flatName is a name for matching.
func flatName(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(c rune) bool {
		return c == ' ' || c == '_' || c == '\t' || c == '\n' || c == '\r' || c == '\u00a0'
	}), " ")
}

// match finds for each column asked for its place in the file, -1 for an
// optional one that is not there.
func (r *reading) match(wants []asked) ([]int, error) {
	place := make([]int, len(wants))
	taken := map[int]bool{}
	for k, want := range wants {
		found := -1
		for j, h := range r.headers {
			if h.name != flatName(want.name) {
				continue
			}
			switch {
			case found < 0:
				found = j
			case r.headers[found].unit == want.unit && h.unit != want.unit:
				// the one in the study's own unit stands
			case h.unit == want.unit && r.headers[found].unit != want.unit:
				found = j
			default:
				return nil, r.atCell(j, fmt.Sprintf("two columns are called %q", h.text), "then nobody knows which of them is meant", "another name for one of them")
			}
		}
		place[k] = found
		if found >= 0 {
			taken[found] = true
		}
	}
	for k, want := range wants {
		if place[k] < 0 && !want.optional {
			return nil, r.missing(want, taken)
		}
		if place[k] < 0 || !want.number {
			continue
		}
		h := r.headers[place[k]]
		if !h.has || h.unit == want.unit || want.unit == "" && !KnownUnit(h.unit) {
			continue
		}
		if _, err := Convert(1, h.unit, want.unit); err != nil {
			e := err.(*Error)
			unit := want.unit
			if unit == "" {
				unit = "-"
			}
			return nil, r.atCell(place[k], e.What, fmt.Sprintf("%s asks for %q", r.asker, want.heading), fmt.Sprintf("in %s: %s (%s)", r.file, plainHeader(h.text), unit))
		}
	}
	return place, nil
}

// plainHeader is a header's name without its unit.
func plainHeader(text string) string {
	if i := strings.LastIndexAny(text, "(["); i > 0 {
		return strings.TrimSpace(text[:i])
	}
	return text
}

// missing says which column is not there, and points at the one that is meant
// most likely: by its name, else by its unit.
func (r *reading) missing(want asked, taken map[int]bool) error {
	likely, because := -1, ""
	var free []string
	for j, h := range r.headers {
		if !taken[j] && h.name != "" {
			free = append(free, h.name)
		}
	}
	if near := Nearest(flatName(want.name), free); near != "" {
		for j, h := range r.headers {
			if h.name == near && !taken[j] {
				likely, because = j, "this one is nearest"
				break
			}
		}
	}
	if likely < 0 && want.unit != "" {
		for j, h := range r.headers {
			if !taken[j] && h.has && h.unit == want.unit {
				if likely >= 0 { // two would do: none is pointed at
					likely = -1
					break
				}
				likely, because = j, "this one has the same unit"
			}
		}
	}
	heading := capital(want.heading)
	what := fmt.Sprintf("no column %q", strings.ReplaceAll(want.name, "_", " "))
	if likely >= 0 {
		return r.atCell(likely, what, fmt.Sprintf("%s asks for %q; %s", r.asker, want.heading, because), fmt.Sprintf("in %s: %s", r.file, heading))
	}
	var all []string
	for _, h := range r.headers {
		if h.text != "" {
			all = append(all, h.text)
		}
	}
	e := r.atCell(0, what, fmt.Sprintf("%s asks for %q; the first line of %s has %s", r.asker, want.heading, r.file, strings.Join(all, ", ")), fmt.Sprintf("in %s a column: %s", r.file, heading))
	e.CaretLength = max(utf8.RuneCountInString(e.Source), 1)
	return e
}

func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return strings.ToUpper(string(first)) + s[size:]
}

// addLine puts one record into the table.
func (r *reading) addLine(t *Table, wants []asked, place []int, cells []string) error {
	for j := len(r.headers); j < len(cells); j++ {
		if strings.TrimSpace(cells[j]) == "" {
			continue
		}
		e := r.atCell(j, fmt.Sprintf("the line has %d cells, the first line %d names", len(cells), len(r.headers)), "there is a separator too many", "the cell in quotes")
		if r.comma == ',' {
			e.Why = "a comma inside a cell, or a decimal comma, looks like the next cell"
			e.Type = `"78,5" in quotes, or save with ; between the columns`
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
			return r.atCell(j, fmt.Sprintf("a cell of %d characters", utf8.RuneCountInString(cell)), fmt.Sprintf("at most %d are read; a quote may have been left open", MaxField), "the closing quote")
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

func isBlank(c rune) bool {
	return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\u00a0' || c == '\u202f'
}

// number reads a cell: decimal point or comma, one of them in the whole file;
// minutes and seconds where seconds are wanted.
func (r *reading) number(cell string, j int, want asked) (float64, error) {
	plain := strings.NewReplacer("\u2212", "-", "\u2013", "-").Replace(cell)
	comma, point := strings.Count(plain, ","), strings.Count(plain, ".")
	bad := func(why, type_ string) error {
		return r.atCell(j, fmt.Sprintf("%s %q is no number", strings.ReplaceAll(want.name, "_", " "), shorten(cell)), why, type_)
	}
	if comma+point > 1 {
		return 0, bad("a mark for thousands and one for decimals look alike", "the number without marks for thousands")
	}
	if comma+point == 1 {
		mark := byte('.')
		if comma == 1 {
			mark = ','
		}
		if r.decimals == 0 {
			r.decimals, r.decimalsAt = mark, r.positions[j][0]
		}
		if r.decimals != mark {
			return 0, bad(fmt.Sprintf("line %d has its decimals behind a %s, this one behind a %s", r.decimalsAt, markName(r.decimals), markName(mark)), "one of the two in the whole file")
		}
		if mark == ',' && r.example == "" {
			r.example = cell
		}
		plain = strings.Replace(plain, ",", ".", 1)
	}
	if want.unit == "s" && strings.Contains(plain, ":") {
		if x, unit, err := ParseQuantity(plain); err == nil && unit == "s" {
			return x, nil
		}
		return 0, bad("minutes and seconds are written 1:52.6", "1:52.6 or 112.6")
	}
	if numberEnd(plain) == len(plain) {
		if x, err := strconv.ParseFloat(plain, 64); err == nil && !math.IsInf(x, 0) && !math.IsNaN(x) {
			return x, nil
		}
	}
	if end := numberEnd(plain); end > 0 {
		if x, err := strconv.ParseFloat(plain[:end], 64); err == nil && KnownUnit(plain[end:]) {
			return 0, bad("a unit stands in the first line, once for all", fmt.Sprintf("%s, and %s (%s) in the first line", FourFigures(x), plainHeader(r.headers[j].text), CanonicalUnit(plain[end:])))
		}
	}
	wanted := "a number"
	if want.unit != "" {
		wanted = "a number in " + want.unit
	}
	return 0, bad(fmt.Sprintf("%s asks for %s; nothing at all is a blank", r.asker, wanted), "a number, or leave the cell empty")
}

func markName(mark byte) string {
	if mark == ',' {
		return "comma"
	}
	return "point"
}

func shorten(s string) string {
	if utf8.RuneCountInString(s) > 24 {
		return string([]rune(s)[:21]) + "..."
	}
	return s
}

// notes say how the file was read, where that was not plain.
func (r *reading) notes(t *Table, wants []asked, place []int) []string {
	var notes []string
	separators := map[rune]string{';': "; between columns", '\t': "tabs between columns", ',': ", between columns"}
	switch {
	case r.decimals == ',' && r.example != "":
		point := strings.Replace(r.example, ",", ".", 1)
		notes = append(notes, fmt.Sprintf("read with %s and decimal commas (%s is %s)", separators[r.comma], r.example, point))
	case r.comma != ',' && len(r.headers) > 1:
		notes = append(notes, "read with "+separators[r.comma])
	}
	var order []string // units, as they first appear
	unsaid := map[string][]string{}
	used := map[int]bool{}
	for k, want := range wants {
		j := place[k]
		if j < 0 {
			continue
		}
		used[j] = true
		if !want.number || want.unit == "" {
			continue
		}
		h := r.headers[j]
		switch {
		case !h.has:
			if unsaid[want.unit] == nil {
				order = append(order, want.unit)
			}
			unsaid[want.unit] = append(unsaid[want.unit], strings.ReplaceAll(want.name, "_", " "))
		case h.unit != want.unit:
			if c := t.Column(want.name); c != nil {
				for i := range c.Len() {
					if !c.Blank(i) {
						back, _ := Convert(c.Nums[i], want.unit, h.unit)
						notes = append(notes, fmt.Sprintf("%s: %s %s is %s %s", strings.ReplaceAll(want.name, "_", " "), FourFigures(back), h.unit, FourFigures(c.Nums[i]), want.unit))
						break
					}
				}
			}
		}
	}
	if len(order) > 0 {
		parts := make([]string, len(order))
		for i, unit := range order {
			parts[i] = strings.Join(unsaid[unit], ", ") + " in " + unit
		}
		notes = append(notes, "units not written, so taken as the study asks: "+strings.Join(parts, ", "))
	}
	var left []string
	for j, h := range r.headers {
		if !used[j] && h.text != "" {
			left = append(left, h.text)
		}
	}
	if len(left) > 0 {
		notes = append(notes, "left out: "+strings.Join(left, ", "))
	}
	if t.Len() == 0 {
		notes = append(notes, "no lines beneath the names")
	}
	return notes
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

func (r *reading) badQuote(broken *csv.ParseError) error {
	line, col := broken.Line, broken.Column
	e := r.whole("a quote stands in the middle of a cell", `a cell in quotes has one at each end, and writes a quote inside as ""`, `"5 ""new"" handles", or no quotes at all`)
	if errors.Is(broken.Err, csv.ErrQuote) && (broken.StartLine != line || col > len(r.line(line))) {
		line, col = broken.StartLine, strings.Index(r.line(broken.StartLine), `"`)+1
		e.What = "a cell opens with a quote that is never closed"
	}
	e.Line, e.Source = line, r.line(line)
	e.Col, e.CaretLength = r.runeCol(line, col), 1
	return e
}

// whole makes an error about the file as such.
func (r *reading) whole(what, why, type_ string) *Error {
	return &Error{What: what, Why: why, Type: type_, File: r.file}
}

// atCell makes an error with its place at cell j of the record at hand.
func (r *reading) atCell(j int, what, why, type_ string) *Error {
	e := r.whole(what, why, type_)
	if j >= len(r.positions) {
		return e
	}
	line, col := r.positions[j][0], r.positions[j][1]
	e.Line, e.Source, e.Col = line, r.line(line), r.runeCol(line, col)
	rest := []rune(e.Source)[min(e.Col-1, utf8.RuneCountInString(e.Source)):]
	end := len(rest)
	if j+1 < len(r.positions) && r.positions[j+1][0] == line {
		next := r.runeCol(line, r.positions[j+1][1])
		end = min(end, next-1-e.Col)
		for end > 0 && (rest[end-1] == ' ' || rest[end-1] == r.comma) {
			end--
		}
	} else if i := strings.IndexRune(string(rest), r.comma); i >= 0 {
		end = utf8.RuneCountInString(string(rest)[:i])
	}
	e.CaretLength = max(end, 1)
	return e
}

// findLines notes where each line begins.
func (r *reading) findLines() {
	r.starts = []int{0}
	for i := range len(r.text) {
		if r.text[i] == '\n' {
			r.starts = append(r.starts, i+1)
		}
	}
}

// line gives a line of the file, counted from 1.
func (r *reading) line(n int) string {
	if n < 1 || n > len(r.starts) {
		return ""
	}
	end := len(r.text)
	if n < len(r.starts) {
		end = r.starts[n]
	}
	return strings.TrimRight(r.text[r.starts[n-1]:end], "\r\n")
}

// runeCol turns a byte column into one of characters.
func (r *reading) runeCol(line, col int) int {
	text := r.line(line)
	return utf8.RuneCountInString(text[:min(max(col-1, 0), len(text))]) + 1
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

func quoteAll(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = strconv.Quote(w)
	}
	return strings.Join(quoted, ", ")
}

// hasNul tells text from other files: no text in these encodings holds a zero.
func hasNul(data []byte) bool { return bytes.IndexByte(data, 0) >= 0 }
