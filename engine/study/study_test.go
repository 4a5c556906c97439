package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

var background = context.Background()

// plain makes a Batch of a function of numbers that gives one value.
func plain(f func(x []float64) float64) Batch {
	return Parallel(func(_ context.Context, p Point) (Outcome, error) { return One("value", "", f(p)), nil })
}

// named makes a Batch that gives several named numbers, or fails.
func named(f func(x []float64) (map[string]float64, error), names ...string) Batch {
	return Parallel(func(_ context.Context, p Point) (Outcome, error) {
		m, err := f(p)
		if err != nil {
			return nil, err
		}
		c := Case{}
		for _, n := range names {
			c.Values = append(c.Values, Value{Quantity: Quantity{Name: n, Digits: -1, Change: -1},
				Number: m[n]})
		}
		return Outcome{c}, nil
	})
}

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func TestVaryKeepsTheWrittenOrder(t *testing.T) {
	fn := Parallel(func(_ context.Context, p Point) (Outcome, error) {
		if p[0] == 2 && p[1] == 1 {
			return nil, errors.New("the drive would take 1.30 s of a 1.58 s stroke")
		}
		return Outcome{{Values: []Value{
			{Quantity: Quantity{Name: "sum", Unit: "cm"}, Number: p[0] + 10*p[1]},
			{Quantity: Quantity{Name: "word"}, Text: fmt.Sprint("w", p[0]), IsText: true}}}}, nil
	})
	axes := []Axis{{Name: "a", Unit: "cm", Numbers: []float64{3, 2, 1}},
		{Name: "blade", Labels: []string{"old", "new"}}}
	varied, err := Vary(background, fn, axes, nil)
	if err != nil {
		t.Fatal(err)
	}
	tab, failed := varied.Table, varied.Failed
	if failed == nil || failed.Count != 1 || failed.Of != 6 {
		t.Errorf("failed: %v", failed)
	}
	var names []string
	for _, c := range tab.Columns {
		names = append(names, c.Name)
	}
	if got := strings.Join(names, " "); got != "a blade sum word reason" {
		t.Errorf("columns %q", got)
	}
	for i, want := range []float64{3, 13, 2, math.NaN(), 1, 11} {
		got := tab.Column("sum").Nums[i]
		if got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("line %d: sum %g, want %g", i, got, want)
		}
	}
	if r := tab.Column("reason").Texts; r[3] == "" || r[2] != "" {
		t.Errorf("reasons %q", r)
	}
	if b := tab.Column("blade").Texts; b[0] != "old" || b[1] != "new" {
		t.Errorf("blades %q", b)
	}
}

