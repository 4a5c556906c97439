// Package input gives the prompt its lines: from a person at a terminal (Edit:
// editing, history, completion), or as they come from a file, another program or
// a terminal that knows no editing (ReadPlain). Blocks puts lines together to what
// is run at once. It knows the language's brackets and indents, and runs nothing.
package input

import (
	"errors"
	"strings"
	"unicode/utf8"

	"thole/builtins/session/source"
)

// Source is where the lines of a session come from: a person at a terminal,
// a file, another program.
type Source interface {
	// Next gives a line without its end. so is what stands of the block already:
	// "" at its beginning. At the end the error is io.EOF; ErrDropped where the
	// lines typed so far are not wanted.
	Next(so string) (string, error)
	// Peek gives a line that has come already, as in a paste, and leaves it
	// where it is: 0 is the one that Next gives.
	Peek(i int) (line string, ok bool)
}

// Completion is what Tab does: the text before the cursor loses Instead bytes and
// gets With; List is shown above, where there is more than one way on, or
// something to know.
type Completion struct {
	List    []string
	With    string
	Instead int
}

// ErrDropped says that the lines typed so far are not wanted.
var ErrDropped = errors.New("the line was dropped")

// Blocks puts lines together to blocks: what is run at once. A block ends
// where its brackets are closed and, behind a def, for or if, where a line
// stands at the left edge again. Whoever types ends those with an empty line; in
// a paste or a file empty lines may stand inside.
type Blocks struct {
	From Source
	over *string // a line read too far: the next block begins with it
}

// Next gives the next block, its lines with their ends. It is "" for an empty line.
func (b *Blocks) Next() (string, error) {
	var so strings.Builder
	var opening source.Opening
	for {
		text, open := so.String(), opening.Open()
		if !open && b.isOver(text) {
			return text, nil
		}
		line, err := b.line(text)
		if err != nil {
			if errors.Is(err, ErrDropped) || text == "" {
				return "", err
			}
			return text, nil // the end of a file ends its last block; the error comes again
		}
		if text == "" && strings.TrimSpace(line) == "" {
			return "", nil
		}
		if text != "" && !open && hasBody(text) && !belongs(line) { // it stands at the left edge
			b.over = &line
			return text, nil
		}
		headless := text != "" && !open && !hasBody(text) && !belongs(line)
		opening.Line(line)
		so.WriteString(line)
		so.WriteByte('\n')
		text = so.String()
		switch {
		case !utf8.ValidString(line) || strings.ContainsRune(line, 0): // no text: refused at once
			return text, nil
		case opening.Open():
		case headless: // a def without a body: what is wrong is told at once
			return text, nil
		case strings.TrimSpace(line) == "" && (!hasBody(text) || b.goesOn()):
		case !source.More(text) && !b.otherArm(text):
			return text, nil
		}
	}
}

func (b *Blocks) line(so string) (string, error) {
	if b.over != nil {
		line := *b.over
		b.over = nil
		return line, nil
	}
	line, err := b.From.Next(so)
	return withoutSign(line, so), err
}

// withoutSign takes the prompt's own sign off a line that was copied from a
// window or a page of help.
func withoutSign(line, so string) string {
	if bare, ok := strings.CutPrefix(line, "> "); ok {
		return bare
	}
	if bare, ok := strings.CutPrefix(line, ". "); ok && so != "" {
		return bare
	}
	return line
}

// isOver says whether the line that has come already begins another block than one
// in which nothing is open.
func (b *Blocks) isOver(text string) bool {
	if b.over != nil || !hasBody(text) {
		return false
	}
	line, ok := b.From.Peek(0)
	return ok && !belongs(withoutSign(line, text))
}

// hasBody says whether more than remarks stands below the first line of a def,
// for or if.
func hasBody(text string) bool {
	_, body, _ := strings.Cut(text, "\n")
	for line := range strings.Lines(body) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			return true
		}
	}
	return false
}

// belongs says whether a line belongs to the block above it: it is empty or
// indented, a remark, or the other arm of an if.
func belongs(line string) bool {
	return strings.TrimSpace(line) == "" || line[0] == ' ' || line[0] == '\t' || line[0] == '#' || isArm(line)
}

// isArm says whether a line is the other arm of an if.
func isArm(line string) bool {
	for _, word := range []string{"else", "elif"} {
		if rest, ok := strings.CutPrefix(line, word); ok && (rest == "" ||
			strings.ContainsAny(rest[:1], " :(")) {
			return true
		}
	}
	return false
}

// goesOn looks past empty lines and remarks that have come already: an indented
// line behind them belongs to the same block.
func (b *Blocks) goesOn() bool {
	for i := 0; ; i++ {
		line, ok := b.From.Peek(i)
		if !ok {
			return false
		}
		line = withoutSign(line, "so far")
		if strings.TrimSpace(line) != "" && line[0] != '#' {
			return belongs(line)
		}
	}
}

// otherArm says whether the other arm of an if on one line has come already.
func (b *Blocks) otherArm(text string) bool {
	if !strings.HasPrefix(text, "if ") || strings.HasSuffix(text, "\n\n") {
		return false
	}
	line, ok := b.From.Peek(0)
	return ok && isArm(line)
}
