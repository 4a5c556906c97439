package figure

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

// Swing reads a sensitivity: input (text), low, high, at_low, at_high, swing,
// flips_at (blank: none found). A Guide on "x" is the value with nothing moved.
const Swing document.Kind = "swing"

var swingKind = &Kind{
	Name: Swing,
	Needs: func(*document.Figure) []Need {
		return []Need{{"input", Names}, {"at_low", Numbers}, {"at_high", Numbers}}
	},
	Title:    func(f *document.Figure) string { return named(f, "What moves the answer") },
	Describe: describeSwing,
	Reading: func(*document.Figure) string {
		return "Each bar runs from the answer at an input's low end to the answer at its high end, the " +
			"others left alone." +
			" The last column is where the advice turns."
	},
	Draw: drawSwing,
	Beside: func(t *table.Table) (*document.Figure, Place) {
		low, high := t.Column("at_low"), t.Column("at_high")
		if t.TextColumn("input") == nil || low == nil || high == nil || low.Kind != table.Number ||
			high.Kind != table.Number {
			return nil, Instead
		}
		return &document.Figure{Kind: Swing, Table: t}, Instead
	},
}

// swing is what one input does to the answer.
type swing struct {
	name               string
	low, high          string // the input's ends, with units
	atLow, atHigh      float64
	flips              string // the input at which the advice turns, or ""
	atLowText, atHigh2 string
}

func swingsOf(f *document.Figure) (out []swing, unit string) {
	t := f.Table
	input, low, high := t.Column("input"), t.Column("low"), t.Column("high")
	atLow, atHigh, flips := t.Column("at_low"), t.Column("at_high"), t.Column("flips_at")
	a, b := typeset.Cells(atLow), typeset.Cells(atHigh)
	for i := range t.Len() {
		s := swing{name: words.Spaced(input.Texts[i]), atLow: atLow.Value(i), atHigh: atHigh.Value(i),
			atLowText: a[i], atHigh2: b[i]}
		if low != nil && high != nil {
			s.low = typeset.Cells(low)[i] + typeset.UnitAfter(low.UnitAt(i))
			s.high = typeset.Cells(high)[i] + typeset.UnitAfter(high.UnitAt(i))
		}
		if flips != nil && !flips.Blank(i) {
			s.flips = typeset.Cells(flips)[i] + typeset.UnitAfter(flips.UnitAt(i))
		}
		out = append(out, s)
	}
	return out, atLow.Unit
}

// drawSwing draws the answer from the low to the high end of each input, the
// largest first; where the advice turns inside reach, a guide runs on to nought.
func drawSwing(f *document.Figure, d *draw.Surface) {
	swings, unit := swingsOf(f)
	base, baseName := math.NaN(), ""
	var values []float64
	flips := false
	for _, g := range f.Guides {
		if g.Axis == "x" {
			base, baseName = g.At, g.Label
			values = append(values, base)
		}
	}
	for _, s := range swings {
		values = append(values, s.atLow, s.atHigh)
		flips = flips || s.flips != ""
	}
	if flips {
		values = append(values, 0)
	}
	left, right, pitch := 180., 110., 38.
	if d.Narrow() {
		left, right, pitch = 6, 6, 62
	}
	x := draw.Axis(values, 6)
	pad := (x.High - x.Low) * .09 // the ends of the inputs stand beside the bars
	if d.Narrow() {
		pad = (x.High - x.Low) * .2
	}
	x.Low, x.High = x.Low-pad, x.High+pad
	x.From, x.To = left, d.W-right
	top := 30.
	bottom := top + pitch*float64(len(swings))
	for _, t := range x.Ticks {
		class := "hair"
		if t == 0 {
			class = "axis"
		}
		d.Line(class, x.At(t), top, x.At(t), bottom)
		d.Text("t2 mid", x.At(t), bottom+17, x.Label(t))
	}
	if !math.IsNaN(base) {
		d.Line("guide", x.At(base), top-4, x.At(base), bottom)
		d.Text("sm t2 mid halo", x.At(base), top-9, baseName)
	}
	if !d.Narrow() {
		d.Text("b sm end", d.W, top-9, "the advice turns at")
	}
	for i, s := range swings {
		y := top + pitch*(float64(i)+.5)
		turn := s.flips
		if turn == "" {
			turn = "none found"
		}
		if d.Narrow() {
			d.Text("halo", 0, y-14, draw.Cut(s.name, 12.5, 170))
			if i == 0 {
				turn = map[bool]string{true: "turns: ", false: "turns at "}[s.flips == ""] + turn
			}
			d.Text("sm end halo", d.W, y-14, turn)
			y += 6
		} else {
			d.Text("", 0, y+4.5, draw.Cut(s.name, 13.5, left-12))
			d.Text("sm end", d.W, y+4.5, turn)
		}
		if math.IsNaN(s.atLow) || math.IsNaN(s.atHigh) {
			d.Text("sm t2 halo", x.From+10, y+4, "no stroke at one end")
			continue
		}
		a, b := x.At(s.atLow), x.At(s.atHigh)
		first, second := s.low, s.high
		if a > b {
			a, b, first, second = b, a, second, first
		}
		if s.flips != "" && x.Low <= 0 && x.High >= 0 {
			z := x.At(0)
			near := a
			if math.Abs(b-z) < math.Abs(a-z) {
				near = b
			}
			if z < a || z > b {
				d.Line("guide", near, y, z, y)
			}
			d.Path("f2 ink", draw.Pathf("M%s %sl5.5 5.5l-5.5 5.5l-5.5 -5.5Z", z, y-5.5))
		}
		d.Rect("bar b1", a, y-5.5, math.Max(b-a, 1.5), 11)
		d.Text("sm t2 end halo", a-6, y+4, first)
		d.Text("sm t2 halo", b+6, y+4, second)
	}
	d.Text("t2 end", x.To, bottom+35, words.Capital(swingTitle(f, unit)))
	d.H = bottom + 41
}

func swingTitle(f *document.Figure, unit string) string {
	name := "the answer"
	if len(f.Y) > 0 {
		name = words.Spaced(f.Y[0])
	}
	return typeset.Head(name, unit)
}

func describeSwing(f *document.Figure) string {
	swings, unit := swingsOf(f)
	var parts []string
	for _, s := range swings {
		turn := "no turning point found"
		if s.flips != "" {
			turn = "the advice turns at " + s.flips
		}
		parts = append(parts, fmt.Sprintf("%s from %s to %s: %s to %s, %s", s.name, s.low, s.high,
			s.atLowText, s.atHigh2+typeset.UnitAfter(unit), turn))
	}
	return words.Capital(strings.Join(parts, "; ")) + "."
}
