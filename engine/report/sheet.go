package report

import (
	"html/template"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/typeset"
	"thole/engine/words"
)

// sectionView is a section as its fragment shows it.
type sectionView struct {
	N       int    // 0 of the words before the first heading
	Title   string //
	Led     bool   // its first block is a figure, whose caption stands in the margin
	Teacher bool
	Blocks  []template.HTML
}

// sheetBody writes the page as a sheet to be read from top to bottom. Order of
// the frame: running head, question, answer, what the study told, cautions, on
// the water, computed, the study's text, run and command.
func (p *page) sheetBody() template.HTML {
	var sections []sectionView
	n := 0
	add := func(title string, led bool, blocks ...template.HTML) *sectionView {
		n++
		sections = append(sections, sectionView{N: n, Title: title, Led: led, Blocks: blocks})
		return &sections[n-1]
	}
	for _, s := range p.sections() {
		led := p.leads(s.blocks)
		add(s.title, led && s.title != "", p.blocks(s)...).Teacher = s.teacher
		if s.title == "" {
			n--
			sections[len(sections)-1].N = 0
		}
	}
	add("Before you trust it", false, "<div>", p.cautions(), "</div>\n")
	add("How it was computed", false, "<div>", p.computed(), "</div>\n")
	return fill("sheet", struct {
		Head, Answer, Numbers template.HTML
		Title                 string
		Sections              []sectionView
	}{fill("running head", p.doc), p.answer(), p.numbers, p.title(), sections})
}

// blocks writes the blocks of a section.
func (p *page) blocks(s section) (out []template.HTML) {
	for _, b := range s.blocks {
		out = append(out, p.block(b, s.title))
	}
	return out
}

// leads says whether a section opens with a figure.
func (p *page) leads(blocks []document.Block) bool {
	if len(blocks) == 0 {
		return false
	}
	switch b := blocks[0].(type) {
	case *document.Figure:
		return true
	case *document.Shown:
		return b.Table != nil && figure.Beside(b.Table, figure.Instead) != nil
	}
	return false
}

// answer writes the one sentence, and under it which parameters were set: the
// answer holds for them only.
func (p *page) answer() template.HTML {
	answer := p.doc.Answer
	if answer == "" {
		answer = "This study gives no answer; what it shows stands below."
	}
	var set []string
	for _, q := range p.doc.Params {
		if q.Set {
			s := words.Spaced(q.Name) + " " + typeset.Printed(q.Value) + typeset.UnitAfter(q.Unit)
			if q.Written != "" && q.Written != q.Value {
				s += " (the study says " + typeset.Printed(q.Written) + ")"
			}
			set = append(set, s)
		}
	}
	return fill("answer", struct {
		Load  []string
		Words []typeset.Piece
		Set   string
	}{p.doc.Load, typeset.Numbers(answer), words.List(set)})
}

// cautions writes the box that never vanishes.
func (p *page) cautions() template.HTML { return fill("cautions", p.doc.Cautions) }

// computed writes how the numbers came about: prose, parameters, assumptions,
// the study's text and the command that runs it again.
func (p *page) computed() template.HTML {
	view := struct {
		*document.Document
		Prose template.HTML
	}{Document: p.doc}
	if p.doc.Computed != "" {
		view.Prose = markdown(p.doc.Computed)
	}
	return fill("computed", view)
}
