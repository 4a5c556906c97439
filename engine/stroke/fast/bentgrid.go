package fast

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/problem"
)

// swingClass is the class of a shaft's softness, a factor of √2 apart as those of stiffClass: of the bend
// that an effort of 1500 N gives it standing still at the catch, by a twentieth of its pull, as a share of
// the arc.
func swingClass(s *problem.SeatPlan, oars float64) int {
	const pull = 1500. / 20
	return int(math.Ceil(2 * num.Log2(pull*s.Lever/(oars*s.Shaft.Stiffness*s.Arc))))
}

// swing is σ over which the handle swings back for the first time in a class.
func swing(class int) float64 { return math.Sqrt(stiffness(class)) }

// bentAccuracy is how many steps by collocation a unit of σ asks for: short ones where the handle comes
// nearly to rest as the bent shaft takes hold of the blade, and while the swing dies away.
func (e *gridEdges) bentAccuracy(sigma float64) float64 {
	switch {
	case sigma < 0.45*e.swing:
		return 2.5 / e.swing
	case sigma < 1.5*e.swing:
		return 4.5 / e.swing
	case sigma < 3*e.swing:
		return 2.2 / e.swing
	case sigma < e.bury:
		return 4 / e.bury
	}
	return 1 / 0.12
}
