package report

import (
	"fmt"
	"math"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// settable are the lengths that someone sets with a tape, the first that moves
// being the one that is drawn. A collar that moves changes both parts of an oar:
// it is set by the inboard.
var settable = []string{"inboard", "outboard", "length"}

// leastSet is the smallest change, cm, that anybody sets.
const leastSet = .5

// toSet is the line of a comparison that someone sets.
type toSet struct {
	what, before, after string
	from, to            float64
	low, high           float64 // of the new length, 95 %; NaN where there was one run
	digits              int
	unit                string
}

// lineToSet finds the line of a comparison to set: the one of that name, or the
// first length that moves. -1 when there is none.
func lineToSet(t *table.Table, name string) int {
	quantity, before, after := textColumn(t, "quantity"), t.Column("before"), t.Column("after")
	if quantity == nil || before == nil || after == nil || before.Kind == table.Text || after.Kind == table.Text {
		return -1
	}
	names := settable
	if name != "" {
		names = []string{name}
	}
	for _, want := range names {
		for i, q := range quantity.Texts {
			b, a := before.Value(i), after.Value(i)
			if q == want && unitOf(t, i) == "cm" && !math.IsNaN(a) && !math.IsNaN(b) && math.Abs(a-b) >= leastSet-1e-9 && math.Abs(a-b) <= 60 && math.Abs(b) < 1000 {
				return i
			}
		}
	}
	return -1
}

func unitOf(t *table.Table, i int) string {
	if u := textColumn(t, "unit"); u != nil {
		return u.Texts[i]
	}
	return t.Column("before").UnitAt(i)
}

// setting reads the length to set out of a comparison, or nil.
func (p *page) setting(t *table.Table) *toSet { return settingOf(t, "") }

func settingOf(t *table.Table, name string) *toSet {
	if !isComparison(t) {
		return nil
	}
	i := lineToSet(t, name)
	if i < 0 {
		return nil
	}
	before, after, change := t.Column("before"), t.Column("after"), t.Column("change")
	s := &toSet{what: words.Spaced(t.Column("quantity").Texts[i]), from: before.Value(i), to: after.Value(i),
		low: math.NaN(), high: math.NaN(), digits: 1, unit: unitOf(t, i)}
	s.before, s.after = typeset.Quantity(s.from, 1, s.unit), typeset.Quantity(s.to, 1, s.unit)
	if change != nil && change.Kind == table.Measured && change.Estimates[i] != nil {
		e := change.Estimates[i]
		if math.Abs(e.Low) < 100 && math.Abs(e.High) < 100 { // an interval that a tape can hold
			s.low, s.high = s.from+e.Low, s.from+e.High
		}
	}
	return s
}

// firstSetting is the first comparison told that has a length to set.
func (p *page) firstSetting() *table.Table {
	for _, b := range p.doc.Blocks {
		if s, ok := b.(*document.Shown); ok && settingOf(s.Table, "") != nil {
			return s.Table
		}
	}
	return nil
}

// tapeFor draws the tape above the first comparison with a length to set.
func (p *page) tapeFor(t *table.Table) {
	if p.taped || settingOf(t, "") == nil {
		return
	}
	p.taped = true
	f := &document.Figure{Kind: figure.Tape, Table: t}
	p.figures++
	p.put("<figure>\n<div class=\"draw\">")
	p.drawn(f, drawTape, figureTitle(f))
	p.put("</div>\n<figcaption><b>", fmt.Sprintf("Figure %d.", p.figures), "</b> ", esc(tapeCaption(settingOf(t, ""))), "</figcaption>\n</figure>\n")
}

func tapeCaption(s *toSet) string {
	from := map[string]string{
		"outboard": "The tape reads from the collar’s face to the end of the blade.",
		"inboard":  "The tape reads from the collar’s face to the end of the handle.",
		"length":   "The tape reads from the end of the handle to the end of the blade.",
	}[s.what]
	if !math.IsNaN(s.low) {
		from += " The bracket is the 95" + typeset.Thin + "% of what is uncertain."
	}
	return from
}

// drawTape draws a measuring tape in true proportion: now and new above it with
// the way between them, the interval as a bracket beneath.
func drawTape(f *document.Figure, d *draw.Surface) {
	s := settingOf(f.Table, f.X)
	low, high := draw.Extent([]float64{s.from, s.to, s.low, s.high})
	span := math.Max(high-low, 4)
	room := .45 * span
	if d.Narrow() {
		room = .55 * span
	}
	low, high = math.Floor(low-room), math.Ceil(high+room)
	x := draw.Scale{Low: low, High: high, From: 6, To: d.W - 6}
	const top, bottom = 84., 134.
	torn := func(at, lean float64) string {
		return fmt.Sprintf("L%s %sL%s %sL%s %s", draw.Coord(at+lean), draw.Coord(top+17), draw.Coord(at-lean), draw.Coord(top+33), draw.Coord(at+lean/2), draw.Coord(bottom))
	}
	d.Path("tape", fmt.Sprintf("M6 %s%sH%sL%s %sL%s %sL%s %sZ", draw.Coord(top), torn(6, 3), draw.Coord(d.W-6), draw.Coord(d.W-9), draw.Coord(top+33), draw.Coord(d.W-3), draw.Coord(top+17), draw.Coord(d.W-6), draw.Coord(top)))
	perUnit := (d.W - 12) / (high - low)
	for k := int(low) + 1; k < int(high); k++ {
		length := 13.
		switch {
		case k%10 == 0:
			length = 22
		case k%5 == 0:
			length = 18
		}
		d.Line("rule", x.At(float64(k)), bottom-1, x.At(float64(k)), bottom-length)
		switch {
		case k%5 == 0 && 5*perUnit > 34 || k%10 == 0:
			d.Text("b mid", x.At(float64(k)), top+19, fmt.Sprint(k))
		case perUnit > 16:
			d.Text("sm t2 mid", x.At(float64(k)), top+19, fmt.Sprint(k%10))
		}
		if perUnit > 12 {
			d.Line("axis", x.At(float64(k)-.5), bottom-1, x.At(float64(k)-.5), bottom-7)
		}
	}
	a, b := x.At(s.from), x.At(s.to)
	for _, l := range []struct {
		look string
		at   float64
	}{{"ln s1", a}, {"ln s2", b}} { // the numbers on the tape stay readable
		d.Line(l.look, l.at, 42, l.at, top+5)
		d.Line(l.look, l.at, top+24, l.at, bottom-1)
	}
	d.Mark(0, a, 46)
	d.Mark(1, b, 46)
	now, new := "now "+s.before, "new "+s.after
	wa, wb := draw.TextWidth(now, d.TextSize())+4, draw.TextWidth(new, d.TextSize())+4
	clampMid := func(at, w float64) float64 { return math.Max(w/2, math.Min(at, d.W-w/2)) }
	ma, mb := clampMid(a, wa), clampMid(b, wb)
	rowA, rowB := 34., 34.
	if math.Abs(ma-mb) < (wa+wb)/2+8 {
		rowA = 17
		d.Line("lead-line", a, 22, a, 40)
	}
	d.Text("b mid halo", ma, rowA, now)
	d.Text("b mid halo", mb, rowB, new)
	if math.Abs(a-b) > 60 { // the way from now to new, as an arrow
		dir := math.Copysign(1, b-a)
		d.Line("rule", a+dir*9, 62, b-dir*9, 62)
		d.Path("rule", fmt.Sprintf("M%s 58L%s 62L%s 66", draw.Coord(b-dir*15), draw.Coord(b-dir*9), draw.Coord(b-dir*15)))
		d.Text("sm mid halo", (a+b)/2, 57, typeset.Signed(s.to-s.from, 1)+typeset.Thin+s.unit)
	}
	d.H = 152
	if !math.IsNaN(s.low) {
		l, h := x.At(s.low), x.At(s.high)
		d.Path("rule", fmt.Sprintf("M%s 142V150H%sV142", draw.Coord(l), draw.Coord(h)))
		label := typeset.Number(s.low, 1) + " to " + typeset.Quantity(s.high, 1, s.unit) + ", 95" + typeset.Thin + "%"
		d.Text("sm t2 mid", clampMid((l+h)/2, draw.TextWidth(label, 12.5)+4), 166, label)
		d.H = 172
	}
}

func describeTape(f *document.Figure) string {
	s := settingOf(f.Table, f.X)
	out := fmt.Sprintf("A measuring tape. The %s is now %s; the new one is %s", s.what, s.before, s.after)
	if !math.IsNaN(s.low) {
		out += fmt.Sprintf(", between %s and %s", typeset.Number(s.low, 1), typeset.Quantity(s.high, 1, s.unit))
	}
	return out + "."
}
