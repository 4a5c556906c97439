package term

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestProgress(t *testing.T) {
	var out bytes.Buffer
	now := 0.0
	terminal := Terminal{Window: Window{Width: 100}, Err: &out, ErrTerminal: true}
	p := terminal.Progress(func() float64 { return now })
	step := func(after float64, done int) {
		now += after
		p.At("rowing", done, 91, "strokes")
	}
	step(0.4, 20)
	if out.Len() > 0 {
		t.Errorf("a line within half a second: %q", out.String())
	}
	step(0.2, 31)
	if diff := cmp.Diff("\rrowing  31 of 91 strokes, 2 s left (Ctrl-C stops, what is done is kept)\x1b[K",
		out.String()); diff != "" {
		t.Error(diff)
	}
	out.Reset()
	step(0.05, 40)
	if out.Len() > 0 {
		t.Error("rewritten after 0.05 s")
	}
	step(0.1, 50)
	p.Done()
	if !strings.HasSuffix(out.String(), "\r\x1b[K") {
		t.Errorf("the line stays: %q", out.String())
	}
	step(1, 91) // another computation begins: its time left is its own
	p.At("drawing", 0, 400, "")
	now++
	out.Reset()
	p.At("drawing", 100, 400, "")
	if diff := cmp.Diff("\rdrawing  100 of 400, 3 s left (Ctrl-C stops, what is done is kept)\x1b[K",
		out.String()); diff != "" {
		t.Error(diff)
	}
	now += 1000
	p.At("drawing", 200, 400, "")
	if !strings.Contains(out.String(), ", 17 min left") {
		t.Errorf("a long time left: %q", out.String())
	}
	out.Reset()
	terminal.ErrTerminal = false
	quiet := terminal.Progress(func() float64 { return 60 })
	quiet.At("rowing", 1, 2, "strokes")
	quiet.Done()
	if out.Len() > 0 {
		t.Errorf("progress on a pipe: %q", out.String())
	}
}
