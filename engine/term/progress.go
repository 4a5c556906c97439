package term

import (
	"fmt"
	"io"
	"math"
	"strings"
	"sync"
)

// Progress is the one line on stderr that says how far a run is. Nothing stands
// there in the first half second; then it is rewritten at most ten times a
// second. It may be told from many goroutines.
type Progress struct {
	to       io.Writer
	rewrites bool           // stderr is a terminal
	now      func() float64 // s since the run began
	width    int

	mu      sync.Mutex
	written float64 // s, when the line was last written
	shown   bool

	// the computation at hand; a study may have several
	verb  string
	of    int
	since float64 // s
}

const (
	progressAfter = 0.5 // s, nothing sooner
	progressEvery = 0.1 // s, and no oftener
)

// Progress begins a progress line; now tells the seconds since the run began.
func (t *Terminal) Progress(now func() float64) *Progress {
	return &Progress{to: t.Err, rewrites: t.ErrTerminal, now: now, width: t.Width}
}

// At tells that done of all are done: strokes, or whatever is counted (what may
// be ""). verb is what is being done: "rowing", "drawing".
func (p *Progress) At(verb string, done, of int, what string) {
	if !p.rewrites {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	if verb != p.verb || of != p.of {
		p.verb, p.of, p.since = verb, of, now
		if p.written == 0 { // the first one has run since the beginning
			p.since = 0
		}
	}
	if now < progressAfter || p.written > 0 && now-p.written < progressEvery {
		return
	}
	p.written, p.shown = now, true
	left := ""
	if done > 0 && of > done {
		left = ", " + roughly((now-p.since)*float64(of-done)/float64(done)) + " left"
	}
	line := strings.TrimRight(fmt.Sprintf("%s  %d of %d %s", verb, done, of, what), " ")
	fmt.Fprintf(p.to, "\r%s\x1b[K", Cut(line+left+" (Ctrl-C stops, what is done is kept)", p.width-1))
}

// Done takes the line away.
func (p *Progress) Done() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprint(p.to, "\r\x1b[K")
		p.shown = false
	}
}

// Seconds since the beginning.
func (p *Progress) Seconds() float64 { return p.now() }

// roughly writes a time left: whole seconds, then minutes.
func roughly(seconds float64) string {
	if seconds < 90 {
		return fmt.Sprintf("%d s", int(math.Max(1, math.Ceil(seconds))))
	}
	return fmt.Sprintf("%d min", int(math.Ceil(seconds/60)))
}
