package study

import (
	"errors"
	"math"
	"testing"
)

func nan() float64 { return math.NaN() }

func TestBestOfOneInput(t *testing.T) {
	parabola := named(func(x []float64) (map[string]float64, error) {
		return map[string]float64{"y": 3 - (x[0]-1)*(x[0]-1), "cost": x[0] * x[0]}, nil
	}, "y", "cost")
	in := []Range{Even("x", -1, 4)}

	b, err := FindBest(background, parabola, in, Goal{Of: "y", Maximise: true})
	if err != nil {
		t.Fatal(err)
	}
	// a top is flat: its place is known to the root of what its height is known to
	within(t, "top", b.At[0], 1, 1e-5)
	within(t, "height", b.Value, 3, 1e-10)
	if len(b.AtEdge)+len(b.AtLimit)+len(b.LocalOptima) != 0 {
		t.Errorf("edge %v, limit %v, local optima %v", b.AtEdge, b.AtLimit, b.LocalOptima)
	}
	// 0.5 % of 3 is 0.015 below: (x − 1)² = 0.015
	within(t, "flat from", b.Flat[0].Low, 1-math.Sqrt(0.015), 5e-3)
	within(t, "flat to", b.Flat[0].High, 1+math.Sqrt(0.015), 5e-3)

	b, err = FindBest(background, parabola, in,
		Goal{Of: "y", Maximise: true, Limits: []Limit{{"cost", nan(), 0.25}}})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "stopped by the limit", b.At[0], 0.5, 1e-6)
	if len(b.AtLimit) != 1 || b.AtLimit[0].High != 0.25 || !math.IsNaN(b.AtLimit[0].Low) {
		t.Errorf("limits %v", b.AtLimit)
	}

	b, err = FindBest(background, parabola, in, Goal{Of: "y"})
	if err != nil {
		t.Fatal(err)
	}
	if b.At[0] != 4 || len(b.AtEdge) != 1 || !b.AtEdge[0].High || b.Value != -6 {
		t.Errorf("the lowest is at the high end: %+v", b)
	}
}

func TestALocalHillIsNotTheTop(t *testing.T) {
	// local optima at about 2.2 (the top) and at about -2.3, slightly lower; climbing
	// from the middle of the range would settle anywhere
	f := func(x []float64) float64 { return math.Cos(3*x[0]) + 0.1*x[0] - 0.02*x[0]*x[0] }
	b, err := FindBest(background, plain(f), []Range{Even("x", -3, 6)}, Goal{Of: "value", Maximise: true})
	if err != nil {
		t.Fatal(err)
	}
	best, at := math.Inf(-1), 0.0
	for i := range 900001 {
		x := -3 + 9*float64(i)/900000
		if y := f([]float64{x}); y > best {
			best, at = y, x
		}
	}
	within(t, "top", b.At[0], at, 2e-5)
	if len(b.LocalOptima) == 0 || b.LocalOptima[0].Value > b.Value {
		t.Errorf("local optima %v", b.LocalOptima)
	}
}

// Known answers of two and three inputs. Rosenbrock 1960, Computer Journal
// 3:175; the rest by Lagrange's rule on paper.
func TestBestWithLimitsKnownAnswers(t *testing.T) {
	cases := []struct {
		name   string
		f      func(x []float64) (float64, float64)
		ranges []Range
		limit  Limit
		max    bool
		want   []float64
	}{
		{"Rosenbrock's valley", func(x []float64) (float64, float64) {
			return 100*math.Pow(x[1]-x[0]*x[0], 2) + math.Pow(1-x[0], 2), 0
		}, []Range{Even("x", -2, 2), Even("y", -1, 3)}, Limit{"g", nan(), 1}, false, []float64{1, 1}},
		{"x + y on a " +
			"disc", func(x []float64) (float64, float64) { return x[0] + x[1], x[0]*x[0] + x[1]*x[1] },
			[]Range{Even("x", -2, 3), Even("y", -2, 3)}, Limit{"g", nan(), 1}, true,
			[]float64{math.Sqrt2 / 2, math.Sqrt2 / 2}},
		{"x + 10 y on a disc",
			func(x []float64) (float64, float64) { return x[0] + 10*x[1], x[0]*x[0] + x[1]*x[1] },
			[]Range{Even("x", -2, 3), Even("y", -2, 3)}, Limit{"g", nan(), 1}, true,
			[]float64{1 / math.Sqrt(101), 10 / math.Sqrt(101)}},
		{"a box of least surface with volume 8 or more", func(x []float64) (float64, float64) {
			return 2 * (x[0]*x[1] + x[1]*x[2] + x[0]*x[2]), x[0] * x[1] * x[2]
		}, []Range{Even("a", 0.5, 5), Even("b", 0.5, 5), Even("c", 0.5, 5)}, Limit{"g", 8, nan()}, false,
			[]float64{2, 2, 2}},
		{"a corner of the ranges", func(x []float64) (float64, float64) { return x[0] - x[1] + 0.1*x[2], 0 },
			[]Range{Even("a", 0, 1), Even("b", 0, 1), Even("c", 0, 1)}, Limit{"g", nan(), 1}, true,
			[]float64{1, 0, 1}},
		{"five inputs, a quadratic", func(x []float64) (float64, float64) {
			y := 0.0
			for i, v := range x {
				y += float64(i+1) * math.Pow(v-0.1*float64(i+1), 2)
			}
			return y, 0
		}, []Range{Even("a", 0, 1), Even("b", 0, 1), Even("c", 0, 1), Even("d", 0, 1), Even("e", 0, 1)},
			Limit{"g", nan(), 1}, false,
			[]float64{0.1, 0.2, 0.3, 0.4, 0.5}},
	}
	for _, c := range cases {
		fn := named(func(x []float64) (map[string]float64, error) {
			y, g := c.f(x)
			return map[string]float64{"y": y, "g": g}, nil
		}, "y", "g")
		b, err := FindBest(background, fn, c.ranges, Goal{Of: "y", Maximise: c.max, Limits: []Limit{c.limit}})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for i, want := range c.want {
			// 1e-4 of a range of a few: the place of a flat top, as above
			within(t, c.name, b.At[i], want, 3e-4)
		}
		t.Logf("%s: %v in %d calls", c.name, b.At, b.Calls)
	}
}

