package table

import (
	"math"
	"testing"
)

// A clock turns at the minute and at the hour, also where rounding brings it there.
func TestClockTurnsAtTheHour(t *testing.T) {
	for _, c := range []struct {
		seconds float64
		digits  int
		want    string
	}{
		{59.94, 1, "0:59.9"}, {59.96, 1, "1:00.0"}, {3599.4, 0, "59:59"}, {3599.6, 0, "1:00:00"},
		{3600, 0, "1:00:00"}, {3661.5, 1, "1:01:01.5"},
	} {
		if got := Clock(c.seconds, c.digits); got != c.want {
			t.Errorf("%g s with %d digits reads %s, want %s", c.seconds, c.digits, got, c.want)
		}
	}
}

// A knot is a nautical mile, 1,852 m, in an hour: the international definition, from memory.
func TestAKnotIsANauticalMileAnHour(t *testing.T) {
	for _, unit := range []string{"kn", "knots", "kt", "kts"} {
		got, err := Convert(1, CanonicalUnit(unit), "m/s")
		if err != nil || math.Abs(got*3600-1852) > 1e-9 {
			t.Errorf("an hour at one %s is %g m (%v), want 1,852", unit, got*3600, err)
		}
	}
}
