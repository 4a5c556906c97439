package asking

import (
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/rounding"
	"thole/engine/study"
	"thole/engine/table"
)

var sensitivityRecord = &lang.Record{
	Name: "sensitivity", Topic: "asking", Says: "it says which input moves the answer most",
	Summary: "which input moves the answer most, and where the advice flips",
	Params:  []lang.Param{fnParam, ofParam},
	Rest:    rangeParam,
	Gives: "a table: input low high at_low at_high swing flips_at (where the output crosses 0), largest " +
		"swing first",
	Errors: []string{"a range for a name that fn does not take"},
	Example: `sensitivity(lambda wind, rate: usual.change(wind=wind).heaviness - usual.heaviness, ` +
		`wind=(-2, 2), rate=(31, 33))`,
	Notes: []string{"the others stand at their own values in fn, or at the middle of their ranges",
		"rowed_low and rowed_high stand beside low and high where something else was rowed than asked"},
	Do: sensitivityDo,
}

func sensitivityDo(c *lang.Call) (starlark.Value, error) {
	LeaveOut(c)
	if err := NeedRanges(c, "wind=(-2, 2)"); err != nil {
		return nil, err
	}
	q, ranges, err := searching(c, "moving")
	if err != nil {
		return nil, err
	}
	s, err := study.Sensitivity(c.Context(), q.Batch, ranges, c.Text("of"))
	if err != nil {
		return nil, q.Tell(err, "of")
	}
	q.aloud(study.Bases(ranges))
	for _, w := range s.Inputs {
		switch {
		case w.Reason != nil:
			lang.HostOf(c.Thread).Caution(c.Thread,
				lang.Caution{Text: fmt.Sprintf("%s has no answer at an end of its range", w.Name),
					Arg: w.Name, Why: w.Reason.Error(), Type: "a narrower range for " + w.Name})
		case !math.IsNaN(w.Within):
			lang.HostOf(c.Thread).Caution(c.Thread,
				lang.Caution{Text: fmt.Sprintf("%s turns back within its range, about %s: its swing tells "+
					"too little", w.Name, table.Fixed(w.Within, 3)), Arg: w.Name,
					Why:  "the output goes beyond what it is at both ends",
					Type: fmt.Sprintf("vary(%s, %s=steps(...)) for the whole curve", FnName(q.Fn), w.Name)})
		}
	}
	return lang.NewTable(swingTable(s)), nil
}

// swingTable lays swings out as lines.
func swingTable(s *study.Swings) *table.Table {
	input := &table.Column{Name: "input", Kind: table.Text}
	place := func(name string) *table.Column { return &table.Column{Name: name, Digits: table.AutoDigits} }
	low, high, flips := place("low"), place("high"), place("flips_at")
	rowedLow, rowedHigh := place("rowed_low"), place("rowed_high")
	of := func(name string, digits int) *table.Column {
		return &table.Column{Name: name, Unit: s.Output.Unit, Digits: digits, Change: s.Output.Change}
	}
	atLow, atHigh, swing := of("at_low", s.Output.Digits), of("at_high", s.Output.Digits),
		of("swing", s.Output.Change)
	swing.Signed = true
	for _, w := range s.Inputs {
		input.Texts = append(input.Texts, w.Name)
		for col, x := range map[*table.Column]float64{low: w.Low, high: w.High, flips: w.FlipsAt,
			rowedLow: w.RowedLow, rowedHigh: w.RowedHigh} {
			col.Nums = append(col.Nums, rounding.Clean(x))
			col.Units = append(col.Units, w.Unit)
			col.Places = append(col.Places, table.AutoDigits)
		}
		atLow.Nums, atHigh.Nums, swing.Nums = append(atLow.Nums, w.AtLow), append(atHigh.Nums, w.AtHigh),
			append(swing.Nums, w.Swing)
	}
	columns := []*table.Column{input, low, high, atLow, atHigh, swing, flips}
	if !rowedLow.AllBlank() || !rowedHigh.AllBlank() {
		columns = slices.Insert(columns, 3, rowedLow, rowedHigh)
	}
	return &table.Table{Columns: columns}
}
