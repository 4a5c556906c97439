package replay

import (
	"fmt"
	"math"

	"thole/engine/defaults"
)

// Places is where the pins stand for a yawing moment.
type Places struct {
	Spread float64 // y_p, m; NaN or 0 = 0.85 m
}

// YawMoment is the root mean square over the drive [N·m] of the moment that turns a
// sweep boat: Σ σ_i (P_x,i y_p − P_y,i x_i), P the pin force (forward, outward), σ = +1
// port and −1 starboard, x_i the seat's place forward from mid-crew, seats 1.4 m apart.
// sides has a letter p or s for each seat from bow. Seat orders for which it vanishes:
// Barrow 2010, American Journal of Physics (from memory, high). Equation 6.3.
func (r *Replay) YawMoment(sides string, places Places) (float64, error) {
	order, err := r.seatOrder(sides)
	if err != nil {
		return 0, err
	}
	spread := places.Spread
	if math.IsNaN(spread) || spread == 0 {
		spread = defaults.Must("rig", "spread", "")
	}
	apart := defaults.Must("rig", "seat_spacing", "")
	end := 0.0
	for i := range r.Moments {
		end = math.Max(end, r.Moments[i].FinishTime)
	}
	moment := func(k int, u float64) float64 {
		r.At(k, u, r.ODE.Y0)
		sum := 0.0
		for place, seat := range order {
			m := &r.Moments[r.where[seat]]
			if m.Finished {
				continue
			}
			side := 1.0
			if sides[place] == 's' {
				side = -1
			}
			x := apart * (float64(len(order)-1)/2 - float64(place))
			across := m.Pull/r.Oars + m.Load.Normal + m.AddedForce
			forward := float64(across*m.Cos) + float64(m.Load.Along*m.Sin)
			outward := float64(across*m.Sin) - float64(m.Load.Along*m.Cos)
			sum += float64(side * (float64(forward*spread) - float64(outward*x)))
		}
		return sum
	}
	// Gauss points in every step of the trajectory: the moment is smooth inside a step
	square := 0.0
	for k := range r.Trajectory.Starts {
		if r.Trajectory.Starts[k] >= end {
			break
		}
		for i, x := range GaussX {
			v := moment(k, x)
			square += float64(GaussW[i] * r.Trajectory.Steps[k] * v * v)
		}
	}
	return math.Sqrt(square / end), nil
}

// Three Gauss-Legendre points on [0, 1].
var (
	GaussX = [3]float64{0.5 - 0.3872983346207417, 0.5, 0.5 + 0.3872983346207417}
	GaussW = [3]float64{5.0 / 18, 8.0 / 18, 5.0 / 18}
)

// seatOrder gives the problem's seat at each place from bow, and checks the letters.
func (r *Replay) seatOrder(sides string) ([]int, error) {
	p := r.problem
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
		return nil, fmt.Errorf("sides has %d letters for %d seats: one p or s each, from bow", len(sides),
			len(order))
	}
	for _, letter := range sides {
		if letter != 'p' && letter != 's' {
			return nil, fmt.Errorf("sides has the letter %q: p is port, s starboard", letter)
		}
	}
	return order, nil
}
