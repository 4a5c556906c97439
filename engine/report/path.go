package report

import (
	"fmt"
	"math"
	"strings"
)

// look numbers a path among those that are no references.
func pathLook(paths []Path, at int) series {
	if paths[at].Reference {
		return reference
	}
	n := 0
	for _, q := range paths[:at] {
		if !q.Reference {
			n++
		}
	}
	return series(n)
}

// line gives the centre's way, finely where it was sampled so.
func (q *Path) line() (xs, ys []float64) {
	if len(q.FineX) > 1 {
		return q.FineX, q.FineY
	}
	return q.CentreX, q.CentreY
}

// atAngle gives where the blade's centre is at an oar angle.
func (q *Path) atAngle(angle float64) (x, y float64) {
	if len(q.FineAngle) == len(q.FineX) && len(q.FineX) > 1 {
		return interpolate(q.FineAngle, q.FineX, angle), interpolate(q.FineAngle, q.FineY, angle)
	}
	return interpolate(q.Angle, q.CentreX, angle), interpolate(q.Angle, q.CentreY, angle)
}

// pair finds the path to compare with its reference, or two paths: the gap
// between them is what the figure is about.
func pair(paths []Path) (a, b *Path) {
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

// plane maps centimetres of the water onto the drawing, the same both ways.
type plane struct{ x0, y0, k, left, bottom float64 }

func (p plane) x(v float64) float64 { return p.left + (v-p.x0)*p.k }
func (p plane) y(v float64) float64 { return p.bottom - (v-p.y0)*p.k }

// drawPath draws the middle of each blade in the water, equal scale, at equal
// times with their numbers, the gap at equal angles shaded.
func drawPath(f *Figure, d *drawing) {
	var xs, ys []float64
	for i := range f.Paths {
		q := &f.Paths[i]
		lx, ly := q.line()
		xs = append(append(append(xs, lx...), q.TipX...), q.NeckX...)
		ys = append(append(append(ys, ly...), q.TipY...), q.NeckY...)
	}
	lx, hx := extent(xs)
	ly, hy := extent(ys)
	left, right := 46., 16.
	if d.narrow() {
		left, right = 34, 4
	}
	room := 12.
	lx, hx, ly, hy = lx-room, hx+room, ly-room*.6, hy+room*.6
	k := (d.w - left - right) / (hx - lx)
	most := 560.
	if d.narrow() {
		most = 330
	}
	if (hy-ly)*k > most {
		k = most / (hy - ly)
		left += ((d.w - left - right) - (hx-lx)*k) / 2
	}
	top := d.pathKey(f.Paths, 4) + 22
	height := (hy - ly) * k
	m := plane{lx, ly, k, left, top + height}
	d.text("sm t2", 0, top-8, "out from the pin’s line, cm")
	step := niceStep((hx - lx) / 7)
	if d.narrow() {
		step = niceStep((hx - lx) / 4)
	}
	for v := math.Ceil(ly/step) * step; v <= hy; v += step {
		d.line("hair", m.x(lx), m.y(v), m.x(hx), m.y(v))
		d.text("sm t2 end", m.x(lx)-6, m.y(v)+4, numeral(v, 0))
	}
	for v := math.Ceil(lx/step) * step; v <= hx; v += step {
		d.line("hair", m.x(v), top, m.x(v), m.y(ly))
		d.text("sm t2 mid", m.x(v), m.y(ly)+16, numeral(v, 0))
	}
	d.text("sm t2 end", m.x(hx), m.y(ly)+33, "along the boat’s course, cm →")
	a, b := pair(f.Paths)
	d.gap(a, b, m)
	for i := range f.Paths { // blades and shafts, faint, at the moments
		q := &f.Paths[i]
		look := pathLook(f.Paths, i)
		for j := range q.CentreX {
			if j < len(q.TipX) && j < len(q.NeckX) {
				d.line("blade "+look.stroke(), m.x(q.NeckX[j]), m.y(q.NeckY[j]), m.x(q.TipX[j]), m.y(q.TipY[j]))
			}
		}
	}
	for i := len(f.Paths) - 1; i >= 0; i-- {
		px, py := f.Paths[i].line()
		mx, my := make([]float64, len(px)), make([]float64, len(px))
		for j := range px {
			mx[j], my[j] = m.x(px[j]), m.y(py[j])
		}
		d.path(pathLook(f.Paths, i).line(), polyline(mx, my))
	}
	d.gapFigures(a, b, m)
	d.moments(f.Paths, m)
	d.h = m.y(ly) + 40
}

// stroke is the line's colour alone.
func (s series) stroke() string {
	if s == reference {
		return "sref"
	}
	return fmt.Sprintf("c%d", int(s)%5+1)
}

func (d *drawing) pathKey(paths []Path, top float64) float64 {
	x, y := 0., top+10
	for i, q := range paths {
		name := q.Name
		if n := len(q.Time); n > 0 {
			name += ", " + quantity(q.Time[n-1], 2, "s")
		}
		name = cut(name, d.textSize(), d.w-40)
		w := 36 + textWidth(name, d.textSize()) + 18
		if x > 0 && x+w-18 > d.w {
			x, y = 0, y+19
		}
		d.sample(pathLook(paths, i), x, y)
		d.text("", x+35, y+4.5, name)
		x += w
	}
	return y + 10
}

// moments marks the equal times of every path and numbers those of the first
// two. A number stands where it covers least: no other number, no mark, as
// little of the lines as can be.
func (d *drawing) moments(paths []Path, m plane) {
	var taken []spot
	for i := range paths {
		q := &paths[i]
		for j := range q.CentreX {
			x, y := m.x(q.CentreX[j]), m.y(q.CentreY[j])
			d.markSized(pathLook(paths, i), x, y, 4.2)
			taken = append(taken, spot{x, y, 5, 5, 3})
		}
		lx, ly := q.line()
		for j := range lx {
			taken = append(taken, spot{m.x(lx[j]), m.y(ly[j]), .5, .5, .4})
		}
	}
	for i := range min(len(paths), 2) {
		q := &paths[i]
		n := len(q.CentreX)
		for j := range n {
			if d.narrow() && j%2 == 1 && j != n-1 {
				continue
			}
			label := fmt.Sprint(j + 1)
			w, h := textWidth(label, 12.5)/2+1, 6.
			x, y := m.x(q.CentreX[j]), m.y(q.CentreY[j])
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
			if best > 4 && d.narrow() {
				continue // no room on a phone; the table has it
			}
			taken = append(taken, spot{bx, by, w, h, 6})
			d.text("sm mid halo", bx, by+4, label)
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
func (d *drawing) gap(a, b *Path, m plane) {
	if a == nil || b == nil {
		return
	}
	low, high := commonAngles(a, b)
	if high <= low {
		return
	}
	const n = 60
	var ahead, back []string
	for i := 0; i <= n; i++ {
		angle := low + (high-low)*float64(i)/n
		ax, ay := a.atAngle(angle)
		bx, by := b.atAngle(angle)
		if math.IsNaN(ax) || math.IsNaN(bx) {
			continue
		}
		ahead = append(ahead, num(m.x(ax))+" "+num(m.y(ay)))
		back = append([]string{num(m.x(bx)) + " " + num(m.y(by))}, back...)
	}
	if len(ahead) > 1 {
		d.path("shade", "M"+strings.Join(append(ahead, back...), "L")+"Z")
	}
}

func commonAngles(a, b *Path) (low, high float64) {
	la, ha := extent(a.Angle)
	lb, hb := extent(b.Angle)
	return math.Max(la, lb), math.Min(ha, hb)
}

// gapFigures writes the gap along the course at square and at the finish.
func (d *drawing) gapFigures(a, b *Path, m plane) {
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
		ax, ay := a.atAngle(g.angle)
		bx, by := b.atAngle(g.angle)
		if math.IsNaN(ax) || math.IsNaN(bx) || math.Abs(ax-bx)*m.k < 12 {
			continue
		}
		x0, x1 := math.Min(m.x(ax), m.x(bx)), math.Max(m.x(ax), m.x(bx))
		y := math.Min(m.y(ay), m.y(by)) - 16
		if g.below {
			y = math.Max(m.y(ay), m.y(by)) + 22
		}
		d.line("lead-line", m.x(ax), m.y(ay), m.x(ax), y)
		d.line("lead-line", m.x(bx), m.y(by), m.x(bx), y)
		d.path("rule", fmt.Sprintf("M%s %sV%sM%s %sH%sM%s %sV%s", num(x0), num(y-4), num(y+4), num(x0), num(y), num(x1), num(x1), num(y-4), num(y+4)))
		label := g.name + ": " + quantity(math.Abs(bx-ax), 0, "cm")
		ly := y - 7
		if g.below {
			ly = y + 17
		}
		w := textWidth(label, 14)
		d.text("it mid halo", math.Max(w/2, math.Min((x0+x1)/2, d.w-w/2)), ly, label)
	}
}
