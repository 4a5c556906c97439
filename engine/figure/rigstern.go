package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
)

// The view from the stern: the oar square, its blade just covered, gate, seat and
// hands over the water. Only where a height is given.

const sternMargin = 62. // units left of the hull, for the columns of heights

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
		e.x0 = math.Min(e.x0, r.PinLine-handle(r)*math.Cos(slope)-3)
		e.x1 = math.Max(e.x1, r.PinLine+tip(r)*math.Cos(slope)+4)
		e.y1 = math.Max(e.y1, r.Height+r.SeatOverWater+handle(r)*math.Sin(slope)+3)
	}
	return e
}

// sternView draws it with the hull's edge at left.
func (s *rigSheet) sternView(e extentCM, left, top float64) {
	rows, pitch := s.sternTop(left)
	if pitch > 0 {
		s.pitchInset(top)
	} else {
		_, high := s.pitchSize()
		s.pitchInset(top + rows - high)
	}
	top += rows + pitch + 4
	px := func(x float64) float64 { return left + (x-e.x0)*s.k }
	py := func(y float64) float64 { return top + (e.y1-y)*s.k }
	d, r0 := s.d, &s.rigs[0]

	right := math.Min(d.W, px(e.x1)+8)
	d.Path("shade", fmt.Sprintf("M%s %sH%sV%sH%sZ", draw.Coord(left-sternMargin+10), draw.Coord(py(0)),
		draw.Coord(right), draw.Coord(py(e.y0)), draw.Coord(left-sternMargin+10)))
	seat := r0.SeatOverWater
	d.Path("wash", fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sZ", draw.Coord(px(-beam/2)), draw.Coord(py(seat+2)),
		draw.Coord(px(beam/2)), draw.Coord(py(seat+2)), draw.Coord(px(beam/2-7)), draw.Coord(py(-12)),
		draw.Coord(px(-beam/2+7)), draw.Coord(py(-12))))
	s.stroke("surface", left-sternMargin+10, py(0), right, py(0))
	s.label("t2", []string{"water"}, berth{right - 4, py(0) - 8, "end"}, berth{right - 4, py(0) + 9, "end"},
		berth{px(r0.PinLine) + 20, py(0) + 9, ""})
	d.Path("plate", fmt.Sprintf("M%s %sH%s", draw.Coord(px(-12)), draw.Coord(py(seat)), draw.Coord(px(12))))
	for i := len(s.rigs) - 1; i >= 0; i-- {
		if !math.IsNaN(s.rigs[i].Height) {
			s.oarFromStern(i, px, py)
		}
	}
	s.heights(px, py, e)
	// slope, above the shaft
	q := dimensionNamed("slope of the shaft")
	x := r0.PinLine + .42*tip(r0)
	y := r0.Height + seat - .42*tip(r0)*math.Sin(r0.Slope*rad1)
	pin := py(r0.Height + seat)
	s.label("", []string{strings.Join(s.said(q), " ")}, berth{px(x) + 4, py(y) - 14, ""}, berth{px(x) + 12,
		py(y) - 22, ""},
		berth{px(r0.PinLine) + 12, pin - 10, ""}, berth{px(r0.PinLine) + 4, pin - 16, ""})
	s.taken = append(s.taken, box{left, py(0), right, py(e.y0)}) // the water itself
}

