package table

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"thole/engine/words"
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

// askedFor reads the headings of a study.
func askedFor(columns, optional []string) ([]asked, error) {
	var wants []asked
	seen := map[string]int{}
	add := func(heading string, may bool) error {
		name, unit, number := Heading(heading)
		if name == "" {
			return &Error{What: "a column without a name is asked for",
				Why: "a heading is a name, and its unit in brackets", Type: `"mass (kg)"`}
		}
		if at, twice := seen[name]; twice {
			if may { // named in both lists: it may be missing
				wants[at].optional = true
				return nil
			}
			return &Error{What: fmt.Sprintf("column %q is asked for twice", name),
				Why: "a column's name stands once", Type: "each name once"}
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
		return nil, &Error{What: "no columns are asked for",
			Why:  "a study names what it reads, and with brackets what is a number",
			Type: `columns=["crew", "mass (kg)"]`}
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

// column is the table's column for what is asked.
func (a asked) column() *Column {
	if a.number {
		return NewColumn(a.name, a.unit, Number)
	}
	return NewColumn(a.name, a.unit, Text)
}

// emptyTable has the columns that are asked for in any case, and no lines.
func emptyTable(wants []asked) *Table {
	t := &Table{}
	for _, want := range wants {
		if !want.optional {
			t.Columns = append(t.Columns, want.column())
		}
	}
	return t
}

func headings(wants []asked) string { return quoteAll(needed(wants)) }

func plainHeadings(wants []asked) string { return strings.Join(needed(wants), ",") }

func needed(wants []asked) []string {
	var out []string
	for _, want := range wants {
		if !want.optional {
			out = append(out, want.heading)
		}
	}
	return out
}

// match finds for each column asked for its place in the file, -1 for one that
// is not there. What is wrong with the names joins the faults.
func (r *reading) match(wants []asked) []int {
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
				r.faults = append(r.faults, r.atCell(j, fmt.Sprintf("two columns are called %q", h.text),
					"then nobody knows which of them is meant", "another name for one of them"))
			}
		}
		place[k] = found
		if found >= 0 {
			taken[found] = true
		}
	}
	for k, want := range wants {
		if place[k] < 0 && !want.optional {
			r.faults = append(r.faults, r.missing(want, taken))
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
			r.faults = append(r.faults, r.atCell(place[k], e.What,
				fmt.Sprintf("%s asks for %q", r.asker, want.heading),
				fmt.Sprintf("in %s: %s (%s)", r.where(), plainHeader(h.text), unit)))
			place[k] = -1 // its cells are not read
		}
	}
	return place
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
func (r *reading) missing(want asked, taken map[int]bool) *Error {
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
	heading := words.Capital(want.heading)
	what := fmt.Sprintf("no column %q", strings.ReplaceAll(want.name, "_", " "))
	if likely >= 0 {
		return r.atCell(likely, what, fmt.Sprintf("%s asks for %q; %s", r.asker, want.heading, because),
			fmt.Sprintf("in %s: %s", r.where(), heading))
	}
	var all []string
	for _, h := range r.headers {
		if h.text != "" {
			all = append(all, h.text)
		}
	}
	e := r.atCell(0, what, fmt.Sprintf("%s asks for %q; the first line of %s has %s", r.asker, want.heading,
		r.where(), strings.Join(all, ", ")), fmt.Sprintf("in %s a column: %s", r.where(), heading))
	e.CaretLength = max(utf8.RuneCountInString(e.Source), 1)
	return e
}

func quoteAll(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = strconv.Quote(w)
	}
	return strings.Join(quoted, ", ")
}
