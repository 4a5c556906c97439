package num

import (
	"math"
	"testing"
)

// Log against math.Log: two roundings of a result of size 1 or more, and of the
// table's entry below that.
func TestLog(t *testing.T) {
	worst := 0.0
	for x := 1e-12; x < 1e12; x *= 1.000731 {
		worst = max(worst, math.Abs(Log(x)-math.Log(x))/max(1, math.Abs(math.Log(x))))
	}
	t.Logf("worst error %.1e", worst)
	if worst > 5e-16 {
		t.Errorf("worst error %g", worst)
	}
}

func BenchmarkLog(b *testing.B) {
	s, x := 0.0, 4.3e7
	for b.Loop() {
		s = Log(x + s)
	}
}
