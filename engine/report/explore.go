package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
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

// size is the number of states, and stride how far apart two neighbours on an
// axis lie.
func (e *Explore) size() int {
	n := 1
	for _, a := range e.Axes {
		n *= a.len()
	}
	return n
}

func (a *Axis) len() int { return max(len(a.Values), len(a.Texts)) }

func (a *Axis) shown(i int) string {
	if a.Texts != nil {
		return a.Texts[i]
	}
	return printed(table.Fixed(a.Values[i], table.ColumnDigits(a.Values, a.Digits)))
}

// index of a state: the first axis varies slowest.
func (e *Explore) index(at []int) int {
	k := 0
	for i := range e.Axes {
		k = k*e.Axes[i].len() + at[i]
	}
	return k
}

// value of a field in a state; NaN where there is no stroke.
func (e *Explore) value(state, field int) float64 {
	if state >= len(e.States) || field >= len(e.States[state]) {
		return math.NaN()
	}
	return e.States[state][field]
}

// explore writes sliders over computed states, with what follows them: figures,
// a sentence and a drawing. Without scripts it is the base case and a table.
func (p *page) explore(e *Explore) {
	if why := exploreFault(e); why != "" {
		p.put("<p class=\"empty\">No sliders: ", esc(why), ".</p>\n")
		return
	}
	id := fmt.Sprintf("e%d", len(p.explores))
	data := e.data(id)
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
	wide := float64(wideWidth)
	if p.lesson {
		wide = lessonWidth
	}
	for k, w := range []float64{wide, narrowWidth} {
		pl := p.fan(e, data, fmt.Sprintf("%sp%d", id, k), w, []string{"wide", "narrow"}[k])
		data.Plots = append(data.Plots, pl)
	}
	name := fmt.Sprintf("Figure %d as a table", p.figures)
	p.put("<details class=\"data\"><summary>", name, esc(e.sliceWords()), "</summary>")
	p.dataTable(e.slice(), name, "", "")
	p.put("</details></div>\n<figcaption><b>", fmt.Sprintf("Figure %d.", p.figures), "</b> ", esc(e.captionWords()), "</figcaption></figure>\n</div>\n")
	p.explores = append(p.explores, data)
}

func exploreFault(e *Explore) string {
	switch n := e.size(); {
	case len(e.Axes) == 0 || len(e.Fields) == 0 || n == 0:
		return "there is nothing to explore"
	case len(e.States) != n || len(e.Base) != len(e.Axes):
		return fmt.Sprintf("the grid has %d states and %d were computed", n, len(e.States))
	}
	return ""
}

func (e *Explore) data(id string) exploreData {
	d := exploreData{ID: id, Base: e.Base, Reasons: map[int]string{}}
	for i := range e.Axes {
		a := &e.Axes[i]
		x := axisData{Name: a.Name, Label: capital(words(a.Name)), Unit: a.Unit, Nums: a.Values}
		for j := range a.len() {
			x.Shown = append(x.Shown, clean(a.shown(j)))
		}
		d.Axes = append(d.Axes, x)
	}
	base := e.index(e.Base)
	for k, f := range e.Fields {
		var all []float64
		for s := range e.States {
			all = append(all, e.value(s, k))
		}
		digits, change := f.Digits, f.Change
		if digits < 0 {
			digits = table.ColumnDigits(all, digits)
		}
		if change < 0 {
			change = min(digits+1, 8)
		}
		out := fieldData{Label: words(f.Name), Unit: f.Unit, Digits: digits, Change: change, Clock: f.Clock}
		b := e.value(base, k)
		if !math.IsNaN(b) {
			out.Base = &b
		}
		for _, v := range all {
			out.Values = append(out.Values, scaled(v, digits))
			out.Diffs = append(out.Diffs, scaled(v-b, change))
		}
		y := axisFor(all, 6)
		out.Axis = axisOfPlot{Low: y.low, High: y.high, Ticks: y.ticks, Title: capital(out.Label), Span: y.spans()}
		if f.Unit != "" {
			out.Axis.Title += ", " + unitName(f.Unit)
		}
		for _, t := range y.ticks {
			out.Axis.Labels = append(out.Axis.Labels, y.label(t))
		}
		d.Fields = append(d.Fields, out)
	}
	d.Drawn = e.tellingField()
	for s, why := range e.Reasons {
		if why != "" {
			d.Reasons[s] = clean(why)
		}
	}
	return d
}

