package num

// Collocation at Gauss points, the implicit method for steps over what is fast and damped: a polynomial
// through the step's start meets the equations at the points, its end is of order twice their number
// (Hairer, Nørsett & Wanner 1993 for the theory). The equations of all points are solved at once.

// GaussPoints is how many points a step has.
const GaussPoints = 5

// Gauss holds the method's numbers, over a step from 0 to 1.
var Gauss = func() (g struct {
	Node   [GaussPoints]float64              // c_i
	Weight [GaussPoints]float64              // b_i: h Σ b_i q(c_i) is the integral of q over the step
	Within [GaussPoints][GaussPoints]float64 // a_ij: h Σ a_ij q(c_j) is the integral up to c_i
	End    [GaussPoints]float64              // the end's rise out of the rises at the points
	dense  [GaussPoints + 2][GaussPoints + 2]float64
}) {
	x, w := GaussLegendre(GaussPoints)
	places := [GaussPoints + 2]float64{GaussPoints + 1: 1}
	for i := range g.Node {
		g.Node[i], g.Weight[i] = 0.5+float64(0.5*x[i]), 0.5*w[i]
		places[i+1] = g.Node[i]
	}
	// a_ij = ∫ of the j-th Lagrange polynomial up to c_i, by the same points: exact
	for i := range g.Node {
		for j := range g.Node {
			for k := range g.Node {
				at, l := g.Node[i]*g.Node[k], 1.0
				for m := range g.Node {
					if m != j {
						l *= (at - g.Node[m]) / (g.Node[j] - g.Node[m])
					}
				}
				g.Within[i][j] += float64(g.Node[i] * g.Weight[k] * l)
			}
		}
	}
	// the polynomial of the points' rises is 0 at the start: End is it at 1
	for j := range g.Node {
		g.End[j] = 1 / g.Node[j]
		for m := range g.Node {
			if m != j {
				g.End[j] *= (1 - g.Node[m]) / (g.Node[j] - g.Node[m])
			}
		}
	}
	for j := range places {
		row := &g.dense[j]
		row[0] = 1
		n := 0
		for m := range places {
			if m == j {
				continue
			}
			scale := 1 / (places[j] - places[m])
			for k := n; k >= 0; k-- { // times (u − place m) scale
				row[k+1] += float64(row[k] * scale)
				row[k] *= -places[m] * scale
			}
			n++
		}
	}
	return g
}()

// GaussCurve is a state over a step, a polynomial in its share u, lowest power first.
type GaussCurve [GaussPoints + 2]float64

// Through makes c the polynomial through a step's start, its points and its end.
func (c *GaussCurve) Through(values *[GaussPoints + 2]float64) {
	*c = GaussCurve{}
	for j, y := range values {
		for k := range c {
			c[k] += float64(y * Gauss.dense[j][k])
		}
	}
}

// At gives the curve's value at share u of the step.
func (c *GaussCurve) At(u float64) float64 {
	y := 0.0
	for k := len(c) - 1; k >= 0; k-- {
		y = c[k] + float64(u*y)
	}
	return y
}
