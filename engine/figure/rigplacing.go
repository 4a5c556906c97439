package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/draw"
)

// A drawing to scale has its lines where they are; only the words can give way. A
// placer keeps what is drawn already and finds each label a place that touches no
// other label, nor any line if it can.

type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

// crossed says whether a straight line runs through the box (Liang & Barsky 1984).
func (b box) crossed(s segment) bool {
	t0, t1 := 0., 1.
	for _, e := range [4][2]float64{{s.x0 - s.x1, s.x0 - b.x0}, {s.x1 - s.x0, b.x1 - s.x0}, {s.y0 - s.y1,
		s.y0 - b.y0}, {s.y1 - s.y0, b.y1 - s.y0}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return false
		case p < 0:
			t0 = math.Max(t0, q/p)
		case p > 0:
			t1 = math.Min(t1, q/p)
		}
	}
	return t0 < t1
}

type segment struct{ x0, y0, x1, y1 float64 }

// berth is a place for a label: its anchor and the middle of its height.
type berth struct {
	x, y   float64
	anchor string // "" left, "mid", "end"
}

type placer struct {
	d     *draw.Surface
	right float64 // where words must end; 0: at the sheet's edge
	taken []box
	lines []segment
}

func (p *placer) size() float64 {
	if p.d.Narrow() {
		return 11.5
	}
	return 12.5
}

// boxOf is what a label of these lines covers at a berth.
func (p *placer) boxOf(lines []string, s berth) box {
	w := 0.
	for _, l := range lines {
		w = math.Max(w, draw.TextWidth(l, p.size()))
	}
	h := p.leading() * float64(len(lines))
	b := box{s.x, s.y - h/2, s.x + w, s.y + h/2}
	switch s.anchor {
	case "mid":
		b.x0, b.x1 = s.x-w/2, s.x+w/2
	case "end":
		b.x0, b.x1 = s.x-w, s.x
	}
	return b
}

// bottom is the lowest place in use.
func (p *placer) bottom() float64 {
	y := 0.
	for _, b := range p.taken {
		y = math.Max(y, b.y1)
	}
	for _, l := range p.lines {
		y = math.Max(y, math.Max(l.y0, l.y1))
	}
	return y
}

func (p *placer) leading() float64 { return p.size() + 2 }

// free says whether a label there lies on the sheet and off every other label; clear
// says that no line runs through it either.
func (p *placer) free(b box) (free, clear bool) {
	right := p.d.W
	if p.right > 0 {
		right = p.right
	}
	if b.x0 < 0 || b.x1 > right || b.y0 < 0 {
		return false, false
	}
	for _, t := range p.taken {
		if b.meets(t) {
			return false, false
		}
	}
	for _, s := range p.lines {
		if b.crossed(s) {
			return true, false
		}
	}
	return true, true
}

// label sets lines at the first of the spots where they touch nothing; else where they
// touch lines only; else as near the first berth as there is room, with a line leading
// there from the first berth.
func (p *placer) label(class string, lines []string, spots ...berth) {
	second := -1
	for i, s := range spots {
		free, clear := p.free(p.boxOf(lines, s))
		if clear {
			p.set(class, lines, s)
			return
		}
		if free && second < 0 {
			second = i
		}
	}
	// near by, in rings about the first berth
	for r := 6.; r < 160; r += 6 {
		for k := range 16 {
			a := float64(k) * math.Pi / 8
			s := spots[0]
			s.x, s.y = s.x+r*math.Cos(a), s.y+r*math.Sin(a)
			free, clear := p.free(p.boxOf(lines, s))
			if clear || free && second < 0 && r > 100 {
				p.lead(spots[0], p.boxOf(lines, s))
				p.set(class, lines, s)
				return
			}
		}
		if second >= 0 && r > 30 {
			break
		}
	}
	p.set(class, lines, spots[max(second, 0)])
}

// beside writes words at one of some distances round a place, where they meet nothing at
// all; false, and nothing written, where there is no room.
func (p *placer) beside(class, words string, x, y float64, distances ...float64) bool {
	half := draw.TextWidth(words, p.size()) / 2
	for _, r := range distances {
		for k := range 16 {
			a := float64(k) * math.Pi / 8
			s := berth{x + (r+half-4)*math.Cos(a), y - r*math.Sin(a), "mid"}
			if _, clear := p.free(p.boxOf([]string{words}, s)); clear && onSheet(s) {
				p.set(class, []string{words}, s)
				return true
			}
		}
	}
	return false
}

func onSheet(s berth) bool { return draw.Drawable(s.x) && draw.Drawable(s.y) }

// along keeps words off a line through places of the water.
func (p *placer) along(m draw.Plane, xs, ys []float64) {
	for i := 1; i < min(len(xs), len(ys)); i++ {
		p.lines = append(p.lines, segment{m.X(xs[i-1]), m.Y(ys[i-1]), m.X(xs[i]), m.Y(ys[i])})
	}
}

// lead draws the line from a label to what it names, where it had to stand off.
func (p *placer) lead(from berth, b box) {
	x := math.Max(b.x0, math.Min(from.x, b.x1))
	y := math.Max(b.y0, math.Min(from.y, b.y1))
	if math.Hypot(x-from.x, y-from.y) > 40 {
		p.d.Line("lead-line", from.x, from.y, x, y)
	}
}

func (p *placer) set(class string, lines []string, s berth) {
	b := p.boxOf(lines, s)
	p.taken = append(p.taken, b.grown(1.5))
	for i, l := range lines {
		base := b.y0 + float64(i)*p.leading() + p.size()*.9
		p.d.Text(strings.Join(strings.Fields("sm halo "+class+" "+s.anchor), " "), s.x, base, l)
	}
}

// stroke draws a line that words keep off.
func (p *placer) stroke(class string, x0, y0, x1, y1 float64) {
	p.d.Line(class, x0, y0, x1, y1)
	p.lines = append(p.lines, segment{x0, y0, x1, y1})
}

// measure draws a dimension: a line as long as what it measures, to a thousandth of a
// unit, with an arrow at both ends, pointing outward where there is room between them
// and inward from outside where there is not. of names it for whoever reads the drawing.
func (p *placer) measure(of, class string, x0, y0, x1, y1 float64) {
	p.d.About(of, func() { p.d.Path(class, fmt.Sprintf("M%.3f %.3fL%.3f %.3f", x0, y0, x1, y1)) })
	p.lines = append(p.lines, segment{x0, y0, x1, y1})
	length := math.Hypot(x1-x0, y1-y0)
	if length < 1e-6 {
		return
	}
	ux, uy := (x1-x0)/length, (y1-y0)/length
	arrow := func(x, y, dx, dy float64) { // tip at x, y, shaft toward dx, dy
		const long, wide = 6., 2.4
		p.d.Path(class, draw.Pathf("M%s %sL%s %sL%s %s", x+dx*long-dy*wide, y+dy*long+dx*wide, x, y,
			x+dx*long+dy*wide, y+dy*long-dx*wide))
	}
	if length >= 16 {
		arrow(x0, y0, ux, uy)
		arrow(x1, y1, -ux, -uy)
		return
	}
	for _, e := range [2][4]float64{{x0, y0, -ux, -uy}, {x1, y1, ux, uy}} {
		arrow(e[0], e[1], e[2], e[3])
		p.d.Line(class, e[0], e[1], e[0]+12*e[2], e[1]+12*e[3])
	}
}