func TestVaryCasesAndLateColumns(t *testing.T) {
	fn := Parallel(func(_ context.Context, p Point) (Outcome, error) {
		o := Outcome{{Name: "old", Values: []Value{{Quantity: Quantity{Name: "v"}, Number: p[0]}}},
			{Name: "new"}}
		if p[0] == 2 {
			o[1].Values = []Value{{Quantity: Quantity{Name: "late"}, Number: 7}}
		}
		return o, nil
	})
	varied, err := Vary(background, fn, []Axis{{Name: "a", Numbers: []float64{1, 2}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	tab := varied.Table
	if tab.Len() != 4 || strings.Join(tab.Column("case").Texts, " ") != "old new old new" {
		t.Fatalf("%d lines, cases %q", tab.Len(), tab.Column("case").Texts)
	}
	late := tab.Column("late").Nums
	if !math.IsNaN(late[0]) || !math.IsNaN(late[1]) || !math.IsNaN(late[2]) || late[3] != 7 {
		t.Errorf("late column %v", late)
	}
	for _, c := range tab.Columns {
		if c.Len() != 4 {
			t.Errorf("column %s has %d cells", c.Name, c.Len())
		}
	}
}

// An output called like an axis must not change the axis: 0.1 + 0.2 is not 0.3.
func TestVaryKeepsTheAxisAsWritten(t *testing.T) {
	fn := Parallel(func(_ context.Context, p Point) (Outcome, error) {
		return One("a", "cm", p[0]+1e-15), nil
	})
	varied, err := Vary(background, fn, []Axis{{Name: "a", Numbers: []float64{0.3, 192}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	tab := varied.Table
	if got := tab.Column("a").Nums; got[0] != 0.3 || got[1] != 192 || len(tab.Columns) != 2 {
		t.Errorf("the axis became %v among %v", got, tab.Names())
	}
}

func TestVaryStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(background)
	calls := 0
	fn := func(ctx context.Context, points []Point) []Result {
		results := make([]Result, len(points))
		for i, p := range points {
			if calls++; calls == 4 {
				cancel()
			}
			if results[i].Err = ctx.Err(); results[i].Err == nil {
				results[i].Outcome = One("value", "", p[0])
			}
		}
		return results
	}
	varied, err := Vary(ctx, fn, []Axis{{Name: "a", Numbers: []float64{1, 2, 3, 4, 5, 6}}}, nil)
	var unfinished *Unfinished
	if !errors.As(err, &unfinished) || unfinished.Done != 3 || unfinished.Of != 6 {
		t.Fatalf("error %v", err)
	}
	if varied.Table.Len() != 3 || varied.Failed != nil {
		t.Errorf("kept %d lines, failed %v", varied.Table.Len(), varied.Failed)
	}
}

func TestAFunctionAtFaultEndsTheStudy(t *testing.T) {
	fault := errors.New("the function gives a text")
	fn := Parallel(func(context.Context, Point) (Outcome, error) { return nil, &Stop{fault} })
	if _, err := Vary(background, fn, []Axis{{Name: "a", Numbers: []float64{1, 2}}}, nil); err != fault {
		t.Errorf("vary: %v", err)
	}
	if _, err := Find(background, fn, Even("a", 0, 1), "value", 0); err != fault {
		t.Errorf("find: %v", err)
	}
	if _, err := Uncertainty(background, fn, Doubt{Ranges: []Range{Even("a", 0, 1)}}); err != fault {
		t.Errorf("uncertainty: %v", err)
	}
}

func TestFindRoots(t *testing.T) {
	cases := []struct {
		name      string
		f         func(x float64) float64
		low, high float64
		target    float64
		want      float64
	}{
		{"x² = 2", func(x float64) float64 { return x * x }, 0, 2, 2, math.Sqrt2},
		{"cos x = x (Dottie's number)", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0,
			0.739085133215160641},
		{"first of three roots", func(x float64) float64 { return (x - 1) * (x - 2) * (x - 3) }, 0, 10, 0, 1},
		{"first of sin, from low", math.Sin, 1, 20, 0, math.Pi},
		{"at the low end", func(x float64) float64 { return x }, 4, 9, 4, 4},
		{"at the high end", func(x float64) float64 { return x }, 4, 9, 9, 9},
		// both crossings between two places of the scan: seen by the turning
		{"a narrow dip", func(x float64) float64 { return (x-0.53)*(x-0.53) - 1e-4 }, 0, 1, 0, 0.52},
		{"a narrow hill", func(x float64) float64 { return 1e-4 - (x-0.53)*(x-0.53) }, 0, 1, 0, 0.52},
		{"fails below a half, crosses just above", func(x float64) float64 {
			if x < 0.5 {
				return math.NaN()
			}
			return x - 0.51
		}, 0, 1, 0, 0.51},
		{"crosses just before it fails", func(x float64) float64 {
			if x > 0.55 {
				return math.NaN()
			}
			return x - 0.545
		}, 0, 1, 0, 0.545},
	}
	for _, c := range cases {
		found, err := Find(background, plain(func(x []float64) float64 { return c.f(x[0]) }),
			Even("x", c.low, c.high), "value", c.target)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		// 1e-12 of the range is what Find closes in to; the dips leave a square root of it
		within(t, c.name, found.Input, c.want, 1e-10*(c.high-c.low))
		if v, _ := found.Outcome.Get("value"); math.Abs(v.Number-c.target) > 1e-9 {
			t.Errorf("%s: the outcome there is %g", c.name, v.Number)
		}
	}
}

func TestFindSaysWhatIsReachable(t *testing.T) {
	_, err := Find(background, plain(func(x []float64) float64 { return 203 + 53*x[0] }), Even("x", 0, 1),
		"value", 200)
	var not *NotReached
	if !errors.As(err, &not) {
		t.Fatal(err)
	}
	if not.AtLow != 203 || not.AtHigh != 256 || not.Least != 203 || not.Most != 256 || !not.Monotone {
		t.Errorf("%+v", not)
	}
	_, err = Find(background, plain(func(x []float64) float64 { return math.Sin(x[0]) }), Even("x", 0, 6),
		"value", 1.5)
	if !errors.As(err, &not) || not.Monotone || not.Most < 0.98 {
		t.Errorf("%+v", not)
	}
	_, err = Find(background, plain(func(x []float64) float64 { return math.Floor(x[0]) }),
		Even("x", 0.3, 3.3), "value", 1.5)
	var jump *Jumps
	if !errors.As(err, &jump) || math.Abs(jump.At-2) > 1e-9 {
		t.Errorf("a jump: %v", err)
	}
	never := errors.New("too little power")
	_, err = Find(background, named(func([]float64) (map[string]float64, error) { return nil, never }, "v"),
		Even("x", 0, 1), "v", 1)
	var failed *Failed
	if !errors.As(err, &failed) || !errors.Is(err, never) {
		t.Errorf("all failed: %v", err)
	}
}

func TestQuestionsThatCannotBeAsked(t *testing.T) {
	fn := named(func([]float64) (map[string]float64, error) { return map[string]float64{"speed": 1}, nil },
		"speed")
	var wrong *WrongWayRound
	if _, err := Find(background, fn, Even("x", 2, 1), "speed", 0); !errors.As(err, &wrong) {
		t.Errorf("wrong way round: %v", err)
	}
	var no *NoSuchOutput
	if _, err := Find(background, fn, Even("x", 1, 2), "spede", 0); !errors.As(err, &no) ||
		len(no.Gives) != 1 || no.Gives[0] != "speed" {
		t.Errorf("no such output: %v", err)
	}
	two := Parallel(func(context.Context, Point) (Outcome, error) {
		return Outcome{{Name: "a"}, {Name: "b"}},
			nil
	})
	var several *SeveralCases
	if _, err := Sensitivity(background, two, []Range{Even("x", 1, 2)}, "speed"); !errors.As(err, &several) {
		t.Errorf("several cases: %v", err)
	}
	for _, goal := range []Goal{{Of: "speed", Limits: []Limit{{"speed", math.NaN(), math.NaN()}}},
		{Of: "speed", Limits: []Limit{{"speed", 2, 1}}}} {
		if _, err := FindBest(background, fn, []Range{Even("x", 1, 2)}, goal); err == nil {
			t.Errorf("limit %v was taken", goal.Limits)
		}
	}
	if _, err := Uncertainty(background, fn, Doubt{Ranges: []Range{Even("x", 1, 2)}, Draws: 5}); err == nil {
		t.Error("5 draws were taken")
	}
}

func TestSensitivityOfALine(t *testing.T) {
	// 3 a − 20 b + 6, a about 1 ± 2·0.5, b 0..0.4 with base 0.1: at the base 3 − 2 + 6 = 7
	fn := plain(func(x []float64) float64 { return 3*x[0] - 20*x[1] + 6 })
	b := Even("b", 0, 0.4)
	b.Base = 0.1
	s, err := Sensitivity(background, fn, []Range{About("a", 1, 0.5), b}, "value")
	if err != nil {
		t.Fatal(err)
	}
	within(t, "base", s.Base, 7, 1e-12)
	if s.Inputs[0].Name != "b" || s.Inputs[1].Name != "a" {
		t.Fatalf("order %s %s: the largest comes first", s.Inputs[0].Name, s.Inputs[1].Name)
	}
	within(t, "swing of b", s.Inputs[0].Swing, -8, 1e-12)
	within(t, "swing of a", s.Inputs[1].Swing, 6, 1e-12)
	if !math.IsNaN(s.Inputs[1].FlipsAt) {
		t.Errorf("a flips at %g, but 3 a + 4 stays above 0 from 0 to 2", s.Inputs[1].FlipsAt)
	}
	s, err = Sensitivity(background, plain(func(x []float64) float64 { return 3*x[0] - 20*x[1] }),
		[]Range{About("a", 1, 0.5), b}, "value")
	if err != nil {
		t.Fatal(err)
	}
	within(t, "b flips at 3/20", s.Inputs[0].FlipsAt, 0.15, 1e-9)
	within(t, "a flips at 2/3", s.Inputs[1].FlipsAt, 2.0/3, 1e-9)
}

func TestSensitivitySeesATurn(t *testing.T) {
	s, err := Sensitivity(background, plain(func(x []float64) float64 { return 1 - x[0]*x[0] }),
		[]Range{Even("x", -0.5, 0.5)}, "value")
	if err != nil {
		t.Fatal(err)
	}
	within(t, "swing", s.Inputs[0].Swing, 0, 1e-12)
	within(t, "the turn", s.Inputs[0].Within, 0, 1e-12)
}

func TestSameBytesWhateverTheCores(t *testing.T) {
	f := func(x []float64) float64 { return math.Sin(3*x[0]) * math.Exp(x[1]) }
	serial := func(ctx context.Context, points []Point) []Result {
		results := make([]Result, len(points))
		for i := len(points) - 1; i >= 0; i-- { // and backwards
			results[i].Outcome = One("value", "", f(points[i]))
		}
		return results
	}
	ranges := []Range{Even("x", 0, 2), About("y", 0, 1)}
	show := func(fn Batch) string {
		d, err := Uncertainty(background, fn, Doubt{Ranges: ranges, Seed: 7})
		if err != nil {
			t.Fatal(err)
		}
		b, err := FindBest(background, fn, ranges, Goal{Of: "value", Maximise: true,
			Limits: []Limit{{"value", math.NaN(), 3}}})
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprintf("%v %v", d.Values, *b)
	}
	if a, b := show(serial), show(plain(f)); a != b {
		t.Error("one core and all cores differ")
	}
}

func TestCompareOnce(t *testing.T) {
	q := Quantity{Name: "speed", Unit: "m/s", Digits: 3, Change: 3}
	c := CompareOnce(Case{Name: "now", Values: []Value{{Quantity: q, Number: 4}}},
		Case{Name: "then", Values: []Value{{Quantity: q, Number: 3.9}}})
	if len(c) != 1 || c[0].Verdict != OneRun || c[0].Change.Unit != "m/s" || !c[0].Change.Signed {
		t.Fatalf("%+v", c)
	}
	within(t, "percent", c[0].Percent, -2.5, 1e-12)
}
