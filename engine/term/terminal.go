package term

import (
	"io"
	"strings"
)

// Terminal is a window with its two outputs, and what may be done on each.
type Terminal struct {
	Window
	Out, Err                 io.Writer // stdout and stderr
	OutColour, ErrColour     bool      // colours may be shown
	OutTerminal, ErrTerminal bool      // a person sees it; a line on stderr can be rewritten
	Dumb                     bool      // a terminal that knows no escapes
}

// Print writes lines to stdout.
func (t *Terminal) Print(lines ...string) error { return write(t.Out, t.OutColour, lines) }

// PrintNote writes lines to stderr. One that cannot be written is lost: there is
// no place left to say so.
func (t *Terminal) PrintNote(lines ...string) { _ = write(t.Err, t.ErrColour, lines) }

func write(to io.Writer, colour bool, lines []string) error {
	var b strings.Builder
	for _, line := range lines {
		b.WriteString(strings.TrimRight(Paint(line, colour), " "))
		b.WriteByte('\n')
	}
	_, err := io.WriteString(to, b.String())
	return err
}
