package main

import (
	"fmt"
	"os"
	"runtime"
	"strings"
	"time"

	xterm "golang.org/x/term"

	"thole/engine/term"
	"thole/engine/words"
)

// terminal is the one the command was started in. What it is asked for stands
// here; how it is written to, in engine/term.
type terminal struct{ term.Terminal }

// askTerminal asks the terminal and the environment once.
func askTerminal(stdout, stderr *os.File) *terminal {
	dumb := os.Getenv("TERM") == "dumb" || os.Getenv("TERM") == "" && runtime.GOOS != "windows"
	colour := os.Getenv("NO_COLOR") == "" && !dumb
	outTerminal, errTerminal := xterm.IsTerminal(int(stdout.Fd())), xterm.IsTerminal(int(stderr.Fd()))
	tty := &terminal{term.Terminal{
		Window: term.Window{Width: 80, ASCII: !utf8Locale()}, Out: stdout, Err: stderr, Dumb: dumb,
		OutColour: colour && outTerminal, ErrColour: colour && errTerminal,
		OutTerminal: outTerminal, ErrTerminal: errTerminal && !dumb,
	}}
	tty.askWidth(stdout)
	return tty
}

// askWidth asks how wide the window is: once, and at the prompt before each line.
func (tty *terminal) askWidth(stdout *os.File) {
	if !tty.OutTerminal {
		return
	}
	if width, _, err := xterm.GetSize(int(stdout.Fd())); err == nil && width > 0 {
		tty.Width = max(width, 40)
	}
}

// utf8Locale asks the locale as programs of this kind do: the first of these
// that is set decides. Where none is, only some systems are known to be UTF-8.
func utf8Locale() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(os.Getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS == "windows" || runtime.GOOS == "darwin"
}

// printText and noteText write running text to stdout and stderr.
func (tty *terminal) printText(text string) error { return tty.Print(tty.Wrap("", 2, text)...) }

func (tty *terminal) noteText(text string) { tty.PrintNote(tty.Wrap("", 2, text)...) }

// linesOf are the lines of a longer text.
func linesOf(w term.Window, text string) []string {
	return strings.Split(strings.TrimRight(w.CleanLines(text), "\n"), "\n")
}

// count is a number with its noun: "1 stroke", "2 strokes".
func count(n int, noun string) string { return fmt.Sprintf("%d %s", n, words.Plural(n, noun)) }

// progress begins a progress line now.
func (tty *terminal) progress() *term.Progress {
	begun := time.Now()
	return tty.Progress(func() float64 { return time.Since(begun).Seconds() })
}
