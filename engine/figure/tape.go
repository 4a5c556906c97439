package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Tape is a length to set: Table in the shape of a comparison, its line named
// by X: quantity (text), before, after, change. A page draws one by itself
// above the first comparison shown in which outboard, inboard or length moves.
const Tape document.Kind = "tape"

var tapeKind = &Kind{
	Name: Tape,
	Needs: func(*document.Figure) []Need {
		return []Need{{"quantity", Names}, {Name: "before"},
			{Name: "after"}}
	},
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
		label := typeset.Number(s.low, 1) + " to " + typeset.Quantity(s.high, 1, s.unit) + ", 95" +
			typeset.Thin + "%"
		d.Text("sm t2 mid", clampMid((l+h)/2, draw.TextWidth(label, 12.5)+4), 166, label)
		d.H = 172
	}
}

func describeTape(f *document.Figure) string {
	s := SettingOf(f.Table, f.X)
	out := fmt.Sprintf("A measuring tape. The %s is now %s; the new one is %s", s.What, s.Before, s.After)
	if !math.IsNaN(s.low) {
		out += fmt.Sprintf(", between %s and %s", typeset.Number(s.low, 1),
			typeset.Quantity(s.high, 1, s.unit))
	}
	return out + "."
}

// IsComparison says whether a table has the shape of a comparison.
func IsComparison(t *table.Table) bool {
	return t != nil && t.Len() > 0 && t.TextColumn("quantity") != nil && t.Column("before") != nil &&
		t.Column("after") != nil
}

// ChangeOf gives the change of a quantity in words, "+0.039 m/s", or "".
func ChangeOf(t *table.Table, name string) string {
	q, change := t.TextColumn("quantity"), t.Column("change")
	if q == nil || change == nil || change.Kind == table.Text {
		return ""
	}
	for i, s := range q.Texts {
		if s == name && !change.Blank(i) && !math.IsNaN(change.Value(i)) {
			unit := change.UnitAt(i)
			if u := t.TextColumn("unit"); u != nil {
				unit = u.Texts[i]
			}
			return typeset.Cells(change)[i] + typeset.UnitAfter(unit)
		}
	}
	return ""
}

// Clearly says whether a drawn comparison has a change, other than of a length
// that is set, that is clear and large enough to matter: only then is there
// anything to try.
func Clearly(t *table.Table) bool {
	quantity, verdict := t.Column("quantity"), t.TextColumn("verdict")
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

// settable are the lengths that someone sets with a tape, the first that moves
// being the one that is drawn. A collar that moves changes both parts of an oar:
// it is set by the inboard.
var settable = []string{"inboard", "outboard", "length"}

// leastSet is the smallest change, cm, that anybody sets.
const leastSet = .5

// Setting is the line of a comparison that someone sets with a tape.
type Setting struct {
	What, Before, After string
	from, to            float64
	low, high           float64 // of the new length, 95 %; NaN where there was one run
	unit                string
}

// lineSetting finds the line of a comparison to set: the one of that name, or the
// first length that moves. -1 when there is none.
func lineSetting(t *table.Table, name string) int {
	quantity, before, after := t.TextColumn("quantity"), t.Column("before"), t.Column("after")
	if quantity == nil || before == nil || after == nil || before.Kind == table.Text ||
		after.Kind == table.Text {
		return -1
	}
	names := settable
	if name != "" {
		names = []string{name}
	}
	for _, want := range names {
		for i, q := range quantity.Texts {
			b, a := before.Value(i), after.Value(i)
			if q == want && unitOf(t, i) == "cm" && !math.IsNaN(a) && !math.IsNaN(b) &&
				math.Abs(a-b) >= leastSet-1e-9 && math.Abs(a-b) <= 60 && math.Abs(b) < 1000 {
				return i
			}
		}
	}
	return -1
}

func unitOf(t *table.Table, i int) string {
	if u := t.TextColumn("unit"); u != nil {
		return u.Texts[i]
	}
	return t.Column("before").UnitAt(i)
}

// SettingOf reads the length to set out of a comparison: the line of that name,
// or the first length that moves. nil where there is none.
func SettingOf(t *table.Table, name string) *Setting {
	if !IsComparison(t) {
		return nil
	}
	i := lineSetting(t, name)
	if i < 0 {
		return nil
	}
	before, after, change := t.Column("before"), t.Column("after"), t.Column("change")
	s := &Setting{What: words.Spaced(t.Column("quantity").Texts[i]), from: before.Value(i),
		to:  after.Value(i),
		low: math.NaN(), high: math.NaN(), unit: unitOf(t, i)}
	s.Before, s.After = typeset.Quantity(s.from, 1, s.unit), typeset.Quantity(s.to, 1, s.unit)
	if change != nil && change.Kind == table.Measured && change.Estimates[i] != nil {
		e := change.Estimates[i]
		if math.Abs(e.Low) < 100 && math.Abs(e.High) < 100 { // an interval that a tape can hold
			s.low, s.high = s.from+e.Low, s.from+e.High
		}
	}
	return s
}
