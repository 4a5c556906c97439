package study

import (
	"math"

	"thole/engine/table"
)

// Change is one quantity of one case before and after. Where it was drawn,
// Before and After are the middles of the draws; the verdict rests on the
// paired change, never on two ranges laid side by side.
type Change struct {
	Quantity
	Case    string
	Before  float64
	After   float64
	Change  table.Estimate // Low and High are NaN without draws
	Percent float64        // of Before; NaN where Before is 0
	Verdict string
}

// CompareDrawn pairs case after with case before, draw by draw, for every output.
// worthwhile gives the part of Before (0.003: 0.3 %) below which a change of
// a quantity is too small to matter, whatever the draws say.
func CompareDrawn(d *Drawn, before, after int, worthwhile func(Quantity) float64) []Change {
	var changes []Change
	for k, q := range d.Outputs {
		was, is := d.Values[before][k], d.Values[after][k]
		paired := make([]float64, len(was))
		for i := range was {
			paired[i] = is[i] - was[i]
		}
		c := Change{Quantity: q, Case: d.Cases[after], Before: Sum(was).Value, After: Sum(is).Value,
			Change: Sum(paired)}
		c.Change.AsSet = d.AsSet[after][k] - d.AsSet[before][k]
		c.settle()
		c.Verdict = verdict(c.Change.Low, c.Change.High)
		if !(math.Abs(c.Change.Value) >= worthwhile(q)*math.Abs(c.Before)) || c.Change.Value == 0 {
			c.Verdict = TooSmall
		}
		if math.IsNaN(c.Change.Value) {
			c.Verdict = ""
		}
		c.Change.Verdict = c.Verdict
		changes = append(changes, c)
	}
	return changes
}

// CompareOnce sets two single runs beside each other, quantity by quantity as
// before has them; without draws there is no interval and every verdict is OneRun.
func CompareOnce(before, after Case) []Change {
	var changes []Change
	for _, was := range before.Values {
		is, ok := after.Get(was.Name)
		if !ok || is.IsText || was.IsText {
			continue
		}
		nan := math.NaN()
		c := Change{Quantity: was.Quantity, Case: after.Name, Before: was.Number, After: is.Number,
			Verdict: OneRun}
		c.Change = table.Estimate{Value: is.Number - was.Number, Low: nan, High: nan, AsSet: nan,
			Verdict: OneRun}
		c.settle()
		changes = append(changes, c)
	}
	return changes
}

// settle fills what follows from the change itself.
func (c *Change) settle() {
	c.Change.Unit, c.Change.Digits, c.Change.Signed = c.Unit, c.Quantity.Change, true
	c.Percent = math.NaN()
	if c.Before != 0 {
		c.Percent = 100 * c.Change.Value / math.Abs(c.Before)
	}
}
