package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"sync"
	"time"

	"thole/engine/table"
)

// Progress is the one line on stderr that says how far a run is. It may be
// told from many goroutines.
type Progress struct {
	to       io.Writer
	rewrites bool             // stderr is a terminal
	now      func() time.Time // a clock; tests bring their own
	width    int

	mu      sync.Mutex
	begun   time.Time
	written time.Time
	shown   bool

	// the computation at hand; a study may have several
	verb  string
	of    int
	since time.Time
}

const (
	progressAfter = 500 * time.Millisecond // nothing sooner
	progressEvery = 100 * time.Millisecond // and no oftener
)

// progress begins now.
func (m *Manners) progress() *Progress {
	return &Progress{to: m.Err, rewrites: m.ErrTerminal, now: time.Now, width: m.Width, begun: time.Now()}
}

// At tells that done of all strokes are rowed; verb is what is being done:
// "rowing", "drawing".
func (p *Progress) At(verb string, done, of int, what string) {
	if !p.rewrites {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	if verb != p.verb || of != p.of {
		p.verb, p.of, p.since = verb, of, now
		if p.written.IsZero() {
			p.since = p.begun
		}
	}
	if now.Sub(p.begun) < progressAfter || now.Sub(p.written) < progressEvery {
		return
	}
	p.written, p.shown = now, true
	left := ""
	if done > 0 && of > done {
		seconds := now.Sub(p.since).Seconds() * float64(of-done) / float64(done)
		left = ", " + roughly(seconds) + " left"
	}
	line := strings.TrimRight(fmt.Sprintf("%s  %d of %d %s", verb, done, of, what), " ") + left + " (Ctrl-C stops, what is done is kept)"
	fmt.Fprintf(p.to, "\r%s\x1b[K", cut(line, p.width-1))
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

// seconds since the beginning.
func (p *Progress) seconds() float64 { return p.now().Sub(p.begun).Seconds() }

// counted is the line that stands when a run is over: what was rowed, how
// long it took, what came from the store. "" where nothing was rowed.
func counted(rowed, fromStore int, storeInUse bool, seconds float64) string {
	if rowed+fromStore == 0 {
		return ""
	}
	took := table.Fixed(seconds, 1) + " s"
	if seconds < 0.1 {
		took = "under 0.1 s"
	}
	line := fmt.Sprintf("%d %s rowed in %s", rowed, plural(rowed, "stroke"), took)
	switch {
	case fromStore > 0:
		line += fmt.Sprintf(", %d from store", fromStore)
	case storeInUse:
		line += ", none from store"
	}
	return line
}

// roughly writes a time left: whole seconds, then minutes.
func roughly(seconds float64) string {
	if seconds < 90 {
		return fmt.Sprintf("%d s", int(math.Max(1, math.Ceil(seconds))))
	}
	return fmt.Sprintf("%d min", int(math.Ceil(seconds/60)))
}

// plural writes a noun for that many.
func plural(n int, noun string) string {
	if n == 1 {
		return noun
	}
	if strings.HasSuffix(noun, "y") {
		return strings.TrimSuffix(noun, "y") + "ies"
	}
	return noun + "s"
}
