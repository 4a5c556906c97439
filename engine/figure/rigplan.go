package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/typeset"
)

// extentCM is what a view covers, cm: x toward the bow (or outward), y outward (or up).
type extentCM struct{ x0, y0, x1, y1 float64 }

func (e extentCM) wide() float64 { return e.x1 - e.x0 }
func (e extentCM) high() float64 { return e.y1 - e.y0 }

const (
	planSide = 8.  // units of white at the sides
	beam     = 44. // of the hull drawn for orientation, cm
)

func handle(r *document.Rigged) float64 { return r.Inboard + r.Gate/2 }  // pin to handle end
func tip(r *document.Rigged) float64    { return r.Outboard - r.Gate/2 } // pin to blade end

// planSize is what the plan covers about the first rig's pin, both rigs drawn: the pins
// lie on one line across, and the hull's midline stays where it is.
func (s *rigSheet) planSize() extentCM {
	var e extentCM
	for i := range s.rigs {
		r := &s.rigs[i]
		out := r.PinLine - s.rigs[0].PinLine // the pin's place over the first one's
		sc, sf := math.Sin(r.Catch*rad1), math.Sin(r.Finish*rad1)
		e.x0 = math.Min(e.x0, math.Min(-tip(r)*sf-6, -handle(r)*sc-6))
		if v := r.Stretcher + r.WorkThrough; v > 0 {
			e.x0 = math.Min(e.x0, -v-14)
		}
		e.x1 = math.Max(e.x1, tip(r)*sc+6)
		e.y1 = math.Max(e.y1, out+tip(r)+4)
		e.y0 = math.Min(e.y0, -r.PinLine-beam/2-24)
		if r.Sculling {
			e.y0 = math.Min(e.y0, -s.rigs[0].PinLine-r.PinLine-30)
		} else {
			e.y0 = math.Min(e.y0, out-handle(r)-12)
		}
	}
	return e
}

const rad1 = math.Pi / 180

// plan draws the rig from above, bow to the right, the pin's line across.
func (s *rigSheet) plan(e extentCM, left, top float64) {
	px := func(x float64) float64 { return left + (x-e.x0)*s.k }
	py := func(y float64) float64 { return top + (e.y1-y)*s.k }
	first := &s.rigs[0]
	mid := -first.PinLine
	s.hullFromAbove(px, py, e, mid)
	for i := len(s.rigs) - 1; i >= 0; i-- {
		s.oarsFromAbove(i, mid, px, py)
	}
	s.planDimensions(e, mid, px, py)
}

func (s *rigSheet) hullFromAbove(px, py func(float64) float64, e extentCM, mid float64) {
	d, r := s.d, &s.rigs[0]
	x0, x1 := 0., s.right
	d.Path("wash", fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sZ", draw.Coord(x0), draw.Coord(py(mid+beam/2)),
		draw.Coord(x1), draw.Coord(py(mid+beam/2-3)), draw.Coord(x1), draw.Coord(py(mid-beam/2+3)),
		draw.Coord(x0), draw.Coord(py(mid-beam/2))))
	d.Path("midline", "M"+draw.Coord(x0)+" "+draw.Coord(py(mid))+"H"+draw.Coord(x1))
	s.lines = append(s.lines, segment{x0, py(mid), x1, py(mid)})
	s.label("t2", []string{"bow →"}, berth{x1 - 4, py(mid) - 8, "end"}, berth{x1 - 4, py(mid) + 8, "end"})
	s.label("t2", []string{"stern"}, berth{x0 + 4, py(mid) - 8, ""}, berth{x0 + 4, py(mid) + 8, ""})
	sides := []float64{1}
	if r.Sculling {
		sides = append(sides, -1)
	}
	for _, side := range sides {
		y := mid + side*r.PinLine
		for _, foot := range []float64{-24, 24} {
			d.Line("rigger", px(foot), py(mid+side*(beam/2-2)), px(0), py(y))
		}
	}
	// the seat against its front stop, and the stretcher's heels
	if !math.IsNaN(r.WorkThrough) {
		for i := range s.rigs {
			at := -s.rigs[i].WorkThrough
			d.Path("seat "+ink(i), fmt.Sprintf("M%s %sH%sV%sH%sZ", draw.Coord(px(at)),
				draw.Coord(py(mid+13)), draw.Coord(px(at+22)), draw.Coord(py(mid-13)), draw.Coord(px(at))))
		}
	}
	for i := range s.rigs {
		if v := s.rigs[i].Stretcher + s.rigs[i].WorkThrough; !math.IsNaN(v) {
			d.Path("plate "+ink(i), fmt.Sprintf("M%s %sV%s", draw.Coord(px(-v)),
				draw.Coord(py(mid+beam/2-4)), draw.Coord(py(mid-beam/2+4))))
			s.lines = append(s.lines, segment{px(-v), py(mid + beam/2 - 4), px(-v), py(mid - beam/2 + 4)})
		}
	}
}

