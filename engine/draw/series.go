package draw

import (
	"fmt"
	"strings"
)

// Series is how one line or bar looks: a number from 0, or the reference. It
// gives the classes that the page's style and package chart read.
type Series int

// Reference is what nobody can own (perfect grip): ink, never a colour.
const Reference Series = -1

// Of numbers the thing at a place among those that are no references.
func Of(at int, isReference func(int) bool) Series {
	if isReference(at) {
		return Reference
	}
	n := 0
	for i := range at {
		if !isReference(i) {
			n++
		}
	}
	return Series(n)
}

// class is the series' number behind a letter, ink where it is a reference.
func (s Series) class(letter, ink string) string {
	if s == Reference {
		return ink
	}
	return fmt.Sprint(letter, int(s)%5+1)
}

// Tag is the series' number from 1, or "ref".
func (s Series) Tag() string { return s.class("", "ref") }

// Line is a line of the series, Stroke its colour alone, Band what lies between
// its ends.
func (s Series) Line() string   { return "ln " + s.class("s", "ref") }
func (s Series) Stroke() string { return s.class("c", "sref") }
func (s Series) Band() string   { return "band " + s.class("b", "inkfill") }

// Mark draws the series' own mark. A ring of paper keeps crossings legible.
func (d *Surface) Mark(s Series, x, y float64) { d.MarkSized(s, x, y, 5) }

// MarkSized draws the mark in a size: about its half width.
func (d *Surface) MarkSized(s Series, x, y, r float64) {
	if s == Reference {
		d.Circle("fref", x, y, r*.9)
		return
	}
	switch int(s) % 5 {
	case 0:
		d.Circle("f1", x, y, r)
	case 1:
		e := r * 1.12
		d.Path("f2", Pathf("M%s %sl%s %sl%s %sl%s %sZ", x, y-e, e, e, -e, e, -e, -e))
	case 2:
		d.Rect("f3", x-r*.9, y-r*.9, r*1.8, r*1.8)
	case 3:
		e := r * 1.15
		d.Path("f4", Pathf("M%s %sL%s %sH%sZ", x, y-e, x+e, y+e*.8, x-e))
	case 4:
		e := r * .85
		d.Path("f5", Pathf("M%s %sL%s %sM%s %sL%s %s", x-e, y-e, x+e, y+e, x-e, y+e, x+e, y-e))
	}
}

// Sample draws a short line with its mark: the key to a series.
func (d *Surface) Sample(s Series, x, y float64) {
	d.Line(s.Line(), x, y, x+28, y)
	d.Mark(s, x+14, y)
}

// Key names things above a drawing, each behind a sample as wide as is said; a
// line that is full goes on beneath. It gives the place of the last line.
func (d *Surface) Key(names []string, x, y, sampled float64, sample func(k int, x, y float64)) float64 {
	for k, name := range names {
		name = Cut(name, d.TextSize(), d.W-sampled-4)
		w := sampled + TextWidth(name, d.TextSize()) + 18
		if x > 0 && x+w-18 > d.W {
			x, y = 0, y+19
		}
		sample(k, x, y)
		d.Text("", x+sampled-1, y+4.5, name)
		x += w
	}
	return y
}

// Bar draws a bar that can be told apart without colour: full, hatched, dotted,
// hatched the other way, outlined.
func (d *Surface) Bar(s Series, x, y, w, h float64) {
	k := int(s)%5 + 1
	class := fmt.Sprintf("bar o%d", k)
	if k == 1 {
		class = "bar b1"
	}
	d.rect(class, x, y, w, h, 1, d.pattern(k))
}

// pattern is the fill of a bar that is not full.
func (d *Surface) pattern(k int) string {
	switch k {
	case 1:
		return ""
	case 5:
		return ` fill="none"`
	}
	id := escape(fmt.Sprintf("%sf%d", d.ID, k-1))
	if !strings.Contains(d.defs.String(), id) {
		inside, turn := fmt.Sprintf(`<path class="hl s%d solid" d="M0 0V6"/>`, k), 45
		switch k {
		case 3:
			inside, turn = `<rect class="b3" x="1" y="1" width="3" height="3"/>`, 0
		case 4:
			turn = -45
		}
		fmt.Fprintf(&d.defs, `<pattern id="%s" width="6" height="6" patternUnits="userSpaceOnUse"`+
			` patternTransform="rotate(%d)">%s</pattern>`, id, turn, inside)
	}
	return fmt.Sprintf(` fill="url(#%s)"`, id)
}
