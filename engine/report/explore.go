package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// exploreData is what the sliders read. Values and changes are whole numbers of
// the last shown decimal, rounded once by package table, so that a page shows the
// very digits that a run prints; null is a state without a stroke.
type exploreData struct {
	ID      string         `json:"id"`
	Axes    []axisData     `json:"axes"`
	Fields  []fieldData    `json:"fields"`
	Base    []int          `json:"base"`
	Reasons map[int]string `json:"reasons,omitempty"`
	Plots   []plotData     `json:"plots"`
	Drawn   int            `json:"drawn"` // field drawn first
}

type axisData struct {
	Name  string    `json:"name"`
	Label string    `json:"label"`
	Unit  string    `json:"unit"`
	Nums  []float64 `json:"nums,omitempty"`
	Shown []string  `json:"shown"`
}

type fieldData struct {
	Label  string     `json:"label"`
	Unit   string     `json:"unit"`
	Digits int        `json:"digits"`
	Change int        `json:"change"`
	Clock  bool       `json:"clock,omitempty"`
	Base   *float64   `json:"base"`
	Values []*int     `json:"values"`
	Diffs  []*int     `json:"diffs"`
	Axis   axisOfPlot `json:"axis"`
}

type axisOfPlot struct {
	Low    float64   `json:"low"`
	High   float64   `json:"high"`
	Ticks  []float64 `json:"ticks"`
	Labels []string  `json:"labels"`
	Title  string    `json:"title"`
	Span   string    `json:"span"`
}

func axisShown(a *document.Axis, i int) string {
	if a.Texts != nil {
		return a.Texts[i]
	}
	return typeset.Printed(table.Fixed(a.Values[i], table.ColumnDigits(a.Values, a.Digits)))
}

// explore writes sliders over computed states, with what follows them: figures,
// a sentence and a drawing. Without scripts it is the base case and a table.
func (p *page) explore(e *document.Explore) {
	if why := exploreFault(e); why != "" {
		p.put("<p class=\"empty\">No sliders: ", esc(why), ".</p>\n")
		return
	}
	id := fmt.Sprintf("e%d", len(p.explores))
	data := exploreDataOf(e, id)
	p.put("<div class=\"explore\" id=\"", id, "\">\n")
	p.put("<div>\n")
	p.sliders(e, id, data)
	p.outs(e, id, data)
	p.put("</div>\n")
	p.figures++
	p.put("<figure><div class=\"draw\">\n")
	if len(data.Fields) > 1 {
		p.put(fmt.Sprintf(`<p class="pick noprint" hidden><label>drawn: <select id="%sfield">`, id))
		for k, f := range data.Fields {
			p.put(fmt.Sprintf(`<option value="%d"%s>%s</option>`, k, map[bool]string{true: " selected"}[k == data.Drawn], esc(f.Label)))
		}
		p.put("</select></label></p>\n")
	}
	wide := float64(draw.Wide)
	if p.lesson {
		wide = draw.Lesson
	}
	for k, w := range []float64{wide, draw.Narrow} {
		pl := p.fan(e, data, fmt.Sprintf("%sp%d", id, k), w, []string{"wide", "narrow"}[k])
		data.Plots = append(data.Plots, pl)
	}
	name := fmt.Sprintf("Figure %d as a table", p.figures)
	p.put("<details class=\"data\"><summary>", name, esc(sliceWords(e)), "</summary>")
	p.dataTable(sliceOf(e), name, "", "")
	p.put("</details></div>\n<figcaption><b>", fmt.Sprintf("Figure %d.", p.figures), "</b> ", esc(captionWords(e)), "</figcaption></figure>\n</div>\n")
	p.explores = append(p.explores, data)
}

func exploreFault(e *document.Explore) string {
	switch n := e.Size(); {
	case len(e.Axes) == 0 || len(e.Fields) == 0 || n == 0:
		return "there is nothing to explore"
	case len(e.States) != n || len(e.Base) != len(e.Axes):
		return fmt.Sprintf("the grid has %d states and %d were computed", n, len(e.States))
	}
	return ""
}

