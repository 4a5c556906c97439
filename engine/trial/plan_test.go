package trial

import (
	"math"
	"slices"
	"strings"
	"testing"

	"thole/engine/table"
)

var longShort = []string{"long", "short"}

func plan(t *testing.T, p PlanProblem) *Plan {
	t.Helper()
	out, err := MakePlan(p)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Derived: four pairs with drift and wind allowed for (4 degrees) resolve
// 1.0 to 1.8 % at a typical error of 0.5 to 0.9 %. Equation 14.1.
func TestFourPairsResolve(t *testing.T) {
	for e, want := range map[float64]float64{0.5: 1.0, 0.9: 1.8} {
		p := plan(t, PlanProblem{Settings: longShort, TypicalError: e, Pieces: 8})
		if p.Degrees != 4 || math.Abs(p.Resolves-want) > 0.05 { // printed with one decimal
			t.Errorf("e %v: %v %% with %d degrees, want %v with 4", e, p.Resolves, p.Degrees, want)
		}
	}
}

// The plan of the shared study. Its 24 pieces a setting are what was printed
// when the plan was designed; there 8 pieces resolved 1.0 % with a chance of
// 0.17, which leaves drift and wind out of the degrees (6 instead of 4). The
// plan counts what Judge will have left: 2.776·0.6·√(2/4).
func TestEightPieces(t *testing.T) {
	p := plan(t, PlanProblem{Settings: longShort, Difference: 0.5, TypicalError: 0.6, Pieces: 8, Seed: 11})
	near(t, "resolves", p.Resolves, 2.776*0.6*math.Sqrt(0.5), 0.0005) // t has three decimals in print
	near(t, "chance", p.Chance, 0.15, 0.005)
	if p.Needed != 24 {
		t.Errorf("needed %d, want 24", p.Needed)
	}
	if order := p.Order.Column("setting").Texts; strings.Join(order, " ") != "long short short long short long long short" {
		t.Errorf("order %q", order)
	}
	again := plan(t, PlanProblem{Settings: longShort, Pieces: 8, Seed: 11})
	if !slices.Equal(p.Order.Column("setting").Texts, again.Order.Column("setting").Texts) {
		t.Error("one seed gave two orders")
	}
	seen := map[string]bool{}
	for seed := range uint64(20) {
		seen[plan(t, PlanProblem{Settings: longShort, Pieces: 8, Seed: seed}).Order.Column("setting").Texts[0]] = true
	}
	if len(seen) != 2 {
		t.Error("twenty seeds, one order")
	}
}

// What the plan promises is what happens: mornings drawn with the planned error
// and difference, judged by Judge, are told as often as the chance says.
func TestChanceComesTrue(t *testing.T) {
	p := plan(t, PlanProblem{Settings: longShort, Difference: 1.0, TypicalError: 0.5, Pieces: 8, Seed: 3})
	const mornings = 1500
	told := 0
	for m := range mornings {
		pieces := rowMorning(morning{order: p.Order.Column("setting").Texts, difference: 1.0, error: 0.5, seed: uint64(m)})
		j, err := Judge(pieces, JudgeSettings{A: "long", B: "short"})
		if err != nil {
			t.Fatal(err)
		}
		if j.Verdict == "short faster" {
			told++
		}
	}
	// no wind is written down in these mornings, so Judge has one degree more
	want := power(1.0/(0.5*math.Sqrt(0.5)), 5)
	got, spread := float64(told)/mornings, math.Sqrt(want*(1-want)/mornings)
	if math.Abs(got-want) > 3*spread { // three standard errors of the count
		t.Errorf("told in %.3f of mornings, chance %.3f", got, want)
	}
}

// ABBA takes a straight drift from each setting alike, ABBA BAAB a bent one too
// (derived).
func TestOrderCancelsDrift(t *testing.T) {
	for _, settings := range [][]string{{"a", "b"}, {"a", "b", "c"}} {
		k := len(settings)
		for seed := range uint64(6) {
			order := orderOf(settings, 2*k*k, seed)
			for block := range k {
				sum := map[string]float64{}
				for i, s := range order[2*k*block : 2*k*(block+1)] {
					sum[s] += float64(i)
				}
				for _, s := range settings[1:] {
					if sum[s] != sum[settings[0]] {
						t.Fatalf("block %d of %q does not cancel a drift", block, order)
					}
				}
			}
			if k == 2 {
				sum := map[string]float64{}
				for i, s := range order {
					sum[s] += float64(i * i)
				}
				if sum["a"] != sum["b"] {
					t.Fatalf("%q does not cancel a bent drift", order)
				}
			}
		}
	}
}

func TestTimeAtHand(t *testing.T) {
	p := plan(t, PlanProblem{Settings: longShort, Minutes: 75, Distance: 500, Rest: 5, Change: 10})
	// 8 pieces: 8 × 500/4.5/60 min, five changes of 10 and two rests of 5: 74.8 min
	if p.Pieces != 8 {
		t.Errorf("%d pieces in 75 min, want 8", p.Pieces)
	}
	near(t, "minutes", p.Minutes, 8*500/4.5/60+5*10+2*5, 1e-9)
	if _, err := MakePlan(PlanProblem{Settings: longShort, Minutes: 20}); err == nil || !strings.Contains(err.Error(), "20 min hold") {
		t.Errorf("20 minutes: %v", err)
	}
	three := plan(t, PlanProblem{Settings: []string{"a", "b", "c"}, Pieces: 13})
	if three.Pieces != 12 || len(three.Cautions) == 0 {
		t.Errorf("13 pieces of three: %d, %q", three.Pieces, three.Cautions)
	}
}

// The error learned from pieces with one rig is the one they were drawn with,
// within its own interval as often as it says.
func TestLearnError(t *testing.T) {
	const mornings = 400
	within := 0
	for m := range mornings {
		pieces := rowMorning(morning{order: slices.Repeat([]string{"one"}, 7), error: 0.6, drift: -0.1, seed: uint64(m)})
		p := plan(t, PlanProblem{Settings: longShort, Pieces: 8, Learn: pieces})
		if p.TypicalError.Low <= 0.6 && 0.6 <= p.TypicalError.High {
			within++
		}
	}
	if share := float64(within) / mornings; share < 0.92 || share > 0.98 { // 95 %, three standard errors of the count
		t.Errorf("the interval holds the true error in %.3f of mornings", share)
	}
	two := rowMorning(morning{order: []string{"a", "b", "b", "a", "a", "b"}, error: 0.6})
	if _, err := MakePlan(PlanProblem{Settings: longShort, Pieces: 8, Learn: two}); err == nil || !strings.Contains(err.Error(), "2 settings") {
		t.Errorf("learned from two settings: %v", err)
	}
}

func TestPlanRefuses(t *testing.T) {
	for _, p := range []PlanProblem{
		{Settings: []string{"long"}, Pieces: 8}, {Settings: []string{"long", "long"}, Pieces: 8},
		{Settings: longShort, Pieces: 2}, {Settings: longShort, Pieces: 5000}, {Settings: longShort, Pieces: -4},
	} {
		_, err := MakePlan(p)
		e, ok := err.(*table.Error)
		if !ok || e.What == "" || e.Why == "" || e.Type == "" {
			t.Errorf("%+v: %v", p, err)
		}
	}
}
