package trial

import (
	"math"
	"os"
	"strings"
	"testing"

	"thole/engine/table"
)

func pieces(t *testing.T, name string) *table.Table {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	p, _, err := ReadTrial(name, data)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, within)
	}
}

// The morning that agrees with itself too well; what was printed of it when the
// judgement was designed, to the decimals printed.
func TestTooGoodMorning(t *testing.T) {
	j, err := Judge(pieces(t, "saturday_too_good.csv"), JudgeSettings{A: "long", B: "short"})
	if err != nil {
		t.Fatal(err)
	}
	const printed = 0.0051 // half of the last decimal
	near(t, "difference", j.Difference.Value, 0.67, printed)
	near(t, "low", j.Difference.Low, 0.50, printed)
	near(t, "high", j.Difference.High, 0.83, printed)
	for i, want := range []float64{0.54, 0.80, 0.80, 0.62} {
		near(t, "pair", j.Pairs[i], want, printed)
	}
	near(t, "drift", j.Drift.Value, -0.12, printed)
	near(t, "drift low", j.Drift.Low, -0.20, printed)
	near(t, "drift high", j.Drift.High, -0.04, printed)
	near(t, "wind", j.Wind.Value, 0.19, printed)
	near(t, "wind low", j.Wind.Low, -0.68, printed)
	near(t, "wind high", j.Wind.High, 1.06, printed)
	near(t, "scatter", j.Scatter, 0.07, printed)
	if j.Degrees != 4 || j.Verdict != "short faster" || j.Chance < 0.99 {
		t.Errorf("degrees %d, verdict %q, chance %v", j.Degrees, j.Verdict, j.Chance)
	}
	if len(j.Cautions) == 0 || !strings.Contains(j.Cautions[0], "too good") {
		t.Errorf("no caution: %q", j.Cautions)
	}
	t.Log(j.Says, j.LeftOut, j.Cautions, j.Odd, j.MorePieces)
}

func TestRealMorning(t *testing.T) {
	j, err := Judge(pieces(t, "saturday.csv"), JudgeSettings{A: "long", B: "short"})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(j.Difference, j.Verdict, j.Chance, j.Says, j.LeftOut, j.Cautions, j.Odd, j.MorePieces)
}
