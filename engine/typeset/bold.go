package typeset

import "regexp"

var number = regexp.MustCompile(`[+\x{2212}]?\d+(?::\d\d)?(?:\.\d+)?(?:\x{202f}(?:` + units + `)|°)?`)

// Piece is a part of a sentence: a number with its unit, to be set in bold, or
// the words between two.
type Piece struct {
	Text string
	Bold bool
}

// Numbers gives a sentence the page's signs and parts its numbers, units included,
// from its words. A number inside a word or a name ("scull-2b") is left alone.
func Numbers(s string) (pieces []Piece) {
	s = Text(Clean(s))
	last := 0
	for _, at := range number.FindAllStringIndex(s, -1) {
		if !joins(s, at[0], at[1]) {
			pieces = append(pieces, Piece{Text: s[last:at[0]]}, Piece{s[at[0]:at[1]], true})
			last = at[1]
		}
	}
	return append(pieces, Piece{Text: s[last:]})
}

// joins says whether the piece of s from i to j is part of a longer word.
func joins(s string, i, j int) bool {
	word := func(c byte) bool {
		return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-'
	}
	return i > 0 && word(s[i-1]) || j < len(s) && word(s[j])
}