func exploreDataOf(e *document.Explore, id string) exploreData {
	d := exploreData{ID: id, Base: e.Base, Reasons: map[int]string{}}
	for i := range e.Axes {
		a := &e.Axes[i]
		x := axisData{Name: a.Name, Label: words.Capital(words.Spaced(a.Name)), Unit: a.Unit, Nums: a.Values}
		for j := range a.Len() {
			x.Shown = append(x.Shown, typeset.Clean(axisShown(a, j)))
		}
		d.Axes = append(d.Axes, x)
	}
	base := e.Index(e.Base)
	for k, f := range e.Fields {
		var all []float64
		for s := range e.States {
			all = append(all, e.Value(s, k))
		}
		digits, change := f.Digits, f.Change
		if digits < 0 {
			digits = table.ColumnDigits(all, digits)
		}
		if change < 0 {
			change = min(digits+1, 8)
		}
		out := fieldData{Label: words.Spaced(f.Name), Unit: f.Unit, Digits: digits, Change: change, Clock: f.Clock}
		b := e.Value(base, k)
		if !math.IsNaN(b) {
			out.Base = &b
		}
		for _, v := range all {
			out.Values = append(out.Values, scaled(v, digits))
			out.Diffs = append(out.Diffs, scaled(v-b, change))
		}
		y := draw.Axis(all, 6)
		out.Axis = axisOfPlot{Low: y.Low, High: y.High, Ticks: y.Ticks, Title: words.Capital(out.Label), Span: y.Spans()}
		if f.Unit != "" {
			out.Axis.Title += ", " + typeset.UnitName(f.Unit)
		}
		for _, t := range y.Ticks {
			out.Axis.Labels = append(out.Axis.Labels, y.Label(t))
		}
		d.Fields = append(d.Fields, out)
	}
	d.Drawn = tellingField(e)
	for s, why := range e.Reasons {
		if why != "" {
			d.Reasons[s] = typeset.Clean(why)
		}
	}
	return d
}

// tellingField is the field that the first axis moves most, measured against all
// that the sliders do to it: drawn first, because its lines do not lie flat.
func tellingField(e *document.Explore) int {
	best, most := 0, -1.
	for k := range e.Fields {
		var all, along []float64
		for s := range e.States {
			all = append(all, e.Value(s, k))
		}
		at := append([]int(nil), e.Base...)
		for i := range e.Axes[0].Len() {
			at[0] = i
			along = append(along, e.Value(e.Index(at), k))
		}
		low, high := draw.Extent(all)
		a, b := draw.Extent(along)
		if share := (b - a) / (high - low); high > low && share > most+1e-9 {
			best, most = k, share
		}
	}
	return best
}

// scaled is v as a whole number of its last decimal, rounded as tables are.
func scaled(v float64, digits int) *int {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	n := int(math.Round(table.Round(v, digits) * math.Pow(10, float64(digits))))
	return &n
}

func (p *page) sliders(e *document.Explore, id string, d exploreData) {
	p.put("<div class=\"panel noprint\" hidden>\n")
	var base []string
	for i, a := range d.Axes {
		base = append(base, words.Spaced(a.Name)+" "+a.Shown[e.Base[i]]+typeset.UnitAfter(a.Unit))
		sid := fmt.Sprintf("%sa%d", id, i)
		p.put(fmt.Sprintf(`<div class="sl"><label for="%s">%s</label><input type="range" id="%s" min="0" max="%d" step="1" value="%d">`,
			sid, esc(a.Label), sid, len(a.Shown)-1, e.Base[i]))
		if a.Nums != nil {
			unit := ""
			if a.Unit != "" {
				unit = ", " + typeset.UnitName(a.Unit)
			}
			p.put(fmt.Sprintf(`<span class="nb"><input type="number" id="%sn" aria-label="%s" step="any" value="%s"><span class="u">%s</span></span></div>`,
				sid, esc(a.Label+unit), esc(table.Fixed(a.Nums[e.Base[i]], table.AutoDigits)), esc(typeset.UnitAfter(a.Unit))))
		} else {
			p.put(fmt.Sprintf(`<output class="nb" id="%sn" for="%s">%s</output></div>`, sid, sid, esc(a.Shown[e.Base[i]])))
		}
		p.put("\n")
	}
	p.put(fmt.Sprintf("<button type=\"button\" id=\"%sreset\">Back to %s</button>\n</div>\n", id, esc(strings.Join(base, ", "))))
	p.put("<p class=\"small noscript\">Sliders need scripts. This is the base case: ", esc(strings.Join(base, ", ")), ". The table below the drawing has the rest.</p>\n")
}

