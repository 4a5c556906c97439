package fluid

import (
	"math"
	"testing"
)

// The rows of the table, to the last digit: density ITTC 7.5-02-01-03,
// viscosity P2 at 15 °C, from memory (high) elsewhere.
func TestFreshWaterRows(t *testing.T) {
	for _, row := range []struct{ celsius, density float64 }{
		{0, 999.843}, {4, 999.972}, {10, 999.7026}, {15, 999.1026}, {20, 998.2071}, {25, 997.0479}, {30, 995.6502},
	} {
		if got := FreshWater(row.celsius).Density; got != row.density {
			t.Errorf("%g °C: density %v, printed %v", row.celsius, got, row.density)
		}
	}
	for _, row := range []struct{ celsius, viscosity float64 }{
		{0, 1.787e-6}, {5, 1.518e-6}, {10, 1.3063e-6}, {15, 1.13858e-6}, {20, 1.0034e-6}, {25, 0.8927e-6}, {30, 0.801e-6},
	} {
		if got := FreshWater(row.celsius).Viscosity; got != row.viscosity {
			t.Errorf("%g °C: viscosity %v, printed %v", row.celsius, got, row.viscosity)
		}
	}
}

// Between the rows: density has its top at 4 °C, viscosity falls all the way, and
// nothing jumps; outside them the nearest row counts.
func TestFreshWaterBetweenRows(t *testing.T) {
	before := FreshWater(0)
	for c := 0.05; c <= 30; c += 0.05 {
		w := FreshWater(c)
		if w.Viscosity >= before.Viscosity {
			t.Errorf("viscosity rises at %.2f °C", c)
		}
		if (w.Density > before.Density) != (c < 4.001) {
			t.Errorf("density turns at %.2f °C, not at 4", c)
		}
		if math.Abs(w.Viscosity/before.Viscosity-1) > 0.003 || math.Abs(w.Density/before.Density-1) > 3e-5 {
			t.Errorf("water jumps at %.2f °C", c)
		}
		before = w
	}
	if FreshWater(-3) != FreshWater(0) || FreshWater(40) != FreshWater(30) {
		t.Error("outside the rows the nearest does not count")
	}
}
