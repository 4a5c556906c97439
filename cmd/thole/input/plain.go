package input

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"
)

// Plain are lines of a file, of another program, or of a terminal that
// knows no editing: of any length, without a prompt.
type Plain struct {
	lines chan string
	typed bool // a person types them: there is no waiting for what may not come
	mu    sync.Mutex
	err   error // why there are no more
	drop  chan struct{}
	kept  []string
}

// shortly is how long the lines of a paste may be apart.
const shortly = 30 * time.Millisecond

// ReadPlain begins to read lines; typed says that a person types them.
func ReadPlain(in *os.File, typed bool) *Plain {
	p := &Plain{lines: make(chan string), typed: typed, drop: make(chan struct{}, 1)}
	go func() {
		r := bufio.NewReader(in)
		for first := true; ; first = false {
			line, err := readLine(r)
			if first {
				line = strings.TrimPrefix(line, "\ufeff")
			}
			if line != "" {
				p.lines <- strings.TrimRight(line, "\r\n")
			}
			if err != nil {
				p.mu.Lock()
				p.err = err
				p.mu.Unlock()
				close(p.lines)
				return
			}
		}
	}()
	return p
}

// longestLine is as long as a text may be in a study, bytes.
const longestLine = 16 << 20

var errLongLine = fmt.Errorf("a line is longer than %d million characters", longestLine>>20)

// readLine reads a line with its end, but none that would fill the memory.
func readLine(r *bufio.Reader) (string, error) {
	var line []byte
	for {
		part, err := r.ReadSlice('\n')
		if line = append(line, part...); len(line) > longestLine {
			return "", errLongLine
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return string(line), err
		}
	}
}

func (p *Plain) Next(string) (string, error) {
	if len(p.kept) > 0 {
		line := p.kept[0]
		p.kept = p.kept[1:]
		return line, nil
	}
	select {
	case line, ok := <-p.lines:
		if ok {
			return line, nil
		}
	case <-p.drop:
		return "", ErrDropped
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if errors.Is(p.err, io.EOF) {
		return "", io.EOF
	}
	return "", p.err
}

// Drop gives up the lines of the block that is being typed.
func (p *Plain) Drop() {
	select {
	case p.drop <- struct{}{}:
	default:
	}
}

func (p *Plain) Peek(i int) (string, bool) {
	for i >= len(p.kept) {
		var late <-chan time.Time
		if p.typed {
			late = time.After(shortly)
		}
		select {
		case line, ok := <-p.lines:
			if !ok {
				return "", false
			}
			p.kept = append(p.kept, line)
		case <-late:
			return "", false
		}
	}
	return p.kept[i], true
}
