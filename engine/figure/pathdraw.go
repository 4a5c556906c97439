package figure

import (
	"fmt"
	"math"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/typeset"
)

// line gives the centre's way, finely where it was sampled so.
func wayOf(q *document.Path) (xs, ys []float64) {
	if len(q.FineX) > 1 {
		return q.FineX, q.FineY
	}
	return q.CentreX, q.CentreY
}

// atAngle gives where the blade's centre is at an oar angle.
func centreAt(q *document.Path, angle float64) (x, y float64) {
	if len(q.FineAngle) == len(q.FineX) && len(q.FineX) > 1 {
		return interpolate(q.FineAngle, q.FineX, angle), interpolate(q.FineAngle, q.FineY, angle)
	}
	return interpolate(q.Angle, q.CentreX, angle), interpolate(q.Angle, q.CentreY, angle)
}

// pair finds the path to compare with its reference, or two paths: the gap
// between them is what the figure is about.
func pair(paths []document.Path) (a, b *document.Path) {
	for i := range paths {
		switch {
		case paths[i].Reference && b == nil:
			b = &paths[i]
		case !paths[i].Reference && a == nil:
			a = &paths[i]
		}
	}
	if a != nil && b == nil && len(paths) > 1 {
		b = &paths[1]
	}
	return
}

// drawPath draws the middle of each blade in the water, equal scale, at equal
// times with their numbers, the gap at equal angles shaded.
func drawPath(f *document.Figure, d *draw.Surface) {
	var xs, ys []float64
	for i := range f.Paths {
		q := &f.Paths[i]
		lx, ly := wayOf(q)
		xs = append(append(append(xs, lx...), q.TipX...), q.NeckX...)
		ys = append(append(append(ys, ly...), q.TipY...), q.NeckY...)
	}
	lx, hx := draw.Extent(xs)
	ly, hy := draw.Extent(ys)
	left, right := 46., 16.
	if d.Narrow() {
		left, right = 34, 4
	}
	room := 12.
	lx, hx, ly, hy = lx-room, hx+room, ly-room*.6, hy+room*.6
	k := (d.W - left - right) / (hx - lx)
	most := 560.
	if d.Narrow() {
		most = 330
	}
	if (hy-ly)*k > most {
		k = most / (hy - ly)
		left += ((d.W - left - right) - (hx-lx)*k) / 2
	}
	looks := looksOfPaths(f.Paths)
	top := d.Key(pathNames(f.Paths), 0, 14, 36, func(k int, x, y float64) { d.Sample(looks[k], x, y) }) + 32
	height := (hy - ly) * k
	m := draw.Plane{LowX: lx, LowY: ly, K: k, Left: left, Bottom: top + height}
	d.Text("sm t2", 0, top-8, "out from the pin’s line, cm")
	step := draw.NiceStep((hx - lx) / 7)
	if d.Narrow() {
		step = draw.NiceStep((hx - lx) / 4)
	}
	for v := math.Ceil(ly/step) * step; v <= hy; v += step {
		d.Line("hair", m.X(lx), m.Y(v), m.X(hx), m.Y(v))
		d.Text("sm t2 end", m.X(lx)-6, m.Y(v)+4, typeset.Number(v, 0))
	}
	for v := math.Ceil(lx/step) * step; v <= hx; v += step {
		d.Line("hair", m.X(v), top, m.X(v), m.Y(ly))
		d.Text("sm t2 mid", m.X(v), m.Y(ly)+16, typeset.Number(v, 0))
	}
	d.Text("sm t2 end", m.X(hx), m.Y(ly)+33, "along the boat’s course, cm →")
	a, b := pair(f.Paths)
	gap(d, a, b, m)
	for i := range f.Paths { // blades and shafts, faint, at the moments
		q := &f.Paths[i]
		look := looks[i]
		for j := range q.CentreX {
			if j < len(q.TipX) && j < len(q.NeckX) {
				d.Line("blade "+look.Stroke(), m.X(q.NeckX[j]), m.Y(q.NeckY[j]), m.X(q.TipX[j]),
					m.Y(q.TipY[j]))
			}
		}
	}
	for i := len(f.Paths) - 1; i >= 0; i-- {
		px, py := wayOf(&f.Paths[i])
		d.Path(looks[i].Line(), m.Polyline(px, py))
	}
	gapFigures(d, a, b, m)
	moments(d, f.Paths, looks, m)
	d.H = m.Y(ly) + 40
}

// pathNames are the names of paths with the length of their drives.
func pathNames(paths []document.Path) []string {
	names := make([]string, len(paths))
	for i, q := range paths {
		names[i] = q.Name
		if n := len(q.Time); n > 0 {
			names[i] += ", " + typeset.Quantity(q.Time[n-1], 2, "s")
		}
	}
	return names
}

