package main

import (
	"strings"
	"unicode/utf8"
)

// screen is a small model of a terminal's window: enough of its escapes for what
// the line editor and the prompt write.
type screen struct {
	columns, rows int
	lines         [][]rune // of the window
	gone          []string // lines that went out at the top
	x, y          int
	held          []byte // of an escape or a character that is not complete yet
	colours       int    // how many colour escapes came
	unknown       []string
}

func newScreen(columns, rows int) *screen {
	s := &screen{columns: columns, rows: rows}
	s.clear()
	return s
}

func (s *screen) clear() {
	s.lines = make([][]rune, s.rows)
	s.x, s.y = 0, 0
}

// Text is all that was shown, from the first line to the last.
func (s *screen) Text() string {
	var b strings.Builder
	for _, line := range s.gone {
		b.WriteString(line + "\n")
	}
	for i := range s.lines {
		b.WriteString(strings.TrimRight(string(s.lines[i]), " ") + "\n")
	}
	return strings.TrimRight(b.String(), "\n")
}

// Last is the last line that is not empty.
func (s *screen) Last() string {
	text := s.Text()
	return text[strings.LastIndexByte(text, '\n')+1:]
}

func (s *screen) Write(p []byte) (int, error) {
	data := append(s.held, p...)
	s.held = nil
	for len(data) > 0 {
		if data[0] == 0x1b {
			n := escapeLength(data)
			if n == 0 {
				break
			}
			s.escape(string(data[:n]))
			data = data[n:]
			continue
		}
		if !utf8.FullRune(data) {
			break
		}
		c, n := utf8.DecodeRune(data)
		data = data[n:]
		s.put(c)
	}
	s.held = append(s.held, data...)
	return len(p), nil
}

// escapeLength is how long the escape at the head is, 0 while it is not whole.
func escapeLength(data []byte) int {
	if len(data) < 2 {
		return 0
	}
	if data[1] != '[' {
		return 2
	}
	for i := 2; i < len(data); i++ {
		if data[i] >= '@' && data[i] <= '~' {
			return i + 1
		}
	}
	return 0
}

func (s *screen) put(c rune) {
	switch c {
	case '\r':
		s.x = 0
	case '\n':
		s.down()
	case '\b':
		s.x = max(s.x-1, 0)
	case '\a':
	default:
		if s.x >= s.columns { // the cursor waits at the edge until a character comes
			s.x = 0
			s.down()
		}
		line := s.lines[s.y]
		for len(line) <= s.x {
			line = append(line, ' ')
		}
		line[s.x] = c
		s.lines[s.y] = line
		s.x++
	}
}

func (s *screen) down() {
	if s.y < s.rows-1 {
		s.y++
		return
	}
	s.gone = append(s.gone, strings.TrimRight(string(s.lines[0]), " "))
	s.lines = append(s.lines[1:], nil)
}

func (s *screen) escape(e string) {
	if len(e) < 3 {
		s.unknown = append(s.unknown, e)
		return
	}
	n := 0
	for _, c := range e[2 : len(e)-1] {
		if c >= '0' && c <= '9' {
			n = 10*n + int(c-'0')
		}
	}
	switch e[len(e)-1] {
	case 'm':
		s.colours++
	case 'h', 'l': // the marks around a paste
	case 'G':
		s.x = max(n, 1) - 1
	case 'C':
		s.x += max(n, 1)
	case 'D':
		s.x = max(s.x-max(n, 1), 0)
	case 'A':
		s.y = max(s.y-max(n, 1), 0)
	case 'B':
		s.y = min(s.y+max(n, 1), s.rows-1)
	case 'K':
		if line := s.lines[s.y]; s.x < len(line) {
			s.lines[s.y] = line[:s.x]
		}
	case 'H':
		s.x, s.y = 0, 0
	case 'J':
		s.clear()
	default:
		s.unknown = append(s.unknown, e)
	}
}
