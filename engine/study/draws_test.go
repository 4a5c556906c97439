package study

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func TestQuantilesOfKnownOrders(t *testing.T) {
	// Hyndman & Fan 1996, definition 8: position p(n + 1/3) + 1/3
	sorted := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9}
	within(t, "median", quantile(sorted, 0.5), 5, 1e-12)
	within(t, "a quarter", quantile(sorted, 0.25), 0.25*(9+1.0/3)+1.0/3, 1e-12)
	within(t, "below the first", quantile(sorted, 0.01), 1, 0)
	within(t, "above the last", quantile(sorted, 0.99), 9, 0)
}

// A line of bells is a bell: y = 2a − b + 3 has middle 2·5 − 1 + 3 and standard
// deviation √(4·0.3² + 0.4²), so its 95 % interval is known in closed form.
func TestIntervalOfALineClosedForm(t *testing.T) {
	fn := plain(func(x []float64) float64 { return 2*x[0] - x[1] + 3 })
	d, err := Uncertainty(background, fn,
		Doubt{Ranges: []Range{About("a", 5, 0.3), About("b", 1, 0.4)}, Draws: 4000, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	e := d.Estimate(0, 0)
	sd := math.Sqrt(4*0.09 + 0.16)
	// 4000 scrambled Halton points: a 2.5 % quantile is known to about 1 % of a sd
	within(t, "middle", e.Value, 12, 0.01*sd)
	within(t, "low", e.Low, 12-1.959964*sd, 0.04*sd)
	within(t, "high", e.High, 12+1.959964*sd, 0.04*sd)
	within(t, "as set", e.AsSet, 12, 1e-12)
	if e.Verdict != MoreUnweighed {
		t.Errorf("verdict %q", e.Verdict)
	}
}

func TestEvenRange(t *testing.T) {
	d, err := Uncertainty(background, plain(func(x []float64) float64 { return x[0] }),
		Doubt{Ranges: []Range{Even("a", -1, 3)}, Draws: 400, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	e := d.Estimate(0, 0)
	// evenly spaced to about one draw in 400
	within(t, "middle", e.Value, 1, 0.02)
	within(t, "low", e.Low, -0.9, 0.02)
	within(t, "high", e.High, 2.9, 0.02)
	if e.Verdict != NotApart {
		t.Errorf("verdict %q", e.Verdict)
	}
}

// The 95 % interval must hold 95 % of truths. Over 1,000 repeats (each its own
// seed) a truth is drawn independently and counted in or out. With 400 draws
// the count is binomial: 950 ± 3·√(1000·0.95·0.05) = 950 ± 21.
func TestCoverageOverAThousandRepeats(t *testing.T) {
	f := func(x []float64) float64 { return math.Exp(0.3*x[0])*x[1] + x[2] }
	ranges := []Range{About("a", 0, 1), Even("b", 1, 3), About("c", 2, 0.5)}
	truth := rand.New(rand.NewPCG(11, 12))
	inside := 0
	for seed := range 1000 {
		d, err := Uncertainty(background, plain(f), Doubt{Ranges: ranges, Seed: uint64(seed)})
		if err != nil {
			t.Fatal(err)
		}
		y := f([]float64{truth.NormFloat64(), 1 + 2*truth.Float64(), 2 + 0.5*truth.NormFloat64()})
		if e := d.Estimate(0, 0); e.Low <= y && y <= e.High {
			inside++
		}
	}
	t.Logf("%d of 1000 truths inside", inside)
	if inside < 929 || inside > 971 {
		t.Errorf("the 95 %% interval held %d of 1000 truths", inside)
	}
}

// twoOars gives two alternatives that share the doubt a and differ by the small doubt b:
// old = 4 + a, new = 4.05 + a + b with a ~ N(0, 0.2), b ~ N(0, 0.01).
func twoOars(_ context.Context, p Point) (Outcome, error) {
	q := Quantity{Name: "speed", Unit: "m/s", Digits: 3, Change: 3}
	return Outcome{
		{Name: "old", Values: []Value{{Quantity: q, Number: 4 + p[0]}}},
		{Name: "new", Values: []Value{{Quantity: q, Number: 4.05 + p[0] + p[1]}}},
	}, nil
}

// Paired, the difference has standard deviation 0.01; drawn apart it would have
// √(2·0.2² + 0.01²) = 0.283, and nothing could be told. Both in closed form.
func TestPairedAgainstIndependentDraws(t *testing.T) {
	ranges := []Range{About("a", 0, 0.2), About("b", 0, 0.01)}
	d, err := Uncertainty(background, Parallel(twoOars), Doubt{Ranges: ranges, Draws: 2000, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	third := func(Quantity) float64 { return 0.003 }
	c := CompareDrawn(d, 0, 1, third)[0]
	within(t, "change", c.Change.Value, 0.05, 0.0002)
	within(t, "low", c.Change.Low, 0.05-1.96*0.01, 0.0006)
	within(t, "high", c.Change.High, 0.05+1.96*0.01, 0.0006)
	within(t, "percent", c.Percent, 1.25, 0.01)
	if c.Verdict != MoreUnweighed {
		t.Errorf("paired: %q", c.Verdict)
	}

	// the same two levels, each with draws of its own. Two scrambles of one
	// sequence still march in step, so the second is shuffled.
	apart, err := Uncertainty(background, Parallel(twoOars), Doubt{Ranges: ranges, Draws: 2000, Seed: 6})
	if err != nil {
		t.Fatal(err)
	}
	news := apart.Values[1][0]
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(news), func(i, j int) { news[i], news[j] = news[j], news[i] })
	mixed := &Drawn{Outputs: d.Outputs, Cases: d.Cases, AsSet: d.AsSet,
		Values: [][][]float64{d.Values[0], apart.Values[1]}}
	wide := CompareDrawn(mixed, 0, 1, third)[0]
	sd := math.Sqrt(2*0.04 + 0.0001)
	// 2000 shuffled draws: a 2.5 % quantile to 5 % of sd, twice that and a bit
	within(t, "independent low", wide.Change.Low, 0.05-1.96*sd, 0.12*sd)
	within(t, "independent high", wide.Change.High, 0.05+1.96*sd, 0.12*sd)
	if wide.Verdict != NotApart {
		t.Errorf("independent: %q", wide.Verdict)
	}
}

func TestTooSmallToMatterWhateverTheDraws(t *testing.T) {
	d := &Drawn{Outputs: []Quantity{{Name: "speed"}}, Cases: []string{"a", "b"},
		Values: [][][]float64{{{4, 4.1, 4.2}}, {{4.01, 4.11, 4.21}}}, AsSet: [][]float64{{4.1}, {4.11}}}
	for _, c := range []struct {
		worth float64
		want  string
	}{{0.003, TooSmall}, {0.002, MoreUnweighed}} {
		if got := CompareDrawn(d, 0, 1, func(Quantity) float64 { return c.worth })[0].Verdict; got != c.want {
			t.Errorf("0.01 of 4.1 where %g is worthwhile: %q, want %q", c.worth, got, c.want)
		}
	}
	if got := CompareDrawn(d, 1, 0,
		func(Quantity) float64 { return 0.001 })[0].Verdict; got != LessUnweighed {
		t.Errorf("the other way round: %q", got)
	}
	if got := CompareDrawn(d, 0, 0, func(Quantity) float64 { return 0 })[0].Verdict; got != TooSmall {
		t.Errorf("beside itself: %q", got)
	}
}

func TestAFailedAlternativeDropsThePair(t *testing.T) {
	fn := Parallel(func(ctx context.Context, p Point) (Outcome, error) {
		o, _ := twoOars(ctx, p)
		if p[0] > 0.2 { // 16 % of the draws
			o[1] = Case{Name: "new", Err: errors.New("too little recovery")}
		}
		return o, nil
	})
	d, err := Uncertainty(background, fn,
		Doubt{Ranges: []Range{About("a", 0, 0.2), About("b", 0, 0.01)}, Draws: 1000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	if d.Failed == nil || len(d.Values[0][0]) != 1000-d.Failed.Count ||
		len(d.Values[1][0]) != len(d.Values[0][0]) {
		t.Fatalf("failed %v, kept %d and %d", d.Failed, len(d.Values[0][0]), len(d.Values[1][0]))
	}
	within(t, "dropped", float64(d.Failed.Count), 158.7, 6)
	for _, old := range d.Values[0][0] {
		if old > 4.2 {
			t.Fatalf("the draw with %g was kept in one case only", old)
		}
	}
}

func TestMostDrawsFailing(t *testing.T) {
	fn := Parallel(func(_ context.Context, p Point) (Outcome, error) {
		switch {
		case p[0] < 0.5:
			return nil, errors.New("too little recovery")
		case p[0] < 0.6:
			return nil, errors.New("hands too fast")
		}
		return One("value", "", p[0]), nil
	})
	_, err := Uncertainty(background, fn, Doubt{Ranges: []Range{Even("a", 0, 1)}})
	var failed *Failed
	if !errors.As(err, &failed) || failed.Reason.Error() != "too little recovery" || failed.Of != 400 {
		t.Fatalf("error %v", err)
	}
}

// A joint draw keeps means, spreads and correlation of the fit.
func TestJointDraws(t *testing.T) {
	j := &Joint{Names: []string{"grip", "power", "held"}, Mean: []float64{1, 380, 2},
		Cov: [][]float64{{0.01, -0.8 * 0.1 * 20, 0}, {-0.8 * 0.1 * 20, 400, 0}, {0, 0, 0}}}
	fn := Parallel(func(_ context.Context, p Point) (Outcome, error) {
		o := One("grip", "", p[0])
		o[0].Values = append(o[0].Values, One("power", "", p[1])[0].Values[0],
			One("held", "", p[2])[0].Values[0])
		return o, nil
	})
	d, err := Uncertainty(background, fn, Doubt{Joint: j, Draws: 4000, Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	grip, power := d.Values[0][0], d.Values[0][1]
	var sg, sp, sgg, spp, sgp float64
	for i := range grip {
		g, p := grip[i]-1, power[i]-380
		sg, sp, sgg, spp, sgp = sg+g, sp+p, sgg+g*g, spp+p*p, sgp+g*p
	}
	n := float64(len(grip))
	within(t, "mean grip", sg/n, 0, 0.001)
	within(t, "sd grip", math.Sqrt(sgg/n), 0.1, 0.002)
	within(t, "sd power", math.Sqrt(spp/n), 20, 0.4)
	within(t, "correlation", sgp/math.Sqrt(sgg*spp), -0.8, 0.01)
	for _, h := range d.Values[0][2] {
		if h != 2 {
			t.Fatalf("an input without spread moved to %g", h)
		}
	}

	j.Low, j.High = []float64{0.95, 300, 0}, []float64{1.2, 500, 5}
	d, err = Uncertainty(background, fn, Doubt{Joint: j, Draws: 400, Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Values[0][0]) != 400 {
		t.Errorf("%d draws", len(d.Values[0][0]))
	}
	for _, g := range d.Values[0][0] {
		if g < 0.95 || g > 1.2 {
			t.Fatalf("grip %g lies outside its bounds", g)
		}
	}
	j.Low, j.High = []float64{5, 300, 0}, []float64{6, 500, 5}
	if _, err = Uncertainty(background, fn, Doubt{Joint: j, Seed: 2}); err == nil {
		t.Error("bounds fifty deviations off were met")
	}
}

func TestALongerRunBeginsWithTheShorter(t *testing.T) {
	d := Doubt{Ranges: []Range{Even("a", 0, 1), About("b", 0, 1)}, Draws: 50, Seed: 9}
	short, err := d.drawn()
	if err != nil {
		t.Fatal(err)
	}
	d.Draws = 200
	long, err := d.drawn()
	if err != nil {
		t.Fatal(err)
	}
	for i := range short {
		if short[i][0] != long[i][0] || short[i][1] != long[i][1] {
			t.Fatalf("draw %d differs", i)
		}
	}
	d.Seed = 10
	other, _ := d.drawn()
	if other[0][0] == long[0][0] {
		t.Error("another seed gives the same draws")
	}
}
