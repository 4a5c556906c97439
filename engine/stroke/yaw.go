package stroke

import (
	"fmt"
	"math"

	"thole/engine/facts"
)

// Places is where the pins stand for a yawing moment.
type Places struct {
	Spread float64 // y_p, m; NaN or 0 = 0.85 m
}

// YawMoment is the root mean square over the drive [N·m] of the moment that turns a
// sweep boat: Σ σ_i (P_x,i y_p − P_y,i x_i), P the pin force (forward, outward), σ = +1
// port and −1 starboard, x_i the seat's place forward from mid-crew, seats 1.4 m apart.
// sides has a letter p or s for each seat from bow. Seat orders for which it vanishes:
// Barrow 2010, American Journal of Physics (from memory, high).
func (s *Stroke) YawMoment(sides string, places Places) (float64, error) {
	order, err := s.seatOrder(sides)
	if err != nil {
		return 0, err
	}
	g, where, err := s.replay()
	if err != nil {
		return 0, err
	}
	spread := places.Spread
	if math.IsNaN(spread) || spread == 0 {
		spread = facts.Must("rig", "spread", "")
	}
	apart := facts.Must("rig", "seat_spacing", "")
	end := 0.0
	for i := range g.moments {
		end = math.Max(end, g.moments[i].finishTime)
	}
	moment := func(k int, u float64) float64 {
		g.at(k, u, g.ode.Y0)
		sum := 0.0
		for place, seat := range order {
			m := &g.moments[where[seat]]
			if m.finished {
				continue
			}
			side := 1.0
			if sides[place] == 's' {
				side = -1
			}
			x := apart * (float64(len(order)-1)/2 - float64(place))
			across := m.pull/g.oars + m.load.Normal + m.addedForce
			forward := across*m.cos + m.load.Along*m.sin
			outward := across*m.sin - m.load.Along*m.cos
			sum += side * (forward*spread - outward*x)
		}
		return sum
	}
	// Gauss points in every step of the film: the moment is smooth inside a step
	square := 0.0
	for k := range g.film.starts {
		if g.film.starts[k] >= end {
			break
		}
		for i, x := range gaussX {
			v := moment(k, x)
			square += gaussW[i] * g.film.steps[k] * v * v
		}
	}
	return math.Sqrt(square / end), nil
}

// Three Gauss-Legendre points on [0, 1].
var (
	gaussX = [3]float64{0.5 - 0.3872983346207417, 0.5, 0.5 + 0.3872983346207417}
	gaussW = [3]float64{5.0 / 18, 8.0 / 18, 5.0 / 18}
)

// seatOrder gives the problem's seat at each place from bow, and checks the letters.
func (s *Stroke) seatOrder(sides string) ([]int, error) {
	p := &s.Problem
	if p.OarsPerRower != 1 {
		return nil, fmt.Errorf("a sculling boat has an oar on each side: its yawing moment is 0")
	}
	var order []int
	for i := range p.Seats {
		for range int(p.Seats[i].Rowers()) {
			order = append(order, i)
		}
	}
	if len(sides) != len(order) {
		return nil, fmt.Errorf("sides has %d letters for %d seats: one p or s each, from bow", len(sides), len(order))
	}
	for _, letter := range sides {
		if letter != 'p' && letter != 's' {
			return nil, fmt.Errorf("sides has the letter %q: p is port, s starboard", letter)
		}
	}
	return order, nil
}
