package trial

import (
	"math"

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
	degrees float64 // of freedom of both together (Satterthwaite 1946)
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
	out.fixed = math.Sqrt(fixed)
	out.degrees = float64(f.degrees)
	if own := out.error * out.error; fixed > 0 && own > 0 {
		out.degrees *= (own + fixed) * (own + fixed) / (own * own)
	}
	return out
}

func (c contrast) standardError() float64 { return math.Hypot(c.error, c.fixed) }

// quantile of the contrast's own t; many degrees are a normal distribution.
func (c contrast) quantile(p float64) float64 { return studentT(p, math.Min(c.degrees, 1e6)) }

// above is the chance that the true value lies above x, below that it lies
// below: t around the estimate, no opinion beforehand.
func (c contrast) above(x float64) float64 { return 1 - c.below(x) }

func (c contrast) below(x float64) float64 {
	e := c.standardError()
	if e == 0 {
		if c.value < x {
			return 1
		}
		return 0
	}
	return studentBelow((x-c.value)/e, math.Min(c.degrees, 1e6))
}

// estimate with its 95 % interval.
func (c contrast) estimate() *table.Estimate { return c.estimateAt(0.975) }

func (c contrast) estimateAt(p float64) *table.Estimate {
	half := c.quantile(p) * c.standardError()
	e := &table.Estimate{Value: c.value, Low: c.value - half, High: c.value + half, AsSet: math.NaN(), Unit: "%", Digits: 2, Signed: true}
	e.Verdict = "cannot be told apart"
	switch {
	case e.Low > 0:
		e.Verdict = "clearly more"
	case e.High < 0:
		e.Verdict = "clearly less"
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
