package fast

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// bentLayout lays the grids from the first guess.
func (c *coefficients) bentLayout() layout {
	s, effort := c.seat, num.Exp(c.guess()[1])
	l := layout{stiff: swingClass(s, c.Oars, effort)}
	if s.Water.KLTip != s.Water.KLNeck { // the lift changes as the blade goes through square
		l.lag = 0.6 * effort * s.Shape.At(s.Catch/s.Arc) * s.Lever / (c.Oars * s.Shaft.Stiffness)
	}
	return l
}

// findLag reads off the stroke rowed last where the blade is square, for the grids that follow.
func (f *Route) findLag() {
	if f.layout.lag == 0 {
		return
	}
	b := &f.bent
	past := func(i int, u float64) float64 {
		f.openBent(i)
		phi, _, _ := f.grid.place[i].phi(float64(u * f.grid.width[i]))
		return float64(f.seat.Arc*phi) - f.seat.Catch - b.curve[stateBend].At(u)
	}
	for i := range b.steps {
		if past(i, 1) < 0 {
			continue
		}
		if u, err := num.Root(func(u float64) float64 { return past(i, u) }, 0, 1, 1e-6); err == nil {
			phi, _, _ := f.grid.place[i].phi(float64(u * f.grid.width[i]))
			f.layout.lag = float64(f.seat.Arc*phi) - f.seat.Catch
		}
		return
	}
}

// swingClass is the class of how far the handle swings against its shaft before the blade follows,
// a factor of the fourth root of 2 apart, so that nearly alike problems share a grid: of the bend
// that the pull at the catch gives it standing still, as a share of the arc.
func swingClass(s *problem.SeatPlan, oars, effort float64) int {
	pull := effort * max(s.Shape.At(0), 0.01)
	return int(math.Ceil(4 * num.Log2(pull*s.Lever/(oars*s.Shaft.Stiffness*s.Arc))))
}

// swing is σ at that bend; the handle is slowest, as the shaft takes hold of the blade, at 1.3 to
// 1.6 times it.
func swing(class int) float64 { return num.Pow(2, float64(class)/8) }

// bentAccuracy is how many steps by collocation a unit of σ asks for: short ones where the handle comes
// nearly to rest as the bent shaft takes hold of the blade, and while the swing dies away.
func (e *gridEdges) bentAccuracy(sigma float64) float64 {
	for _, p := range swingSteps {
		if sigma < p.until*e.swing {
			return p.density / e.swing
		}
	}
	if sigma < e.bury {
		return 4 / e.bury
	}
	return 1 / 0.075
}

var swingSteps = []struct{ until, density float64 }{{0.9, 1.5}, {1.15, 4}, {1.7, 7}, {2.2, 3}, {3.5, 1.5}}
