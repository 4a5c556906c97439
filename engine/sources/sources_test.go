package sources

import (
	"math"
	"regexp"
	"strings"
	"testing"
)

// Every source has a key of its own, says what was read of it and what for; what
// looks like an identifier is one.
func TestLedgerIsWhole(t *testing.T) {
	reads := map[Read]bool{Itself: true, Partly: true, Abstract: true, Quoted: true, Memory: true, Textbook: true, Unread: true}
	doi := regexp.MustCompile(`^10\.\d{4,}/\S+$`)
	seen := map[string]bool{}
	for _, s := range All() {
		if s.Key == "" || seen[s.Key] {
			t.Errorf("the key %q is empty or taken", s.Key)
		}
		seen[s.Key] = true
		if !reads[s.Read] || s.For == "" {
			t.Errorf("%s: read %q, for %q", s.Key, s.Read, s.For)
		}
		if s.DOI != "" && !doi.MatchString(s.DOI) {
			t.Errorf("%s: doi %q", s.Key, s.DOI)
		}
		if s.Year != 0 && !strings.Contains(s.Reference(), strings.TrimSpace(s.Authors)) {
			t.Errorf("%s: %s", s.Key, s.Reference())
		}
	}
	if s, _ := Find("Affeld et al. 1993"); s.Reference() != "Affeld, Schichl & "+"Ziemann 1993, Int J Sports Med 14, doi 10.1055/s-2007-1021223" {
		t.Errorf("%s", s.Reference())
	}
	if s, _ := Find("McMahon 1971"); s.Reference() != "McMahon 1971, Science 173:349–351" {
		t.Errorf("%s", s.Reference())
	}
}

// Every number belongs to a source, has a role, and, where it is rowed, a test that
// computes it again; what is counted was read by somebody.
func TestNumbersAreWhole(t *testing.T) {
	roles := map[Role]bool{Independent: true, Fitted: true, SignOnly: true, Statement: true, Input: true}
	seen := map[string]bool{}
	for _, n := range Numbers() {
		name := n.Source + ": " + n.Quantity
		if _, ok := Find(n.Source); !ok || seen[name] {
			t.Errorf("%s: no such source, or twice", name)
		}
		seen[name] = true
		if !roles[n.Role] || n.Printed == "" || n.Quantity == "" {
			t.Errorf("%s: role %q, printed %q", name, n.Role, n.Printed)
		}
		if math.IsNaN(n.Low) != math.IsNaN(n.High) || n.Low > n.High {
			t.Errorf("%s: from %v to %v", name, n.Low, n.High)
		}
		if _, _, ok := n.Value(); ok && (n.HeldBy == "" || n.Rowed == "") {
			t.Errorf("%s: the model's number is held by no test", name)
		}
		if n.Role == Input && n.Model != "" {
			t.Errorf("%s: an input cannot be checked", name)
		}
		if n.Role == Fitted && n.Model == "" {
			t.Errorf("%s: fitted, but nobody looks how well", name)
		}
	}
}

// A miss has a size and a direction, counted from the nearer end of what is printed.
func TestMiss(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		model     string
		miss      float64
	}{
		{0.25, 0.3333, "0.30", 0}, {0.25, 0.3333, "0.20", -20}, {10, 10, "12.5", 25},
		{-17.4, -17.4, "-8.7", -50}, {-1.3, -1.3, "-2.6", 100}, {3.325e-3, 3.325e-3, "3.325e-3", 0},
	} {
		n := Number{Low: c.low, High: c.high, Model: c.model}
		if miss, ok := n.Miss(); !ok || math.Abs(miss-c.miss) > 1e-9 {
			t.Errorf("%v to %v, %s: %v, expected %v", c.low, c.high, c.model, miss, c.miss)
		}
	}
	n := Number{Low: math.NaN(), High: math.NaN(), Model: "1"}
	if _, ok := n.Miss(); ok {
		t.Error("a miss of nothing printed")
	}
	n = Number{Model: "3.3245e-3"}
	if v, digit, ok := n.Value(); !ok || v != 3.3245e-3 || math.Abs(digit-1e-7) > 1e-20 {
		t.Errorf("%v, last digit %v", v, digit)
	}
}

// The longer key wins, so that one paper of two with the same beginning is cited alone.
func TestCited(t *testing.T) {
	got := Cited("forces: Grift, Tummers & Westerweel 2021; depth: Grift et al. 2019; nobody 2020")
	if strings.Join(got, "; ") != "Grift et al. 2019; Grift, Tummers & Westerweel 2021" {
		t.Errorf("%q", got)
	}
}

// What a result stands on follows what was used: the class, the wind, a bent shaft.
func TestStanding(t *testing.T) {
	single := Standing(Used{Boats: []string{"1x"}})
	for i, has := range []string{"drive time at 36/min, single: 0.91 s, here ", "Hofmijster et al. 2018", "flat plate"} {
		if !strings.Contains(single[i], has) {
			t.Errorf("%q lacks %q", single[i], has)
		}
	}
	if strings.Contains(single[0], "wind") || strings.Contains(single[0], "eight") || strings.Contains(single[1], "class") {
		t.Errorf("a single in calm is told of wind, eights or classes: %q", single)
	}
	eight := Standing(Used{Boats: []string{"8+"}, Windy: true, Bent: true})
	for i, has := range []string{"into a wind of 5 m/s, eight", "drag factor of the class", "bent shaft"} {
		if !strings.Contains(eight[i], has) {
			t.Errorf("%q lacks %q", eight[i], has)
		}
	}
	if four := Standing(Used{Boats: []string{"4-"}}); !strings.Contains(four[0], "nearest class") || !strings.Contains(four[0], "Hill & Fahrig 2009") {
		t.Errorf("a four: %q", four[0])
	}
}
