package table

import (
	"errors"
	"fmt"
	"strings"
)

// Faults are all that is wrong with one file, in the order of its lines.
type Faults []*Error

func (f Faults) Error() string {
	if len(f) == 0 {
		return "the file is at fault"
	}
	return f[0].What
}

// Unwrap lets a reader that stops at the first fault find it.
func (f Faults) Unwrap() []error {
	out := make([]error, len(f))
	for i, e := range f {
		out[i] = e
	}
	return out
}

func asFaults(err error) Faults {
	var e *Error
	if errors.As(err, &e) {
		return Faults{e}
	}
	return Faults{{What: "the file cannot be read", Why: err.Error(), Type: "save it once more"}}
}

// noValue are words for "nothing is known" that registers hold: what spreadsheets
// write where a look-up found nothing, and what people type.
var noValue = map[string]bool{"#nv": true, "#n/a": true, "n/a": true, "-": true, "\u2013": true,
	"\u2014": true, "?": true}

// brokenFormula are what spreadsheets show in place of a value that could not be
// computed (ISO/IEC 29500-1, 18.18.11: the values of type error); #N/A is a blank.
var brokenFormula = map[string]bool{"#REF!": true, "#DIV/0!": true, "#VALUE!": true, "#NAME?": true,
	"#NUM!": true, "#NULL!": true}

// forgiven is what was read although it was not written as asked: told, never silent.
type forgiven struct {
	title         string // the line above the names
	blanks, units some
}

// some counts what was found and keeps the first few.
type some struct {
	first []string
	n     int
}

// mostTold is how many cells of a kind a note names.
const mostTold = 4

func (s *some) add(text string) {
	if s.n++; s.n <= mostTold {
		s.first = append(s.first, text)
	}
}

func (s some) String() string {
	text := strings.Join(s.first, "; ")
	if s.n > len(s.first) {
		text += fmt.Sprintf("; and %d more", s.n-len(s.first))
	}
	return text
}

func (f forgiven) notes() []string {
	var notes []string
	if f.title != "" {
		notes = append(notes, fmt.Sprintf("skipped above the names: %s", shorten(f.title)))
	}
	if f.blanks.n > 0 {
		notes = append(notes, "taken as blank: "+f.blanks.String())
	}
	if f.units.n > 0 {
		notes = append(notes, "read with the unit in the cell: "+f.units.String())
	}
	return notes
}

// said is the place of a cell in a note.
func (r *reading) said(j int) string {
	if j < 0 || j >= len(r.positions) {
		return "?"
	}
	if r.sheet != "" {
		return "cell " + CellName(r.positions[j][1], r.positions[j][0])
	}
	return fmt.Sprintf("line %d", r.positions[j][0])
}

// where is the file, and its sheet.
func (r *reading) where() string {
	if r.sheet == "" {
		return r.file
	}
	return r.file + ", sheet " + r.sheet
}

// named says whose line a fault of a sheet is in: "crew Otters". A CSV file's
// fault shows the line itself.
func (r *reading) named(e *Error, t *Table, wants []asked) {
	if r.sheet == "" || len(wants) == 0 || wants[0].number || len(t.Columns) == 0 {
		return
	}
	c := t.Columns[0]
	if n := len(c.Texts); n > t.Columns[len(t.Columns)-1].Len() && c.Texts[n-1] != "" {
		e.What = fmt.Sprintf("%s %s: %s", plainName(wants[0].name), c.Texts[n-1], e.What)
	}
}

func plainName(name string) string { return strings.ReplaceAll(name, "_", " ") }
