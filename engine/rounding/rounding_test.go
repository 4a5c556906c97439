package rounding

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func TestDecimalsRoundHalfAwayFromNought(t *testing.T) {
	for _, c := range []struct {
		x      float64
		digits int
		want   float64
	}{
		{2.675, 2, 2.68}, {-2.675, 2, -2.68}, {0.5, 0, 1}, {-0.5, 0, -1}, {1.005, 2, 1.01},
		{2.674999, 2, 2.67}, {1e300, 3, 1e300}, {3.14159, -1, 3.14159}, {0, 2, 0},
	} {
		if got := Decimals(c.x, c.digits); got != c.want {
			t.Errorf("%v to %d decimals is %v, want %v", c.x, c.digits, got, c.want)
		}
	}
	if !math.IsNaN(Decimals(math.NaN(), 2)) || !math.IsInf(Decimals(math.Inf(-1), 2), -1) {
		t.Error("NaN or an infinity did not come back")
	}
}

func TestCleanTakesOffDustAlone(t *testing.T) {
	third := 1. / 3
	for _, c := range []struct{ x, want float64 }{
		{8.1 * 100.00000000000001, 810}, {0.88 / 0.01, 88}, {192.0 + 3*0.1, 192.3},
		{0.1 + 0.2, 0.3}, {third, third}, {0, 0}, {-0.1 - 0.2, -0.3}, {123.4567890123456, 123.4567890123456},
	} {
		if got := Clean(c.x); got != c.want {
			t.Errorf("%v became %v, want %v", c.x, got, c.want)
		}
	}
	if !math.IsNaN(Clean(math.NaN())) || !math.IsInf(Clean(math.Inf(1)), 1) {
		t.Error("NaN or an infinity did not come back")
	}
}

// A number that somebody typed, up to twelve figures, comes back from any change of
// unit and back again to the last bit; and cleaning twice is cleaning once.
func TestCleanGivesTypedNumbersBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.Int64Range(-999_999_999_999, 999_999_999_999).Draw(t, "figures")
		decimals := rapid.IntRange(0, 9).Draw(t, "decimals")
		x, err := strconv.ParseFloat(strconv.FormatInt(whole, 10)+"e-"+strconv.Itoa(decimals), 64)
		if err != nil {
			t.Fatal(err)
		}
		factor := rapid.SampledFrom([]float64{0.01, 1e-3, 1e-4, math.Pi / 180, 98.0665}).Draw(t, "unit")
		if got := Clean(x * factor / factor); got != x {
			t.Errorf("%v came back as %v", x, got)
		}
		if once := Clean(x * factor); Clean(once) != once {
			t.Errorf("%v cleaned twice differs", x*factor)
		}
	})
}
