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

// screenView is one screen of the teaching view: words and questions at the left,
// what they are about at the right, row by row.
type screenView struct {
	N, Last    int // 0 is the cover
	ID, Title  string
	Back, Next string // the neighbours' ids
	Rows       []rowView
	Plain      []template.HTML // beneath the rows
}

// rowView is one row; with one side empty the other takes the whole width.
type rowView struct{ Left, Right []template.HTML }

// lessonBody writes the teaching view: one section a screen, a cover before and
// what to keep after it, the teacher's notes and the small print below.
func (p *page) lessonBody() template.HTML {
	view := struct {
		Head     template.HTML
		Title    string
		Screens  []screenView
		Teacher  []sectionView
		Computed template.HTML
		Numbers  template.HTML
	}{Head: fill("running head", p.doc), Title: p.title(), Numbers: p.numbers}
	cover := screenView{ID: "start"}
	var screens, teacher []section
	for _, s := range p.sections() {
		switch {
		case s.title == "":
			cover.Rows = append(cover.Rows, p.rows(s)...)
		case s.teacher:
			teacher = append(teacher, s)
		default:
			screens = append(screens, s)
		}
	}
	view.Screens = append(view.Screens, cover)
	for i, s := range screens {
		view.Screens = append(view.Screens, screenView{ID: fmt.Sprintf("s%d", i+1), Title: s.title,
			Rows: p.rows(s)})
	}
	view.Screens = append(view.Screens, screenView{ID: "keep", Title: "To keep",
		Plain: []template.HTML{p.answer(), p.cautions()}})
	last := len(view.Screens) - 1
	for i := range view.Screens {
		s := &view.Screens[i]
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
	view.Computed = p.computed()
	return fill("lesson", view)
}

// rows lays a section's blocks out in the order they were told; sliders, cards
// and the moving picture take the whole width. What follows a question waits, in
// its own room, until the question was guessed or revealed.
func (p *page) rows(s section) (rows []rowView) {
	ask := ""
	var row rowView
	flush := func() {
		if len(row.Left)+len(row.Right) > 0 {
			rows = append(rows, row)
		}
		row = rowView{}
	}
	for _, b := range s.blocks {
		out := p.block(b, s.title)
		if _, isAsk := b.(*document.Ask); isAsk {
			ask = fmt.Sprintf("ask%d", p.asks)
		} else if ask != "" {
			out = fill("hold", struct {
				For    string
				Inside template.HTML
			}{ask, out})
		}
		switch {
		case wholeWidth(b):
			flush()
			row.Left = append(row.Left, out)
			flush()
		case atRight(b):
			row.Right = append(row.Right, out)
		default:
			if len(row.Right) > 0 {
				flush()
			}
			row.Left = append(row.Left, out)
		}
	}
	flush()
	return rows
}

func wholeWidth(b document.Block) bool {
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

// ask writes a question, its choices or a box for a number, and the reason that
// waits behind it.
func (p *page) ask(a *document.Ask) template.HTML {
	p.asks++
	view := struct {
		*document.Ask
		ID, Key           string // Key is the answer as the script compares it
		Number, Tolerance string // as scripts read them
		Unit, Answer      string
	}{Ask: a, ID: fmt.Sprintf("ask%d", p.asks), Key: a.Answer, Number: fmt.Sprint(a.Number),
		Tolerance: fmt.Sprint(a.Tolerance)}
	answer := typeset.Text(typeset.Clean(a.Answer))
	if len(a.Choices) == 0 {
		view.Unit = typeset.UnitAfter(a.Unit)
		if answer == "" {
			answer = typeset.Number(a.Number, table.AutoDigits)
		}
		answer = typeset.Printed(answer)
		if !strings.HasSuffix(answer, strings.TrimLeft(view.Unit, typeset.Thin)) {
			answer += view.Unit
		}
	}
	view.Answer = words.Capital(words.Sentence(answer))
	return fill("ask", view)
}
