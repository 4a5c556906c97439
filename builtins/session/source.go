package session

import (
	"bytes"
	"path"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// source is the text of a study or of a file it loads. For Markdown, code holds
// the fences alone, each line where it stands in the file, all else blank, so
// that line numbers hold; prose keeps the rest.
type source struct {
	name  string   // as messages write it
	text  string   // as read, without byte-order mark
	lines []string // of text
	code  string   // what the parser gets
	shift []int    // characters that the code's column lacks, a line
	title string   // first "# " heading of a Markdown study
	prose []prose

	codeLines []string // of code, when asked for
}

// prose is a stretch of Markdown between fences.
type prose struct {
	markdown string
	line     int // where it starts
	next     int // line of the fence that follows; 0 at the end
}

// newSource reads a text. It refuses what is no text.
func newSource(name string, data []byte) (*source, *Message) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if i := notText(data); i >= 0 {
		line := 1 + bytes.Count(data[:i], []byte("\n"))
		return nil, &Message{What: "this file is no text", File: name, Line: line,
			Why:  "a study is plain text in UTF-8; this looks like a picture, a spreadsheet or another kind of file",
			Type: "save it as plain text (UTF-8), named .star or .md"}
	}
	s := &source{name: name, text: strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(data))}
	s.lines = strings.Split(s.text, "\n")
	if strings.EqualFold(path.Ext(name), ".md") {
		s.fences()
	} else {
		s.code = s.text
	}
	return s, nil
}

// notText finds the first byte that no text has, or -1.
func notText(data []byte) int {
	for i := 0; i < len(data); {
		if data[i] == 0 {
			return i
		}
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}

// fences takes the starlark fences out of a Markdown text.
func (s *source) fences() {
	src := []byte(s.text)
	doc := goldmark.DefaultParser().Parse(text.NewReader(src))
	code := make([]string, len(s.lines))
	s.shift = make([]int, len(s.lines))
	start := lineStarts(s.text)
	inFence := make([]bool, len(s.lines))
	var fenceLines []int // first line of code of each fence

	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading:
			if n.Level == 1 && s.title == "" && n.Lines().Len() > 0 {
				s.title = strings.TrimSpace(string(n.Lines().Value(src)))
				line := lineOf(start, n.Lines().At(0).Start)
				inFence[line-1] = true // the title is told once
				if line < len(s.lines) && strings.Trim(s.lines[line], "= ") == "" && s.lines[line] != "" {
					inFence[line] = true // underlined with =
				}
			}
		case *ast.FencedCodeBlock:
			if string(n.Language(src)) != "starlark" {
				return ast.WalkContinue, nil
			}
			first, last := 0, 0
			for i := 0; i < n.Lines().Len(); i++ {
				seg := n.Lines().At(i)
				line := lineOf(start, seg.Start)
				code[line-1] = strings.TrimRight(string(seg.Value(src)), "\n")
				s.shift[line-1] = utf8.RuneCountInString(s.text[start[line-1]:seg.Start])
				if first == 0 {
					first = line
				}
				last = line
			}
			if first == 0 { // an empty fence
				return ast.WalkContinue, nil
			}
			for line := first - 1; line <= min(last+1, len(s.lines)); line++ {
				inFence[line-1] = true
			}
			fenceLines = append(fenceLines, first)
		}
		return ast.WalkContinue, nil
	})
	s.code = strings.Join(code, "\n")

	// what is left between fences is prose
	var part []string
	from := 1
	flush := func(next int) {
		md := strings.Trim(strings.Join(part, "\n"), "\n")
		if strings.TrimSpace(md) != "" {
			s.prose = append(s.prose, prose{markdown: md, line: from, next: next})
		}
		part = nil
	}
	k := 0
	for i, line := range s.lines {
		if k < len(fenceLines) && i+1 == fenceLines[k] {
			flush(fenceLines[k])
			k++
		}
		if inFence[i] {
			continue
		}
		if strings.TrimSpace(strings.Join(part, "")) == "" {
			part, from = nil, i+1
		}
		part = append(part, line)
	}
	flush(0)
}

func lineStarts(s string) []int {
	starts := []int{0}
	for i := 0; i < len(s); i++ {
		if s[i] == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// lineOf gives the line, from 1, in which a byte lies.
func lineOf(starts []int, at int) int {
	low, high := 0, len(starts)
	for low+1 < high {
		if mid := (low + high) / 2; starts[mid] <= at {
			low = mid
		} else {
			high = mid
		}
	}
	return low + 1
}

// line gives a line of the text as it was written.
func (s *source) line(n int) string {
	if n < 1 || n > len(s.lines) {
		return ""
	}
	return s.lines[n-1]
}

// column turns a column of the code into one of the file.
func (s *source) column(line, col int) int {
	if line >= 1 && line <= len(s.shift) {
		return col + s.shift[line-1]
	}
	return col
}