// tellingField is the field that the first axis moves most, measured against all
// that the sliders do to it: drawn first, because its lines do not lie flat.
func (e *Explore) tellingField() int {
	best, most := 0, -1.
	for k := range e.Fields {
		var all, along []float64
		for s := range e.States {
			all = append(all, e.value(s, k))
		}
		at := append([]int(nil), e.Base...)
		for i := range e.Axes[0].len() {
			at[0] = i
			along = append(along, e.value(e.index(at), k))
		}
		low, high := extent(all)
		a, b := extent(along)
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

func (p *page) sliders(e *Explore, id string, d exploreData) {
	p.put("<div class=\"panel noprint\" hidden>\n")
	var base []string
	for i, a := range d.Axes {
		base = append(base, words(a.Name)+" "+a.Shown[e.Base[i]]+unitAfter(a.Unit))
		sid := fmt.Sprintf("%sa%d", id, i)
		p.put(fmt.Sprintf(`<div class="sl"><label for="%s">%s</label><input type="range" id="%s" min="0" max="%d" step="1" value="%d">`,
			sid, esc(a.Label), sid, len(a.Shown)-1, e.Base[i]))
		if a.Nums != nil {
			unit := ""
			if a.Unit != "" {
				unit = ", " + unitName(a.Unit)
			}
			p.put(fmt.Sprintf(`<span class="nb"><input type="number" id="%sn" aria-label="%s" step="any" value="%s"><span class="u">%s</span></span></div>`,
				sid, esc(a.Label+unit), esc(table.Fixed(a.Nums[e.Base[i]], table.AutoDigits)), esc(unitAfter(a.Unit))))
		} else {
			p.put(fmt.Sprintf(`<output class="nb" id="%sn" for="%s">%s</output></div>`, sid, sid, esc(a.Shown[e.Base[i]])))
		}
		p.put("\n")
	}
	p.put(fmt.Sprintf("<button type=\"button\" id=\"%sreset\">Back to %s</button>\n</div>\n", id, esc(strings.Join(base, ", "))))
	p.put("<p class=\"small noscript\">Sliders need scripts. This is the base case: ", esc(strings.Join(base, ", ")), ". The table below the drawing has the rest.</p>\n")
}

func (p *page) outs(e *Explore, id string, d exploreData) {
	base := e.index(e.Base)
	p.put("<dl class=\"outs\">")
	for k, f := range d.Fields {
		p.put(fmt.Sprintf(`<div><dt>%s</dt><dd><output id="%so%d">%s</output><span class="%s">%s</span><span class="d" id="%sd%d">as the base</span></dd></div>`,
			esc(capital(f.Label)), id, k, esc(e.fieldText(base, k, d)), map[bool]string{true: "deg", false: "u"}[f.Unit == "deg"], esc(fieldUnit(f)), id, k))
	}
	p.put(fmt.Sprintf("</dl>\n<p class=\"say\" id=\"%ssay\" role=\"status\">%s</p>\n", id, esc(e.stateWords(e.Base, d))))
}

// fieldUnit is the unit after a field's value: a clock needs no s.
func fieldUnit(f fieldData) string {
	if f.Clock {
		return strings.TrimPrefix(unitAfter(strings.TrimPrefix(f.Unit, "s")), "")
	}
	return unitAfter(f.Unit)
}

func (e *Explore) fieldText(state, field int, d exploreData) string {
	v, f := e.value(state, field), d.Fields[field]
	if math.IsNaN(v) {
		return "–"
	}
	if f.Clock {
		return printed(table.Clock(v, f.Digits))
	}
	return numeral(v, f.Digits)
}

// stateWords is the sentence that follows the sliders.
func (e *Explore) stateWords(at []int, d exploreData) string {
	var where, what []string
	for i, a := range d.Axes {
		where = append(where, words(a.Name)+" "+a.Shown[at[i]]+unitAfter(a.Unit))
	}
	state := e.index(at)
	for k, f := range d.Fields {
		if t := e.fieldText(state, k, d); t != "–" {
			what = append(what, f.Label+" "+t+fieldUnit(f))
		}
	}
	if len(what) == 0 {
		why := "no stroke there"
		if state < len(e.Reasons) && e.Reasons[state] != "" {
			why = e.Reasons[state]
		}
		return capital(strings.Join(where, ", ")) + ": " + why
	}
	return capital(strings.Join(where, ", ")) + ": " + strings.Join(what, ", ") + "."
}

func (e *Explore) captionWords() string {
	s := "Every point is a computed stroke; nothing lies between them."
	if len(e.Axes) > 1 {
		s = "One line for each " + words(e.Axes[1].Name) + ", the chosen one strong. " + s
	}
	return s
}

// slice is the base case as a table: over the first two axes where that stays
// readable, else over the first.
func (e *Explore) slice() *table.Table {
	two := len(e.Axes) > 1 && e.Axes[0].len()*e.Axes[1].len() <= 120
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
		seconds = e.Axes[1].len()
	}
	var fields []*table.Column
	for _, f := range e.Fields {
		c := &table.Column{Name: f.Name, Unit: f.Unit, Digits: f.Digits, Change: f.Change}
		fields = append(fields, c)
		t.Columns = append(t.Columns, c)
	}
	for i := range e.Axes[0].len() {
		for j := range seconds {
			at := append([]int(nil), e.Base...)
			at[0] = i
			put(first, 0, i)
			if two {
				at[1] = j
				put(second, 1, j)
			}
			for k := range fields {
				fields[k].Nums = append(fields[k].Nums, e.value(e.index(at), k))
			}
		}
	}
	return t
}

// sliceWords says what the table holds fixed.
func (e *Explore) sliceWords() string {
	from := 1
	if len(e.Axes) > 1 && e.Axes[0].len()*e.Axes[1].len() <= 120 {
		from = 2
	}
	var fixed []string
	for i := from; i < len(e.Axes); i++ {
		fixed = append(fixed, words(e.Axes[i].Name)+" "+e.Axes[i].shown(e.Base[i])+unitAfter(e.Axes[i].Unit))
	}
	if len(fixed) == 0 {
		return ""
	}
	return ", " + strings.Join(fixed, ", ")
}
