//go:build !windows

package input

import (
	"bytes"
	"os"
	"strings"
	"sync"
	"time"
)

// keys stands between the terminal and the line editor. The editor takes one
// line at a time and knows nothing of what follows; a paste comes as many lines
// at once. Keys holds them back, so that it can be seen whether an empty line
// ends a block or stands within one, and so that what is typed during a
// computation is not lost. The editor reads from a pipe that keys fills.
type keys struct {
	terminal *os.File
	editor   *os.File // the pipe's other end

	mu      sync.Mutex
	come    sync.Cond
	queue   []byte // typed, not yet given to the editor
	paste   bool   // within the marks of a paste
	waiting bool   // the editor waits for a line
	ended   bool
}

// The marks that a terminal sets around a paste when it is asked to.
const (
	askForPasteMarks = "\x1b[?2004h"
	noPasteMarks     = "\x1b[?2004l"
	pasteBegins      = "\x1b[200~"
	pasteEnds        = "\x1b[201~"
)

const interruptKey = 3 // Ctrl-C

// watchKeys takes over the terminal's input and gives the file that the editor
// reads in its place.
func watchKeys(terminal *os.File) (*keys, *os.File, error) {
	read, write, err := os.Pipe()
	if err != nil {
		return nil, nil, err
	}
	k := &keys{terminal: terminal, editor: write}
	k.come.L = &k.mu
	go k.read()
	return k, read, nil
}

// read collects what is typed.
func (k *keys) read() {
	chunk := make([]byte, 64<<10)
	held := 0 // bytes of a mark that is not complete yet
	for {
		n, err := k.terminal.Read(chunk[held:])
		text := chunk[:held+n]
		held = 0
		if err == nil {
			for _, mark := range []string{pasteBegins, pasteEnds} {
				held = max(held, beginOf(text, mark))
			}
		}
		rest := append([]byte(nil), text[len(text)-held:]...)
		k.mu.Lock()
		k.take(text[:len(text)-held])
		k.ended = k.ended || err != nil
		k.give()
		k.come.Broadcast()
		k.mu.Unlock()
		if err != nil {
			return
		}
		copy(chunk, rest)
	}
}

// beginOf is how many bytes at the end of a text may be the beginning of a mark
// of a paste; an escape key alone is none.
func beginOf(text []byte, mark string) int {
	for n := min(len(mark)-1, len(text)); n > 2; n-- {
		if strings.HasPrefix(mark, string(text[len(text)-n:])) {
			return n
		}
	}
	return 0
}

// take puts typed bytes into the queue. What is pasted is text and no command:
// its tabs are blanks, its line ends are one key, all other control keys go.
func (k *keys) take(text []byte) {
	for len(text) > 0 {
		mark := pasteBegins
		if k.paste {
			mark = pasteEnds
		}
		part, rest, found := bytes.Cut(text, []byte(mark))
		switch {
		case k.paste || bytes.ContainsAny(part, "\r\n") && len(part) > 2:
			k.queue = append(k.queue, pasted(part, k.paste)...)
		default:
			k.queue = append(k.queue, part...)
		}
		if found {
			k.paste = !k.paste
		}
		text = rest
	}
}

// pasted makes keys of pasted text. Without marks around it, it may hold keys
// that somebody typed, so only tabs and line ends are mended.
func pasted(text []byte, sure bool) []byte {
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\r"))
	text = bytes.ReplaceAll(text, []byte("\n"), []byte("\r"))
	text = bytes.ReplaceAll(text, []byte("\t"), []byte("    "))
	if !sure {
		return text
	}
	return bytes.Map(func(c rune) rune {
		if c < ' ' && c != '\r' || c == 0x7f {
			return -1
		}
		return c
	}, text)
}

// give hands the editor one line, when it waits for one.
func (k *keys) give() {
	if !k.waiting || len(k.queue) == 0 {
		if k.ended && k.waiting {
			k.editor.Close() // the editor sees the end
			k.waiting = false
		}
		return
	}
	if i := bytes.IndexByte(k.queue, interruptKey); i >= 0 { // it drops all that was typed before it
		k.queue = k.queue[i:]
	}
	n := len(k.queue)
	if i := bytes.IndexAny(k.queue, "\r\n\x03"); i >= 0 {
		n, k.waiting = i+1, false
	}
	k.editor.Write(k.queue[:n])
	k.queue = k.queue[n:]
}

// Wait lets the editor have the next line.
func (k *keys) Wait() {
	k.mu.Lock()
	k.waiting = true
	k.give()
	k.mu.Unlock()
}

// Peek gives a line that has come already, or the beginning of one, and leaves
// it where it is. Within a paste it waits for what has to come.
func (k *keys) Peek(i int) (line string, ok bool) {
	deadline := time.Now().Add(shortly)
	timer := time.AfterFunc(shortly, k.come.Broadcast)
	defer timer.Stop()
	k.mu.Lock()
	defer k.mu.Unlock()
	for {
		if found, whole := nthLine(k.queue, i); whole || found != "" && !k.paste {
			return found, true
		}
		if !k.paste && !time.Now().Before(deadline) || k.ended {
			return "", false
		}
		k.come.Wait()
	}
}

// nthLine finds a line in the queue; whole says whether its end is there.
func nthLine(queue []byte, i int) (line string, whole bool) {
	for ; ; i-- {
		end := bytes.IndexAny(queue, "\r\n")
		if end < 0 {
			if i > 0 {
				return "", false
			}
			return string(queue), false
		}
		if i == 0 {
			return string(queue[:end]), true
		}
		queue = queue[end+1:]
	}
}

// Drop forgets what was typed ahead.
func (k *keys) Drop() {
	k.mu.Lock()
	k.queue = nil
	k.mu.Unlock()
}
