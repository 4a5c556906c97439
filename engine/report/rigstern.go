package report

import (
	"fmt"
	"math"
)

// The view from the stern: the oar square, its blade just covered, gate, seat and
// hands over the water. Only where a height is given.

const (
	sternMargin = 62. // units left of the hull, for the columns of heights
	sternRows   = 5.  // lines of words above the hands
)

func (s *rigSheet) stern() bool { return !math.IsNaN(s.rigs[0].Height) }

// sternSize is what the view covers: x outward from the midline, y up from the water.
func (s *rigSheet) sternSize() extentCM {
	e := extentCM{x0: -beam / 2, y0: -26}
	for i := range s.rigs {
		r := &s.rigs[i]
		if math.IsNaN(r.Height) {
			continue
		}
		slope := r.Slope * rad1
		e.x0 = math.Min(e.x0, r.PinLine-r.handle()*math.Cos(slope)-3)
		e.x1 = math.Max(e.x1, r.PinLine+r.tip()*math.Cos(slope)+4)
		e.y1 = math.Max(e.y1, r.Height+r.SeatOverWater+r.handle()*math.Sin(slope)+3)
	}
	return e
}

// sternView draws it with the hull's edge at left.
func (s *rigSheet) sternView(e extentCM, left, top float64) {
	top += sternRows*s.leading() + 4
	px := func(x float64) float64 { return left + (x-e.x0)*s.k }
	py := func(y float64) float64 { return top + (e.y1-y)*s.k }
	d, r0 := s.d, &s.rigs[0]

	right := math.Min(d.w, px(e.x1)+8)
	d.path("shade", fmt.Sprintf("M%s %sH%sV%sH%sZ", num(left-sternMargin+10), num(py(0)), num(right), num(py(e.y0)), num(left-sternMargin+10)))
	seat := r0.SeatOverWater
	d.path("wash", fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sZ", num(px(-beam/2)), num(py(seat+2)), num(px(beam/2)), num(py(seat+2)), num(px(beam/2-7)), num(py(-12)), num(px(-beam/2+7)), num(py(-12))))
	s.stroke("surface", left-sternMargin+10, py(0), right, py(0))
	s.label("t2", []string{"water"}, berth{right - 4, py(0) - 8, "end"}, berth{right - 4, py(0) + 9, "end"}, berth{px(r0.PinLine) + 20, py(0) + 9, ""})
	d.path("plate", fmt.Sprintf("M%s %sH%s", num(px(-12)), num(py(seat)), num(px(12))))
	for i := len(s.rigs) - 1; i >= 0; i-- {
		if !math.IsNaN(s.rigs[i].Height) {
			s.oarFromStern(i, px, py)
		}
	}
	s.heights(px, py, e)
	// slope, above the shaft
	q := dimensionNamed("slope of the shaft")
	x := r0.PinLine + .42*r0.tip()
	y := r0.Height + seat - .42*r0.tip()*math.Sin(r0.Slope*rad1)
	s.label("", s.words(q), berth{px(x) + 4, py(y) - 14, ""}, berth{px(x) + 12, py(y) - 22, ""})
	s.pitchInset(px, py, e)
	s.taken = append(s.taken, box{left, py(0), right, py(e.y0)}) // the water itself
}

func (s *rigSheet) oarFromStern(i int, px, py func(float64) float64) {
	d, r := s.d, &s.rigs[i]
	gate := r.Height + r.SeatOverWater
	at := func(radius, slope float64) (x, y float64) {
		return px(r.PinLine + radius*math.Cos(slope)), py(gate - radius*math.Sin(slope))
	}
	d.line("rigger", px(beam/2-1), py(r.SeatOverWater+1), px(r.PinLine), py(gate-3))
	// the recovery: feathered, clear of the water
	clear := math.Asin((gate - r.Clear) / (r.tip() - r.BladeLength/2))
	x0, y0 := at(-r.handle(), clear)
	x1, y1 := at(r.tip(), clear)
	d.path("way "+ink(i), "M"+num(x0)+" "+num(y0)+"L"+num(x1)+" "+num(y1))
	slope := r.Slope * rad1
	x0, y0 = at(-r.handle(), slope)
	x1, y1 = at(r.tip()-r.BladeLength, slope)
	s.stroke("loom "+ink(i), x0, y0, x1, y1)
	x2, y2 := at(r.tip(), slope)
	w := r.BladeWidth / 2 * s.k
	nx, ny := math.Sin(slope)*w, math.Cos(slope)*w
	d.path("spoon "+ink(i), fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sL%s %sZ", num(x1), num(y1), num(x1+(x2-x1)*.3-nx*.9), num(y1+(y2-y1)*.3-ny*.9), num(x2-nx), num(y2-ny), num(x2+nx), num(y2+ny), num(x1+(x2-x1)*.3+nx*.9), num(y1+(y2-y1)*.3+ny*.9)))
	s.lines = append(s.lines, segment{x1, y1, x2, y2})
	lean := 0.
	if !math.IsNaN(r.Outward) {
		lean = r.Outward * rad1
	}
	d.line("pinline "+ink(i), px(r.PinLine-6*math.Sin(lean)), py(gate-6*math.Cos(lean)), px(r.PinLine+6*math.Sin(lean)), py(gate+6*math.Cos(lean)))
	d.circle("pin "+ink(i), px(r.PinLine), py(gate), 3)
}

// heights draws what stands over the seat and the water: a column each left of the
// hull, its words on a line of their own above the hands, led up to.
func (s *rigSheet) heights(px, py func(float64) float64, e extentCM) {
	r0 := &s.rigs[0]
	gate := func(r *Rigged) float64 { return r.Height + r.SeatOverWater }
	columns := []struct {
		q        rigDimension
		from, to func(r *Rigged) float64
		reach    func(r *Rigged) float64 // how far inward the level is led, x in cm
	}{
		{dimensionNamed("height, gate over seat"), func(r *Rigged) float64 { return r.SeatOverWater }, gate, func(r *Rigged) float64 { return r.PinLine }},
		{dimensionNamed("gate over water"), func(*Rigged) float64 { return 0 }, gate, func(r *Rigged) float64 { return r.PinLine }},
		{dimensionNamed("hands over seat on the recovery"), func(r *Rigged) float64 { return r.SeatOverWater }, func(r *Rigged) float64 { return r.SeatOverWater + r.Recovery }, func(r *Rigged) float64 { return r.PinLine - r.handle() + r.Pull }},
		{dimensionNamed("hands over seat in the drive"), func(r *Rigged) float64 { return r.SeatOverWater }, func(r *Rigged) float64 { return r.SeatOverWater + r.Drive }, func(r *Rigged) float64 { return r.PinLine - r.handle() + r.Pull }},
	}
	x := px(e.x0) - 10
	top := py(e.y1)
	for k, c := range columns {
		at := x - 12*float64(k)
		row := top - s.leading()*(float64(k)+.5) - 4
		highest := math.Inf(1)
		s.each(c.q, func(r *Rigged, i int, off float64) {
			s.d.line("hair", at-off/2-2, py(c.to(r)), px(c.reach(r)), py(c.to(r)))
			s.measure(c.q.name, dimClass(i), at-off/2, py(c.from(r)), at-off/2, py(c.to(r)))
			highest = math.Min(highest, py(c.to(r)))
		})
		s.d.line("lead-line", at, highest, at, row+3)
		text := s.words(c.q)
		if len(text) == 2 {
			text = []string{text[0] + " " + text[1]}
		}
		s.label("", text, berth{at + 3, row, ""})
	}
	s.d.line("hair", x-12*float64(len(columns)-1)-2, py(r0.SeatOverWater), px(12), py(r0.SeatOverWater))
}

// pitchInset draws the gate's back on a larger scale: upright, and tilted by the pitch.
func (s *rigSheet) pitchInset(px, py func(float64) float64, e extentCM) {
	q := dimensionNamed("stern pitch")
	if !s.known(q) {
		return
	}
	text := s.words(q)
	width := s.width(q)
	x, foot := s.d.w-width-34, py(e.y1)+4
	const long = 44.
	s.stroke("guide", x, foot, x, foot-long)
	for i := range s.rigs {
		p := s.rigs[i].Pitch * rad1
		if !math.IsNaN(p) {
			s.stroke("loom "+ink(i), x, foot, x-long*math.Sin(p), foot-long*math.Cos(p))
		}
	}
	s.label("", text, berth{x + 8, foot - long + 6, ""})
	s.label("t2", []string{"← stern"}, berth{x + 8, foot - long + 6 + s.leading(), ""})
	if o := dimensionNamed("outward pitch"); s.known(o) {
		s.label("", s.words(o), berth{x + 8, foot - 4, ""}, berth{x - 20, foot + 10, ""})
	}
}

// boatStrip draws the whole boat small, bow to the right, so that everyone sees which
// boat it is and on which side each seat rows, and gives where it ends.
func (s *rigSheet) boatStrip(x, y, w, h float64) float64 {
	r := &s.rigs[0]
	if r.Seats == 0 || h < 40 || w < 80 {
		return y
	}
	const apart = 140. // cm from seat to seat, common practice
	long := apart*float64(r.Seats-1) + 420
	half := r.PinLine + r.tip()
	k := math.Min(w/long, h/2/half)
	cx, cy := x+w/2, y+half*k
	px := func(v float64) float64 { return cx + v*k }
	d := s.d
	d.path("wash", fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sL%s %sL%s %sZ", num(px(-long/2)), num(cy), num(px(-long/2+150)), num(cy-beam/2*k), num(px(long/2-150)), num(cy-beam/2*k), num(px(long/2)), num(cy), num(px(long/2-150)), num(cy+beam/2*k), num(px(-long/2+150)), num(cy+beam/2*k)))
	for seat := range r.Seats {
		at := px(apart * (float64(r.Seats-1)/2 - float64(seat)))
		for _, side := range r.sidesOf(seat) {
			pin := cy - side*r.PinLine*k
			d.line("rigger", at, cy-side*beam/2*k, at, pin)
			tip := cy - side*half*k
			d.line("oarlet", at, cy+side*(r.handle()-r.PinLine)*k, at, tip)
			d.line("spoonlet", at, cy-side*(half-r.BladeLength)*k, at, tip)
		}
		d.circle("seatlet", at, cy, 2.2)
	}
	return y + 2*half*k
}

// sidesOf are the sides on which a seat rows, +1 port. Unknown sides alternate, stroke
// on port: common practice.
func (r *Rigged) sidesOf(seat int) []float64 {
	switch {
	case r.Sculling:
		return []float64{1, -1}
	case seat < len(r.Sides) && r.Sides[seat] == 's':
		return []float64{-1}
	case seat < len(r.Sides), (r.Seats-1-seat)%2 == 0:
		return []float64{1}
	}
	return []float64{-1}
}
