package trial

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"thole/engine/table"
)

// fitted is a design and its least-squares fit.
type fitted struct {
	regression
	design *design
}

func (d *design) fit() fitted { return fitted{regress(d.columns, d.y), d} }

// one is the combination that picks the coefficient of drift or a condition,
// times a step. Settings stand first and are passed over: one may be called
// "wind".
func (d *design) one(name string, step float64) []float64 {
	c := make([]float64, len(d.columns))
	for j := len(d.settings); j < len(c); j++ {
		if d.names[j] == name {
			c[j] = step
		}
	}
	return c
}

// between is the combination of coefficients that is setting b against a. The
// first setting is the base level and has no column of its own.
func (d *design) between(a, b string) []float64 {
	c := make([]float64, len(d.columns))
	for j, s := range d.settings[1:] {
		switch s {
		case a:
			c[1+j] = -1
		case b:
			c[1+j] = 1
		}
	}
	return c
}

// contrast is a combination of coefficients with its errors, % of speed.
type contrast struct {
	value   float64
	error   float64 // standard error out of the pieces' scatter
	fixed   float64 // standard error out of the doubt of the model's own effects
	degrees float64 // of freedom behind error; fixed is a plain normal doubt
}

// contrast gives a combination of coefficients. The doubt of an effect of the
// model's own moves every piece along its curve, and the combination by what it
// makes of that curve.
func (f fitted) contrast(combination []float64) contrast {
	n := len(f.left)
	weights := make([]float64, n)
	value := 0.0
	for j, c := range combination {
		if c == 0 {
			continue
		}
		value += c * f.coefficient[j]
		for i := range n {
			weights[i] += c * f.weight.At(j, i)
		}
	}
	out := contrast{value: value, error: f.scatter * math.Sqrt(dot(weights, weights))}
	fixed := 0.0
	for _, c := range f.design.stoodIn {
		moved := dot(weights, c.own.curve) * c.own.doubt
		fixed += moved * moved
	}
	out.fixed, out.degrees = math.Sqrt(fixed), float64(f.degrees)
	return out
}

func (c contrast) standardError() float64 { return math.Hypot(c.error, c.fixed) }

// above is the chance that the true value lies above x, below that it lies
// below: no opinion beforehand on the difference, a t from the pieces and a
// normal doubt of the model added up. Pooling the two into one t
// (Satterthwaite) is quicker, and too narrow with one or two degrees: at four
// pieces it held 92.7 % instead of 95.
func (c contrast) above(x float64) float64 { return 1 - c.below(x) }

func (c contrast) below(x float64) float64 {
	x -= c.value
	switch {
	case c.error == 0 && c.fixed == 0:
		if x > 0 {
			return 1
		}
		return 0
	case c.error == 0:
		return normal(x / c.fixed)
	case c.fixed == 0:
		return studentBelow(x/c.error, c.degrees)
	}
	// ∫ φ(z) P(t < (x − z·fixed)/error) dz, trapezoids over ±6: smooth and nil at
	// the ends, so they are exact to about 1e-9
	const step = 0.2
	sum := 0.0
	for i := -30; i <= 30; i++ {
		z := float64(i) * step
		sum += math.Exp(-z*z/2) * studentBelow((x-z*c.fixed)/c.error, c.degrees)
	}
	return sum * step / math.Sqrt(2*math.Pi)
}

// halfWidth is how far the value with chance p beneath lies above the middle.
// Equation 14.1, with the error and the degrees of its own fit.
func (c contrast) halfWidth(p float64) float64 {
	student, bell := 0.0, 0.0
	if c.error > 0 {
		student = studentT(p, c.degrees) * c.error
	}
	if c.fixed > 0 {
		bell = distuv.UnitNormal.Quantile(p) * c.fixed
	}
	// one of them next to nothing: their sum is wide by that nothing, and a search
	// between them would have no room
	if small := math.Min(student, bell); small < 1e-6*math.Max(student, bell) {
		return student + bell
	}
	// between the larger of both and their sum; regula falsi, which keeps the
	// bracket (Illinois rule)
	at := func(x float64) float64 { return c.below(c.value+x) - p }
	low, high := math.Max(student, bell), student+bell
	fl, fh := at(low), at(high)
	for range 50 {
		x := (low*fh - high*fl) / (fh - fl)
		fx := at(x)
		if math.Abs(fx) < 1e-10 || math.Abs(high-low) < 1e-10*x {
			return x
		}
		if fx*fh < 0 {
			low, fl = high, fh
		} else {
			fl /= 2
		}
		high, fh = x, fx
	}
	return high
}

// estimate with its 95 % interval.
func (c contrast) estimate() *table.Estimate { return c.estimateAt(0.975) }

func (c contrast) estimateAt(p float64) *table.Estimate {
	half := c.halfWidth(p)
	e := &table.Estimate{Value: c.value, Low: c.value - half, High: c.value + half, AsSet: math.NaN(),
		Unit: "%", Digits: 2, Signed: true}
	e.Verdict = "cannot be told apart"
	switch {
	case e.Low > 0:
		e.Verdict = "more"
	case e.High < 0:
		e.Verdict = "less"
	}
	return e
}

// differenceEstimate adds the one verdict that only a difference has: told to
// be less than what matters.
func differenceEstimate(c contrast, worthwhile float64) *table.Estimate {
	e := c.estimate()
	if e.Low > -worthwhile && e.High < worthwhile {
		e.Verdict = "too small to matter"
	}
	return e
}
