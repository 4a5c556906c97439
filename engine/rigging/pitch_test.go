package rigging

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

type vec [3]float64 // forward, outward, up

type matrix [3]vec

func (m matrix) times(v vec) (w vec) {
	for i := range m {
		for j := range v {
			w[i] += m[i][j] * v[j]
		}
	}
	return w
}

// turned is the rotation by a about one of the axes, right-handed.
func turned(axis int, a float64) matrix {
	s, c := math.Sin(a), math.Cos(a)
	switch axis {
	case 0:
		return matrix{{1, 0, 0}, {0, c, -s}, {0, s, c}}
	case 1:
		return matrix{{c, 0, s}, {0, 1, 0}, {-s, 0, c}}
	}
	return matrix{{c, -s, 0}, {s, c, 0}, {0, 0, 1}}
}

// The turned frame by rotation matrices: a blade square to the hull, its push forward;
// pitched about its shaft (the outward axis) so that the push points up by p; turned by θ
// about the pin (with forward, outward, up a left-handed count of θ: before square the
// blade lies forward of the pin); and pin and all leant outward by λ about the boat's length.
func pushByMatrices(p, lambda, theta float64) vec {
	v := turned(1, -p).times(vec{1, 0, 0})
	v = turned(2, theta).times(v)
	return turned(0, -lambda).times(v)
}

// Exact pitch against the matrices, and the first order within its second: p and λ of
// handbook size leave less than 0.02 degrees. Equation 12.8.
func TestPitchAgainstRotationMatrices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(-5, 12).Draw(t, "pitch") * degree
		lambda := rapid.Float64Range(-5, 5).Draw(t, "outward") * degree
		theta := rapid.Float64Range(-80, 60).Draw(t, "angle") * degree
		r := New()
		r.Pitch, r.Outward = p, lambda
		exact := math.Asin(pushByMatrices(p, lambda, theta)[2])
		if got := r.PitchAt(theta); math.Abs(got-exact) > 1e-12 {
			t.Fatalf("%g, by matrices %g", got, exact)
		}
		// the first term left out is p λ²/2, then p² λ sin θ/2 and third powers of λ
		order := math.Abs(p)*lambda*lambda + p*p*math.Abs(lambda) + math.Pow(math.Abs(lambda), 3) +
			math.Pow(math.Abs(p-lambda*math.Sin(theta)), 3)
		if d := math.Abs(PitchFirstOrder(p, lambda, theta) - exact); d > order+1e-12 {
			t.Fatalf("first order off by %g, third powers are %g", d, order)
		}
	})
}

// The blade lies on the shaft's line, which matrices turn as the model says: a = (−sin θ, cos θ).
func TestTurnedFrameIsTheModels(t *testing.T) {
	for _, theta := range []float64{-62 * degree, 0, 43 * degree} {
		a := turned(2, theta).times(vec{0, 1, 0})
		near(t, "forward", a[0], -math.Sin(theta), 1e-15)
		near(t, "outward", a[1], math.Cos(theta), 1e-15)
	}
}

// A pin that leans outward adds at the catch and takes at the finish; without it pitch
// is the same all the way; without stern pitch there is none to tell.
func TestPitchOverTheArc(t *testing.T) {
	r := New()
	if !math.IsNaN(r.PitchAt(0)) {
		t.Error("a rig without pitch has one")
	}
	r.Pitch = 4 * degree
	near(t, "no outward pitch, catch", r.PitchAt(-62*degree)/degree, 4, 1e-12)
	r.Outward = 1 * degree
	near(t, "square", r.PitchAt(0)/degree, 4, 1e-3)
	near(t, "catch", r.PitchAt(-62*degree)/degree, 4+math.Sin(62*degree), 2e-3)
	near(t, "finish", r.PitchAt(43*degree)/degree, 4-math.Sin(43*degree), 2e-3)
}

// A degree at 300 N is 5.2 N at the blade; at the hands of a scull by the levers 175/84,
// less 9.1 N that hang outboard. The loss of 4 degrees is 0.24 %. Equation 12.9.
func TestLift(t *testing.T) {
	near(t, "lift of a degree", LiftAtBlade(300, degree), 5.2, 0.05)
	s := made(t, 288, 88, "scull hatchet")
	near(t, "at the hands", LiftAtHands(&s, 300, 4*degree),
		300*math.Sin(4*degree)*1.75/0.84-9.80665*1.45*0.54/0.84, 1e-12)
	near(t, "no force: the weight alone", LiftAtHands(&s, 0, 4*degree), -s.HandWeight(), 1e-12)
	near(t, "loss", PitchLoss(4*degree), 1-math.Cos(4*degree), 1e-15)
}
