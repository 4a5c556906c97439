// Package words holds the few things that every room does to words for people:
// names as they are typed made into words, a first letter set large, a list as a
// sentence has it.
//
// Only what knows no number, no unit and no place to be shown may enter: numbers
// with their signs are set in package typeset, widths are a terminal's or a
// drawing's own matter.
package words

import "strings"

// Spaced turns a name as it is typed into words: drive_time, "drive time".
func Spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }

// Capital sets the first letter large.
func Capital(s string) string {
	for i, r := range s {
		return s[:i] + strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// Sentence makes sure a text ends as a sentence does.
func Sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}

// List joins names as a sentence does: "a, b and c".
func List(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
