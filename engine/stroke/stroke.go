package stroke

// Stroke is a steady stroke. It cannot change.
type Stroke struct {
	Problem Problem // as asked
	Solution
	Cautions []string // what is out of the ordinary about it, in a coach's words
}

// OverRowers is the mean over rowers of a seat's quantity.
func (s *Stroke) OverRowers(of func(seat int) float64) float64 {
	sum, n := 0.0, 0.0
	for i := range s.Problem.Seats {
		k := s.Problem.Seats[i].Rowers()
		sum += float64(k * of(i))
		n += k
	}
	return sum / n
}

// HullEfficiency is D(V̄) V̄ T / ∮ D V dt. Equation 8.3.
func (s *Stroke) HullEfficiency() float64 {
	p := &s.Problem
	drag := p.Hull.Resistance(p.TotalMass(), p.Water, p.Air, p.Wind)
	return drag.Total(s.Speed) * s.Speed * p.Period() / (s.Energy.WaterDrag + s.Energy.AirDrag)
}

// BladeEfficiency is 1 − blade loss/handle work. Equation 8.2.
func (s *Stroke) BladeEfficiency() float64 { return 1 - s.Energy.BladeLoss/s.Energy.Handle }

// Over is the time for a distance [m] at this speed, s.
func (s *Stroke) Over(distance float64) float64 { return distance / s.Speed }

// Alike says whether all seats row the same: rower, angles and oar.
func (s *Stroke) Alike() bool { return s.Problem.AllAlike() }
