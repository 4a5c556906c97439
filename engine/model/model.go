// Package model is the model in words: what a stroke is computed from, one page
// a section, for readers. A page begins with what a coach wants to know of it,
// then come the numbered equations with units, signs and sources, what is left
// out, and what it was checked against.
//
// An equation's number stands at the end of its line, "(3.2)". The function that
// computes it says "Equation 3.2" in its comment, and so does the test that holds
// it; a test of this package walks the tree and fails on a number that does not
// exist and on an equation without a function or a test.
package model

import (
	"embed"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

//go:embed *.md
var files embed.FS

// Section is one page of the chapter.
type Section struct {
	Number int
	Title  string // "The water on the blade"
	Text   string // the page without its heading, 78 columns wide at most
}

// Name is what help knows it by: "model 3".
func (s Section) Name() string { return "model " + strconv.Itoa(s.Number) }

// Equations gives the numbers of a page's equations, "3.1", in order.
func (s Section) Equations() []string {
	var out []string
	for _, m := range numbered.FindAllStringSubmatch(s.Text, -1) {
		out = append(out, m[1])
	}
	return out
}

// numbered finds an equation's number: at the end of a line set in.
var numbered = regexp.MustCompile(`(?m)^    .*\((\d+\.\d+)\)$`)

// Sections gives the chapter, in order.
var Sections = sync.OnceValue(func() []Section {
	entries, err := files.ReadDir(".")
	if err != nil { // embedded
		panic(err)
	}
	var out []Section
	for _, e := range entries {
		text, err := files.ReadFile(e.Name())
		if err != nil {
			panic(err)
		}
		head, body, _ := strings.Cut(string(text), "\n")
		number, title, _ := strings.Cut(strings.TrimPrefix(head, "# "), " ")
		n, err := strconv.Atoi(number)
		if err != nil || n != len(out)+1 {
			panic("a page of the model out of order: " + e.Name())
		}
		out = append(out, Section{n, title, strings.TrimSpace(body) + "\n"})
	}
	return out
})

// Find gives a section by its number. ok is false where there is none; near is
// then the section whose number comes nearest.
func Find(number int) (s Section, near Section, ok bool) {
	all := Sections()
	near = all[min(max(number, 1), len(all))-1]
	return near, near, near.Number == number
}

// Contents lists the sections in lines, "3  The water on the blade".
func Contents() string {
	var b strings.Builder
	for _, s := range Sections() {
		b.WriteString(strings.Repeat(" ", 4-len(strconv.Itoa(s.Number))) + strconv.Itoa(s.Number) + "  " +
			s.Title + "\n")
	}
	return b.String()
}
