package table

import (
	"encoding/csv"
	"errors"
	"strings"
	"unicode/utf8"
)

func (r *reading) badQuote(broken *csv.ParseError) error {
	line, col := broken.Line, broken.Column
	e := r.whole("a quote stands in the middle of a cell",
		`a cell in quotes has one at each end, and writes a quote inside as ""`,
		`"5 ""new"" handles", or no quotes at all`)
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
	return &Error{What: what, Why: why, Type: type_, File: r.where()}
}

// atCell makes an error with its place at cell j of the record at hand.
func (r *reading) atCell(j int, what, why, type_ string) *Error {
	e := r.whole(what, why, type_)
	if j < 0 || j >= len(r.positions) {
		return e
	}
	if r.sheet != "" {
		e.File = r.where() + ", cell " + CellName(r.positions[j][1], r.positions[j][0])
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
