package forms

import (
	"strings"
	"testing"

	"thole/engine/sources"
	"thole/engine/stroke/problem/problemtest"
)

// Every form has a name of its own, says what it changes and why, and cites the ledger or
// says that it cannot.
func TestTableIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range All() {
		if f.Name == "" || f.Changes == "" || f.Why == "" || seen[f.Name] {
			t.Errorf("form %+v", f)
		}
		seen[f.Name] = true
		if f.Source != practice && f.Source != "a guess" && len(sources.Cited(f.Source)) == 0 {
			t.Errorf("%s cites no source of the ledger: %q", f.Name, f.Source)
		}
		if got, ok := Find(f.Name); !ok || got != f {
			t.Errorf("%s is not found", f.Name)
		}
	}
}

// A form leaves the problem it is given as it was, and the next one too.
func TestApplyWritesNothing(t *testing.T) {
	p := problemtest.Single(t)
	was := p
	was.Seats = append(was.Seats[:0:0], p.Seats...)
	for _, f := range All() {
		f.Apply(p)
	}
	if !p.Seats[0].Alike(&was.Seats[0]) || p.Hull.AirArea != was.Hull.AirArea && p.Hull.AirArea == p.Hull.AirArea {
		t.Error("a form wrote to the problem")
	}
}

// Two laws, three ways of the body, two ends of the air: twelve, and with three holds 36.
func TestCrossed(t *testing.T) {
	sets := Crossed()
	if len(sets) != 12 {
		t.Errorf("%d sets", len(sets))
	}
	names := map[string]bool{}
	for _, s := range sets {
		names[s.Name()] = true
		if !strings.Contains(s.Name(), "air") {
			t.Errorf("%s has no air", s.Name())
		}
	}
	if len(names) != len(sets) {
		t.Error("two sets are one")
	}
}
