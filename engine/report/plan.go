package report

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/table"
)

// drawPlan draws the drive from above: pin's line, oars at the catch, square and
// the finish, the blades' ways, and the boat's travel as a rule.
func drawPlan(f *Figure, d *drawing) {
	var xs, ys []float64
	for i := range f.Paths {
		q := &f.Paths[i]
		xs = append(append(append(xs, q.TipX...), q.HandleX...), q.PinX...)
		ys = append(append(ys, q.TipY...), q.HandleY...)
	}
	lx, hx := extent(xs)
	ly, hy := extent(ys)
	ly = math.Min(ly, 0)
	side := 10.
	k := (d.w - 2*side) / (hx - lx)
	if most := 330.; (hy-ly)*k > most && !d.narrow() {
		k = most / (hy - ly)
	}
	left := (d.w - (hx-lx)*k) / 2
	top := 30.
	height := (hy - ly) * k
	m := plane{lx, ly, k, left, top + height}
	for v := math.Ceil(lx/100) * 100; v <= hx; v += 100 {
		d.line("hair", m.x(v), top-6, m.x(v), m.y(ly))
		d.text("sm t2 mid", m.x(v), top-11, numeral(v/100, 0)+thin+"m")
	}
	d.line("axis", m.x(lx), m.y(0), m.x(hx), m.y(0))
	a, b := pair(f.Paths)
	d.gap(a, b, m)
	for i := len(f.Paths) - 1; i >= 0; i-- {
		q := &f.Paths[i]
		look := pathLook(f.Paths, i)
		n := len(q.CentreX)
		if len(q.PinX) == n && len(q.HandleX) == n {
			for _, j := range []int{0, squareMoment(q), n - 1} {
				d.line("shaft "+look.stroke(), m.x(q.HandleX[j]), m.y(q.HandleY[j]), m.x(q.NeckX[j]), m.y(q.NeckY[j]))
				d.line("blade "+look.stroke(), m.x(q.NeckX[j]), m.y(q.NeckY[j]), m.x(q.TipX[j]), m.y(q.TipY[j]))
			}
			for j := range n {
				d.markSized(look, m.x(q.PinX[j]), m.y(0), 3.2)
			}
		}
		px, py := q.line()
		mx, my := make([]float64, len(px)), make([]float64, len(px))
		for j := range px {
			mx[j], my[j] = m.x(px[j]), m.y(py[j])
		}
		d.path(look.line()+" thin", polyline(mx, my))
	}
	y := m.y(ly) + 14
	for i := range f.Paths {
		q := &f.Paths[i]
		n := len(q.PinX)
		if n == 0 {
			continue
		}
		travel := q.PinX[n-1] - q.PinX[0]
		x0, x1 := m.x(q.PinX[0]), m.x(q.PinX[n-1])
		d.path("rule", fmt.Sprintf("M%s %sV%sM%s %sH%sM%s %sV%s", num(x0), num(y-4), num(y+4), num(x0), num(y), num(x1), num(x1), num(y-4), num(y+4)))
		label := q.Name + ": the boat travels " + quantity(travel/100, 2, "m") + " in the drive →"
		if d.narrow() {
			label = q.Name + ": " + quantity(travel/100, 2, "m") + " in the drive →"
		}
		d.text("sm", math.Max(0, math.Min(x0, d.w-textWidth(label, 12.5))), y+17, cut(label, 12.5, d.w))
		y += 32
	}
	d.h = y + 2
}

// squareMoment is the moment nearest to square.
func squareMoment(q *Path) int {
	best := 0
	for j, a := range q.Angle {
		if math.Abs(a) < math.Abs(q.Angle[best]) {
			best = j
		}
	}
	return best
}

// momentsTable gives the numbered times of every path.
func momentsTable(paths []Path) *table.Table {
	t := &table.Table{}
	add := func(name, unit string, digits int, vs []float64) {
		t.Columns = append(t.Columns, &table.Column{Name: name, Unit: unit, Digits: digits, Nums: vs})
	}
	var n int
	for _, q := range paths {
		n = max(n, len(q.CentreX))
	}
	var count []float64
	for i := range n {
		count = append(count, float64(i+1))
	}
	add("moment", "", 0, count)
	padded := func(vs []float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = math.NaN()
		}
		copy(out, vs)
		return out
	}
	for _, q := range paths {
		prefix := ""
		if len(paths) > 1 {
			prefix = q.Name + ": "
		}
		add(prefix+"time", "s", 3, padded(q.Time))
		add(prefix+"angle", "deg", 1, padded(q.Angle))
		add(prefix+"along", "cm", 1, padded(q.CentreX))
		add(prefix+"out", "cm", 1, padded(q.CentreY))
	}
	return t
}

func describePaths(paths []Path) string {
	var parts []string
	for _, q := range paths {
		n := len(q.CentreX)
		if n < 2 {
			continue
		}
		s := fmt.Sprintf("%s: the blade’s middle goes in at %s along the course and leaves %s ahead of it", q.Name, quantity(q.CentreX[0], 0, "cm"), quantity(q.CentreX[n-1]-q.CentreX[0], 0, "cm"))
		if len(q.Time) == n {
			s += ", after " + quantity(q.Time[n-1], 2, "s")
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ") + "."
}
