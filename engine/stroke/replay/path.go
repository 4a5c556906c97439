package replay

import (
	"fmt"
	"math"

	"thole/engine/num"
	"thole/engine/stroke/general"
	"thole/engine/stroke/problem"
	"thole/engine/table"
)

// place is where an oar is at one moment of its drive.
type place struct {
	time         float64 // s
	hull         float64 // X, m
	handle, side float64 // θ_h, θ_b, rad
}

// Moments says at which times of its drive an oar is looked at: Points of them equal times
// apart, the first at the catch, the last at the finish; or, where Points is 0, at the catch,
// Every so many seconds after it, and at the finish.
type Moments struct {
	Points int
	Every  float64 // s
}

// times gives the moments of a drive that ends then; one that falls within a hundredth of
// a step of the finish is the finish.
func (m Moments) times(end float64) (out []float64) {
	if m.Points > 0 {
		for j := range m.Points {
			out = append(out, end*float64(j)/float64(m.Points-1))
		}
		return out
	}
	for j := 0; float64(float64(j)*m.Every) < end-float64(0.01*m.Every); j++ {
		out = append(out, float64(j)*m.Every)
	}
	return append(out, end)
}

// BladePath follows the oar of a seat (from 0, bow) through its drive at those moments:
// tip, centre and neck of the blade and the handle (centre of the pull), cm; x forward from
// the pin's place at the catch, y outward from the pin's line.
func (r *Replay) BladePath(seat int, at Moments) (*table.Table, error) {
	if err := r.check(seat, at); err != nil {
		return nil, err
	}
	i := r.where[seat]
	end := r.Moments[i].FinishTime
	times := at.times(end)
	places := make([]place, len(times))
	for j, t := range times {
		k, u := r.Seconds(i, t)
		places[j] = place{t, r.Trajectory.Value(k, general.StateX, u),
			r.Trajectory.Value(k, r.Moments[i].First+general.SeatTheta, u), 0}
		places[j].side = places[j].handle
		if r.Seats[i].Flexible {
			places[j].side = r.Trajectory.Value(k, r.Moments[i].First+general.SeatBladeTheta, u)
		}
	}
	return pathTable("blade path", &r.problem.Seats[seat], places), nil
}

// PerfectPath is the path of the same oar over the same arc behind the same motion of
// the boat with a blade that does not slip, dθ/dt = V cos θ/L, in its own drive time;
// its centre runs on the tractrix x = L(asinh tan θ − sin θ), y = L cos θ. Equation 2.2.
func (r *Replay) PerfectPath(seat int, at Moments) (*table.Table, error) {
	if err := r.check(seat, at); err != nil {
		return nil, err
	}
	p := &r.problem.Seats[seat]
	l := p.Oar.Centre()
	// dX/dθ = L/cos θ without slip, whatever V(t) is: the oar's angle follows from
	// the hull's way alone
	way := func(theta float64) float64 {
		return l * (num.Asinh(num.Tan(theta)) +
			num.Asinh(num.Tan(p.Catch)))
	}
	end, err := r.passes(way(p.Finish))
	if err != nil {
		return nil, err
	}
	times := at.times(end)
	places := make([]place, len(times))
	for j, t := range times {
		x, theta := r.wayAt(t), p.Finish
		if j < len(times)-1 {
			// the inverse of the Gudermannian: asinh(tan θ) = u where tan θ = sinh u
			theta = num.Atan(num.Sinh(x/l - num.Asinh(num.Tan(p.Catch))))
		}
		places[j] = place{t, x, theta, theta}
	}
	return pathTable("perfect path", p, places), nil
}

// wayAt is the hull's way at time t, strokes following on each other.
func (r *Replay) wayAt(t float64) float64 {
	whole := math.Floor(t / r.Period)
	k, u := r.Trajectory.Find(t - float64(whole*r.Period))
	return float64(whole*r.ODE.Y[general.StateX]) + r.Trajectory.Value(k, general.StateX, u)
}

// passes gives the time at which the hull has gone this way [m].
func (r *Replay) passes(way float64) (float64, error) {
	high := r.Period
	for r.wayAt(high) < way {
		high *= 2
	}
	return num.Root(func(t float64) float64 { return r.wayAt(t) - way }, 0, high, 1e-13)
}

func (r *Replay) check(seat int, at Moments) error {
	if seat < 0 || seat >= len(r.problem.Seats) {
		return fmt.Errorf("there is no seat %d", seat+1)
	}
	if at.Points == 0 && at.Every > 0 {
		return nil
	}
	if at.Points < 2 || at.Points > 10000 {
		return fmt.Errorf("a path has 2 to 10000 points, not %d", at.Points)
	}
	return nil
}

// pathTable turns places into the four points of the oar.
func pathTable(name string, seat *problem.Seat, places []place) *table.Table {
	l, half, lever := seat.Oar.Centre(), seat.Oar.Blade.Length/2, seat.Oar.Lever()
	t := &table.Table{Name: name}
	column := func(name, unit string, digits int, of func(p *place) float64) {
		c := &table.Column{Name: name, Unit: unit, Digits: digits, Change: table.AutoDigits,
			Nums: make([]float64, len(places))}
		for i := range places {
			c.Nums[i] = of(&places[i])
		}
		t.Columns = append(t.Columns, c)
	}
	column("time", "s", 3, func(p *place) float64 { return p.time })
	column("angle", "deg", 1, func(p *place) float64 { return num.Degrees(p.handle) })
	for _, part := range []struct {
		name   string
		radius float64
	}{{"tip", l + half}, {"centre", l}, {"neck", l - half}} {
		column(part.name+"_x", "cm", 1, func(p *place) float64 {
			return 100 * (p.hull -
				float64(part.radius*num.Sin(p.side)))
		})
		column(part.name+"_y", "cm", 1, func(p *place) float64 { return 100 * part.radius * num.Cos(p.side) })
	}
	column("handle_x", "cm", 1, func(p *place) float64 {
		return 100 * (p.hull +
			float64(lever*num.Sin(p.handle)))
	})
	column("handle_y", "cm", 1, func(p *place) float64 { return -100 * lever * num.Cos(p.handle) })
	return t
}
