package table

import (
	"slices"
	"strconv"
	"strings"

	"thole/engine/words"
)

// Former are names that columns had in older versions, and their names now. It is set
// before any table is asked, and not again.
var Former = map[string]string{}

// Nearest gives the name that the typed one has now, else the one most like it, or "" where none is near:
// at most two slips, three in a long name, or the same start.
func Nearest(typed string, names []string) string {
	if now := Former[typed]; now != "" && slices.Contains(names, now) {
		return now
	}
	best, slips := "", 1+len(typed)/3
	if slips > 3 {
		slips = 3
	}
	flat := strings.ToLower(typed)
	for _, name := range names {
		if name == "" {
			continue
		}
		if d := distance(flat, strings.ToLower(name)); d <= slips &&
			(best == "" || d < distance(flat, strings.ToLower(best))) {
			best = name
		}
	}
	if best != "" || len(flat) < 3 {
		return best
	}
	for _, name := range names {
		low := strings.ToLower(name)
		if len(low) >= 3 && (strings.HasPrefix(low, flat) || strings.HasPrefix(flat, low) ||
			strings.HasSuffix(low, "_"+flat)) {
			return name
		}
	}
	return ""
}

// distance counts the letters to add, take or change, two that changed places
// as one.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 64 || len(y) > 64 {
		if a == b {
			return 0
		}
		return 99
	}
	before, last := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := range x {
		now := make([]int, len(y)+1)
		now[0] = i + 1
		for j := range y {
			change := last[j]
			if x[i] != y[j] {
				change++
			}
			now[j+1] = min(last[j+1]+1, now[j]+1, change)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				now[j+1] = min(now[j+1], before[j-1]+1)
			}
		}
		before, last = last, now
	}
	return last[len(y)]
}

// tidyKey writes a number with nine figures, for finding equals.
func tidyKey(x float64) string { return strconv.FormatFloat(x, 'g', 9, 64) }

// Meant gives the name among names that one written by hand may stand for: the same but for
// case and accents, else, if letters may differ, of four letters and more with one slip (two
// in eight and more); "" where there is none.
func Meant(written string, names []string, letters bool) string {
	flat := words.Fold(written)
	slips := 0
	switch n := len([]rune(flat)); {
	case letters && n >= 8:
		slips = 2
	case letters && n >= 4:
		slips = 1
	}
	best, least := "", slips+1
	for _, name := range names {
		if d := distance(flat, words.Fold(name)); name != "" && d < least {
			best, least = name, d
		}
	}
	return best
}
