package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/typeset"
)

// wayOf gives the centre's way, finely where it was sampled so.
func wayOf(q *document.Path) (xs, ys []float64) {
	if len(q.FineX) > 1 {
		return q.FineX, q.FineY
	}
	return q.CentreX, q.CentreY
}

// centreAt gives where the blade's centre is at an oar angle.
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

// hullMiddle and hullHalf place the hull beneath the pin's line, cm: half a usual span of a
// single, and half its width. The drawing shows where the boat is, not its shape.
const hullMiddle, hullHalf = -82., 14.

// drawPath draws the drive from above, the water standing still: the middle of each blade
// with its marks, the oar at catch, square and finish, the pin's course with the same marks,
// the boat's travel, the hull. On a phone the blade alone has room.
func drawPath(f *document.Figure, d *draw.Surface) {
	var xs, ys []float64
	for i := range f.Paths {
		q := &f.Paths[i]
		lx, ly := wayOf(q)
		xs = append(append(append(xs, lx...), q.TipX...), q.CentreX...)
		ys = append(append(append(ys, ly...), q.TipY...), q.CentreY...)
		if !d.Narrow() {
			xs = append(xs, q.PinX...)
		}
	}
	lx, hx := draw.Extent(xs)
	ly, hy := draw.Extent(ys)
	room := 12.
	lx, hx, ly, hy = lx-room, hx+room, ly-room, hy+room
	if !d.Narrow() {
		ly = math.Min(ly, hullMiddle-hullHalf-6)
	}
	most := 560.
	if d.Projected() { // as high as its words stay large on a screen
		most = 150
	}
	k := math.Min(d.W/(hx-lx), most/(hy-ly))
	looks := looksOfPaths(f.Paths)
	sample := func(k int, x, y float64) { d.Sample(looks[k], x, y) }
	top := d.Key(pathNames(f.Paths), 0, 14, 36, sample) + 42
	m := draw.Plane{LowX: lx, LowY: ly, K: k, Left: (d.W - (hx-lx)*k) / 2, Bottom: top + (hy-ly)*k}
	course(d, m, lx, hx, top)
	a, b := pair(f.Paths)
	if a != nil && b != nil && b.Reference {
		lostTravel(d, a, b, m)
	}
	c := &placer{d: d}
	for i := range f.Paths { // oars and blades, faint
		oars(d, &f.Paths[i], looks[i], m, c)
	}
	for i := len(f.Paths) - 1; i >= 0; i-- {
		px, py := wayOf(&f.Paths[i])
		d.Path(looks[i].Line(), m.Polyline(px, py))
		c.along(m, px, py)
	}
	low := m.Bottom
	if d.Narrow() {
		for _, said := range strings.Split(lostWords(f.Paths), "; ") {
			low += 17
			d.Text("sm b", 0, low, said)
			c.taken = append(c.taken, box{0, low - 12, draw.TextWidth(said, 12.5), low + 4})
		}
	} else {
		low = travels(d, f, looks, m)
	}
	marks(d, f.Paths, looks, m, c)
	places(a, m, c)
	d.H = low + 12
}

