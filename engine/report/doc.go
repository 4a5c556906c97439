// Package report makes pages of what a study told: text, tables, figures,
// sliders and the moving picture, one HTML file that opens anywhere. Call
// WritePage with a document.
//
// What a page says lies in Go, how it is marked up in fragments (fragments/, by
// html/template, which escapes), how it looks in assets/. It knows tables and
// numbers, not strokes, no scripting, and no kind of figure: those are package
// figure's.
package report
