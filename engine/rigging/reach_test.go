package rigging

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"thole/engine/oar"
)

const degree = math.Pi / 180

// One centimetre of stretcher in a scull of 88 inboard (84 from pin to pull) at 62 and 43
// degrees: +1.49 and −0.93 degrees; the closed form itself to 1e-12. Equation 12.6.
func TestOneCentimetreOfStretcher(t *testing.T) {
	s := made(t, 288, 88, "scull hatchet")
	c, f, err := oar.MoveReach(&s, &s, 62*degree, 43*degree, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "catch", c/degree-62, 1.49, 5e-3)
	near(t, "finish", f/degree-43, -0.93, 5e-3)
	near(t, "sin of the catch", math.Sin(c), math.Sin(62*degree)+0.01/0.84, 1e-12)
	near(t, "sin of the finish", math.Sin(f), math.Sin(43*degree)-0.01/0.84, 1e-12)
}

// What moves the body: stretcher and slides together count once, slides alone nothing
// (the stretcher is measured from them), pins moved sternward by p count −p.
func TestMoved(t *testing.T) {
	was := New()
	was.Stretcher, was.WorkThrough = 0.55, 0.08
	set := func(stretcher, through float64) *Rig {
		r := was
		r.Stretcher, r.WorkThrough = stretcher, through
		return &r
	}
	for what, c := range map[string]struct {
		now  *Rig
		want float64
	}{
		"stretcher 2 cm to the stern":       {set(0.57, 0.08), 0.02},
		"slides and stretcher together":     {set(0.55, 0.10), 0.02},
		"slides alone, stretcher stays put": {set(0.53, 0.10), 0},
		"pins 1 cm to the stern":            {set(0.55, 0.07), -0.01},
	} {
		got, err := Moved(&was, c.now)
		if err != nil {
			t.Fatal(err)
		}
		near(t, what, got, c.want, 1e-12)
	}
	none := New()
	if m, err := Moved(&none, &none); m != 0 || err != nil {
		t.Error("two rigs without measures moved the body", m, err)
	}
	var untold *Untold
	if _, err := Moved(&none, set(0.55, math.NaN())); !errors.As(err, &untold) ||
		untold.Measure != "stretcher" || !untold.Measured {
		t.Error("a stretcher nobody measured before was let through", err)
	}
	if _, err := Moved(set(math.NaN(), 0.08), &none); !errors.As(err, &untold) ||
		untold.Measure != "work_through" || untold.Measured {
		t.Error("a work-through that is gone was let through", err)
	}
}

// The hands' places along the boat, by other means than the code's: the handle of an oar
// turned about its pin.
func handPlace(o *oar.Oar, theta float64) float64 { // sternward of the pins, m
	ax := -math.Sin(theta) // along the shaft, outward, forward part
	return o.Lever() * ax  // the hands lie inboard, at −L_in a: forward −L_in·ax, sternward L_in·ax
}

// Reach is kept under every lever: on 1,000 random rigs whatever changes (oar, stretcher,
// slides, pins, the collar that follows), both hands' places move by what the body moves
// and the way of the hands stays, to 1e-12 m. The angles that come of it, fitted back,
// give the inboard and the body's way again. Equation 12.10.
func TestReachKeptUnderEveryLever(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 10 { // of 100 drawn
			keepsReach(t)
		}
	})
}

func keepsReach(t *rapid.T) {
	in := rapid.Float64Range(0.80, 0.92).Draw(t, "inboard")
	o := oar.Oar{Length: 2.88, Inboard: in, Hand: 0.06, Gate: 0.04}
	catch := rapid.Float64Range(40, 68).Draw(t, "catch") * degree
	finish := rapid.Float64Range(25, 48).Draw(t, "finish") * degree
	was, now := New(), New()
	was.Span = rapid.Float64Range(1.50, 1.70).Draw(t, "span")
	now.Span = was.Span + rapid.Float64Range(-0.04, 0.04).Draw(t, "wider")
	was.Stretcher, was.WorkThrough = rapid.Float64Range(0.4, 0.7).Draw(t, "stretcher"),
		rapid.Float64Range(-0.05, 0.12).Draw(t, "through")
	now.Stretcher = was.Stretcher + rapid.Float64Range(-0.02, 0.02).Draw(t, "moved")
	now.WorkThrough = was.WorkThrough + rapid.Float64Range(-0.02, 0.02).Draw(t, "slid")
	moved, err := Moved(&was, &now)
	if err != nil {
		t.Fatal(err)
	}
	p := o
	if rapid.Bool().Draw(t, "follows") {
		p = FollowCollar(o, &was, &now)
	}
	c, f, err := oar.MoveReach(&o, &p, catch, finish, moved)
	if err != nil {
		return // out of reach says so; TestOutOfReach
	}
	if d := handPlace(&p, -c) - handPlace(&o, -catch) - moved; math.Abs(d) > 1e-12 {
		t.Fatalf("hands at the catch off by %g m", d)
	}
	if d := handPlace(&p, f) - handPlace(&o, finish) - moved; math.Abs(d) > 1e-12 {
		t.Fatalf("hands at the finish off by %g m", d)
	}
	lever, back := Fit(o.Lever(), catch, finish, c, f)
	if math.Abs(lever-p.Lever()) > 1e-12 || math.Abs(back-moved) > 1e-12 {
		t.Fatalf("fitted back: lever %g for %g, moved %g for %g", lever, p.Lever(), back, moved)
	}
}

// Hands that would have to be further from the pins than the oar carries them.
func TestOutOfReach(t *testing.T) {
	s := made(t, 288, 88, "scull hatchet")
	for what, moved := range map[string]float64{
		"at the catch the hands would be": 0.12, "at the finish the hands would not": 0.59,
		"at the finish the hands would be": -0.30,
	} {
		catch := 62 * degree
		if what == "at the finish the hands would not" {
			catch = 10 * degree
		}
		_, _, err := oar.MoveReach(&s, &s, catch, 43*degree, moved)
		var out *oar.OutOfReach
		if !errors.As(err, &out) || len(err.Error()) < len(what) || err.Error()[:len(what)] != what {
			t.Errorf("%v: %v", what, err)
		}
	}
}

// A collar that follows keeps the overlap; handles apart at square are the overlap with
// gates, negated; at an angle the plane triangle's other route: the handle's end by its
// coordinates.
// Equation 12.11.
func TestHandlesApart(t *testing.T) {
	s, o := made(t, 288, 88, "scull hatchet"), made(t, 376, 115, "sweep hatchet")
	narrow, wide := New(), New()
	narrow.Span, narrow.Spread, wide.Span, wide.Spread = 1.58, 0.84, 1.60, 0.86
	for _, q := range []*oar.Oar{&s, &o} {
		p := FollowCollar(*q, &narrow, &wide)
		near(t, "overlap", Overlap(&p, &wide, true), Overlap(q, &narrow, true), 1e-12)
		near(t, "length", p.Length, q.Length, 0)
		near(t, "apart at square", HandlesApart(q, &narrow, 0), -Overlap(q, &narrow, true), 1e-12)
	}
	// 88/159 at a finish of 43 deg: each end 90 cm from its pin, 90 cos 43 = 65.82 toward midline
	narrow.Span = 1.59
	near(t, "apart at 43 deg", HandlesApart(&s, &narrow, 43*degree), 1.59-2*0.658218, 1e-5)
}