// oarsFromAbove draws one rig's oar at the catch, square and at the finish, the way of
// blade and handle dotted, and of the other scull what the hands meet.
func (s *rigSheet) oarsFromAbove(i int, mid float64, px, py func(float64) float64) {
	d, r := s.d, &s.rigs[i]
	pin := mid + r.PinLine
	at := func(radius, degrees float64) (x, y float64) { // outward along the shaft
		return px(-radius * math.Sin(degrees*rad1)), py(pin + radius*math.Cos(degrees*rad1))
	}
	for _, radius := range []float64{tip(r) - r.BladeLength/2, -handle(r)} {
		var xs, ys []float64
		for a := -r.Catch; a < r.Finish; a += 2 {
			x, y := at(radius, a)
			xs, ys = append(xs, x), append(ys, y)
		}
		x, y := at(radius, r.Finish)
		d.Path("way "+ink(i), draw.Polyline(append(xs, x), append(ys, y)))
	}
	for k, a := range []float64{r.Finish, 0, -r.Catch} {
		part := ""
		if k == 0 {
			part = " pale"
		}
		x0, y0 := at(-handle(r), a)
		x1, y1 := at(tip(r)-r.BladeLength, a)
		s.stroke("loom "+ink(i)+part, x0, y0, x1, y1)
		// the blade seen on its edge: a thin wedge
		x2, y2 := at(tip(r), a)
		nx, ny := (y2-y1)/math.Hypot(x2-x1, y2-y1), -(x2-x1)/math.Hypot(x2-x1, y2-y1)
		w0, w1 := 1.2, 3.2*s.k
		d.Path("spoon "+ink(i)+part, fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sZ", draw.Coord(x1+nx*w0),
			draw.Coord(y1+ny*w0), draw.Coord(x2+nx*w1/2), draw.Coord(y2+ny*w1/2), draw.Coord(x2-nx*w1/2),
			draw.Coord(y2-ny*w1/2), draw.Coord(x1-nx*w0), draw.Coord(y1-ny*w0)))
		s.lines = append(s.lines, segment{x1, y1, x2, y2})
	}
	if r.Sculling {
		far := mid - r.PinLine
		for _, a := range []float64{r.Finish, 0} {
			x, y := px(handle(r)*math.Sin(a*rad1)), py(far+handle(r)*math.Cos(a*rad1))
			s.stroke("loom pale "+ink(i), px(0), py(far), x, y)
		}
		s.stroke("loom pale "+ink(i), px(0), py(far), px(0), py(far-26))
		d.Circle("pin "+ink(i), px(0), py(far), 3.5)
	}
	d.Circle("pin "+ink(i), px(0), py(pin), 3.5)
}

// pairOf runs over the rigs that have a dimension to draw: both where they differ.
func (s *rigSheet) each(q rigDimension, draw func(r *document.Rigged, i int, off float64)) {
	for i := range s.rigs {
		r := &s.rigs[i]
		if math.IsNaN(q.of(r)) || i > 0 && typeset.Number(q.of(r), 1) == typeset.Number(q.of(&s.rigs[0]),
			1) {
			continue
		}
		draw(r, i, 5*float64(i))
	}
}

func dimClass(i int) string { return []string{"dim", "dim rs2"}[i] }

