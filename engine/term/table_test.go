package term_test

import (
	"math"
	"testing"

	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/term/termtest"
)

func bestOutboards() *table.Table {
	num := func(name, unit string, digits int, cells ...float64) *table.Column {
		c := table.NewColumn(name, unit, table.Number)
		c.Digits, c.Nums = digits, cells
		return c
	}
	return &table.Table{Columns: []*table.Column{
		num("blade_length", "", table.AutoDigits, 42, 42, 42, 46, 46, 46),
		num("area", "", table.AutoDigits, 860, 820, 780, 860, 820, 780),
		num("outboard", "cm", 1, 199, 200, 200, 201, 201, 201),
		num("speed", "m/s", 3, 5.0371, 5.0322, 5.0251, 5.0233, 5.0169, 5.0101),
		num("drive_time", "s", 2, 0.8062, 0.8081, 0.8059, 0.8092, math.NaN(), 0.8052),
	}}
}

// comparison is made like the engine's: unlike quantities in one column, a
// change as an estimate.
func comparison() *table.Table {
	quantity, unit := table.NewColumn("quantity", "", table.Text), table.NewColumn("unit", "", table.Text)
	before, after := table.NewColumn("before", "", table.Number), table.NewColumn("after", "", table.Number)
	change, percent := table.NewColumn("change", "", table.Measured), table.NewColumn("percent", "",
		table.Number)
	low, high := table.NewColumn("low", "", table.Number), table.NewColumn("high", "", table.Number)
	verdict := table.NewColumn("verdict", "", table.Text)
	percent.Digits = 1
	for _, q := range []struct {
		name, unit                   string
		digits, changeDigits         int
		before, after, ch, low, high float64
		percent                      float64
		verdict                      string
	}{
		{"outboard", "cm", 1, 1, 200, 193.4, -6.6, -7.2, -6.2, -3.3, "clearly less"},
		{"speed", "m/s", 3, 3, 4.237, 4.277, 0.039, 0.038, 0.042, 0.9, "clearly more"},
		{"split", "s/500 m", 1, 2, 118, 116.9, -1.09, -1.19, -1.02, -0.9, "clearly less"},
		{"heaviness", "N·s/m", 1, 1, 220.2, 217.1, -3.2, -3.4, -3.0, -1.4, "clearly less"},
		{"peak_force", "N", 0, 1, 686, 689, 2.3, 1.7, 3.3, 0.3, "too small to matter"},
		{"effort", "N", 0, 1, 1182, 1186, 2.8, 1.9, 4.1, 0.2, "too small to matter"},
		{"blade_efficiency", "", 3, 3, 0.739, 0.762, 0.022, 0.022, 0.023, 3.0, "clearly more"},
	} {
		quantity.Texts, unit.Texts = append(quantity.Texts, q.name), append(unit.Texts, q.unit)
		before.Nums, after.Nums = append(before.Nums, q.before), append(after.Nums, q.after)
		before.Places, after.Places = append(before.Places, q.digits), append(after.Places, q.digits)
		change.Estimates = append(change.Estimates,
			&table.Estimate{Value: q.ch, Low: q.low, High: q.high, Unit: q.unit, Digits: q.changeDigits, Signed: true,
				Verdict: q.verdict})
		percent.Nums = append(percent.Nums, q.percent)
		low.Nums, high.Nums = append(low.Nums, q.low), append(high.Nums, q.high)
		verdict.Texts = append(verdict.Texts, q.verdict)
	}
	return &table.Table{Columns: []*table.Column{quantity, unit, before, after, change, percent, low, high,
		verdict}}
}

func TestTables(t *testing.T) {
	plan := &table.Table{WriteIn: true, Columns: []*table.Column{
		{Name: "piece", Nums: []float64{1, 2}}, {Name: "setting", Kind: table.Text,
			Texts: []string{"long", "short"}},
		{Name: "distance", Unit: "m", Digits: 1, Nums: []float64{500, 500}},
		{Name: "time", Unit: "s", Digits: 1, Nums: []float64{math.NaN(), math.NaN()}},
		{Name: "rate", Unit: "1/min", Digits: 1, Nums: []float64{math.NaN(), math.NaN()}},
		{Name: "wind", Unit: "m/s", Digits: 1, Nums: []float64{math.NaN(), math.NaN()}},
		{Name: "remarks", Kind: table.Text, Texts: []string{"", ""}},
	}}
	long := &table.Table{Columns: []*table.Column{{Name: "angle", Unit: "deg", Digits: 1},
		{Name: "reason", Kind: table.Text}}}
	for i := range 20 {
		long.Columns[0].Nums = append(long.Columns[0].Nums, float64(i)/2)
		long.Columns[1].Texts = append(long.Columns[1].Texts, "")
	}
	reasons := &table.Table{Columns: []*table.Column{{Name: "power", Unit: "W", Nums: []float64{160, 180}},
		{Name: "speed", Unit: "m/s", Digits: 3, Nums: []float64{math.NaN(), 3.9}},
		{Name: "reason", Kind: table.Text,
			Texts: []string{"the drive would take 1.30 s of a 1.58 s stroke: too little is left to come forward, a fifth is the least", ""}}}}
	only, err := comparison().Only("quantity", "unit", "before", "after", "change", "verdict")
	if err != nil {
		t.Fatal(err)
	}
	once, err := comparison().Only("quantity", "unit", "before", "after", "percent")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		w       term.Window
		table   *table.Table
		cutting term.Cutting
	}{
		{"table_best_80", term.Window{Width: 80}, bestOutboards(), term.Cutting{}},
		{"table_best_40", term.Window{Width: 40}, bestOutboards(), term.Cutting{}},
		{"table_compare_120", term.Window{Width: 120}, comparison(), term.Cutting{}},
		{"table_compare_100", term.Window{Width: 100}, comparison(), term.Cutting{}},
		{"table_compare_80", term.Window{Width: 80}, only, term.Cutting{Head: 12, More: "show(_)"}},
		{"table_compare_60_plain", term.Window{Width: 60, ASCII: true}, comparison(), term.Cutting{}},
		{"table_once_80", term.Window{Width: 80}, once, term.Cutting{Head: 12, More: "show(_)"}},
		{"table_plan_80", term.Window{Width: 80}, plan, term.Cutting{}},
		{"table_long_prompt", term.Window{Width: 80}, long, term.Cutting{Head: 12, More: "show(_)"}},
		{"table_long_run", term.Window{Width: 80}, long, term.Cutting{Head: 5, Tail: 2, More: "long.csv"}},
		{"table_reasons_60", term.Window{Width: 60}, reasons, term.Cutting{}},
		{"table_empty", term.Window{Width: 60},
			&table.Table{Columns: []*table.Column{{Name: "crew", Kind: table.Text}}}, term.Cutting{}},
	} {
		lines := c.w.Table(c.table, c.cutting)
		termtest.Fits(t, c.w, lines)
		termtest.Golden(t, c.name, lines)
	}
}

// Whatever the window, no table is wider than it.
func TestTablesFitEveryWidth(t *testing.T) {
	for width := 40; width <= 140; width++ {
		for _, ascii := range []bool{false, true} {
			w := term.Window{Width: width, ASCII: ascii}
			termtest.Fits(t, w, w.Table(comparison(), term.Cutting{}))
			termtest.Fits(t, w, w.Table(bestOutboards(), term.Cutting{Head: 12, More: "show(_)"}))
		}
	}
}
