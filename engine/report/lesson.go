package report

import (
	"fmt"
	"html/template"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// A lesson is shown on a projector: one screen a thought, a picture on each. A screen holds
// some words or one question at the left and one picture at the right, or one picture alone;
// what belongs together beyond that is split over screens, never scrolled.

// screenView is one screen.
type screenView struct {
	N, Last     int // 0 is the cover
	ID, Title   string
	Class       string
	Back, Next  string // the neighbours' ids
	Left, Right []template.HTML
	asks        bool // there is a question on it
}

// full says whether a screen has its picture, or a question: nothing more goes on it.
func (s *screenView) full() bool { return s == nil || s.asks || len(s.Right) > 0 || s.Class == "alone" }

// lessonBody writes the lesson: a cover, the screens, what to keep, a free one on a page that
// computes; behind them the teacher's notes and how it was computed; for paper, handouts.
func (p *page) lessonBody() template.HTML {
	view := struct {
		Head     template.HTML
		Title    string
		Screens  []*screenView
		Teacher  []sectionView
		Computed template.HTML
		Care     template.HTML
		Numbers  template.HTML
		Sheets   handout
	}{Head: fill("running head", p.doc), Title: p.title(), Numbers: p.numbers}
	cover := &screenView{ID: "start"}
	var screens []*screenView
	var teacher []section
	for _, s := range p.sections() {
		switch {
		case s.teacher:
			teacher = append(teacher, s)
		case s.title == "":
			first := p.screens(s)
			cover.Left, cover.Right = first[0].Left, first[0].Right
			screens = append(screens, first[1:]...)
		default:
			screens = append(screens, p.screens(s)...)
		}
	}
	if len(cover.Right) == 0 {
		cover.Right = p.firstPicture()
	}
	for i, s := range screens {
		s.ID = fmt.Sprintf("s%d", i+1)
	}
	keep := &screenView{ID: "keep", Title: "To keep", Left: []template.HTML{p.answer()}}
	care := &screenView{ID: "care", Title: "Before you trust it", Left: []template.HTML{p.cautions()}}
	view.Screens = append(append([]*screenView{cover}, screens...), keep, care)
	last := len(view.Screens) - 1
	for i, s := range view.Screens {
		s.N, s.Last = i, last
		if i > 0 {
			s.Back = view.Screens[i-1].ID
		}
		if i < last {
			s.Next = view.Screens[i+1].ID
		}
	}
	for _, s := range teacher {
		view.Teacher = append(view.Teacher, sectionView{Title: s.title, Blocks: p.blocks(s)})
	}
	view.Sheets = p.handout()
	view.Computed, view.Care = p.computed(), p.cautions()
	return fill("lesson", view)
}

// firstPicture is the picture of the first question that has one, as it is before the answer:
// the cover's, where the lesson put none there.
func (p *page) firstPicture() []template.HTML {
	for _, b := range p.doc.Blocks {
		if a, ok := b.(*document.Ask); ok && a.Before != nil {
			return []template.HTML{stage(&document.Ask{Before: a.Before})}
		}
	}
	return nil
}

// screens sets a section's blocks on screens, in the order they were told. Words gather until
// something comes to look at or to answer. A figure told after a question that has no picture
// of its own stands beside it and shows itself with the answer.
func (p *page) screens(s section) (out []*screenView) {
	ask := ""
	var now *screenView
	next := func(class string) {
		now = &screenView{Title: s.title, Class: class}
		out = append(out, now)
	}
	next("")
	for _, b := range s.blocks {
		html := p.block(b, s.title)
		a, isAsk := b.(*document.Ask)
		if !isAsk && ask != "" {
			html = fill("hold", struct {
				For    string
				Inside template.HTML
			}{ask, html})
		}
		switch {
		case isAsk:
			if now.full() {
				next("")
			}
			now.Left, now.asks = append(now.Left, html), true
			ask = fmt.Sprintf("ask%d", p.asks)
			if picture := stage(a); picture != "" {
				now.Right = append(now.Right, picture)
			}
		case alone(b):
			if len(now.Left) > 0 || now.full() {
				next("alone")
			}
			now.Left, now.Class = append(now.Left, html), "alone"
		case atRight(b):
			if len(now.Right) > 0 || now.Class == "alone" {
				next("")
			}
			now.Right = append(now.Right, html)
		default:
			if now.full() {
				next("")
			}
			now.Left = append(now.Left, html)
		}
	}
	return out
}

// alone says whether a block takes a screen of its own.
func alone(b document.Block) bool {
	switch b := b.(type) {
	case *document.Explore, *document.RigCard:
		return true
	case *document.Figure:
		return figure.Moves(b)
	}
	return false
}

func atRight(b document.Block) bool {
	switch b := b.(type) {
	case *document.Figure:
		return true
	case *document.Shown:
		return b.Table != nil || b.Card != nil
	}
	return false
}

// askView is a question as its fragment shows it.
type askView struct {
	*document.Ask
	ID, Key           string // Key is the answer as the script compares it
	Number, Tolerance string // as scripts read them
	Unit, Within      string // Within is the tolerance as it is said
	Answer            string
}

// ask writes a question, its choices with room for the hands that went up, or a line for the
// class's numbers, and the reason that waits behind it.
func (p *page) ask(a *document.Ask) template.HTML {
	p.asks++
	return fill("ask", askViewOf(a, p.asks))
}

func askViewOf(a *document.Ask, n int) askView {
	view := askView{Ask: a, ID: fmt.Sprintf("ask%d", n), Key: a.Answer, Number: fmt.Sprint(a.Number),
		Tolerance: fmt.Sprint(a.Tolerance)}
	answer := typeset.Text(typeset.Clean(a.Answer))
	if len(a.Choices) == 0 {
		view.Unit = typeset.UnitAfter(a.Unit)
		view.Within = typeset.Number(a.Tolerance, table.AutoDigits) + view.Unit
		if answer == "" {
			answer = typeset.Number(a.Number, table.AutoDigits)
		}
		answer = typeset.Printed(answer)
		if !strings.HasSuffix(answer, strings.TrimLeft(view.Unit, typeset.Thin)) {
			answer += view.Unit
		}
	}
	view.Answer = words.Capital(words.Sentence(answer))
	return view
}

// handout is what is printed of a lesson: questions with boxes and room to write, the key.
// The teacher's notes are the third, and stand on the page itself.
type handout struct{ Asks []paperAsk }

type paperAsk struct {
	askView
	N       int
	Picture template.HTML
}

func (p *page) handout() (h handout) {
	for _, b := range p.doc.Blocks {
		if a, ok := b.(*document.Ask); ok {
			n := len(h.Asks) + 1
			h.Asks = append(h.Asks, paperAsk{askViewOf(a, n), n, stage(a)})
		}
	}
	return h
}
