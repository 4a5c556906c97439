package num

// Collocation at Radau's points, the implicit method for steps over what is fast and damped: a polynomial
// through the step's start meets the equations at the points, the last of which is the step's end. There it
// is of order twice their number less one, and what is fast and damped dies away in a step however long.
// Gauss's points, an order more, leave it swinging on. The equations of all points are solved at once.

// RadauPoints is how many points a step has.
const RadauPoints = 5

// radauNodes are the roots of P₅ − P₄ (Legendre), moved to 0..1; the tests hold what defines them.
var radauNodes = [RadauPoints]float64{
	0.05710419611451768219,
	0.27684301363812382768,
	0.58359043236891682005,
	0.86024013565621944784,
	1,
}

// Radau holds the method's numbers, over a step from 0 to 1.
var Radau = func() (g struct {
	Node   [RadauPoints]float64              // c_i
	Weight [RadauPoints]float64              // b_i: h Σ b_i q(c_i) is the integral of q over the step
	Within [RadauPoints][RadauPoints]float64 // a_ij: h Σ a_ij q(c_j) is the integral up to c_i
	// Within turned round: Σ Slope_ij (rise up to c_j)/h is the slope at c_i
	Slope [RadauPoints][RadauPoints]float64
	dense [RadauPoints + 1][RadauPoints + 1]float64
}) {
	g.Node = radauNodes
	places := [RadauPoints + 1]float64{}
	copy(places[1:], g.Node[:])
	// a_ij = ∫ of the j-th Lagrange polynomial up to c_i, by Gauss's rule, which is exact for it; b is the
	// last
	x, w := GaussLegendre(RadauPoints)
	for i := range g.Node {
		for j := range g.Node {
			for k := range x {
				at, l := float64(g.Node[i]*(0.5+float64(0.5*x[k]))), 1.0
				for m := range g.Node {
					if m != j {
						l *= (at - g.Node[m]) / (g.Node[j] - g.Node[m])
					}
				}
				g.Within[i][j] += float64(g.Node[i] * 0.5 * w[k] * l)
			}
		}
	}
	g.Weight = g.Within[RadauPoints-1]
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
	for i, c := range g.Node {
		for j := range g.Node {
			for k := RadauPoints; k > 0; k-- {
				g.Slope[i][j] = float64(float64(k)*g.dense[j+1][k]) + float64(c*g.Slope[i][j])
			}
		}
	}
	return g
}()

// RadauCurve is a state over a step, a polynomial in its share u, lowest power first.
type RadauCurve [RadauPoints + 1]float64

// Through makes c the polynomial through a step's start and its points.
func (c *RadauCurve) Through(values *[RadauPoints + 1]float64) {
	*c = RadauCurve{}
	for j, y := range values {
		for k := range c {
			c[k] += float64(y * Radau.dense[j][k])
		}
	}
}

// At gives the curve's value at share u of the step.
func (c *RadauCurve) At(u float64) float64 {
	y := 0.0
	for k := len(c) - 1; k >= 0; k-- {
		y = c[k] + float64(u*y)
	}
	return y
}
