package report

import (
	"strings"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/words"
)

// section is a part of the page: a heading and what stands under it.
type section struct {
	title   string // "" for words before the first heading
	blocks  []document.Block
	teacher bool // the teacher's notes: folded, and printed apart
}

// sections splits what was told where a heading of the second level opens one.
// Before the first such heading every table, card and figure opens its own,
// under its own name: a page without headings is still one idea a section.
func (p *page) sections() []section {
	var out []section
	headed := false
	open := func(title string) {
		out = append(out, section{title: title, teacher: forTeacher(title)})
	}
	add := func(b document.Block) {
		if len(out) == 0 {
			open("")
		}
		last := &out[len(out)-1]
		last.blocks = append(last.blocks, b)
	}
	for _, b := range p.doc.Blocks {
		note, isNote := b.(*document.Note)
		switch {
		case isNote:
			for _, part := range splitNote(note.Markdown, p.doc.Title) {
				if part.headed {
					headed = true
					open(part.title)
				}
				if strings.TrimSpace(part.text) != "" {
					add(&document.Note{Markdown: part.text})
				}
			}
		case headed || !opensSection(b):
			add(b)
		default:
			open(p.titleOf(b))
			add(b)
		}
	}
	return out
}

// forTeacher says whether a section speaks to the teacher alone.
func forTeacher(title string) bool {
	title = strings.ToLower(title)
	return strings.HasPrefix(title, "for the teacher") || strings.HasPrefix(title, "teacher's notes") ||
		strings.HasPrefix(title, "teacher’s notes")
}

// opensSection says whether a block told before any heading gets its own: all
// but words, a single value and a question.
func opensSection(b document.Block) bool {
	switch b := b.(type) {
	case *document.Shown:
		return b.Table != nil || b.Card != nil
	case *document.Note, *document.Ask:
		return false
	}
	return true
}

// titleOf names a block that opens a section.
func (p *page) titleOf(b document.Block) string {
	switch b := b.(type) {
	case *document.Shown:
		switch {
		case figure.IsComparison(b.Table):
			return "What changes"
		case b.Name != "" && b.Name != "line":
			return words.Capital(words.Spaced(b.Name))
		case b.Card != nil && b.Card.Title != "":
			return words.Capital(b.Card.Title)
		}
		return "In figures"
	case *document.Figure:
		return figure.Title(b)
	case *document.RigCard:
		return "Rigging cards"
	case *document.Explore:
		return "Try it"
	}
	return "In figures"
}

// notePart is a piece of a note up to the next heading of the second level.
type notePart struct {
	headed bool
	title  string
	text   string
}

// splitNote cuts a note at its "## " lines, fenced code left alone, and drops a
// first-level heading that only repeats the page's own.
func splitNote(text, title string) []notePart {
	parts := []notePart{{}}
	fence := ""
	for _, line := range strings.Split(text, "\n") {
		bare := strings.TrimSpace(line)
		if mark := fenceOf(bare); mark != "" {
			switch {
			case fence == "":
				fence = mark
			case strings.HasPrefix(bare, fence):
				fence = ""
			}
		}
		last := &parts[len(parts)-1]
		switch {
		case fence == "" && strings.HasPrefix(line, "## "):
			parts = append(parts, notePart{headed: true, title: strings.TrimSpace(strings.Trim(bare, "# "))})
		case fence == "" && strings.HasPrefix(line, "# ") && strings.TrimSpace(line[2:]) == title:
		default:
			last.text += line + "\n"
		}
	}
	return parts
}

func fenceOf(line string) string {
	for _, mark := range []string{"```", "~~~"} {
		if strings.HasPrefix(line, mark) {
			return mark
		}
	}
	return ""
}
