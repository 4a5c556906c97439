package draw

import (
	"strings"

	"thole/engine/typeset"
)

// TextWidth estimates the width of a text set in the page's sans serif: the real
// one is only known to the browser, so the estimate leans to the wide side.
func TextWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("iljt.,:;'|!()[]·"+typeset.Thin, r):
			w += .32
		case strings.ContainsRune("mwMW%", r):
			w += .88
		case r >= 'A' && r <= 'Z':
			w += .7
		case r == ' ':
			w += .3
		default:
			w += .57
		}
	}
	return w * size
}

// Cut shortens a text that would run out of its place.
func Cut(s string, size, width float64) string {
	if TextWidth(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && TextWidth(string(r)+"…", size) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}