// course draws metres along the course, the pin's line and the hull at the catch.
func course(d *draw.Surface, m draw.Plane, lx, hx, top float64) {
	for v := math.Ceil(lx/100) * 100; v <= hx; v += 100 {
		d.Line("hair", m.X(v), top-6, m.X(v), m.Bottom)
		if name := typeset.Number(v/100, 0) + typeset.Thin + "m"; m.X(v) > 12 && m.X(v) < d.W-12 {
			d.Text("sm t2 mid", m.X(v), top-11, name)
		}
	}
	if d.Narrow() {
		return
	}
	d.Line("axis", m.X(lx), m.Y(0), m.X(hx), m.Y(0))
	var along, port, starboard []float64
	for v := lx; v <= hx; v += 10 {
		b := hullHalf * math.Pow(math.Max(0, 1-v*v/(420*420)), .75)
		along, port, starboard = append(along, m.X(v)), append(port, m.Y(hullMiddle+b)),
			append(starboard, m.Y(hullMiddle-b))
	}
	d.Path("wash", draw.Ring(along, port, along, starboard))
	d.Text("sm t2", m.X(lx)+6, m.Y(hullMiddle)+4, "the hull at the catch; it goes this way →")
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

// oars draws a path's blades at its marks, and the oar from the pin at catch, square and
// finish; no more than the drawing shows of it.
func oars(d *draw.Surface, q *document.Path, look draw.Series, m draw.Plane, c *placer) {
	n := len(q.CentreX)
	if min(len(q.TipX), len(q.TipY), len(q.NeckX), len(q.NeckY)) < n {
		return
	}
	for j := range n {
		if q.Reference {
			break // its line says where it was; its blades would hide the other's
		}
		d.Line("blade "+look.Stroke(), m.X(q.NeckX[j]), m.Y(q.NeckY[j]), m.X(q.TipX[j]), m.Y(q.TipY[j]))
	}
	if n == 0 || len(q.PinX) < n {
		return
	}
	for _, j := range []int{0, squareMoment(q), n - 1} {
		foot := math.Max(0, m.LowY) // of the oar in the drawing
		x := q.NeckX[j] + (q.PinX[j]-q.NeckX[j])*(q.NeckY[j]-foot)/q.NeckY[j]
		c.stroke("shaft "+look.Stroke(), m.X(x), m.Y(foot), m.X(q.NeckX[j]), m.Y(q.NeckY[j]))
	}
}

// travels draws the pin's places at the marks on its course and, beneath, the boat's travel
// in each drive as a rule with its length and time; the last says what lies between two. It
// gives the lowest place drawn.
func travels(d *draw.Surface, f *document.Figure, looks []draw.Series, m draw.Plane) float64 {
	y := m.Y(0)
	for i := range f.Paths {
		for _, x := range f.Paths[i].PinX {
			d.MarkSized(looks[i], m.X(x), y, 3.4)
		}
		y += 11
	}
	rows := len(f.Paths) + 1
	if room := m.Y(hullMiddle+hullHalf) - y; float64(rows*19) > room {
		y = m.Bottom + 8
	}
	for i := range f.Paths {
		q := &f.Paths[i]
		said := travelWords(q)
		if said == "" {
			continue
		}
		y += 17
		x0, x1 := m.X(q.PinX[0]), m.X(q.PinX[len(q.PinX)-1])
		label := draw.Cut(q.Name, 12.5, .45*d.W) + ": " + said
		w := draw.TextWidth(label, 12.5)/2 + 6
		mid := math.Max((x0+x1)/2, w)
		d.Path("rule", draw.Pathf("M%s %sV%sM%s %sV%s", x0, y-4, y+4, x1, y-4, y+4))
		if mid-w > x0 {
			d.Line(looks[i].Line()+" thin", x0, y, mid-w, y)
			d.Line(looks[i].Line()+" thin", mid+w, y, x1, y)
		}
		d.Text("sm mid halo", mid, y+4, label)
	}
	if a, b := pair(f.Paths); b != nil {
		if lost := lostWords(f.Paths); lost != "" {
			y += 19
			from, _ := travel(a)
			to, _ := travel(b)
			x := m.X((from + to) / 2)
			d.Rule(m.X(math.Min(from, to)), m.X(math.Max(from, to)), y-4)
			w := draw.TextWidth(lost, 12.5)
			d.Text("sm b end halo", math.Min(d.W-2, math.Max(x-.5*math.Abs(m.X(to)-m.X(from))-8, w)), y, lost)
		}
	}
	return math.Max(m.Bottom, y)
}

// lostTravel shades what lies between a path and its perfect grip at equal oar angles, one
// quadrilateral an angle step. One polygon round both paths would cross itself and leave the
// widest gap bare. All run the same way round, so that where they overlap none cancels another.
func lostTravel(d *draw.Surface, a, b *document.Path, m draw.Plane) {
	low, high := commonAngles(a, b)
	const steps = 120
	var shade strings.Builder
	var ax, ay, bx, by float64
	for i := 0; i <= steps && high > low; i++ {
		angle := low + (high-low)*float64(i)/steps
		cx, cy := centreAt(a, angle)
		ex, ey := centreAt(b, angle)
		cx, cy, ex, ey = m.X(cx), m.Y(cy), m.X(ex), m.Y(ey)
		if i > 0 && !math.IsNaN(ax+bx+cx+ex) {
			twice := (cx-ax)*(by-ay) - (bx-ax)*(cy-ay) + (ex-cx)*(by-cy) - (bx-cx)*(ey-cy) // area, signed
			if twice > 0 {
				shade.WriteString(draw.Pathf("M%s %sL%s %sL%s %sL%s %sZ", ax, ay, cx, cy, ex, ey, bx, by))
			} else {
				shade.WriteString(draw.Pathf("M%s %sL%s %sL%s %sL%s %sZ", bx, by, ex, ey, cx, cy, ax, ay))
			}
		}
		ax, ay, bx, by = cx, cy, ex, ey
	}
	if shade.Len() > 0 {
		d.Path("shade", shade.String())
	}
}

func commonAngles(a, b *document.Path) (low, high float64) {
	la, ha := draw.Extent(a.Angle)
	lb, hb := draw.Extent(b.Angle)
	return math.Max(la, lb), math.Min(ha, hb)
}

// marks draws the marks of every path and their numbers, the catch being 0. A number stands
// where it covers nothing; where there is no such place it is left out, the table has it.
func marks(d *draw.Surface, paths []document.Path, looks []draw.Series, m draw.Plane, c *placer) {
	for i := range paths {
		q := &paths[i]
		for j := range min(len(q.CentreX), len(q.CentreY)) {
			x, y := m.X(q.CentreX[j]), m.Y(q.CentreY[j])
			d.MarkSized(looks[i], x, y, 4.2)
			c.taken = append(c.taken, box{x, y, x, y}.grown(5))
		}
	}
	for i := range min(len(paths), 2) {
		for j := i; j < min(len(paths[i].CentreX), len(paths[i].CentreY))-1; j++ { // one 0 will do
			x, y := m.X(paths[i].CentreX[j]), m.Y(paths[i].CentreY[j])
			c.beside("", fmt.Sprint(j), x, y, 11, 16, 22)
		}
	}
}

// places names the oar at catch, square and finish along its shaft.
func places(q *document.Path, m draw.Plane, c *placer) {
	if q == nil || len(q.Angle) == 0 || min(len(q.PinX), len(q.NeckX), len(q.NeckY)) < len(q.Angle) {
		return
	}
	last, square := len(q.Angle)-1, squareMoment(q)
	for _, at := range []struct {
		moment int
		name   string
	}{{square, "square"}, {0, "catch " + typeset.Quantity(math.Abs(q.Angle[0]), 0, "deg")},
		{last, "finish " + typeset.Quantity(math.Abs(q.Angle[last]), 0, "deg")}} {
		for _, u := range []float64{.5, .65, .35, .8, .2} {
			x, y := q.NeckX[at.moment]+u*(q.PinX[at.moment]-q.NeckX[at.moment]), q.NeckY[at.moment]*(1-u)
			if y > m.LowY && c.beside("", at.name, m.X(x), m.Y(y), 12, 20, 30) {
				break
			}
		}
	}
}

// aboard are the paths that say where oar and pin are at their marks, two at most: the
// first and what it is compared with.
func aboard(paths []document.Path) (out []*document.Path) {
	a, b := pair(paths)
	for _, q := range []*document.Path{a, b} {
		if q == nil {
			continue
		}
		n := realNumbers(q.PinX)
		if n > 1 && min(realNumbers(q.TipX), realNumbers(q.TipY), realNumbers(q.HandleX),
			realNumbers(q.HandleY)) == n {
			out = append(out, q)
		}
	}
	return out
}

// drawAboard draws the oar at its marks as one sees it from the boat, which stands still in
// the picture: a fan about the pin, beside it that of the path it is compared with.
func drawAboard(f *document.Figure, d *draw.Surface) {
	fans := aboard(f.Paths)
	var xs, ys []float64
	for _, q := range fans {
		for j := range q.PinX {
			xs, ys = append(xs, q.TipX[j]-q.PinX[j], q.HandleX[j]-q.PinX[j]),
				append(ys, q.TipY[j], q.HandleY[j])
		}
	}
	lx, hx := draw.Extent(xs)
	ly, hy := draw.Extent(ys)
	lx, hx, ly, hy = lx-14, hx+14, math.Min(ly, hullMiddle-hullHalf)-6, hy+16
	across := float64(len(fans))
	if d.Narrow() {
		across = 1
	}
	wide := d.W / across
	most := 420.
	if d.Projected() {
		most = 225
	}
	k := math.Min((wide-16)/(hx-lx), most/(hy-ly))
	top, low := 26., 0.
	if d.Projected() {
		top = 36
	}
	for i, q := range fans {
		look := draw.Of(i, func(int) bool { return q.Reference })
		left := wide*math.Mod(float64(i), across) + (wide-(hx-lx)*k)/2
		m := draw.Plane{LowX: lx, LowY: ly, K: k, Left: left, Bottom: top + (hy-ly)*k}
		name := draw.Cut(pathNames([]document.Path{*q})[0], 13.5, wide-8)
		if d.Projected() { // one pin has room on a screen: both oars turn about it
			d.Sample(look, 0, 10+16*float64(i))
			d.Text("b", 34, 14+16*float64(i), name)
		} else {
			d.Text("b", left, top-10, name)
		}
		fan(d, q, look, m, lx, hx, i == 0 || !d.Projected())
		low = m.Bottom
		if across == 1 && !d.Projected() {
			top = low + 40
		}
	}
	d.H = low + 6
}

// fan draws one oar at its marks about its pin.
func fan(d *draw.Surface, q *document.Path, look draw.Series, m draw.Plane, lx, hx float64, numbered bool) {
	edge := []float64{m.X(lx), m.X(hx)}
	d.Path("wash", draw.Ring(edge, []float64{m.Y(hullMiddle + hullHalf), m.Y(hullMiddle + hullHalf)},
		edge, []float64{m.Y(hullMiddle - hullHalf), m.Y(hullMiddle - hullHalf)}))
	d.Text("sm t2 end", m.X(hx)-4, m.Y(hullMiddle)+4, "bow →")
	for j := range q.PinX {
		tip, handle := q.TipX[j]-q.PinX[j], q.HandleX[j]-q.PinX[j]
		nx, ny := tip, q.TipY[j]
		if j < len(q.NeckX) && j < len(q.NeckY) {
			nx, ny = q.NeckX[j]-q.PinX[j], q.NeckY[j]
		}
		d.Line("shaft "+look.Stroke(), m.X(handle), m.Y(q.HandleY[j]), m.X(nx), m.Y(ny))
		d.Line("hl "+look.Stroke(), m.X(nx), m.Y(ny), m.X(tip), m.Y(q.TipY[j]))
		r := math.Hypot(tip, q.TipY[j])
		if label := fmt.Sprint(j); numbered && r > 0 && j < len(q.PinX)-1 {
			d.Text("sm mid", m.X(tip*(1+9/r)), m.Y(q.TipY[j]*(1+9/r))+4, label)
		}
	}
	d.Circle("pin", m.X(0), m.Y(0), 4)
}
