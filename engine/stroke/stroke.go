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

// HullEfficiency is D(V̄) V̄ T / ∮ D V dt, the oars in the air left out where they are
// computed. Equation 8.3.
func (s *Stroke) HullEfficiency() float64 {
	p := &s.Problem
	drag := p.Hull.Resistance(p.TotalMass(), p.Water, p.Air, p.Wind)
	return drag.Total(s.Speed) * s.Speed * p.Period() / (s.Energy.WaterDrag + s.Energy.AirDrag -
		s.Energy.OarPush)
}

// BladeEfficiency is 1 − blade loss/handle work of the drive. Equation 8.2.
func (s *Stroke) BladeEfficiency() float64 {
	drive := s.OverRowers(func(i int) float64 { return s.Seats[i].HandleWork }) * s.Problem.Rowers()
	return 1 - s.Energy.BladeLoss/drive
}

// GroundSpeed is the mean speed over ground, m/s: the wind takes the water's surface along.
// Equation 11.5.
func (s *Stroke) GroundSpeed() float64 {
	return s.Speed - float64(s.Problem.Water.Drift*s.Problem.Wind)
}

// Over is the time for a distance [m] over ground, s.
func (s *Stroke) Over(distance float64) float64 { return distance / s.GroundSpeed() }

// Alike says whether all seats row the same: rower, angles and oar.
func (s *Stroke) Alike() bool { return s.Problem.AllAlike() }
