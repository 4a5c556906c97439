package report

import (
	"fmt"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// sheetBody writes the page as a sheet to be read from top to bottom. Order of
// the frame: running head, question, answer, what the study told, cautions, on
// the water, computed, the study's text, run and command.
func (p *page) sheetBody() {
	p.put("<body class=\"doc\">\n<a class=\"skip\" href=\"#answer\">To the answer</a>\n<div class=\"sheet\">\n<header>\n")
	p.runningHead()
	p.put("<h1>", esc(p.title()), "</h1>\n")
	p.answer()
	p.put("</header>\n<main>\n")
	n := 0
	for _, s := range p.sections() {
		if s.title == "" {
			p.put("<section class=\"lead\" aria-label=\"Introduction\">\n")
		} else {
			n++
			p.openSection(n, s.title, p.leads(s.blocks))
		}
		if s.teacher {
			p.put("<div class=\"teacher\">\n")
		}
		for _, b := range s.blocks {
			p.block(b, s.title)
		}
		if s.teacher {
			p.put("</div>\n")
		}
		p.put("</section>\n")
	}
	p.closing(n)
	p.put("</main>\n</div>\n")
}

// openSection opens a numbered section. led says that its first block is a
// figure, whose caption then stands under the heading in the margin.
func (p *page) openSection(n int, title string, led bool) {
	class := ""
	if led {
		class = ` class="led"`
	}
	p.put(fmt.Sprintf("<section%s aria-labelledby=\"h%d\"><h2 id=\"h%d\"><span class=\"n\">%d</span> ", class, n, n, n), esc(typeset.Text(title)), "</h2>\n")
}

func (p *page) leads(blocks []document.Block) bool {
	if len(blocks) == 0 {
		return false
	}
	switch b := blocks[0].(type) {
	case *document.Figure:
		return true
	case *document.Shown:
		return b.Table != nil && (!p.taped && settingOf(b.Table, "") != nil || !isComparison(b.Table) && drawnFrom(b.Table) != nil)
	}
	return false
}

// block writes one thing told. under is the heading it stands under, so that a
// table is not named twice.
func (p *page) block(b document.Block, under string) {
	switch b := b.(type) {
	case *document.Note:
		p.put("<div class=\"note\">", markdown(b.Markdown), "</div>\n")
	case *document.Shown:
		p.shown(b, under)
	case *document.Figure:
		p.figure(b)
	case *document.Ask:
		p.ask(b)
	case *document.RigCard:
		p.rigCard(b)
	case *document.Explore:
		p.explore(b)
	}
}

func (p *page) runningHead() {
	d := p.doc
	p.put("<div class=\"run\"><span><b>thole</b>")
	if d.Study != "" {
		p.put(" · ", esc(d.Study))
	}
	p.put("</span>")
	if d.Subject != "" {
		p.put("<span>", esc(d.Subject), "</span>")
	}
	if d.Run != "" {
		p.put("<span>run ", esc(d.Run), "</span>")
	}
	p.put("</div>\n")
}

// answer writes the one sentence, and under it which parameters were set: the
// answer holds for them only.
func (p *page) answer() {
	p.put("<p class=\"answer\" id=\"answer\">", p.answerText(), "</p>\n")
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
	if len(set) > 0 {
		p.put("<p class=\"asset\">Set for this run: ", esc(words.List(set)), ".</p>\n")
	}
}

func (p *page) answerText() string {
	if p.doc.Answer == "" {
		return "This study gives no answer; what it shows stands below."
	}
	return boldNumbers(p.doc.Answer)
}

// closing writes what stands at the end of every page.
func (p *page) closing(n int) {
	p.openSection(n+1, "Before you trust it", false)
	p.put("<div>")
	p.cautions()
	p.put("</div>\n</section>\n")
	if steps := p.onWater(); len(steps) > 0 {
		n++
		p.openSection(n+1, "What to try on the water", false)
		p.put("<div class=\"box\"><ol>")
		for _, s := range steps {
			p.put("<li>", esc(typeset.Text(s)), "</li>")
		}
		p.put("</ol></div>\n</section>\n")
	}
	p.openSection(n+2, "How it was computed", false)
	p.put("<div>")
	p.computed()
	p.put("</div>\n</section>\n")
}

// cautions writes the box that never vanishes.
func (p *page) cautions() {
	p.put("<div class=\"box caution\" role=\"note\" aria-label=\"Cautions\"><h3>Cautions</h3>")
	switch len(p.doc.Cautions) {
	case 0:
		p.put("<p>None found for this study.</p>")
	default:
		p.put("<ul>")
		for _, c := range p.doc.Cautions {
			p.put("<li>", esc(typeset.Text(c.Text)), "</li>")
		}
		p.put("</ul>")
	}
	p.put("</div>\n")
}

// computed writes how the numbers came about: prose, parameters, assumptions,
// the study's text and the command that runs it again.
func (p *page) computed() {
	d := p.doc
	if d.Computed != "" {
		p.put(markdown(d.Computed))
	}
	p.params()
	p.assumptions()
	if d.Source != "" {
		p.put("<details class=\"opened\"><summary>The study’s text", ifSome(", ", d.Study), "</summary><pre tabindex=\"0\"><code>", esc(d.Source), "</code></pre></details>\n")
	}
	p.put("<p class=\"small\">")
	if d.Run != "" {
		p.put("Run ", esc(d.Run))
		if d.Version != "" {
			p.put(", engine ", esc(d.Version))
		}
		p.put(". ")
	}
	if d.Command != "" {
		p.put("Again: <code>", esc(d.Command), "</code>")
	}
	p.put("</p>")
}

func ifSome(before, s string) string {
	if s == "" {
		return ""
	}
	return before + esc(s)
}

func (p *page) params() {
	if len(p.doc.Params) == 0 {
		return
	}
	p.put("<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"Parameters\"><table class=\"fit\"><caption><b>Parameters in force</b></caption><thead><tr><th scope=\"col\">name</th><th scope=\"col\">value</th><th scope=\"col\" class=\"l\">from</th></tr></thead><tbody>")
	for _, q := range p.doc.Params {
		from := "the study"
		if q.Set {
			from = "set for this run"
		}
		v := esc(typeset.Printed(q.Value) + typeset.UnitAfter(q.Unit))
		if q.Value == "" {
			v = "<span class=\"u\">none</span>"
		}
		p.put("<tr><th scope=\"row\">", esc(words.Spaced(q.Name)), "</th><td>", v, "</td><td class=\"l\">", from, "</td></tr>")
	}
	p.put("</tbody></table></div>\n")
}

func (p *page) assumptions() {
	if p.doc.Source == "" && len(p.doc.Assumptions) == 0 {
		return // no study: two runs compared
	}
	p.put("<div class=\"box assume\"><h3>Assumptions, every default in use</h3>")
	if len(p.doc.Assumptions) == 0 {
		p.put("<p>None: the study gives every value itself.</p></div>\n")
		return
	}
	p.put("<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"Assumptions\"><table><thead><tr><th scope=\"col\">what</th><th scope=\"col\" class=\"l\">value</th><th scope=\"col\" class=\"l\">from</th></tr></thead><tbody>")
	for _, a := range p.doc.Assumptions {
		p.put("<tr><th scope=\"row\">", esc(words.Spaced(a.What)), "</th><td class=\"l\">", esc(typeset.Text(a.Value)+typeset.UnitAfter(a.Unit)), "</td><td class=\"l\">", esc(typeset.Text(a.Source)), "</td></tr>")
	}
	p.put("</tbody></table></div></div>\n")
}

// clearly says whether a drawn comparison has a change, other than of a length
// that is set, that is clear and large enough to matter: only then is there
// anything to try.
func clearly(t *table.Table) bool {
	quantity, verdict := t.Column("quantity"), textColumn(t, "verdict")
	if verdict == nil {
		return false
	}
	for i, v := range verdict.Texts {
		if strings.HasPrefix(v, "clearly") && !slices.Contains(settable, quantity.Texts[i]) {
			return true
		}
	}
	return false
}

// onWater gives the steps to try, the document's own or those that follow from
// the length to set: one change a step, then pairs of pieces.
func (p *page) onWater() []string {
	if p.doc.OnWater != nil {
		return p.doc.OnWater
	}
	t := p.firstSetting()
	if t == nil || !clearly(t) {
		return nil
	}
	line := p.setting(t)
	steps := []string{
		fmt.Sprintf("Change one thing: set the %s from %s to %s. Then look at overlap, height and pitch once more.", line.what, line.before, line.after),
		"Row two or three outings to get used to it. Judge heavy and light at the usual rate before judging speed.",
	}
	if speed := changeOf(t, "speed"); speed != "" {
		steps = append(steps, fmt.Sprintf("The model's change of speed is %s. To see it, row pieces in pairs (now, new, new, now) at one rate; trial_plan tells how many pairs that takes.", strings.TrimSpace(speed)))
	}
	return steps
}
