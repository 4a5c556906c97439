package term

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTexts(t *testing.T) {
	w, ascii := Window{Width: 80}, Window{Width: 80, ASCII: true}
	for _, c := range []struct{ got, want string }{
		{Cut("heaviness", 6), "hea..."},
		{Cut("heaviness", 9), "heaviness"},
		{Cut("a b c d e", 5), "a..."},
		{Cut("heaviness", 2), ".."},
		{Cut("heaviness", -1), ""},
		{Cut("漢字漢字", 6), "漢..."},
		{PadRight("ä", 3) + "|", "ä  |"},
		{PadLeft(Bold.In("12"), 4), "  " + Bold.In("12")},
		{PadLeft("漢", 3), " 漢"},
		{w.Clean("a\x1b[2Jb\tc\r\nd\u202ee\ue001\ufffd"), "a[2Jb c de?"},
		{w.CleanLines("a\nb"), "a\nb"},
		{w.Clean("820 cm² at 15 °C"), "820 cm² at 15 °C"},
		{ascii.Clean("820 cm² at 15 °C, 45°: N·s/m"), "820 cm2 at 15 deg C, 45deg: N s/m"},
		{ascii.Clean("Zoë Łucja Ørsted ß … 漢"), "Zoe Lucja Orsted ss ... ?"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

func TestWrap(t *testing.T) {
	w := Window{Width: 20}
	for _, c := range []struct {
		head string
		hang int
		text string
		want []string
	}{
		{"", 2, "", []string{""}},
		{"why   ", 6, "short", []string{"why   short"}},
		{"", 0, "wide   gaps  stay", []string{"wide   gaps  stay"}},
		{"why   ", 6, "one two three four five", []string{"why   one two three", "      four five"}},
		{"", 2, "exactly twenty wide! more", []string{"exactly twenty wide!", "  more"}},
		{"", 1, "abcdefghijklmnopqrstuvwxyz", []string{"abcdefghijklmnopqrst", " uvwxyz"}},
		{"head ", 1, "in abcdefghijklmnopqrstuvwxyz", []string{"head in", " abcdefghijklmnopqrs", " tuvwxyz"}},
		{"", 0, "one\ntwo\tthree", []string{"one two three"}},
	} {
		if diff := cmp.Diff(c.want, w.Wrap(c.head, c.hang, c.text)); diff != "" {
			t.Errorf("%q: %s", c.text, diff)
		}
	}
	if lines := (Window{Width: 300}).Wrap("", 0, strings.Repeat("word ", 60)); Width(lines[0]) != 99 {
		t.Errorf("running text %d columns wide, wants 100 at most", Width(lines[0]))
	}
}

// Wrapped text fits whatever the window, and no word is lost.
func FuzzWrap(f *testing.F) {
	f.Add("head  ", 6, "one two three four five", 20)
	f.Add("", 2, "abcdefghijklmnopqrstuvwxyz 漢字漢字漢字漢字", 9)
	f.Fuzz(func(t *testing.T, head string, hang int, text string, width int) {
		w := Window{Width: 8 + (width&0xffff)%60}
		head, hang = Cut(w.Clean(head), w.Width/2), (hang&0xff)%(w.Width/2)
		lines := w.Wrap(head, hang, text)
		for _, line := range lines {
			if Width(strings.TrimRight(line, " ")) > w.Width {
				t.Fatalf("%d columns in %d: %q", Width(line), w.Width, line)
			}
		}
		letters := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got, want := letters(strings.Join(lines, "")), letters(head+w.Clean(text)); got != want {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}

func TestHeadLine(t *testing.T) {
	w := Window{Width: 20}
	if got := w.HeadLine("calm", "1x, 84 kg"); len(got) != 1 || got[0] != "calm       1x, 84 kg" {
		t.Errorf("%q", got)
	}
	if got := w.HeadLine("a long name of it", "1x, 84 kg"); len(got) != 2 || got[1] != "  1x, 84 kg" {
		t.Errorf("%q", got)
	}
}

func TestAlign(t *testing.T) {
	got := Align([][]string{{"length", "", "cm"}, {"ä", "", "N·s/m"}, {"mass"}}, 2)
	if diff := cmp.Diff([]string{"length  cm     ", "ä       N·s/m  ", "mass    "}, got); diff != "" {
		t.Error(diff)
	}
}

// The caret stands under what is meant, whatever the line is and however it is cut.
func TestSourceLine(t *testing.T) {
	source := `eased = find(with_outboard, of="heaviness", limits=2, target=200, outboard=(170, 204))`
	for _, width := range []int{40, 60, 100} {
		at := strings.Index(source, "target")
		lines := Window{Width: width}.SourceLine("   3 | ", source, at, 6)
		caret := strings.IndexByte(lines[1], '^')
		if Width(lines[0]) > width || len(lines[0]) < caret+6 || lines[0][caret:caret+6] != "target" {
			t.Errorf("%d columns: %q", width, lines)
		}
	}
	lines := Window{Width: 40, ASCII: true}.SourceLine("  ", "\tx = 15°C", 5, 1)
	if lines[0] != "   x = 15deg C" || lines[1] != "       ^" {
		t.Errorf("%q", lines)
	}
}
