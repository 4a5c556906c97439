// Package document holds what a study told as plain data: the one thing that a
// terminal prints, a page shows and a run's record keeps. Start with Document;
// its Blocks are the notes, tables, figures, questions and cards in order.
//
// It draws nothing and decides nothing: how a figure looks is said in package
// figure, how a page looks in package report.
package document

import "thole/engine/table"

// Document is what a study told, in order. It is plain data: the same document
// is printed to a terminal, written as a page and kept in the run's record.
type Document struct {
	Study   string // file name, "a_outboard.star"
	Run     string // name of the run's folder, "a_outboard-7c1e"
	Command string // what reruns it, "thole run a_outboard.star"
	Version string // of the engine
	Source  string // the study's text
	Subject string // who it is about, for the running head: "Otters, 4x"; may be ""

	Title  string
	Answer string

	// Load says how the load of rowers who need care changes against what it is
	// compared with: shown before anything else.
	Load []string

	Params      []Param
	Blocks      []Block
	Results     []Result
	Cautions    []Caution
	Assumptions []Assumption

	// Computed is how it was computed, in CommonMark; "" leaves it out.
	Computed string
}

// Param is a parameter of the study as it was in force.
type Param struct {
	Name, Unit, Value string // Value as shown, without unit
	Written           string // the value in the study's text, as shown
	Set               bool   // changed by --set
	Help              string
}

// Result is a named result, kept for the season.
type Result struct {
	Name, Unit string
	Digits     int
	Value      float64         // when Text and Estimate are unset
	Text       string          // when IsText
	IsText     bool            //
	Estimate   *table.Estimate // else nil
}

// Caution is one sentence that the reader must see. Order: as they are printed.
type Caution struct{ Text string }

// Assumption is one default in use, or a statement of the study's own.
type Assumption struct {
	What, Value, Unit string
	Source            string // author-year, or its mark in words ("common practice, no source")
}