func (p *page) outs(e *document.Explore, id string, d exploreData) {
	base := e.Index(e.Base)
	p.put("<dl class=\"outs\">")
	for k, f := range d.Fields {
		p.put(fmt.Sprintf(`<div><dt>%s</dt><dd><output id="%so%d">%s</output><span class="%s">%s</span><span class="d" id="%sd%d">as the base</span></dd></div>`,
			esc(words.Capital(f.Label)), id, k, esc(fieldText(e, base, k, d)), map[bool]string{true: "deg", false: "u"}[f.Unit == "deg"], esc(fieldUnit(f)), id, k))
	}
	p.put(fmt.Sprintf("</dl>\n<p class=\"say\" id=\"%ssay\" role=\"status\">%s</p>\n", id, esc(stateWords(e, e.Base, d))))
}

// fieldUnit is the unit after a field's value: a clock needs no s.
func fieldUnit(f fieldData) string {
	if f.Clock {
		return strings.TrimPrefix(typeset.UnitAfter(strings.TrimPrefix(f.Unit, "s")), "")
	}
	return typeset.UnitAfter(f.Unit)
}

func fieldText(e *document.Explore, state, field int, d exploreData) string {
	v, f := e.Value(state, field), d.Fields[field]
	if math.IsNaN(v) {
		return "–"
	}
	if f.Clock {
		return typeset.Printed(table.Clock(v, f.Digits))
	}
	return typeset.Number(v, f.Digits)
}

// stateWords is the sentence that follows the sliders.
func stateWords(e *document.Explore, at []int, d exploreData) string {
	var where, what []string
	for i, a := range d.Axes {
		where = append(where, words.Spaced(a.Name)+" "+a.Shown[at[i]]+typeset.UnitAfter(a.Unit))
	}
	state := e.Index(at)
	for k, f := range d.Fields {
		if t := fieldText(e, state, k, d); t != "–" {
			what = append(what, f.Label+" "+t+fieldUnit(f))
		}
	}
	if len(what) == 0 {
		why := "no stroke there"
		if state < len(e.Reasons) && e.Reasons[state] != "" {
			why = e.Reasons[state]
		}
		return words.Capital(strings.Join(where, ", ")) + ": " + why
	}
	return words.Capital(strings.Join(where, ", ")) + ": " + strings.Join(what, ", ") + "."
}

func captionWords(e *document.Explore) string {
	s := "Every point is a computed stroke; nothing lies between them."
	if len(e.Axes) > 1 {
		s = "One line for each " + words.Spaced(e.Axes[1].Name) + ", the chosen one strong. " + s
	}
	return s
}

// slice is the base case as a table: over the first two axes where that stays
// readable, else over the first.
func sliceOf(e *document.Explore) *table.Table {
	two := len(e.Axes) > 1 && e.Axes[0].Len()*e.Axes[1].Len() <= 120
	t := &table.Table{}
	axis := func(i int) *table.Column {
		a := &e.Axes[i]
		c := &table.Column{Name: a.Name, Unit: a.Unit, Digits: a.Digits}
		if a.Texts != nil {
			c.Kind = table.Text
		}
		t.Columns = append(t.Columns, c)
		return c
	}
	put := func(c *table.Column, i, at int) {
		if c.Kind == table.Text {
			c.Texts = append(c.Texts, e.Axes[i].Texts[at])
		} else {
			c.Nums = append(c.Nums, e.Axes[i].Values[at])
		}
	}
	first := axis(0)
	var second *table.Column
	seconds := 1
	if two {
		second = axis(1)
		seconds = e.Axes[1].Len()
	}
	var fields []*table.Column
	for _, f := range e.Fields {
		c := &table.Column{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change}
		fields = append(fields, c)
		t.Columns = append(t.Columns, c)
	}
	for i := range e.Axes[0].Len() {
		for j := range seconds {
			at := append([]int(nil), e.Base...)
			at[0] = i
			put(first, 0, i)
			if two {
				at[1] = j
				put(second, 1, j)
			}
			for k := range fields {
				fields[k].Nums = append(fields[k].Nums, e.Value(e.Index(at), k))
			}
		}
	}
	return t
}

// sliceWords says what the table holds fixed.
func sliceWords(e *document.Explore) string {
	from := 1
	if len(e.Axes) > 1 && e.Axes[0].Len()*e.Axes[1].Len() <= 120 {
		from = 2
	}
	var fixed []string
	for i := from; i < len(e.Axes); i++ {
		fixed = append(fixed, words.Spaced(e.Axes[i].Name)+" "+axisShown(&e.Axes[i], e.Base[i])+typeset.UnitAfter(e.Axes[i].Unit))
	}
	if len(fixed) == 0 {
		return ""
	}
	return ", " + strings.Join(fixed, ", ")
}
