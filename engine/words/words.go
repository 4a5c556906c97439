// Package words sets words as a sentence needs them: a capital, a list, a plural,
// a text cut to a length. Call List, Capital, Plural, Cut or Spaced.
//
// What may enter: functions from words to words that mean the same in every room.
// What may not: numbers and their units (engine/rounding, engine/table), markup,
// widths of a terminal's columns, names of rowing. It imports no room of the house.
package words

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Capital gives a text with its first letter as a capital.
func Capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 || unicode.IsUpper(first) {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// List joins names as a sentence does: "a", "a and b", "a, b and c"; "" of none.
func List(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// Plural gives a regular noun for that many: "line" for 1, else "lines"; "tally",
// "tallies".
func Plural(n int, noun string) string {
	if n == 1 {
		return noun
	}
	if stem, ok := strings.CutSuffix(noun, "y"); ok {
		return stem + "ies"
	}
	return noun + "s"
}

// Cut shortens a text to most letters, the last three of them points where
// something was cut off. Letters are Unicode code points, not columns of a terminal.
func Cut(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	if most <= 3 {
		return strings.Repeat(".", max(most, 0))
	}
	return string([]rune(text)[:most-3]) + "..."
}

// Spaced turns a name as it is typed into words: "drive_time" is "drive time".
func Spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }

// Sentence makes sure that a text ends as a sentence does.
func Sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.ContainsAny(text[len(text)-1:], ".?!") {
		return text
	}
	return text + "."
}
