package study

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
)

// grown is an axis from 0 on.
func grown(name string, n int) Axis {
	a := Axis{Name: name}
	for i := range n {
		a.Numbers = append(a.Numbers, float64(i))
	}
	return a
}

// Lines of several stretches stand in the order of the axes, each with its own numbers, and no
// call sees more points than a stretch.
func TestVaryByStretches(t *testing.T) {
	most := 0
	inner := plain(func(x []float64) float64 { return 1000*x[0] + x[1] })
	fn := func(ctx context.Context, points []Point) []Result {
		most = max(most, len(points))
		return inner(ctx, points)
	}
	v, err := Vary(background, fn, []Axis{grown("a", 7), grown("b", 700)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if v.Table.Len() != 4900 || most > stretch {
		t.Fatalf("%d lines, %d points at once", v.Table.Len(), most)
	}
	for i, got := range v.Table.Column("value").Nums {
		if want := float64(1000*(i/700) + i%700); got != want {
			t.Fatalf("line %d: %g, want %g", i, got, want)
		}
	}
	if n := cap(v.Table.Column("value").Nums); n != 4900 {
		t.Errorf("room for %d lines: columns should not be held twice", n)
	}
}

func TestVaryKeepsWhatIsAsked(t *testing.T) {
	fn := named(func(x []float64) (map[string]float64, error) {
		return map[string]float64{"one": x[0], "two": 2, "three": 3, "a": x[0]}, nil
	}, "one", "two", "three", "a")
	axes := []Axis{grown("a", 3)}
	v, err := Vary(background, fn, axes, []string{"three", "two"})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(v.Table.Names(), " "); got != "a three two reason" {
		t.Errorf("columns %s", got)
	}
	if v.Alike {
		t.Error("alike, though one moves and is only not kept")
	}
	if s := v.Spans["one"]; s != (Span{0, 0, 2}) {
		t.Errorf("one spans %v", s)
	}
	var no *NoSuchOutput
	if _, err := Vary(background, fn, axes, []string{"four"}); !errors.As(err, &no) || no.Of != "four" ||
		len(no.Gives) != 4 {
		t.Errorf("a name nothing gives: %v", err)
	}
}

// An axis that comes out otherwise is two columns, whatever is kept.
func TestVaryTellsWhatWasRowedInstead(t *testing.T) {
	fn := named(func(x []float64) (map[string]float64, error) {
		return map[string]float64{"a": x[0] + 1, "one": 1}, nil
	}, "a", "one")
	for _, of := range [][]string{nil, {"one"}} {
		v, err := Vary(background, fn, []Axis{grown("a", 3)}, of)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(v.Table.Names(), " "); got != "a_asked a one reason" {
			t.Errorf("columns %s", got)
		}
	}
}

func TestVarySeesLinesThatAreAlike(t *testing.T) {
	blank := func(at float64) Batch {
		return named(func(x []float64) (map[string]float64, error) {
			y := 5.0
			if x[0] == at {
				y = math.NaN()
			}
			return map[string]float64{"y": y, "a": x[0]}, nil
		}, "y", "a")
	}
	failing := named(func(x []float64) (map[string]float64, error) {
		if x[0] == 2 {
			return nil, errors.New("no stroke")
		}
		return map[string]float64{"y": 5}, nil
	}, "y")
	for _, c := range []struct {
		name string
		fn   Batch
		want bool
	}{{"all 5", blank(-1), true}, {"blank at first", blank(0), false}, {"blank at last", blank(2), false},
		{"one without an answer", failing, false}} {
		v, err := Vary(background, c.fn, []Axis{grown("a", 3)}, nil)
		if err != nil || v.Alike != c.want {
			t.Errorf("%s: alike %v, want %v (%v)", c.name, v.Alike, c.want, err)
		}
	}
}

// A stop in a later stretch keeps all that came before it, and the points of that stretch
// which were answered.
func TestVaryStoppedInALaterStretch(t *testing.T) {
	ctx, cancel := context.WithCancel(background)
	fn := func(ctx context.Context, points []Point) []Result {
		results := make([]Result, len(points))
		for i, p := range points {
			if p[0] == stretch+10 {
				cancel()
			}
			if results[i].Err = ctx.Err(); results[i].Err == nil {
				results[i].Outcome = One("value", "", p[0])
			}
		}
		return results
	}
	v, err := Vary(ctx, fn, []Axis{grown("a", 3*stretch)}, nil)
	var unfinished *Unfinished
	if !errors.As(err, &unfinished) || unfinished.Done != stretch+10 || v.Table.Len() != stretch+10 {
		t.Fatalf("%v", err)
	}
}

func TestReasonsAreCounted(t *testing.T) {
	fn := Parallel(func(_ context.Context, p Point) (Outcome, error) {
		switch {
		case int(p[0])%2 == 1:
			return nil, errors.New("too long")
		case p[0] == 0:
			return nil, errors.New("too short")
		}
		return One("value", "", 1), nil
	})
	v, err := Vary(background, fn, []Axis{grown("a", 3*stretch)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if f := v.Failed; f == nil || f.Count != 3*stretch/2+1 || f.Of != 3*stretch ||
		f.Reason.Error() != "too long" {
		t.Errorf("failed: %v", v.Failed)
	}
}
