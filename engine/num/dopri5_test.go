package num

import (
	"math"
	"testing"
)

// kepler is a two-body orbit of eccentricity 0.3: smooth, nonlinear, with a known end.
func kepler(_ float64, y, dy []float64) {
	r := math.Hypot(y[0], y[1])
	r3 := r * r * r
	dy[0], dy[1], dy[2], dy[3] = y[2], y[3], -y[0]/r3, -y[1]/r3
}

func orbit() *Dopri5 {
	d := NewDopri5(4, kepler)
	copy(d.Y, []float64{0.7, 0, 0, math.Sqrt(1.3 / 0.7)})
	d.Start(0, 0.01)
	return d
}

// order gives log2 of the fall of an error when the step is halved.
func order(error func(n int) float64, n int) float64 {
	return math.Log2(error(n) / error(2*n))
}

// The measured order of the fixed step is 5 (local extrapolation of the pair 5(4)):
// the end of one orbit, which is its beginning. The tolerance is what the next term of
// the error leaves at these steps.
func TestDopri5HasOrder5(t *testing.T) {
	end := func(n int) float64 {
		d := orbit()
		h := 2 * math.Pi / float64(n)
		for range n {
			d.StepBy(h, math.Inf(1))
		}
		return math.Hypot(d.Y[0]-0.7, d.Y[1])
	}
	if p := order(end, 200); math.Abs(p-5) > 0.3 {
		t.Errorf("measured order %.2f", p)
	}
}

// The dense output has order 4 globally, that is 5 inside one step from exact data, and
// meets the step's ends.
func TestDopri5DenseOutput(t *testing.T) {
	// y' = y from exact data: the error inside one step falls as h⁵
	inside := func(h float64) float64 {
		d := NewDopri5(1, func(_ float64, y, dy []float64) { dy[0] = y[0] })
		d.Y[0] = 1
		d.Start(0, h)
		d.StepBy(h, math.Inf(1))
		worst := 0.0
		for u := 0.05; u < 1; u += 0.05 {
			worst = math.Max(worst, math.Abs(d.Dense(0, u)-math.Exp(u*h)))
		}
		if d.Dense(0, 0) != 1 || math.Abs(d.Dense(0, 1)-d.Y[0]) > 1e-15 {
			t.Error("the dense output misses the ends of the step")
		}
		return worst
	}
	if p := math.Log2(inside(0.2) / inside(0.1)); math.Abs(p-5) > 0.3 {
		t.Errorf("measured order of the dense output inside a step %.2f", p)
	}
}

// The adaptive step keeps the error near its tolerance: a thousand times finer, a
// thousand times better, within the factor a controller leaves. Equation 13.1.
func TestDopri5FollowsItsTolerance(t *testing.T) {
	end := func(rtol float64) (miss float64, evals int) {
		d := orbit()
		d.Rtol = rtol
		for i := range d.Atol {
			d.Atol[i] = rtol
		}
		for d.T < 2*math.Pi {
			if err := d.Step(2 * math.Pi); err != nil {
				t.Fatal(err)
			}
		}
		if d.T != 2*math.Pi {
			t.Errorf("it ends at %v", d.T)
		}
		return math.Hypot(d.Y[0]-0.7, d.Y[1]), d.Evals
	}
	coarse, few := end(1e-6)
	fine, many := end(1e-9)
	if coarse > 1e-4 || fine > 1e-7 || coarse/fine < 100 {
		t.Errorf("tolerance 1e-6 misses %.1e, 1e-9 misses %.1e", coarse, fine)
	}
	// order 5: a thousand times finer takes 1000^(1/5) = 4 times the work
	if ratio := float64(many) / float64(few); ratio < 2.5 || ratio > 5.5 {
		t.Errorf("%d evaluations at 1e-6, %d at 1e-9", few, many)
	}
}

// An event: the step is taken again with exactly the length at which the dense output
// meets it. A ball thrown up at 3 m/s lands after 6/9.81 s.
func TestDopri5RetakesAStepAtAnEvent(t *testing.T) {
	d := NewDopri5(2, func(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -9.81 })
	d.Rtol = 1e-9
	d.Atol[0], d.Atol[1] = 1e-9, 1e-9
	d.Y[0], d.Y[1] = 0, 3
	d.Start(0, 0.05)
	for d.Y[0] >= 0 {
		if err := d.Step(2); err != nil {
			t.Fatal(err)
		}
	}
	u, err := Root(func(u float64) float64 { return d.Dense(0, u) }, 0.01, 1, 1e-15)
	if err != nil {
		t.Fatal(err)
	}
	d.Retake(u * d.H)
	if math.Abs(d.T-6/9.81) > 1e-12 || math.Abs(d.Y[0]) > 1e-12 || math.Abs(d.Y[1]+3) > 1e-12 {
		t.Errorf("it lands at %v s, height %v, speed %v", d.T, d.Y[0], d.Y[1])
	}
}

// A solution that runs away is an error, never an endless loop or a silent NaN.
func TestDopri5GivesUp(t *testing.T) {
	d := NewDopri5(1, func(_ float64, y, dy []float64) { dy[0] = y[0] * y[0] })
	d.Rtol, d.Atol[0], d.Y[0] = 1e-8, 1e-8, 1
	d.Start(0, 0.1)
	for range 100000 {
		if err := d.Step(2); err != nil {
			if d.T >= 1.01 {
				t.Errorf("gave up at %v, past the pole at 1", d.T)
			}
			return
		}
		if d.T >= 2 {
			break
		}
	}
	t.Errorf("1/(1−t) was carried past its pole to %v", d.T)
}

// Two runs give the same bits; warm steps allocate nothing.
func TestDopri5IsPureAndFree(t *testing.T) {
	a, b := orbit(), orbit()
	for _, d := range []*Dopri5{a, b} {
		d.Rtol = 1e-8
		for i := range d.Atol {
			d.Atol[i] = 1e-8
		}
	}
	for a.T < 3 {
		if a.Step(3) != nil || b.Step(3) != nil {
			t.Fatal("a step failed")
		}
		if a.Y[0] != b.Y[0] || a.T != b.T {
			t.Fatal("two runs differ")
		}
	}
	if n := testing.AllocsPerRun(100, func() { a.StepBy(1e-3, 1e9) }); n != 0 {
		t.Errorf("a step allocates %v times", n)
	}
}
