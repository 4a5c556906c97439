package hull

import (
	"math"

	"thole/engine/num"
)

// Prandtl's rule for a flow that starts laminar and turns at Re_x: C_F = C_F,turbulent − A/Re, with
// A as textbooks on boundary layers table it (3e5 from memory, high). Where a racing hull's flow
// turns nobody has measured.
var transition = func() *num.Cubic {
	c, err := num.NewCubic([]float64{0, 3e5, 5e5, 1e6, 3e6}, []float64{0, 1050, 1700, 3300, 8700})
	if err != nil {
		panic(err)
	}
	return c
}()

// laminarStart is A for a flow that turns turbulent at Re_x; 0 from the bow.
func laminarStart(rex float64) float64 { return transition.At(rex) }

// settled is C_F with a laminar start, and never below the laminar plate's 1.328/√Re (Blasius): a
// boat that hardly moves is laminar all along. Equation 10.6.
func settled(turbulent, re, a float64) float64 {
	return math.Max(turbulent-a/re, 1.328/math.Sqrt(re))
}
