package num

import (
	"math"
	"testing"
)

// Known roots, some of them hard: a triple root, a wall, a function nearly level.
func TestRootFindsKnownRoots(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func(x float64) float64
		a, b float64
		want float64
		tol  float64 // how sharp the root is in x
	}{
		{"cos x = x", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607, 1e-13},
		{"x³ = 2x + 5 (Wallis)", func(x float64) float64 { return x*x*x - 2*x - 5 }, 2, 3, 2.0945514815423265,
			1e-13},
		{"a triple root", func(x float64) float64 { return (x - 1) * (x - 1) * (x - 1) }, 0, 3, 1, 1e-4},
		{"a wall", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3, 1e-12},
		{"exp(−x) small", func(x float64) float64 { return math.Exp(-x) - 1e-9 }, 0, 100, 9 * math.Ln10,
			1e-9},
		{"at an end", func(x float64) float64 { return x }, 0, 1, 0, 0},
	} {
		x, err := Root(c.f, c.a, c.b, 1e-13)
		if err != nil || math.Abs(x-c.want) > c.tol {
			t.Errorf("%s: %v (%v), expected %v", c.name, x, err, c.want)
		}
	}
	if _, err := Root(func(x float64) float64 { return x*x + 1 }, -1, 1, 1e-12); err != ErrBracket {
		t.Errorf("no root: %v", err)
	}
}

// The measured order: Brent's last steps are superlinear, so a smooth root to 1e-15 in
// an interval of 1 takes far fewer calls than the 50 of bisection.
func TestRootIsSuperlinear(t *testing.T) {
	calls := 0
	if _, err := Root(func(x float64) float64 { calls++; return math.Exp(x) - 2 }, 0, 1, 1e-15); err != nil {
		t.Fatal(err)
	}
	if calls > 12 {
		t.Errorf("%d calls for a smooth root", calls)
	}
}

// Bounded minima; x is known to the root of the rounding (1e-8), f to the rounding.
func TestMinimumFindsKnownMinima(t *testing.T) {
	for _, c := range []struct {
		name  string
		f     func(x float64) float64
		a, b  float64
		x, fx float64
	}{
		{"parabola", func(x float64) float64 { return (x - 0.3) * (x - 0.3) }, 0, 1, 0.3, 0},
		{"−sin x", func(x float64) float64 { return -math.Sin(x) }, 0, 3, math.Pi / 2, -1},
		{"a kink", func(x float64) float64 { return math.Abs(x - 0.7) }, 0, 2, 0.7, 0},
		{"at the edge", func(x float64) float64 { return x }, 0, 1, 0, 0},
		{"x⁴", func(x float64) float64 { return x * x * x * x }, -1, 2, 0, 0},
	} {
		calls := 0
		x, fx := Minimum(func(x float64) float64 { calls++; return c.f(x) }, c.a, c.b, 1e-8)
		if math.Abs(x-c.x) > 1e-3 || math.Abs(fx-c.fx) > 1e-7 {
			t.Errorf("%s: minimum %v at %v, expected %v at %v", c.name, fx, x, c.fx, c.x)
		}
		if x < c.a || x > c.b {
			t.Errorf("%s: %v is out of bounds", c.name, x)
		}
		if c.name == "parabola" && (math.Abs(x-c.x) > 1e-8 || calls > 12) {
			t.Errorf("a parabola takes %d calls to %v", calls, x)
		}
	}
}
