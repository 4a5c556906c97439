package report

import (
	"embed"
	"html/template"
	"strings"

	"thole/engine/typeset"
	"thole/engine/words"
)

// The page's markup lies in fragments, each by its name, a file a family. They
// escape what they are given by where it stands; Go code hands them data and puts
// pieces that are markup already (template.HTML) together. What a fragment does
// to a text is one of the functions below. They name fields, never methods: the engine of
// a live page is built without methods called by name (cmd/live/engine/small.go).
var (
	//go:embed fragments/*.html
	fragmentFiles embed.FS

	fragments = template.Must(template.New("").Funcs(template.FuncMap{
		"typeset":  typeset.Text,
		"printed":  typeset.Printed,
		"unit":     typeset.UnitAfter,
		"unitName": typeset.UnitName,
		"spaced":   words.Spaced,
		"capital":  words.Capital,
		"dotted":   dotted,
	}).ParseFS(fragmentFiles, "fragments/*.html"))
)

// fill gives a fragment with its data.
func fill(name string, data any) template.HTML {
	var b strings.Builder
	if err := fragments.ExecuteTemplate(&b, name, data); err != nil {
		panic(err) // a mistake of the fragment, found by any test that writes a page
	}
	return template.HTML(b.String())
}

// dotted turns the wide gaps of a line set for a terminal into dots.
func dotted(s string) string {
	var parts []string
	for _, part := range strings.Split(s, "  ") {
		if part = strings.TrimSpace(part); part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " · ")
}
