package report

import (
	"fmt"
	"math"
	"strings"
)

// swing is what one input does to the answer.
type swing struct {
	name               string
	low, high          string // the input's ends, with units
	atLow, atHigh      float64
	flips              string // the input at which the advice turns, or ""
	atLowText, atHigh2 string
}

func swingsOf(f *Figure) (out []swing, unit string) {
	t := f.Table
	input, low, high := t.Column("input"), t.Column("low"), t.Column("high")
	atLow, atHigh, flips := t.Column("at_low"), t.Column("at_high"), t.Column("flips_at")
	a, b := shown(atLow), shown(atHigh)
	for i := range t.Len() {
		s := swing{name: words(input.Texts[i]), atLow: atLow.Value(i), atHigh: atHigh.Value(i), atLowText: a[i], atHigh2: b[i]}
		if low != nil && high != nil {
			s.low = shown(low)[i] + unitAfter(low.UnitAt(i))
			s.high = shown(high)[i] + unitAfter(high.UnitAt(i))
		}
		if flips != nil && !flips.Blank(i) {
			s.flips = shown(flips)[i] + unitAfter(flips.UnitAt(i))
		}
		out = append(out, s)
	}
	return out, atLow.Unit
}

// drawSwing draws the answer from the low to the high end of each input, the
// largest first; where the advice turns inside reach, a guide runs on to nought.
func drawSwing(f *Figure, d *drawing) {
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
	if d.narrow() {
		left, right, pitch = 6, 6, 62
	}
	x := axisFor(values, 6)
	pad := (x.high - x.low) * .09 // the ends of the inputs stand beside the bars
	if d.narrow() {
		pad = (x.high - x.low) * .2
	}
	x.low, x.high = x.low-pad, x.high+pad
	x.from, x.to = left, d.w-right
	top := 30.
	bottom := top + pitch*float64(len(swings))
	for _, t := range x.ticks {
		class := "hair"
		if t == 0 {
			class = "axis"
		}
		d.line(class, x.at(t), top, x.at(t), bottom)
		d.text("t2 mid", x.at(t), bottom+17, x.label(t))
	}
	if !math.IsNaN(base) {
		d.line("guide", x.at(base), top-4, x.at(base), bottom)
		d.text("sm t2 mid halo", x.at(base), top-9, baseName)
	}
	if !d.narrow() {
		d.text("b sm end", d.w, top-9, "the advice turns at")
	}
	for i, s := range swings {
		y := top + pitch*(float64(i)+.5)
		turn := s.flips
		if turn == "" {
			turn = "none found"
		}
		if d.narrow() {
			d.text("halo", 0, y-14, cut(s.name, 12.5, 170))
			if i == 0 {
				turn = map[bool]string{true: "turns: ", false: "turns at "}[s.flips == ""] + turn
			}
			d.text("sm end halo", d.w, y-14, turn)
			y += 6
		} else {
			d.text("", 0, y+4.5, cut(s.name, 13.5, left-12))
			d.text("sm end", d.w, y+4.5, turn)
		}
		if math.IsNaN(s.atLow) || math.IsNaN(s.atHigh) {
			d.text("sm t2 halo", x.from+10, y+4, "no stroke at one end")
			continue
		}
		a, b := x.at(s.atLow), x.at(s.atHigh)
		first, second := s.low, s.high
		if a > b {
			a, b, first, second = b, a, second, first
		}
		if s.flips != "" && x.low <= 0 && x.high >= 0 {
			z := x.at(0)
			near := a
			if math.Abs(b-z) < math.Abs(a-z) {
				near = b
			}
			if z < a || z > b {
				d.line("guide", near, y, z, y)
			}
			d.path("f2 ink", fmt.Sprintf("M%s %sl5.5 5.5l-5.5 5.5l-5.5 -5.5Z", num(z), num(y-5.5)))
		}
		d.rect("bar b1", a, y-5.5, math.Max(b-a, 1.5), 11, "")
		d.text("sm t2 end halo", a-6, y+4, first)
		d.text("sm t2 halo", b+6, y+4, second)
	}
	d.text("t2 end", x.to, bottom+35, capital(swingTitle(f, unit)))
	d.h = bottom + 41
}

func swingTitle(f *Figure, unit string) string {
	name := "the answer"
	if len(f.Y) > 0 {
		name = words(f.Y[0])
	}
	if unit != "" {
		name += ", " + unitName(unit)
	}
	return name
}

func describeSwing(f *Figure) string {
	swings, unit := swingsOf(f)
	var parts []string
	for _, s := range swings {
		turn := "no turning point found"
		if s.flips != "" {
			turn = "the advice turns at " + s.flips
		}
		parts = append(parts, fmt.Sprintf("%s from %s to %s: %s to %s, %s", s.name, s.low, s.high, s.atLowText, s.atHigh2+unitAfter(unit), turn))
	}
	return capital(strings.Join(parts, "; ")) + "."
}
