package problem

import (
	"math"

	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/oar"
)

// Hold is the quantity a steady stroke is held at.
type Hold uint8

// What can be held. Power is mechanical power per rower, handle and body.
const (
	Power       Hold = iota // W, mean over rowers; without target each rower's own
	HandlePower             // W, mean over rowers
	Effort                  // N, mean over rowers
	Force                   // peak handle force, N, mean over rowers
	Speed                   // mean V, m/s
)

// Holds lists the holds as they are typed, in the order of the constants.
var Holds = []string{"power", "handle_power", "effort", "force", "speed"}

func (h Hold) String() string { return Holds[h] }

// Seat is one rower at one place with one kind of oar; Count seats that are alike
// may stand for one (0 counts as 1).
type Seat struct {
	Count  int
	Rower  crew.Rower
	Oar    oar.Oar
	Catch  float64 // θ_c, magnitude, rad, on this oar (oar.KeepReach where it was measured on another)
	Finish float64 // θ_f, magnitude, rad
}

// Rowers is how many rowers the seat stands for.
func (s *Seat) Rowers() float64 { return float64(max(1, s.Count)) }

// Arc is θ_c + θ_f, rad.
func (s *Seat) Arc() float64 { return s.Catch + s.Finish }

// Alike says whether two seats row the same.
func (s *Seat) Alike(o *Seat) bool {
	return s.Catch == o.Catch && s.Finish == o.Finish && s.Rower.Equal(&o.Rower) && s.Oar.Equal(&o.Oar)
}

// Problem is one stroke to be solved. It is never written to.
type Problem struct {
	Hull         hull.Hull
	Seats        []Seat // from bow (seat 1) to stroke
	OarsPerRower int    // 2 sculling, 1 sweep
	CoxMass      float64
	Rate         float64 // strokes/min, the one unit here that is the trade's own
	Water        fluid.Water
	Air          fluid.Air
	Wind         float64 // m/s, positive a headwind
	Hold         Hold
	Target       float64 // in the hold's unit; NaN = each rower's own power (hold Power only)
}

// Period is T, the time from catch to catch, s.
func (p *Problem) Period() float64 { return 60 / p.Rate }

// Rowers is the number of rowers.
func (p *Problem) Rowers() float64 {
	n := 0.0
	for i := range p.Seats {
		n += p.Seats[i].Rowers()
	}
	return n
}

// TotalMass is M, kg: hull, rowers, cox and oars.
func (p *Problem) TotalMass() float64 {
	m := p.Hull.Mass + p.CoxMass
	for i := range p.Seats {
		s := &p.Seats[i]
		m += float64(s.Rowers() * (s.Rower.Mass + float64(float64(p.OarsPerRower)*s.Oar.Mass)))
	}
	return m
}

// Critical is the speed [m/s] at which waves cannot keep up with the boat: √(gh) in shallow water, NaN in
// deep water or where waves are a share of friction.
func (p *Problem) Critical() float64 {
	if p.Water.Depth == 0 || p.Hull.WavesByFactor() {
		return math.NaN()
	}
	return hull.CriticalSpeed(p.Water.Depth)
}

// OwnPower says whether each rower is to meet their own power: at the handle, without the
// body, where handle power is held.
func (p *Problem) OwnPower() bool {
	return (p.Hold == Power || p.Hold == HandlePower) && math.IsNaN(p.Target)
}

// Merged gives the problem with seats that are alike standing for one, in the
// order of their first appearance, and where each of p's seats went.
func (p *Problem) Merged() (Problem, []int) {
	m := *p
	m.Seats = make([]Seat, 0, len(p.Seats))
	where := make([]int, len(p.Seats))
next:
	for i := range p.Seats {
		for j := range m.Seats {
			if m.Seats[j].Alike(&p.Seats[i]) {
				m.Seats[j].Count += max(1, p.Seats[i].Count)
				where[i] = j
				continue next
			}
		}
		where[i] = len(m.Seats)
		m.Seats = append(m.Seats, p.Seats[i])
		m.Seats[where[i]].Count = max(1, p.Seats[i].Count)
	}
	return m, where
}

// ShareAs makes the efforts of a problem keep the proportion they have in a
// stroke of the same seats. Row shares by the rowers' own powers where one number
// is held for all; a stroke in which each rower met their own power shares a
// little otherwise, and the same oars put back must give the same stroke. Where
// the two agree, or the seats do not, the problem stays as it is. The seats are
// made anew, those of another problem stay untouched.
func (p *Problem) ShareAs(solved []SeatSolution) {
	if len(p.Seats) != len(solved) {
		return
	}
	efforts, powers := 0.0, 0.0
	for i := range p.Seats {
		n := p.Seats[i].Rowers()
		efforts += float64(n * solved[i].Effort)
		powers += float64(n * p.Seats[i].Rower.Power)
	}
	seats := append([]Seat(nil), p.Seats...)
	unlike := false
	for i := range seats {
		own := &seats[i].Rower.Power
		share := solved[i].Effort / efforts * powers
		unlike = unlike || math.Abs(share / *own - 1) > 1e-9
		*own = share
	}
	if unlike {
		p.Seats = seats
	}
}

// AllAlike says whether one seat can stand for all.
func (p *Problem) AllAlike() bool {
	for i := 1; i < len(p.Seats); i++ {
		if !p.Seats[i].Alike(&p.Seats[0]) {
			return false
		}
	}
	return len(p.Seats) > 0
}
