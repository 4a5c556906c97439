package defaults

import (
	"testing"

	"thole/engine/sources"
)

// Every line of the table can be found, is told apart from the others, lies within its
// own span and says where it comes from.
func TestTableIsWhole(t *testing.T) {
	marks := map[Sureness]bool{Published: true, Quoted: true, MemoryHigh: true, Memory: true, MemoryLow: true, Derived: true, DerivedLow: true, Practice: true}
	for _, f := range All() {
		name := f.Where + "." + f.Name + " " + f.For
		got, ok := Find(f.Where, f.Name, f.For)
		if !ok || got.Value != f.Value {
			t.Errorf("%s is found as %v", name, got.Value)
		}
		if f.Source == "" || !marks[f.Sureness] {
			t.Errorf("%s has source %q, mark %q", name, f.Source, f.Sureness)
		}
		// what was read somewhere leads to the ledger; the rest says by its mark that it cannot
		if keys := sources.Cited(f.Source); len(keys) == 0 && (f.Sureness == Published || f.Sureness == Quoted) {
			t.Errorf("%s is marked %q and cites no source of the ledger: %q", name, f.Sureness, f.Source)
		}
		if f.Spanned() && !(f.Low <= f.Value && f.Value <= f.High && f.Low < f.High) {
			t.Errorf("%s = %g lies outside %g to %g", name, f.Value, f.Low, f.High)
		}
	}
}

// A fact for all answers where no closer one does; nothing is made up.
func TestFind(t *testing.T) {
	if f, ok := Find("hull", "form_factor", "4x"); !ok || f.Value != 0.13 {
		t.Error("the form factor of a 4x")
	}
	if f, ok := Find("hull", "class_factor", "4x"); !ok || f.Value != 1.10 {
		t.Error("the drag factor of a 4x")
	}
	if _, ok := Find("hull", "class_factor", "5x"); ok {
		t.Error("a boat nobody knows has a drag factor")
	}
	if Must("blade", "area", "scull hatchet") != 820*1e-4 {
		t.Error("SI")
	}
}
