package num

import (
	"math"
	"math/big"
	"testing"
)

// The program's own elementary functions against package math's, which is right to a
// unit or two in the last place everywhere: over the arguments that strokes meet.
func TestElementaryFunctions(t *testing.T) {
	positive := spread(1e-6, 1e6)
	angle := func(yield func(float64) bool) {
		for x := -7.0; x <= 7; x += 0.00317 {
			if !yield(x) {
				return
			}
		}
	}
	for _, c := range []struct {
		name      string
		own, math func(float64) float64
		over      func(func(float64) bool)
		units     float64 // of 2^-52 of the result, or of 1 where the result passes 0
	}{
		{"Exp", Exp, math.Exp, func(yield func(float64) bool) {
			for x := -20.0; x < 20; x += 0.0137 {
				if !yield(x) {
					return
				}
			}
		}, 2},
		{"Log", Log, math.Log, positive, 5}, // to 2e-16 of 1
		{"Ln", Ln, math.Log, positive, 2},
		{"Log10", Log10, math.Log10, positive, 3},
		{"Log2", Log2, math.Log2, positive, 8},
		{"Cbrt", Cbrt, math.Cbrt, positive, 2},
		{"Pow", func(x float64) float64 { return Pow(x, 0.7) }, func(x float64) float64 { return math.Pow(x, 0.7) }, positive, 14},
		{"Expm1", Expm1, math.Expm1, angle, 4},
		{"Sin", Sin, math.Sin, angle, 2},
		{"Cos", Cos, math.Cos, angle, 2},
		{"Atan", Atan, math.Atan, angle, 2},
		{"Tan", func(x float64) float64 { return Tan(x / 5) }, func(x float64) float64 { return math.Tan(x / 5) }, angle, 4},
		{"Asin", func(x float64) float64 { return Asin(x / 7) }, func(x float64) float64 { return math.Asin(x / 7) }, angle, 4},
		{"Asinh", Asinh, math.Asinh, angle, 3},
		{"Tanh", Tanh, math.Tanh, angle, 3},
		{"Sinh", Sinh, math.Sinh, angle, 6},
		{"Hypot", func(x float64) float64 { return Hypot(x, 3) }, func(x float64) float64 { return math.Hypot(x, 3) }, angle, 2},
	} {
		c.over(func(x float64) bool {
			got, want := c.own(x), c.math(x)
			if !(math.Abs(got-want) <= c.units*0x1p-52*math.Max(math.Abs(want), 0.25)) {
				t.Errorf("%s(%v) = %v, math has %v", c.name, x, got, want)
				return false
			}
			return true
		})
	}
	for _, p := range [][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}, {0, 1}, {0, -1}, {2, 0}, {-2, 0}, {0, 0}} {
		if got, want := Atan2(p[0], p[1]), math.Atan2(p[0], p[1]); math.Abs(got-want) > 4e-16 {
			t.Errorf("Atan2(%v, %v) = %v, math has %v", p[0], p[1], got, want)
		}
	}
	if Exp(800) != math.Inf(1) || Exp(-800) != 0 || !math.IsNaN(Exp(math.NaN())) || !math.IsNaN(Sin(math.Inf(1))) || !math.IsNaN(Asin(1.01)) ||
		Asin(-1) != -math.Pi/2 || Log2(8) != 3 || Ln(0) != math.Inf(-1) || !math.IsNaN(Ln(-1)) || Ln(math.Inf(1)) != math.Inf(1) || Cbrt(0) != 0 {
		t.Error("at the ends of their ranges")
	}
}

// Exp against its series summed in whole fractions, which no machine can round.
func TestExpBySeries(t *testing.T) {
	for _, x := range []float64{-2.5, -0.3, 0.1, 1, 3.7} {
		r := new(big.Rat).SetFloat64(x)
		sum, term := big.NewRat(1, 1), big.NewRat(1, 1)
		for k := int64(1); k < 60; k++ {
			term.Mul(term, r)
			term.Quo(term, big.NewRat(k, 1))
			sum.Add(sum, term)
		}
		want, _ := sum.Float64()
		if got := Exp(x); math.Abs(got-want) > 0x1p-52*want {
			t.Errorf("Exp(%v) = %v, its series %v", x, got, want)
		}
	}
}

// spread gives numbers evenly apart in their logarithm.
func spread(from, to float64) func(func(float64) bool) {
	return func(yield func(float64) bool) {
		for x := from; x <= to; x *= 1.0031 {
			if !yield(x) {
				return
			}
		}
	}
}