func TestTwoLimitsAtOnce(t *testing.T) {
	// highest x + y with x² + y² ≤ 1 and y ≤ 0.5: both hold, x = √0.75
	fn := named(func(x []float64) (map[string]float64, error) {
		return map[string]float64{"y": x[0] + x[1], "disc": x[0]*x[0] + x[1]*x[1], "roof": x[1]}, nil
	}, "y", "disc", "roof")
	b, err := FindBest(background, fn, []Range{Even("x", -2, 3), Even("y", -2, 3)},
		Goal{Of: "y", Maximise: true, Limits: []Limit{{"disc", nan(), 1}, {"roof", nan(), 0.5}}})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "x", b.At[0], math.Sqrt(0.75), 1e-5)
	within(t, "y", b.At[1], 0.5, 1e-5)
	if len(b.AtLimit) != 2 {
		t.Errorf("limits %v", b.AtLimit)
	}
}

func TestANarrowBandIsFound(t *testing.T) {
	// no point of the grid lies inside the limits: 0.333 ≤ x ≤ 0.3335
	fn := named(func(x []float64) (map[string]float64, error) {
		return map[string]float64{"y": -x[1] * x[1], "x": x[0]}, nil
	}, "y", "x")
	b, err := FindBest(background, fn, []Range{Even("x", 0, 1), Even("y", -1, 2)},
		Goal{Of: "y", Maximise: true, Limits: []Limit{{"x", 0.3331, 0.3333}}})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "y", b.At[1], 0, 1e-4)
}

// Noise of the size of a solver's residual must not hide that the best lies at an end.
func TestAnEndUnderNoise(t *testing.T) {
	fn := plain(func(x []float64) float64 { return x[0] + 1e-9*math.Sin(1e7*x[0]) })
	b, err := FindBest(background, fn, []Range{Even("x", 0, 1)}, Goal{Of: "value", Maximise: true})
	if err != nil {
		t.Fatal(err)
	}
	if b.At[0] != 1 || len(b.AtEdge) != 1 {
		t.Errorf("at %.9f, edges %v", b.At[0], b.AtEdge)
	}
}

func TestNothingMeetsTheLimits(t *testing.T) {
	fn := named(func(x []float64) (map[string]float64, error) {
		return map[string]float64{"speed": x[0], "heaviness": 220 + (x[0]-3)*(x[0]-3)}, nil
	}, "speed", "heaviness")
	_, err := FindBest(background, fn, []Range{Even("x", 0, 10)},
		Goal{Of: "speed", Maximise: true, Limits: []Limit{{"heaviness", nan(), 200}}})
	var nothing *NothingMeets
	if !errors.As(err, &nothing) {
		t.Fatal(err)
	}
	within(t, "nearest", nothing.At[0], 3, 1e-3)
	within(t, "misses by", nothing.Misses[0].By, 20, 1e-6)
}

func TestBestBesideFailingPoints(t *testing.T) {
	// nothing is there above 0.8; the top of what is lies against that wall
	fn := named(func(x []float64) (map[string]float64, error) {
		if x[0] > 0.8 {
			return nil, errors.New("the drive takes too long")
		}
		return map[string]float64{"y": x[0]}, nil
	}, "y")
	b, err := FindBest(background, fn, []Range{Even("x", 0, 1)}, Goal{Of: "y", Maximise: true})
	if err != nil {
		t.Fatal(err)
	}
	// a wall can only be felt for: a thousandth of the range
	within(t, "against the wall", b.At[0], 0.8, 1e-3)
	if b.Failed == nil || b.Failed.Count != 4 { // 13/16 to 16/16
		t.Errorf("failed %v", b.Failed)
	}
}
