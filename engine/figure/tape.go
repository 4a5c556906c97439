package figure

import (
	"fmt"
	"math"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
)

// Tape is a length to set: Table in the shape of a comparison, its line named
// by X: quantity (text), before, after, change. A page draws one by itself
// above the first comparison shown in which outboard, inboard or length moves.
const Tape document.Kind = "tape"

var tapeKind = &Kind{
	Name:  Tape,
	Needs: func(*document.Figure) []Need { return []Need{{"quantity", Names}, {Name: "before"}, {Name: "after"}} },
	Lacks: func(f *document.Figure) string {
		if SettingOf(f.Table, f.X) == nil {
			return "nothing in it has to be set"
		}
		return ""
	},
	Title:    func(*document.Figure) string { return "On the tape" },
	Describe: describeTape,
	Reading:  func(f *document.Figure) string { return tapeCaption(SettingOf(f.Table, f.X)) },
	Draw:     drawTape,
	Table:    func(*document.Figure) *table.Table { return nil }, // the comparison stands beneath
	Beside: func(t *table.Table) (*document.Figure, Place) {
		if SettingOf(t, "") == nil {
			return nil, Above
		}
		return &document.Figure{Kind: Tape, Table: t}, Above
	},
}

func tapeCaption(s *Setting) string {
	from := map[string]string{
		"outboard": "The tape reads from the collar’s face to the end of the blade.",
		"inboard":  "The tape reads from the collar’s face to the end of the handle.",
		"length":   "The tape reads from the end of the handle to the end of the blade.",
	}[s.What]
	if !math.IsNaN(s.low) {
		from += " The bracket is the 95" + typeset.Thin + "% of what is uncertain."
	}
	return from
}

// drawTape draws a measuring tape in true proportion: now and new above it with
// the way between them, the interval as a bracket beneath.
func drawTape(f *document.Figure, d *draw.Surface) {
	s := SettingOf(f.Table, f.X)
	low, high := draw.Extent([]float64{s.from, s.to, s.low, s.high})
	span := math.Max(high-low, 4)
	room := .45 * span
	if d.Narrow() {
		room = .55 * span
	}
	low, high = math.Floor(low-room), math.Ceil(high+room)
	x := draw.Scale{Low: low, High: high, From: 6, To: d.W - 6}
	const top, bottom = 84., 134.
	right := d.W - 6 // both ends are torn
	d.Path("tape", draw.Pathf("M6 %sL%s %sL%s %sL%s %sH%sL%s %sL%s %sL%s %sZ", top,
		9, top+17, 3, top+33, 7.5, bottom, right, right-3, top+33, right+3, top+17, right, top))
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
	now, new := "now "+s.Before, "new "+s.After
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
		d.Path("rule", draw.Pathf("M%s 58L%s 62L%s 66", b-dir*15, b-dir*9, b-dir*15))
		d.Text("sm mid halo", (a+b)/2, 57, typeset.Signed(s.to-s.from, 1)+typeset.Thin+s.unit)
	}
	d.H = 152
	if !math.IsNaN(s.low) {
		l, h := x.At(s.low), x.At(s.high)
		d.Path("rule", draw.Pathf("M%s 142V150H%sV142", l, h))
		label := typeset.Number(s.low, 1) + " to " + typeset.Quantity(s.high, 1, s.unit) + ", 95" + typeset.Thin + "%"
		d.Text("sm t2 mid", clampMid((l+h)/2, draw.TextWidth(label, 12.5)+4), 166, label)
		d.H = 172
	}
}

func describeTape(f *document.Figure) string {
	s := SettingOf(f.Table, f.X)
	out := fmt.Sprintf("A measuring tape. The %s is now %s; the new one is %s", s.What, s.Before, s.After)
	if !math.IsNaN(s.low) {
		out += fmt.Sprintf(", between %s and %s", typeset.Number(s.low, 1), typeset.Quantity(s.high, 1, s.unit))
	}
	return out + "."
}
