package rigging

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/oar"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.15g, expected %.15g to %.1g", what, got, want, tol)
	}
}

func made(t *testing.T, length, inboard float64, shape string) oar.Oar {
	t.Helper()
	b, err := blade.New(shape)
	if err != nil {
		t.Fatal(err)
	}
	return oar.New(length/100, inboard/100, b)
}

// Conventions of gearing (federation survey sheet) and overlap, at the printed digits.
// Equations 12.1, 12.2, 12.3, 12.4 and 12.5.
func TestGearingConventions(t *testing.T) {
	o, s := made(t, 376, 115, "sweep hatchet"), made(t, 288, 88, "scull hatchet")
	near(t, "lever ratio 376/115", LeverRatio(&o), 2.270, 5e-4)
	near(t, "lever ratio 288/88", LeverRatio(&s), 2.273, 5e-4)
	sweep, sculls := &Rig{Spread: 0.85}, &Rig{Span: 1.59}
	near(t, "spread ratio, sweep", SpreadRatio(&o, sweep), 3.07, 5e-3)
	near(t, "spread ratio, sculls", SpreadRatio(&s, sculls), 2.52, 5e-3)
	near(t, "survey ratio, sweep", SurveyRatio(&o, sweep), 3.14, 5e-3)
	near(t, "survey ratio, sculls", SurveyRatio(&s, sculls), 2.58, 5e-3)
	near(t, "overlap, sculls", Overlap(&s, sculls, false), 0.17, 1e-12)
	near(t, "overlap with gates, sculls", Overlap(&s, sculls, true), 0.21, 1e-12)
	near(t, "overlap, sweep", Overlap(&o, sweep, false), 0.30, 1e-12)
	near(t, "overlap with gate, sweep", Overlap(&o, sweep, true), 0.32, 1e-12)
	for angle, factor := range map[float64]float64{45: 1.41, 55: 1.74, 60: 2.00} {
		near(t, "gearing at an angle", EffectiveRatio(&o, angle*math.Pi/180)/EffectiveRatio(&o, 0), factor,
			5e-3)
	}
}

// A centimetre (D): inboard +1 at fixed length −1.24 % (376/115), −1.62 % (288/88) of the
// lever ratio; length −1 at fixed inboard −0.38 %, −0.50 %. Spread is not in it.
func TestACentimetreOfGearing(t *testing.T) {
	for _, c := range []struct {
		length, inboard float64
		shape           string
		in, len         float64
	}{{376, 115, "sweep hatchet", -1.24, -0.38}, {288, 88, "scull hatchet", -1.62, -0.50}} {
		o := made(t, c.length, c.inboard, c.shape)
		moved, cut := made(t, c.length, c.inboard+1, c.shape), made(t, c.length-1, c.inboard, c.shape)
		near(t, "inboard +1 cm, %", 100*(LeverRatio(&moved)/LeverRatio(&o)-1), c.in, 5e-3)
		near(t, "length -1 cm, %", 100*(LeverRatio(&cut)/LeverRatio(&o)-1), c.len, 5e-3)
	}
}

// The inboard that gives an overlap gives it; the length stays.
func TestFitInboard(t *testing.T) {
	for _, gates := range []bool{true, false} {
		s := FitInboard(made(t, 288, 80, "scull hatchet"), &Rig{Span: 1.59}, 0.20, gates)
		near(t, "scull overlap", Overlap(&s, &Rig{Span: 1.59}, gates), 0.20, 1e-12)
		near(t, "length", s.Length, 2.88, 0)
		o := FitInboard(made(t, 376, 110, "sweep hatchet"), &Rig{Spread: 0.86}, 0.32, gates)
		near(t, "sweep overlap", Overlap(&o, &Rig{Spread: 0.86}, gates), 0.32, 1e-12)
	}
}
