package window

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"thole/engine/term"
)

// prose sets a note's CommonMark for a window: headings at the edge, the rest
// indented by two; lists with their marks, code as it is, emphasis as plain
// words.
func prose(w term.Window, markdown string) []string {
	source := []byte(term.StripControls(markdown))
	root := goldmark.DefaultParser().Parse(text.NewReader(source))
	p := proser{w: w, source: source}
	p.blocks(root, 2, true)
	return p.lines
}

type proser struct {
	w      term.Window
	source []byte
	lines  []string
}

// blocks sets the blocks within a node; loose ones are parted by blank lines.
func (p *proser) blocks(parent ast.Node, indent int, loose bool) {
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		_, afterHeading := n.PreviousSibling().(*ast.Heading)
		if loose && n.PreviousSibling() != nil && !afterHeading {
			p.lines = append(p.lines, "")
		}
		p.block(n, indent)
	}
}

func (p *proser) block(n ast.Node, indent int) {
	margin := term.Spaces(indent)
	switch n := n.(type) {
	case *ast.Heading:
		p.lines = append(p.lines, p.w.Wrap("", 2, p.inline(n))...)
	case *ast.Paragraph, *ast.TextBlock:
		p.text(margin, indent, p.inline(n))
	case *ast.List:
		number := n.Start
		for item := n.FirstChild(); item != nil; item = item.NextSibling() {
			mark := "- "
			if n.IsOrdered() {
				mark = fmt.Sprintf("%d. ", number)
				number++
			}
			first := len(p.lines)
			p.blocks(item, indent+len(mark), !n.IsTight)
			if len(p.lines) > first && strings.HasPrefix(p.lines[first], margin) {
				p.lines[first] = margin + mark + strings.TrimPrefix(p.lines[first],
					margin+term.Spaces(len(mark)))
			}
		}
	case *ast.Blockquote:
		p.blocks(n, indent+2, true)
	case *ast.ThematicBreak:
		p.lines = append(p.lines, margin+"---")
	default: // code and raw text stand as they are written
		lines := n.Lines()
		for i := range lines.Len() {
			line := lines.At(i)
			p.lines = append(p.lines,
				term.Cut(margin+"  "+p.w.Clean(strings.TrimRight(string(line.Value(p.source)),
					"\n")), p.w.Width))
		}
	}
}

// text wraps words; a hard break begins a new line.
func (p *proser) text(head string, hang int, words string) {
	for _, line := range strings.Split(words, "\n") {
		p.lines = append(p.lines, p.w.Wrap(head, hang, line)...)
		head = term.Spaces(hang)
	}
}

// inline gives the words of a paragraph.
func (p *proser) inline(n ast.Node) string {
	var b strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			b.Write(c.Segment.Value(p.source))
			switch {
			case c.HardLineBreak():
				b.WriteByte('\n')
			case c.SoftLineBreak():
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(c.Value)
		case *ast.AutoLink:
			b.Write(c.URL(p.source))
		case *ast.RawHTML:
			for i := range c.Segments.Len() {
				segment := c.Segments.At(i)
				b.Write(segment.Value(p.source))
			}
		default:
			b.WriteString(p.inline(c))
		}
	}
	return p.w.CleanLines(escape.ReplaceAllString(b.String(), "$1"))
}

// escape is a backslash that a note had to write before a sign.
var escape = regexp.MustCompile("\\\\([][*_`#\\\\<|+.!(){}-])")
