package lang

import (
	"strings"
	"unicode"
)

// Nearest gives the name among candidates that was most likely meant, or "".
// Case and underscores do not count; neighbours that changed places count once.
// Of names equally near the one with the same first letter wins, then the
// first in order.
func Nearest(name string, candidates []string) string {
	want := fold(name)
	if len(want) == 0 {
		return ""
	}
	best, bestCost := "", 1<<30
	for _, c := range candidates {
		have := fold(c)
		if len(have) == 0 {
			continue
		}
		d := edits(want, have)
		// half of the longer name may be wrong, and never all of a short one
		if 2*d > max(len(want), len(have)) || d >= min(len(want), len(have)) {
			continue
		}
		cost := 2 * d
		if want[0] != have[0] {
			cost++
		}
		if cost < bestCost {
			best, bestCost = c, cost
		}
	}
	return best
}

// fold leaves the letters and digits that a reader would compare.
func fold(s string) []rune {
	return []rune(strings.Map(func(r rune) rune {
		if r == '_' || r == ' ' {
			return -1
		}
		return unicode.ToLower(r)
	}, cut(s, 60)))
}

// edits counts insertions, deletions, replacements and swaps of neighbours
// between two names (optimal string alignment).
func edits(a, b []rune) int {
	before := make([]int, len(b)+1)
	last := make([]int, len(b)+1)
	now := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		for j := 1; j <= len(b); j++ {
			step := 1
			if a[i-1] == b[j-1] {
				step = 0
			}
			now[j] = min(last[j-1]+step, last[j]+1, now[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}

// listed writes names as "a, b and c", at most n of them.
func listed(names []string, and string, n int) string {
	if len(names) == 0 {
		return "none"
	}
	if len(names) > n {
		return strings.Join(names[:n], ", ") + " ..."
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " " + and + " " + names[len(names)-1]
}
