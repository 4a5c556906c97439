package stroke

import (
	"math"
	"testing"

	"thole/engine/stroke/problem/problemtest"
)

// TestOpenCases holds every expected number of every case to 1e-6, by the general route
// and by whatever Row takes by itself: the step tolerance of 1e-8 leaves about 1e-7 in
// the works, and the two implementations behind the file agree to 6e-6 at worst.
func TestOpenCases(t *testing.T) {
	for _, c := range problemtest.OpenCases(t).Cases {
		for _, route := range []Route{General, Auto} {
			t.Run(c.Input.Name+" "+route.String(), func(t *testing.T) {
				s, err := Row(c.Input.Problem(t), Settings{Route: route})
				if err != nil {
					t.Fatal(err)
				}
				holdsExpected(t, s, c.Expected)
			})
		}
	}
}

// holdsExpected compares a stroke with a case's expected numbers.
func holdsExpected(t *testing.T, s *Stroke, expected map[string]any) {
	worstName, worstMiss := "", 0.0
	near := func(name string, got, want float64) {
		miss := math.Abs(got-want) / math.Max(math.Abs(want), 1e-3)
		if miss > worstMiss {
			worstName, worstMiss = name, miss
		}
		if !(miss <= 1e-6) {
			t.Errorf("%s: %.9g, expected %.9g (off by %.1e)", name, got, want, miss)
		}
	}
	for i := range Fields {
		f := &Fields[i]
		if want, ok := expected[f.Name].(float64); ok {
			near(f.Name, f.Of(s), want)
		}
	}
	near("start_speed", s.StartSpeed, expected["start_speed"].(float64))
	energy := expected["energy"].(map[string]any)
	for _, e := range EnergyFields {
		name := e.Name
		if e.In {
			name += "_work"
		}
		want, _ := energy[name].(float64) // the cases know no air on the oars: 0
		near("energy."+name, e.Of(&s.Energy), want)
	}
	if seats, ok := expected["seats"].([]any); ok {
		for j, seat := range seats {
			for name, want := range seat.(map[string]any) {
				if f, ok := FieldNamed(name); ok {
					near(name, f.Seat(s, j), want.(float64))
				}
			}
		}
	}
	t.Logf("%v route: worst %s %.1e, closure %.1e, residual %.1e, %d right-hand sides", s.Route, worstName, worstMiss, s.Energy.Closure(), s.Residual, s.Evaluations)
}