// planDimensions draws the measures of the plan: along the square oar the outboard, to
// the bow of it, clear of the hands, inboard and span, across the hull the overlap and
// the hands at the finish, beneath it what stands along the boat.
func (s *rigSheet) planDimensions(e extentCM, mid float64, px, py func(float64) float64) {
	r0 := &s.rigs[0]
	second := 5 * float64(len(s.rigs)-1) // room for the second rig's lines
	name := func(n string) rigDimension { return dimensionNamed(n) }
	pinOf := func(r *document.Rigged) float64 { return mid + r.PinLine }

	// angles, at the blades
	x, y := px(tip(r0)*math.Sin(r0.Catch*rad1)), py(tip(r0)*math.Cos(r0.Catch*rad1))
	s.label("b", s.said(name("catch")), berth{x, y + 14, "end"}, berth{x - 30, y + 26, "end"}, berth{x,
		y - 16, "end"}, berth{x - 10, y - 30, "end"})
	x, y = px(-tip(r0)*math.Sin(r0.Finish*rad1)), py(tip(r0)*math.Cos(r0.Finish*rad1))
	s.label("b", s.said(name("finish")), berth{x - 4, y - 12, ""}, berth{x, y - 20, ""}, berth{x, y + 24,
		""})

	// overlap at square, between the handles' ends, or from midline to the handle's end
	q := name("overlap")
	s.each(q, func(r *document.Rigged, i int, off float64) {
		x := px(0) + 9 + off
		end := pinOf(r) - handle(r)
		other := mid
		if r.Sculling {
			other = 2*mid - end
		}
		if i == 0 {
			s.d.Line("hair", px(0)+2, py(end), x+3, py(end))
			s.d.Line("hair", px(0)+2, py(other), x+3, py(other))
		}
		s.measure(q.name, dimClass(i), x, py(other), x, py(end))
	})
	// handles apart at the finish: its line first, so that the overlap's words give way to it
	apart := name("handles apart at the finish")
	hands := 0.
	s.each(apart, func(r *document.Rigged, i int, off float64) {
		x := px(handle(r)*math.Sin(r.Finish*rad1)) + 7 + off
		end := pinOf(r) - handle(r)*math.Cos(r.Finish*rad1)
		s.measure(apart.name, dimClass(i), x, py(2*mid-end), x, py(end))
		hands = math.Max(hands, x)
	})
	if s.known(q) {
		x, low := px(0)+17+second, py(math.Min(2*mid-(pinOf(r0)-handle(r0)), pinOf(r0)-handle(r0)))
		s.label("", s.said(q), berth{x, py(mid) + 0, ""}, berth{x, py(mid) + 9, ""}, berth{x, low + 10, ""},
			berth{px(0) + 9, low + 12, "mid"}, berth{px(0) - 12, low + 10, "end"})
	}
	if s.known(apart) {
		low := py(2*mid - (pinOf(r0) - handle(r0)*math.Cos(r0.Finish*rad1)))
		below := math.Max(low, py(mid-beam/2)) + s.leading()*.5*float64(len(s.said(apart))) + 4
		s.d.Line("lead-line", hands, low+12, hands, below-s.leading()*.5*float64(len(s.said(apart))))
		s.label("", s.said(apart), berth{hands - 4, below, ""}, berth{hands + 4, low + 12, ""})
	}

	// inboard and, further to the bow, span or spread
	q = name("inboard")
	x1, x2 := s.columns(s.k)
	x1, x2 = px(0)+x1, px(0)+x2
	s.each(q, func(r *document.Rigged, i int, off float64) {
		x := x1 + off
		face, end := pinOf(r)-r.Gate/2, pinOf(r)-handle(r)
		if i == 0 {
			s.d.Line("hair", px(0)+4, py(face), x+3, py(face))
			s.d.Line("hair", px(0)+4, py(end), x+3, py(end))
		}
		s.measure(q.name, dimClass(i), x, py(face), x, py(end))
	})
	over := (py(pinOf(r0)) + py(mid+beam/2)) / 2
	s.label("", s.said(q), berth{x1 + 5 + second, over + 2, ""}, berth{x1 + 12, over + 14, ""})

	q = name("span")
	if !r0.Sculling {
		q = name("spread")
	}
	s.each(q, func(r *document.Rigged, i int, off float64) {
		x := x2 + off
		to := mid
		if r.Sculling {
			to = mid - r.PinLine
		}
		s.d.Line("hair", px(0)+6, py(pinOf(r)), x+3, py(pinOf(r)))
		if r.Sculling {
			s.d.Line("hair", px(0)+6, py(to), x+3, py(to))
		}
		s.measure(q.name, dimClass(i), x, py(pinOf(r)), x, py(to))
	})
	end := mid
	if r0.Sculling {
		end = mid - r0.PinLine
	}
	half := s.leading() / 2 * float64(len(s.said(q)))
	s.label("", s.said(q), berth{x2, py(end) + half + 4, "mid"}, berth{x2 + 6, py(end) - half - 4, ""},
		berth{x2 - 6, py(end) - half - 4, "end"}, berth{x2 - 6, py(end) + half + 4, "end"}, berth{x2 + 6,
			over, ""})

	// outboard, to the bow of the square oar
	q = name("outboard")
	s.each(q, func(r *document.Rigged, i int, off float64) {
		x := px(0) + 11 + off
		face, end := pinOf(r)-r.Gate/2, pinOf(r)+tip(r)
		if i == 0 {
			s.d.Line("hair", px(0)+3, py(end), x+3, py(end))
		}
		s.measure(q.name, dimClass(i), x, py(face), x, py(end))
	})
	x = px(0) + 17 + second
	s.label("", s.said(q), berth{x, py(.62 * tip(r0)), ""}, berth{x, py(.75 * tip(r0)), ""}, berth{x,
		py(.5 * tip(r0)), ""})

	// along the boat, beneath the hull: stretcher to pins, then work-through
	y = py(mid-beam/2) + 10
	heels, through := name("stretcher from the pins"), name("work-through")
	high := s.leading() * float64(len(s.heelWords()))
	y2 := y
	if s.known(heels) {
		y2 += high + second + 10
	}
	s.each(heels, func(r *document.Rigged, i int, off float64) {
		v := r.Stretcher + r.WorkThrough
		s.d.Line("hair", px(-v), py(mid-beam/2+4), px(-v), y+off+3)
		s.measure(heels.name, dimClass(i), px(-v), y+off, px(0), y+off)
	})
	s.each(through, func(r *document.Rigged, i int, off float64) {
		s.d.Line("hair", px(-r.WorkThrough), py(mid-13), px(-r.WorkThrough), y2+off+3)
		s.measure(through.name, dimClass(i), px(-r.WorkThrough), y2+off, px(0), y2+off)
	})
	if s.known(heels) {
		at := y + 4 + second + high/2
		s.label("", s.heelWords(), berth{px(0) - 8, at, "end"}, berth{3, at, ""}, berth{px(0) + 8, at, ""})
	}
	if s.known(through) {
		x, at := px(-math.Max(r0.WorkThrough, 0))-16, y2+second/2
		s.label("", s.said(through), berth{x, at, "end"}, berth{px(0) + 16, at, ""}, berth{x, at + 12,
			"end"})
	}
}

