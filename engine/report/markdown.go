package report

import (
	"bytes"
	"html/template"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer/html"
	gmtext "github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"thole/engine/typeset"
)

// notes reads CommonMark with tables. Raw HTML stays off (goldmark's default),
// and a page loads nothing, so links and pictures are turned into their words.
var notes = goldmark.New(
	goldmark.WithExtensions(extension.NewTable(
		extension.WithTableCellAlignMethod(extension.TableCellAlignNone))),
	goldmark.WithParserOptions(parser.WithASTTransformers(util.Prioritized(inert{}, 100))),
	goldmark.WithRendererOptions(html.WithXHTML()),
)

// markdown renders a note. Headings in it begin at h3: h1 is the question and h2
// opens a section.
func markdown(text string) template.HTML {
	var b bytes.Buffer
	if err := notes.Convert([]byte(typeset.Clean(text)), &b); err != nil {
		panic(err) // a bytes.Buffer never fails
	}
	out := b.String()
	// the page scrolls what is too wide, never itself
	out = strings.ReplaceAll(out, "<pre>", `<pre tabindex="0">`)
	out = strings.ReplaceAll(out, "<table>",
		`<div class="scroll" tabindex="0" role="group" aria-label="table"><table>`)
	return template.HTML(strings.ReplaceAll(out, "</table>", "</table></div>")) // goldmark escaped every text
}

// inert changes a parsed note so that nothing in it can lead away from the page
// or come from outside it.
type inert struct{}

func (inert) Transform(doc *ast.Document, reader gmtext.Reader, _ parser.Context) {
	source := reader.Source()
	var links, raw, texts []ast.Node
	ast.Walk(doc, func(n ast.Node, in bool) (ast.WalkStatus, error) {
		if !in {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Link, *ast.Image, *ast.AutoLink:
			links = append(links, n)
		case *ast.RawHTML, *ast.HTMLBlock:
			raw = append(raw, n)
		case *ast.CodeSpan:
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			texts = append(texts, n)
		case *ast.Heading:
			n.Level = min(6, n.Level+1)
			if n.Level < 3 {
				n.Level = 3
			}
		}
		return ast.WalkContinue, nil
	})
	for _, n := range texts {
		setSigns(n.(*ast.Text), source)
	}
	for _, n := range raw {
		keepAsText(n, source)
	}
	for _, n := range links {
		unlink(n, source)
	}
}

// setSigns gives the words of a note the page's minus and spaces before units.
func setSigns(t *ast.Text, source []byte) {
	was := string(t.Segment.Value(source))
	is := typeset.Text(was)
	if is == was {
		return
	}
	words := ast.NewString([]byte(is))
	t.Parent().InsertBefore(t.Parent(), t, words)
	if t.SoftLineBreak() || t.HardLineBreak() { // keep the break, drop the words
		t.Segment = gmtext.NewSegment(t.Segment.Stop, t.Segment.Stop)
		return
	}
	t.Parent().RemoveChild(t.Parent(), t)
}

// keepAsText shows HTML in a note as the characters that were typed.
func keepAsText(n ast.Node, source []byte) {
	parent := n.Parent()
	switch n := n.(type) {
	case *ast.RawHTML:
		words := literal(n.Segments.Value(source))
		parent.ReplaceChild(parent, n, words)
	case *ast.HTMLBlock:
		var b bytes.Buffer
		for i := 0; i < n.Lines().Len(); i++ {
			line := n.Lines().At(i)
			b.Write(line.Value(source))
		}
		if n.HasClosure() {
			b.Write(n.ClosureLine.Value(source))
		}
		p := ast.NewParagraph()
		p.AppendChild(p, literal(bytes.TrimSpace(b.Bytes())))
		parent.ReplaceChild(parent, n, p)
	}
}

// unlink leaves a link's words, followed by its address as text where the words
// do not say it: a printed page needs that, and a page from a stick must not
// lead to the network.
func unlink(n ast.Node, source []byte) {
	parent := n.Parent()
	if auto, ok := n.(*ast.AutoLink); ok {
		parent.ReplaceChild(parent, n, literal(auto.Label(source)))
		return
	}
	address := ""
	switch n := n.(type) {
	case *ast.Link:
		address = string(n.Destination)
	case *ast.Image:
		address = string(n.Destination)
	}
	for c := n.FirstChild(); c != nil; c = n.FirstChild() {
		parent.InsertBefore(parent, n, c)
	}
	if address != "" {
		parent.InsertBefore(parent, n, literal([]byte(" ("+address+")")))
	}
	parent.RemoveChild(parent, n)
}

// literal is text shown exactly as it was typed.
func literal(s []byte) *ast.String {
	n := ast.NewString(s)
	n.SetRaw(true)
	return n
}
