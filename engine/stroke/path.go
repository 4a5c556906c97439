package stroke

import (
	"fmt"
	"math"

	"thole/engine/num"
	"thole/engine/table"
)

// place is where an oar is at one moment of its drive.
type place struct {
	time         float64 // s
	hull         float64 // X, m
	handle, side float64 // θ_h, θ_b, rad
}

// BladePath follows the oar of a seat (from 0, bow) through its drive at points equal
// times, the first at the catch, the last at the finish: tip, centre and neck of the
// blade and the handle (centre of the pull), cm; x forward from the pin's place at
// the catch, y outward from the pin's line.
func (s *Stroke) BladePath(seat, points int) (*table.Table, error) {
	g, where, err := s.replay()
	if err != nil {
		return nil, err
	}
	if err := checkPath(s, seat, points); err != nil {
		return nil, err
	}
	i := where[seat]
	end := g.moments[i].finishTime
	places := make([]place, points)
	for j := range places {
		t := end * float64(j) / float64(points-1)
		k, u := g.seconds(i, t)
		places[j] = place{t, g.film.value(k, stateX, u), g.film.value(k, g.moments[i].at+seatTheta, u), 0}
		places[j].side = places[j].handle
		if g.seats[i].flexible {
			places[j].side = g.film.value(k, g.moments[i].at+seatBladeTheta, u)
		}
	}
	return pathTable("blade path", &s.Problem.Seats[seat], places), nil
}

// PerfectPath is the path of the same oar over the same arc behind the same motion of
// the boat with a blade that does not slip, dθ/dt = V cos θ/L, in its own drive time;
// its centre runs on the tractrix x = L(asinh tan θ − sin θ), y = L cos θ.
func (s *Stroke) PerfectPath(seat, points int) (*table.Table, error) {
	g, _, err := s.replay()
	if err != nil {
		return nil, err
	}
	if err := checkPath(s, seat, points); err != nil {
		return nil, err
	}
	p := &s.Problem.Seats[seat]
	l := p.Oar.Centre()
	// dX/dθ = L/cos θ without slip, whatever V(t) is: the oar's angle follows from
	// the hull's way alone
	way := func(theta float64) float64 { return l * (math.Asinh(math.Tan(theta)) + math.Asinh(math.Tan(p.Catch))) }
	end, err := g.passes(way(p.Finish))
	if err != nil {
		return nil, err
	}
	places := make([]place, points)
	for j := range places {
		t := end * float64(j) / float64(points-1)
		x, theta := g.wayAt(t), p.Finish
		if j < points-1 {
			// the inverse of the Gudermannian: asinh(tan θ) = u where tan θ = sinh u
			theta = math.Atan(math.Sinh(x/l - math.Asinh(math.Tan(p.Catch))))
		}
		places[j] = place{t, x, theta, theta}
	}
	return pathTable("perfect path", p, places), nil
}

// wayAt is the hull's way at time t, strokes following on each other.
func (g *general) wayAt(t float64) float64 {
	whole := math.Floor(t / g.period)
	k, u := g.film.find(t - whole*g.period)
	return whole*g.ode.Y[stateX] + g.film.value(k, stateX, u)
}

// passes gives the time at which the hull has gone this way [m].
func (g *general) passes(way float64) (float64, error) {
	high := g.period
	for g.wayAt(high) < way {
		high *= 2
	}
	return num.Root(func(t float64) float64 { return g.wayAt(t) - way }, 0, high, 1e-13)
}

func checkPath(s *Stroke, seat, points int) error {
	if seat < 0 || seat >= len(s.Problem.Seats) {
		return fmt.Errorf("there is no seat %d", seat+1)
	}
	if points < 2 || points > 10000 {
		return fmt.Errorf("a path has 2 to 10000 points, not %d", points)
	}
	return nil
}

// pathTable turns places into the four points of the oar.
func pathTable(name string, seat *Seat, places []place) *table.Table {
	l, half, lever := seat.Oar.Centre(), seat.Oar.Blade.Length/2, seat.Oar.Lever()
	t := &table.Table{Name: name}
	column := func(name, unit string, digits int, of func(p *place) float64) {
		c := &table.Column{Name: name, Unit: unit, Digits: digits, Change: table.AutoDigits, Nums: make([]float64, len(places))}
		for i := range places {
			c.Nums[i] = of(&places[i])
		}
		t.Columns = append(t.Columns, c)
	}
	column("time", "s", 3, func(p *place) float64 { return p.time })
	column("angle", "deg", 1, func(p *place) float64 { return degrees(p.handle) })
	for _, part := range []struct {
		name   string
		radius float64
	}{{"tip", l + half}, {"centre", l}, {"neck", l - half}} {
		column(part.name+"_x", "cm", 1, func(p *place) float64 { return 100 * (p.hull - part.radius*math.Sin(p.side)) })
		column(part.name+"_y", "cm", 1, func(p *place) float64 { return 100 * part.radius * math.Cos(p.side) })
	}
	column("handle_x", "cm", 1, func(p *place) float64 { return 100 * (p.hull + lever*math.Sin(p.handle)) })
	column("handle_y", "cm", 1, func(p *place) float64 { return -100 * lever * math.Cos(p.handle) })
	return t
}
