package report

import (
	"fmt"
	"math"

	"thole/engine/table"
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
	s := &toSet{what: words(t.Column("quantity").Texts[i]), from: before.Value(i), to: after.Value(i),
		low: math.NaN(), high: math.NaN(), digits: 1, unit: unitOf(t, i)}
	s.before, s.after = quantity(s.from, 1, s.unit), quantity(s.to, 1, s.unit)
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
		if s, ok := b.(*Shown); ok && settingOf(s.Table, "") != nil {
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
	f := &Figure{Kind: Tape, Table: t}
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
		from += " The bracket is the 95" + thin + "% of what is uncertain."
	}
	return from
}

// drawTape draws a measuring tape in true proportion: now and new above it with
// the way between them, the interval as a bracket beneath.
func drawTape(f *Figure, d *drawing) {
	s := settingOf(f.Table, f.X)
	low, high := extent([]float64{s.from, s.to, s.low, s.high})
	span := math.Max(high-low, 4)
	room := .45 * span
	if d.narrow() {
		room = .55 * span
	}
	low, high = math.Floor(low-room), math.Ceil(high+room)
	x := scale{low: low, high: high, from: 6, to: d.w - 6}
	const top, bottom = 84., 134.
	torn := func(at, lean float64) string {
		return fmt.Sprintf("L%s %sL%s %sL%s %s", num(at+lean), num(top+17), num(at-lean), num(top+33), num(at+lean/2), num(bottom))
	}
	d.path("tape", fmt.Sprintf("M6 %s%sH%sL%s %sL%s %sL%s %sZ", num(top), torn(6, 3), num(d.w-6), num(d.w-9), num(top+33), num(d.w-3), num(top+17), num(d.w-6), num(top)))
	perUnit := (d.w - 12) / (high - low)
	for k := int(low) + 1; k < int(high); k++ {
		length := 13.
		switch {
		case k%10 == 0:
			length = 22
		case k%5 == 0:
			length = 18
		}
		d.line("rule", x.at(float64(k)), bottom-1, x.at(float64(k)), bottom-length)
		switch {
		case k%5 == 0 && 5*perUnit > 34 || k%10 == 0:
			d.text("b mid", x.at(float64(k)), top+19, fmt.Sprint(k))
		case perUnit > 16:
			d.text("sm t2 mid", x.at(float64(k)), top+19, fmt.Sprint(k%10))
		}
		if perUnit > 12 {
			d.line("axis", x.at(float64(k)-.5), bottom-1, x.at(float64(k)-.5), bottom-7)
		}
	}
	a, b := x.at(s.from), x.at(s.to)
	for _, l := range []struct {
		look string
		at   float64
	}{{"ln s1", a}, {"ln s2", b}} { // the numbers on the tape stay readable
		d.line(l.look, l.at, 42, l.at, top+5)
		d.line(l.look, l.at, top+24, l.at, bottom-1)
	}
	d.mark(0, a, 46)
	d.mark(1, b, 46)
	now, new := "now "+s.before, "new "+s.after
	wa, wb := textWidth(now, d.textSize())+4, textWidth(new, d.textSize())+4
	clampMid := func(at, w float64) float64 { return math.Max(w/2, math.Min(at, d.w-w/2)) }
	ma, mb := clampMid(a, wa), clampMid(b, wb)
	rowA, rowB := 34., 34.
	if math.Abs(ma-mb) < (wa+wb)/2+8 {
		rowA = 17
		d.line("lead-line", a, 22, a, 40)
	}
	d.text("b mid halo", ma, rowA, now)
	d.text("b mid halo", mb, rowB, new)
	if math.Abs(a-b) > 60 { // the way from now to new, as an arrow
		dir := math.Copysign(1, b-a)
		d.line("rule", a+dir*9, 62, b-dir*9, 62)
		d.path("rule", fmt.Sprintf("M%s 58L%s 62L%s 66", num(b-dir*15), num(b-dir*9), num(b-dir*15)))
		d.text("sm mid halo", (a+b)/2, 57, signed(s.to-s.from, 1)+thin+s.unit)
	}
	d.h = 152
	if !math.IsNaN(s.low) {
		l, h := x.at(s.low), x.at(s.high)
		d.path("rule", fmt.Sprintf("M%s 142V150H%sV142", num(l), num(h)))
		label := numeral(s.low, 1) + " to " + quantity(s.high, 1, s.unit) + ", 95" + thin + "%"
		d.text("sm t2 mid", clampMid((l+h)/2, textWidth(label, 12.5)+4), 166, label)
		d.h = 172
	}
}

func describeTape(f *Figure) string {
	s := settingOf(f.Table, f.X)
	out := fmt.Sprintf("A measuring tape. The %s is now %s; the new one is %s", s.what, s.before, s.after)
	if !math.IsNaN(s.low) {
		out += fmt.Sprintf(", between %s and %s", numeral(s.low, 1), quantity(s.high, 1, s.unit))
	}
	return out + "."
}
