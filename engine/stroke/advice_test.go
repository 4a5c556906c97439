package stroke

import (
	"regexp"
	"strconv"
	"testing"

	"thole/engine/stroke/problem/problemtest"
)

// A speed that no effort reaches is answered with one that is reached: rowed, it has a
// stroke, and a step more would ask for more than the effort it names.
func TestAdviceOfASpeedOutOfReach(t *testing.T) {
	p := problemtest.OpenCases(t).Cases[0].Input.Problem(t)
	b := &p.Seats[0].Oar.Blade
	b.Area, b.Drag = 0.02, 0.2
	p.Hold, p.Target = Speed, 6
	_, err := Row(p, Settings{})
	f, ok := err.(*Failure)
	if !ok || f.Cause != OutOfReach {
		t.Fatalf("%v is no failure to reach it", err)
	}
	said := regexp.MustCompile(`^target=([0-9.]+) `).FindStringSubmatch(f.Advice())
	if said == nil {
		t.Fatalf("the advice is %q", f.Advice())
	}
	target, err := strconv.ParseFloat(said[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	p.Target = target
	s, err := Row(p, Settings{})
	if err != nil {
		t.Fatalf("target=%g: %v", target, err)
	}
	if e := s.Seats[0].Effort; e > HighEffort {
		t.Errorf("target=%g takes %.0f N", target, e)
	}
	p.Target += steps[Speed]
	if s, err := Row(p, Settings{}); err == nil && s.Seats[0].Effort < HighEffort {
		t.Errorf("target=%g is reached as well, with %.0f N", p.Target, s.Seats[0].Effort)
	}
}

// The nearest neighbour with a stroke is found, wherever it lies, in a few tries; where
// there is none, three tell.
func TestNearestNeighbour(t *testing.T) {
	for _, n := range []int{0, 1, 2, 3, 4, 5, 30, 120} {
		for want := range n + 1 {
			tries, last := 0, -1
			got, ok := nearest(n, func(i int) bool {
				tries++
				if i < 0 || i >= n {
					t.Fatalf("neighbour %d of %d is asked", i, n)
				}
				if i >= want {
					last = i
				}
				return i >= want
			})
			if ok != (want < n) || ok && (got != want || last != want) {
				t.Errorf("%d of %d: got %d, %v, the last found is %d", want, n, got, ok, last)
			}
			if tries > 10 || !ok && tries > 3 {
				t.Errorf("%d of %d: %d tries", want, n, tries)
			}
		}
	}
}
