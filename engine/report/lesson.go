package report

import (
	"fmt"
	"strings"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// lessonBody writes the teaching view: one section a screen, a cover before and
// what to keep after it, the teacher's notes and the small print below.
func (p *page) lessonBody() {
	var screens, teacher, lead []section
	for _, s := range p.sections() {
		switch {
		case s.title == "":
			lead = append(lead, s)
		case s.teacher:
			teacher = append(teacher, s)
		default:
			screens = append(screens, s)
		}
	}
	last := len(screens) + 1
	p.put("<body class=\"lesson\">\n<main>\n<section class=\"scr cover\" id=\"start\" aria-labelledby=\"h0\">")
	p.runningHead()
	p.put("<h1 id=\"h0\">", esc(p.title()), "</h1>\n")
	for _, s := range lead {
		p.screenBlocks(s)
	}
	p.put("<p class=\"keysline\"><kbd>Page ↓</kbd> goes on, <kbd>Page ↑</kbd> back, <kbd>1</kbd>–<kbd>4</kbd> guess, <kbd>R</kbd> reveals</p>\n")
	p.steps(0, last)
	p.put("</section>\n")
	for i, s := range screens {
		p.openScreen(i+1, fmt.Sprintf("s%d", i+1), s.title)
		p.screenBlocks(s)
		p.steps(i+1, last)
		p.put("</section>\n")
	}
	p.openScreen(last, "keep", "To keep")
	p.answer()
	p.cautions()
	p.steps(last, last)
	p.put("</section>\n")
	p.behind(teacher)
	p.put("</main>\n")
}

func (p *page) openScreen(n int, id, title string) {
	p.put(fmt.Sprintf("<section class=\"scr\" id=\"%s\" aria-labelledby=\"h%d\"><h2 id=\"h%d\"><span class=\"n\">%d</span> ", id, n, n, n), esc(typeset.Text(title)), "</h2>\n")
}

// steps links a screen to its neighbours.
func (p *page) steps(at, last int) {
	id := func(n int) string {
		switch n {
		case 0:
			return "start"
		case last:
			return "keep"
		}
		return fmt.Sprintf("s%d", n)
	}
	back, next := "<span></span>", "<span></span>"
	if at > 0 {
		back = "<a href=\"#" + id(at-1) + "\" rel=\"prev\">back</a>"
	}
	if at < last {
		word := "on"
		if at == 0 {
			word = "begin"
		}
		next = "<a href=\"#" + id(at+1) + "\" rel=\"next\">" + word + "</a>"
	}
	p.put(fmt.Sprintf("<nav class=\"step noprint\" aria-label=\"Screen %d of %d\">%s<span>%d of %d</span>%s</nav>\n", at, last, back, at, last, next))
}

// screenBlocks writes a section's blocks: words and questions at the left, what
// they are about at the right, row by row in the order they were told; sliders,
// cards and the moving picture take the whole width. What follows a question
// waits, in its own room, until the question was guessed or revealed.
func (p *page) screenBlocks(s section) {
	ask := ""
	var left, right []string
	flush := func() {
		switch {
		case len(left)+len(right) == 0:
		case len(right) == 0:
			p.put("<div class=\"rows\">", strings.Join(left, ""), "</div>\n")
		case len(left) == 0:
			p.put("<div class=\"rows\">", strings.Join(right, ""), "</div>\n")
		default:
			p.put("<div class=\"cols\"><div>", strings.Join(left, ""), "</div>\n<div>", strings.Join(right, ""), "</div></div>\n")
		}
		left, right = nil, nil
	}
	for _, b := range s.blocks {
		out := p.written(func() { p.block(b, s.title) })
		_, isAsk := b.(*document.Ask)
		if isAsk {
			ask = fmt.Sprintf("ask%d", p.asks)
		} else if ask != "" {
			out = "<div class=\"hold\" data-for=\"" + ask + "\">" + out + "</div>\n"
		}
		switch {
		case wholeWidth(b):
			flush()
			left = append(left, out)
			flush()
		case atRight(b):
			right = append(right, out)
		default:
			if len(right) > 0 {
				flush()
			}
			left = append(left, out)
		}
	}
	flush()
}

// written gives what a part of the page writes, instead of writing it.
func (p *page) written(part func()) string {
	before := p.String()
	p.Reset()
	part()
	out := p.String()
	p.Reset()
	p.WriteString(before)
	return out
}

func wholeWidth(b document.Block) bool {
	switch b := b.(type) {
	case *document.Explore, *document.RigCard:
		return true
	case *document.Figure:
		return b.Kind == figure.Moving
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
func (p *page) ask(a *document.Ask) {
	p.asks++
	id := fmt.Sprintf("ask%d", p.asks)
	answer, unit := typeset.Text(typeset.Clean(a.Answer)), ""
	if len(a.Choices) > 0 {
		p.put(fmt.Sprintf("<div class=\"ask\" id=\"%s\" data-answer=\"%s\"><fieldset><legend>", id, esc(a.Answer)), esc(typeset.Text(a.Question)), "</legend><div class=\"ch\">")
		for i, c := range a.Choices {
			p.put(fmt.Sprintf("<label><input type=\"radio\" name=\"%s\" id=\"%sc%d\" value=\"%s\"><span>%s</span></label>", id, id, i, esc(c), esc(typeset.Text(c))))
		}
		p.put("</div></fieldset>")
	} else {
		unit = typeset.UnitAfter(a.Unit)
		if answer == "" {
			answer = typeset.Number(a.Number, table.AutoDigits)
		}
		answer = typeset.Printed(answer)
		if unit != "" && !strings.HasSuffix(answer, strings.TrimLeft(unit, typeset.Thin)) {
			answer += unit
		}
		p.put(fmt.Sprintf("<div class=\"ask\" id=\"%s\" data-number=\"%s\" data-tolerance=\"%s\"><div class=\"ch\"><label class=\"nq\"><span class=\"lg\">", id, esc(plainNumber(a.Number)), esc(plainNumber(a.Tolerance))),
			esc(typeset.Text(a.Question)), fmt.Sprintf("</span> <span class=\"gb\"><input type=\"number\" step=\"any\" id=\"%sn\"><span class=\"gu\">%s</span></span></label></div>", id, esc(unit)))
	}
	p.put("<div class=\"rv\"><button type=\"button\" class=\"rev noprint\" hidden>Reveal</button>",
		"<div class=\"after\" tabindex=\"-1\"><p><b>", esc(words.Capital(words.Sentence(answer))), "</b> <span class=\"you\"></span>", esc(typeset.Text(a.Because)), "</p></div></div></div>\n")
}

// behind writes what a lesson needs and a class does not: the teacher's notes,
// folded and printed apart, and how it was computed.
func (p *page) behind(teacher []section) {
	p.put("<section class=\"behind doc\" aria-label=\"Behind the lesson\">\n")
	for _, s := range teacher {
		p.put("<details class=\"opened teacher\"><summary>", esc(typeset.Text(s.title)), "</summary>\n")
		for _, b := range s.blocks {
			p.block(b, s.title)
		}
		p.put("</details>\n")
	}
	p.put("<h2>How it was computed</h2>\n<div>")
	p.computed()
	p.put("</div></section>\n")
}

// plainNumber writes a number as scripts read it.
func plainNumber(v float64) string { return strings.TrimSpace(fmt.Sprintf("%g", v)) }
