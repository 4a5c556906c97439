//go:build !windows

package input

import (
	"strings"
	"testing"
)

// Pasted text becomes keys without commands; marks that come in two pieces are
// found all the same.
func TestPastedKeys(t *testing.T) {
	for _, c := range []struct {
		chunks string // between |
		want   string
	}{
		{"a = 1\r", "a = 1\r"},
		{"\t", "\t"},
		{"now.sp\t", "now.sp\t"},
		{"def f():\n\treturn 1\n", "def f():\r    return 1\r"},
		{"a\r\nb\r\n", "a\rb\r"},
		{"\x1b[200~" + "a\tb\r\n\x1b[A\x03c" + "\x1b[201~" + "\t", "a    b\r[Ac\t"},
		{"x\x1b[20|0~a\tb\x1b[2|01~\t", "xa    b\t"},
		{"\x1b[A", "\x1b[A"},
	} {
		k := &keys{}
		held := ""
		for _, chunk := range strings.Split(c.chunks, "|") {
			text := held + chunk
			n := 0
			for _, mark := range []string{"\x1b[200~", "\x1b[201~"} {
				n = max(n, beginOf([]byte(text), mark))
			}
			held = text[len(text)-n:]
			k.take([]byte(text[:len(text)-n]))
		}
		if got := string(k.queue) + held; got != c.want {
			t.Errorf("%q: %q, want %q", c.chunks, got, c.want)
		}
	}
}