// moments marks the equal times of every path and numbers those of the first
// two. A number stands where it covers least: no other number, no mark, as
// little of the lines as can be.
func moments(d *draw.Surface, paths []document.Path, looks []draw.Series, m draw.Plane) {
	var taken []spot
	for i := range paths {
		q := &paths[i]
		for j := range q.CentreX {
			x, y := m.X(q.CentreX[j]), m.Y(q.CentreY[j])
			d.MarkSized(looks[i], x, y, 4.2)
			taken = append(taken, spot{x, y, 5, 5, 3})
		}
		lx, ly := wayOf(q)
		for j := range lx {
			taken = append(taken, spot{m.X(lx[j]), m.Y(ly[j]), .5, .5, .4})
		}
	}
	for i := range min(len(paths), 2) {
		q := &paths[i]
		n := len(q.CentreX)
		for j := range n {
			if d.Narrow() && j%2 == 1 && j != n-1 {
				continue
			}
			label := fmt.Sprint(j + 1)
			w, h := draw.TextWidth(label, 12.5)/2+1, 6.
			x, y := m.X(q.CentreX[j]), m.Y(q.CentreY[j])
			best, bx, by := math.Inf(1), 0., 0.
			for _, r := range []float64{13, 19} {
				for k := range 12 {
					a := float64(k) * math.Pi / 6
					at := spot{x + r*math.Cos(a), y + r*math.Sin(a), w, h, 0}
					cost := r / 40
					for _, s := range taken {
						cost += s.covered(at)
					}
					if cost < best-1e-9 {
						best, bx, by = cost, at.x, at.y
					}
				}
			}
			if best > 4 && d.Narrow() {
				continue // no room on a phone; the table has it
			}
			taken = append(taken, spot{bx, by, w, h, 6})
			d.Text("sm mid halo", bx, by+4, label)
		}
	}
}

// spot is a place that something covers, and how much it would hurt to lie on it.
type spot struct{ x, y, w, h, cost float64 }

func (s spot) covered(by spot) float64 {
	if math.Abs(s.x-by.x) < s.w+by.w && math.Abs(s.y-by.y) < s.h+by.h {
		return s.cost
	}
	return 0
}

// gap shades what lies between two paths at equal oar angles: the travel lost.
func gap(d *draw.Surface, a, b *document.Path, m draw.Plane) {
	if a == nil || b == nil {
		return
	}
	low, high := commonAngles(a, b)
	if high <= low {
		return
	}
	const n = 60
	var ahead, back [2][]float64
	for i := 0; i <= n; i++ {
		angle := low + (high-low)*float64(i)/n
		ax, ay := centreAt(a, angle)
		bx, by := centreAt(b, angle)
		if math.IsNaN(ax) || math.IsNaN(bx) {
			continue
		}
		ahead[0], ahead[1] = append(ahead[0], m.X(ax)), append(ahead[1], m.Y(ay))
		back[0], back[1] = append(back[0], m.X(bx)), append(back[1], m.Y(by))
	}
	if len(ahead[0]) > 1 {
		d.Path("shade", draw.Ring(ahead[0], ahead[1], back[0], back[1]))
	}
}

func commonAngles(a, b *document.Path) (low, high float64) {
	la, ha := draw.Extent(a.Angle)
	lb, hb := draw.Extent(b.Angle)
	return math.Max(la, lb), math.Min(ha, hb)
}

// gapFigures writes the gap along the course at square and at the finish.
func gapFigures(d *draw.Surface, a, b *document.Path, m draw.Plane) {
	if a == nil || b == nil {
		return
	}
	low, high := commonAngles(a, b)
	for _, g := range []struct {
		angle float64
		name  string
		below bool
	}{{0, "square", false}, {high, "finish", true}} {
		if g.angle < low || g.angle > high {
			continue
		}
		ax, ay := centreAt(a, g.angle)
		bx, by := centreAt(b, g.angle)
		if math.IsNaN(ax) || math.IsNaN(bx) || math.Abs(ax-bx)*m.K < 12 {
			continue
		}
		x0, x1 := math.Min(m.X(ax), m.X(bx)), math.Max(m.X(ax), m.X(bx))
		y := math.Min(m.Y(ay), m.Y(by)) - 16
		if g.below {
			y = math.Max(m.Y(ay), m.Y(by)) + 22
		}
		d.Line("lead-line", m.X(ax), m.Y(ay), m.X(ax), y)
		d.Line("lead-line", m.X(bx), m.Y(by), m.X(bx), y)
		d.Rule(x0, x1, y)
		label := g.name + ": " + typeset.Quantity(math.Abs(bx-ax), 0, "cm")
		ly := y - 7
		if g.below {
			ly = y + 17
		}
		w := draw.TextWidth(label, 14)
		d.Text("it mid halo", math.Max(w/2, math.Min((x0+x1)/2, d.W-w/2)), ly, label)
	}
}
