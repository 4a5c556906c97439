package crew

import (
	"math"
	"testing"

	"thole/engine/num"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, expected %.9g to %.1g", what, got, want, tol)
	}
}

func shape(t *testing.T, s Style) Shape {
	t.Helper()
	out, err := s.Shape()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Each named style starts with f_0 = 5 % of the peak, peaks where it says with 1, within
// what f_0 shifts, and ends without force; it is the formula of model 5. Equation 5.2.
func TestNamedStyles(t *testing.T) {
	for i, name := range Styles {
		s, err := Named(name)
		if err != nil {
			t.Fatal(err)
		}
		f, p := shape(t, s), peaks[i]
		near(t, name+" at the catch", f.At(0), 0.05, 0)
		near(t, name+" at the finish", f.At(1), 0, 0)
		near(t, name+" at its peak", f.At(p), 1, 1e-15)
		at, top := num.Minimum(func(x float64) float64 { return -f.At(x) }, 0, 1, 1e-8)
		near(t, name+" peaks at", at, p, 1e-6)
		near(t, name+" peak", -top, 1, 1e-12)
		for phi := 0.01; phi < 1; phi += 0.01 {
			g := phi / p * math.Pow((1-phi)/(1-p), (1-p)/p)
			near(t, name, f.At(phi), 0.05*(1-phi)+(1-0.05*(1-phi))*g, 1e-14)
		}
	}
	if _, err := Named("quick"); err == nil {
		t.Error("a style nobody knows was made")
	}
}

// A measured style is scaled to its largest row and meets its rows.
func TestMeasuredStyle(t *testing.T) {
	rows := []Point{{0, 40}, {0.2, 400}, {0.45, 800}, {0.8, 500}, {1, 80}}
	f := shape(t, Measured(rows))
	for _, r := range rows {
		near(t, "a row", f.At(r.Along), r.Force/800, 1e-15)
	}
	near(t, "before the first row", f.At(-0.1), 0.05, 1e-15)
	usual := shape(t, Usual())
	if len(f.Knots()) != len(rows) || len(usual.Knots()) != 0 {
		t.Error("knots")
	}
	bad := Measured([]Point{{0, 0}, {1, 0}})
	if _, err := bad.Shape(); err == nil {
		t.Error("a style without force was taken")
	}
	bad = Measured([]Point{{0, 1}, {0.5, 1}, {0.5, 2}})
	if _, err := bad.Shape(); err == nil {
		t.Error("a style with two forces at one place was taken")
	}
}

// The pull fades in proportion to the handle's speed and never pushes; none fades not.
func TestFade(t *testing.T) {
	r := New(80, 400)
	near(t, "at rest", r.Fade(0), 1, 0)
	near(t, "at half the free speed", r.Fade(2.25), 0.5, 1e-15)
	near(t, "beyond it", r.Fade(5), 0, 0)
	r.FreeSpeed = math.Inf(1)
	near(t, "a prescribed force", r.Fade(100), 1, 0)
}

// s(φ) goes from 0 to 1 at rest at both ends, fastest a third of the way; its derivatives
// are what they say. A_com of 90 kg is 0.55 m (D). Equations 5.3 and 5.4.
func TestBody(t *testing.T) {
	near(t, "s(0)", Body(0), 0, 0)
	near(t, "s(1)", Body(1), 1, 1e-15)
	near(t, "s'(0)", BodySlope(0), 0, 0)
	near(t, "s'(1)", BodySlope(1), 0, 0)
	at, _ := num.Minimum(func(x float64) float64 { return -BodySlope(x) }, 0, 1, 1e-9)
	near(t, "fastest at", at, 1./3, 1e-6)
	const h = 1e-5
	for phi := 0.05; phi < 1; phi += 0.05 {
		near(t, "s'", (Body(phi+h)-Body(phi-h))/(2*h), BodySlope(phi), 1e-8)
		near(t, "s''", (BodySlope(phi+h)-BodySlope(phi-h))/(2*h), BodyCurve(phi), 1e-8)
	}
	near(t, "A_com of 90 kg", BodyTravel(90), 0.55, 0.005)
	near(t, "A_com of the open cases, 88 kg", BodyTravel(88), 0.5427, 5e-5)
}
