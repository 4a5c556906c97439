// Package chart makes pictures of figures for other documents: SVG and PNG by
// gonum plot, one look for print and projector. It is the only importer of gonum
// plot; pages draw their own figures (package report). Start with Write.
package chart

import "thole/engine/report"

// Format is a kind of picture file. PDF and EPS are left out: their bytes differ
// between runs.
type Format string

const (
	SVG Format = "svg"
	PNG Format = "png"
)

// Drawn says whether this kind of figure can be written as a picture file: all
// but the moving picture.
func Drawn(kind report.FigureKind) bool { return kind != report.Moving }
