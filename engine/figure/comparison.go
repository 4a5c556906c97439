package figure

import (
	"math"
	"slices"
	"strings"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// IsComparison says whether a table has the shape of a comparison.
func IsComparison(t *table.Table) bool {
	return t != nil && t.Len() > 0 && t.TextColumn("quantity") != nil && t.Column("before") != nil && t.Column("after") != nil
}

// ChangeOf gives the change of a quantity in words, "+0.039 m/s", or "".
func ChangeOf(t *table.Table, name string) string {
	q, change := t.TextColumn("quantity"), t.Column("change")
	if q == nil || change == nil || change.Kind == table.Text {
		return ""
	}
	for i, s := range q.Texts {
		if s == name && !change.Blank(i) && !math.IsNaN(change.Value(i)) {
			unit := change.UnitAt(i)
			if u := t.TextColumn("unit"); u != nil {
				unit = u.Texts[i]
			}
			return typeset.Cells(change)[i] + typeset.UnitAfter(unit)
		}
	}
	return ""
}

// Clearly says whether a drawn comparison has a change, other than of a length
// that is set, that is clear and large enough to matter: only then is there
// anything to try.
func Clearly(t *table.Table) bool {
	quantity, verdict := t.Column("quantity"), t.TextColumn("verdict")
	if verdict == nil {
		return false
	}
	for i, v := range verdict.Texts {
		if strings.HasPrefix(v, "clearly") && !slices.Contains(settable, quantity.Texts[i]) {
			return true
		}
	}
	return false
}

// settable are the lengths that someone sets with a tape, the first that moves
// being the one that is drawn. A collar that moves changes both parts of an oar:
// it is set by the inboard.
var settable = []string{"inboard", "outboard", "length"}

// leastSet is the smallest change, cm, that anybody sets.
const leastSet = .5

// Setting is the line of a comparison that someone sets with a tape.
type Setting struct {
	What, Before, After string
	from, to            float64
	low, high           float64 // of the new length, 95 %; NaN where there was one run
	unit                string
}

// lineSetting finds the line of a comparison to set: the one of that name, or the
// first length that moves. -1 when there is none.
func lineSetting(t *table.Table, name string) int {
	quantity, before, after := t.TextColumn("quantity"), t.Column("before"), t.Column("after")
	if quantity == nil || before == nil || after == nil || before.Kind == table.Text || after.Kind == table.Text {
		return -1
	}
	names := settable
	if name != "" {
		names = []string{name}
	}
	for _, want := range names {
		for i, q := range quantity.Texts {
			b, a := before.Value(i), after.Value(i)
			if q == want && unitOf(t, i) == "cm" && !math.IsNaN(a) && !math.IsNaN(b) && math.Abs(a-b) >= leastSet-1e-9 && math.Abs(a-b) <= 60 && math.Abs(b) < 1000 {
				return i
			}
		}
	}
	return -1
}

func unitOf(t *table.Table, i int) string {
	if u := t.TextColumn("unit"); u != nil {
		return u.Texts[i]
	}
	return t.Column("before").UnitAt(i)
}

// SettingOf reads the length to set out of a comparison: the line of that name,
// or the first length that moves. nil where there is none.
func SettingOf(t *table.Table, name string) *Setting {
	if !IsComparison(t) {
		return nil
	}
	i := lineSetting(t, name)
	if i < 0 {
		return nil
	}
	before, after, change := t.Column("before"), t.Column("after"), t.Column("change")
	s := &Setting{What: words.Spaced(t.Column("quantity").Texts[i]), from: before.Value(i), to: after.Value(i),
		low: math.NaN(), high: math.NaN(), unit: unitOf(t, i)}
	s.Before, s.After = typeset.Quantity(s.from, 1, s.unit), typeset.Quantity(s.to, 1, s.unit)
	if change != nil && change.Kind == table.Measured && change.Estimates[i] != nil {
		e := change.Estimates[i]
		if math.Abs(e.Low) < 100 && math.Abs(e.High) < 100 { // an interval that a tape can hold
			s.low, s.high = s.from+e.Low, s.from+e.High
		}
	}
	return s
}