func (s *rigSheet) oarFromStern(i int, px, py func(float64) float64) {
	d, r := s.d, &s.rigs[i]
	gate := r.Height + r.SeatOverWater
	at := func(radius, slope float64) (x, y float64) {
		return px(r.PinLine + radius*math.Cos(slope)), py(gate - radius*math.Sin(slope))
	}
	d.Line("rigger", px(beam/2-1), py(r.SeatOverWater+1), px(r.PinLine), py(gate-3))
	// the recovery: feathered, clear of the water
	clear := math.Asin((gate - r.Clear) / (tip(r) - r.BladeLength/2))
	x0, y0 := at(-handle(r), clear)
	x1, y1 := at(tip(r), clear)
	d.Path("way "+ink(i), "M"+draw.Coord(x0)+" "+draw.Coord(y0)+"L"+draw.Coord(x1)+" "+draw.Coord(y1))
	slope := r.Slope * rad1
	x0, y0 = at(-handle(r), slope)
	x1, y1 = at(tip(r)-r.BladeLength, slope)
	s.stroke("loom "+ink(i), x0, y0, x1, y1)
	x2, y2 := at(tip(r), slope)
	w := r.BladeWidth / 2 * s.k
	nx, ny := math.Sin(slope)*w, math.Cos(slope)*w
	d.Path("spoon "+ink(i), fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sL%s %sZ", draw.Coord(x1), draw.Coord(y1),
		draw.Coord(x1+(x2-x1)*.3-nx*.9), draw.Coord(y1+(y2-y1)*.3-ny*.9), draw.Coord(x2-nx),
		draw.Coord(y2-ny), draw.Coord(x2+nx), draw.Coord(y2+ny), draw.Coord(x1+(x2-x1)*.3+nx*.9),
		draw.Coord(y1+(y2-y1)*.3+ny*.9)))
	s.lines = append(s.lines, segment{x1, y1, x2, y2})
	lean := 0.
	if !math.IsNaN(r.Outward) {
		lean = r.Outward * rad1
	}
	d.Line("pinline "+ink(i), px(r.PinLine-6*math.Sin(lean)), py(gate-6*math.Cos(lean)),
		px(r.PinLine+6*math.Sin(lean)), py(gate+6*math.Cos(lean)))
	d.Circle("pin "+ink(i), px(r.PinLine), py(gate), 3)
}

// heightColumns are what stands over the seat and the water, the innermost first: a
// level from, a level to, both over the water, and how far inward its line is led (cm
// from the midline).
var heightColumns = []struct {
	name            string
	from, to, reach func(r *document.Rigged) float64
}{
	{"height over the seat", seatLevel, gateLevel, func(r *document.Rigged) float64 { return r.PinLine }},
	{"gate over water", func(*document.Rigged) float64 { return 0 }, gateLevel,
		func(r *document.Rigged) float64 { return r.PinLine }},
	{"hands over seat on the recovery", seatLevel,
		func(r *document.Rigged) float64 { return r.SeatOverWater + r.Recovery }, pullAt},
	{"hands over seat in the drive", seatLevel, func(r *document.Rigged) float64 {
		return r.SeatOverWater +
			r.Drive
	}, pullAt},
}

func seatLevel(r *document.Rigged) float64 { return r.SeatOverWater }
func gateLevel(r *document.Rigged) float64 { return r.Height + r.SeatOverWater }
func pullAt(r *document.Rigged) float64    { return r.PinLine - handle(r) + r.Pull }

// heights draws them: a column each left of the hull, its words on a line of their own
// above the hands, led up to.
func (s *rigSheet) heights(px, py func(float64) float64, e extentCM) {
	x, top := px(e.x0)-10, py(e.y1)
	for k, line := range s.rowWords() {
		c := heightColumns[k]
		q := dimensionNamed(c.name)
		at := x - 12*float64(k)
		row := top - s.leading()*(float64(k)+.5) - 4
		highest := math.Inf(1)
		s.each(q, func(r *document.Rigged, i int, off float64) {
			s.d.Line("hair", at-off/2-2, py(c.to(r)), px(c.reach(r)), py(c.to(r)))
			s.measure(q.name, dimClass(i), at-off/2, py(c.from(r)), at-off/2, py(c.to(r)))
			highest = math.Min(highest, py(c.to(r)))
		})
		s.d.Line("lead-line", at, highest, at, row+3)
		s.set("", []string{line}, berth{at + 3, row, ""})
	}
	s.d.Line("hair", x-12*float64(len(heightColumns)-1)-2, py(s.rigs[0].SeatOverWater), px(12),
		py(s.rigs[0].SeatOverWater))
}

// pitchWords are the lines beside the tilted gate.
func (s *rigSheet) pitchWords() []string {
	var out []string
	for _, name := range []string{"stern pitch", "outward pitch"} {
		if q := dimensionNamed(name); s.known(q) {
			out = append(out, s.said(q)...)
		}
	}
	return out
}

// pitchSize is the room of the tilted gate with its words, 0 where no pitch is known.
func (s *rigSheet) pitchSize() (wide, high float64) {
	text := s.pitchWords()
	if len(text) == 0 {
		return 0, 0
	}
	b := s.boxOf(append([]string{"← stern"}, text...), berth{})
	return b.x1 - b.x0 + 24, math.Max(b.y1-b.y0, gateLong) + 4
}

const gateLong = 40. // units: the tilted gate is no longer to scale

