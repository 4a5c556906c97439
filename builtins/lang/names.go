package lang

import "strings"

// Listed writes names as "a, b and c", at most n of them.
func Listed(names []string, and string, n int) string {
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
