package source

import (
	"errors"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
	"go.starlark.net/starlark"

	"thole/builtins/lang"
)

// prose is a stretch of Markdown between fences.
type Prose struct {
	Markdown string
	Line     int // where it starts
	Next     int // line of the fence that follows; 0 at the end
}

// fences takes the starlark fences out of a Markdown text.
func (s *Text) fences() {
	src := []byte(s.text)
	doc := goldmark.DefaultParser().Parse(text.NewReader(src))
	code := make([]string, len(s.Lines))
	s.shift = make([]int, len(s.Lines))
	start := LineStarts(s.text)
	inFence := make([]bool, len(s.Lines))
	var fenceLines []int // first line of code of each fence

	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading:
			if n.Level == 1 && s.Title == "" && n.Lines().Len() > 0 {
				s.Title = strings.TrimSpace(string(n.Lines().Value(src)))
				line := lineOf(start, n.Lines().At(0).Start)
				inFence[line-1] = true // the title is told once
				if line < len(s.Lines) && strings.Trim(s.Lines[line], "= ") == "" && s.Lines[line] != "" {
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
			for line := first - 1; line <= min(last+1, len(s.Lines)); line++ {
				inFence[line-1] = true
			}
			fenceLines = append(fenceLines, first)
		}
		return ast.WalkContinue, nil
	})
	s.Code = strings.Join(code, "\n")

	// what is left between fences is prose
	var part []string
	from := 1
	flush := func(next int) {
		md := strings.Trim(strings.Join(part, "\n"), "\n")
		if strings.TrimSpace(md) != "" {
			s.Prose = append(s.Prose, Prose{Markdown: md, Line: from, Next: next})
		}
		part = nil
	}
	k := 0
	for i, line := range s.Lines {
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

func LineStarts(s string) []int {
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

// fillMarkdown fills the places of prose and leaves code alone: what stands
// between backticks or in another language's fence.
func FillMarkdown(md string, names func(string) (starlark.Value, bool), list func() []string) (string,
	error) {
	var b strings.Builder
	for at := 0; at < len(md); {
		end := nextCode(md, at)
		filled, err := fillFlat(md[at:end], names, list)
		if err != nil {
			var pe *lang.PlaceError
			if errors.As(err, &pe) {
				return "", &lang.PlaceError{Start: pe.Start + at, End: pe.End + at, Err: pe.Err}
			}
			return "", err
		}
		b.WriteString(filled)
		at = end
		if at < len(md) {
			close := codeEnd(md, at)
			b.WriteString(md[at:close])
			at = close
		}
	}
	return b.String(), nil
}

// fillFlat fills without taking an indent off: Markdown means something by it.
func fillFlat(text string, names func(string) (starlark.Value, bool), list func() []string) (string, error) {
	return lang.FillPlaces(text, names, list)
}

// nextCode finds where the next code begins, or the end.
func nextCode(md string, from int) int {
	if i := strings.IndexByte(md[from:], '`'); i >= 0 {
		return from + i
	}
	return len(md)
}

// codeEnd finds where code that begins at a run of backticks ends.
func codeEnd(md string, at int) int {
	n := 0
	for at+n < len(md) && md[at+n] == '`' {
		n++
	}
	ticks := md[at : at+n]
	for i := at + n; i < len(md); {
		j := strings.Index(md[i:], ticks)
		if j < 0 {
			return at + n // a lone backtick
		}
		j += i
		run := j
		for run < len(md) && md[run] == '`' {
			run++
		}
		if run-j == n {
			return run
		}
		i = run
	}
	return at + n
}