// pitchInset draws the gate's back on a larger scale, upright and tilted by the pitch,
// at the sheet's right. It has its place to itself: sternTop sees to it.
func (s *rigSheet) pitchInset(top float64) {
	wide, high := s.pitchSize()
	if wide == 0 {
		return
	}
	x, foot := s.d.W-wide+12, top+gateLong
	s.stroke("guide", x, foot, x, top)
	for i := range s.rigs {
		if p := s.rigs[i].Pitch * rad1; !math.IsNaN(p) {
			s.stroke("loom "+ink(i), x, foot, x-gateLong*math.Sin(p), foot-gateLong*math.Cos(p))
		}
	}
	s.set("t2", []string{"← stern"}, berth{x + 8, top + s.leading()/2, ""})
	s.set("", s.pitchWords(), berth{x + 8, top + (s.leading()+high-4)/2, ""})
}

// rowWords are the lines above the hands, the lowest first.
func (s *rigSheet) rowWords() []string {
	var out []string
	for _, c := range heightColumns {
		q := dimensionNamed(c.name)
		line := strings.Join(s.said(q), " ")
		if uneven(s.rigs) && len(s.rigs) == 1 { // of two, words and list have it: there is no room
			line += " (port " + s.values(q.onPort()) + ")"
		}
		out = append(out, line)
	}
	return out
}

// rowsWide is where the longest of those lines ends, the hull's side of the view at left.
func (s *rigSheet) rowsWide(left float64) float64 {
	end := 0.
	for k, line := range s.rowWords() {
		end = math.Max(end, left-7-12*float64(k)+draw.TextWidth(line, s.size()))
	}
	return end
}

// sternTop is the room above the hands: the lines of words, and the pitch beside them or,
// where they would meet, above them.
func (s *rigSheet) sternTop(left float64) (rows, pitch float64) {
	rows = (float64(len(heightColumns)) + .5) * s.leading()
	wide, high := s.pitchSize()
	if s.rowsWide(left)+6 < s.d.W-wide && high < rows {
		return rows, 0
	}
	return rows, high
}

// boatStrip draws the whole boat small, bow to the right, so that everyone sees which
// boat it is and on which side each seat rows, and gives where it ends.
func (s *rigSheet) boatStrip(x, y, w, h float64) float64 {
	r := &s.rigs[0]
	if r.Boat == "" || h < 40 || w < 80 {
		return y
	}
	seats := int(r.Boat[0] - '0')
	const apart = 140. // cm from seat to seat, common practice
	long := apart*float64(seats-1) + 420
	half := r.PinLine + tip(r)
	k := math.Min(w/long, math.Min(h/2/half, .28))
	cx, cy := x+w/2, y+half*k
	px := func(v float64) float64 { return cx + v*k }
	d := s.d
	d.Path("wash", fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sL%s %sL%s %sZ", draw.Coord(px(-long/2)),
		draw.Coord(cy), draw.Coord(px(-long/2+150)), draw.Coord(cy-beam/2*k), draw.Coord(px(long/2-150)),
		draw.Coord(cy-beam/2*k), draw.Coord(px(long/2)), draw.Coord(cy), draw.Coord(px(long/2-150)),
		draw.Coord(cy+beam/2*k), draw.Coord(px(-long/2+150)), draw.Coord(cy+beam/2*k)))
	for seat := range seats {
		at := px(apart * (float64(seats-1)/2 - float64(seat)))
		for _, side := range sidesOf(r, seat, seats) {
			pin := cy - side*r.PinLine*k
			d.Line("rigger", at, cy-side*beam/2*k, at, pin)
			tip := cy - side*half*k
			d.Line("oarlet", at, cy+side*(handle(r)-r.PinLine)*k, at, tip)
			d.Line("spoonlet", at, cy-side*(half-r.BladeLength)*k, at, tip)
		}
		d.Circle("seatlet", at, cy, 2.2)
	}
	s.set("b", []string{r.Boat}, berth{x + 2, y + 10, ""})
	return y + 2*half*k
}

// sidesOf are the sides on which a seat rows, +1 port. Unknown sides alternate, stroke
// on port: common practice.
func sidesOf(r *document.Rigged, seat, seats int) []float64 {
	switch {
	case r.Sculling:
		return []float64{1, -1}
	case seat < len(r.Sides) && r.Sides[seat] == 's':
		return []float64{-1}
	case seat < len(r.Sides), (seats-1-seat)%2 == 0:
		return []float64{1}
	}
	return []float64{-1}
}