// places to the bow of the pins, units, where inboard and span are measured: clear of
// hands and words.
func (s *rigSheet) columns(k float64) (inboard, span float64) {
	second := 5 * float64(len(s.rigs)-1)
	hands := 0.
	for i := range s.rigs {
		r := &s.rigs[i]
		hands = math.Max(hands, handle(r)*math.Sin(r.Finish*rad1)*k+7+second)
	}
	inboard = hands + 10
	if !s.d.Narrow() { // there the overlap's words find room elsewhere
		inboard = math.Max(inboard, 17+second+s.width(dimensionNamed("overlap"))+8)
	}
	return inboard, inboard + s.width(dimensionNamed("inboard")) + 16 + 2*second
}

// bowwardAt is how many units the words need to the bow of the pins at a scale.
func (s *rigSheet) bowwardAt(k float64) float64 {
	q := dimensionNamed("span")
	if !s.rigs[0].Sculling {
		q = dimensionNamed("spread")
	}
	_, span := s.columns(k)
	return span + s.width(q)/2 + 4
}

// sternward is how many units the words beneath the hull need to the stern of the pins.
func (s *rigSheet) sternward() float64 {
	q := dimensionNamed("stretcher from the pins")
	if !s.known(q) || s.d.Narrow() { // there the words may run to the bow of the pins
		return 0
	}
	b := s.boxOf(s.heelWords(), berth{})
	return b.x1 - b.x0 + 12 - planSide
}

// heelWords are those of the stretcher, of two rigs on two lines.
func (s *rigSheet) heelWords() []string {
	text := s.said(dimensionNamed("stretcher from the pins"))
	if name, values, ok := strings.Cut(text[0], " pins "); ok && strings.Contains(values, "→") {
		return []string{name + " pins", values}
	}
	return text
}

// width is that of a dimension's words.
func (s *rigSheet) width(q rigDimension) float64 {
	if !s.known(q) {
		return 0
	}
	b := s.boxOf(s.said(q), berth{})
	return b.x1 - b.x0
}
