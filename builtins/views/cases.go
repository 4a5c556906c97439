package views

import (
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/words"
)

// casesOf are the names in a comparison's column "case", each once.
func casesOf(t *table.Table) []string {
	kase := t.TextColumn("case")
	if kase == nil {
		return nil
	}
	var out []string
	for _, name := range kase.Texts {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// casesShown lays a comparison of several cases out as columns: a case each, a line a
// quantity, the best case named where a quantity has one. What is the same in all of them
// is said beneath.
func casesShown(t *table.Table, cases []string) *document.Shown {
	quantity, kase, before, after := t.Column("quantity"), t.Column("case"), t.Column("before"),
		t.Column("after")
	lines := map[string][]int{} // of a quantity, one a case
	var changed, all []string
	for i, name := range quantity.Texts {
		if lines[name] == nil {
			all = append(all, name)
		}
		lines[name] = append(lines[name], i)
		if !unchanged(t.Column("change").Value(i), before.Nums[i]) && !slices.Contains(changed, name) {
			changed = append(changed, name)
		}
	}
	first, _, ok := strings.Cut(t.Head, " -> ")
	if !ok {
		first = "before"
	}
	names, units := table.NewColumn("quantity", "", table.Text), table.NewColumn("unit", "", table.Text)
	best := table.NewColumn("best", "", table.Text)
	out := &table.Table{Name: t.Name, Held: t.Held, Columns: []*table.Column{names, units}}
	values := make([]*table.Column, 1+len(cases))
	for k := range values {
		values[k] = table.NewColumn(append([]string{first}, cases...)[k], "", table.Number)
	}
	for _, name := range changed {
		at := lines[name][0]
		names.Texts, units.Texts = append(names.Texts, name), append(units.Texts, before.UnitAt(at))
		row := make([]float64, len(values))
		row[0] = before.Nums[at]
		for k, c := range cases {
			row[k+1] = math.NaN()
			for _, i := range lines[name] {
				if kase.Texts[i] == c {
					row[k+1] = after.Nums[i]
				}
			}
		}
		for k, v := range values {
			v.Nums, v.Units = append(v.Nums, row[k]), append(v.Units, before.UnitAt(at))
			v.Places = append(v.Places, before.DigitsAt(at))
		}
		best.Texts = append(best.Texts, bestOf(name, row, values))
	}
	out.Columns = append(append(out.Columns, values...), best)
	shown := &document.Shown{Name: t.Name, Side: t.Side, Table: out}
	var same []string
	for _, name := range all {
		if at := lines[name][0]; !slices.Contains(changed, name) {
			same = append(same, name+" "+table.WithUnit(table.Fixed(before.Nums[at], before.DigitsAt(at)),
				before.UnitAt(at)))
		}
	}
	if len(same) > 0 {
		shown.Foot = []string{"unchanged: " + strings.Join(same, ", ")}
	}
	shown.Foot = append(shown.Foot, parted(t)...)
	return shown
}

// smallest is the part of a speed or a race time below which no case is called best.
// Smith & Hopkins 2011
const smallest = 0.003

// bestOf names the best case of a quantity that has a best: the fastest. Of load there is
// none: lighter is not better.
func bestOf(quantity string, row []float64, cases []*table.Column) string {
	sign := map[string]float64{"speed": 1, "split": -1, "time_2000": -1}[quantity]
	if sign == 0 {
		return ""
	}
	best, worst := 0, 0
	for k, x := range row {
		if sign*x > sign*row[best] {
			best = k
		}
		if sign*x < sign*row[worst] {
			worst = k
		}
	}
	if math.Abs(row[best]-row[worst]) < smallest*math.Abs(row[0]) {
		return "too near to call"
	}
	return cases[best].Name
}

// parted says where the two faces of load, force for each m/s and time under load, move
// opposite ways: a sentence a case. A twentieth of a per cent is less than anyone feels.
func parted(t *table.Table) []string {
	quantity, percent, kase := t.TextColumn("quantity"), t.Column("percent"), t.TextColumn("case")
	if quantity == nil || percent == nil || kase == nil {
		return nil
	}
	var out []string
	for i, name := range quantity.Texts {
		if name != "heaviness" {
			continue
		}
		for j, other := range quantity.Texts {
			h, d := percent.Value(i), percent.Value(j)
			if other != "drive_time" || kase.Texts[j] != kase.Texts[i] || h*d >= 0 ||
				math.Min(math.Abs(h), math.Abs(d)) < 0.05 {
				continue
			}
			way := map[bool][2]string{true: {"heavier", "shorter"}, false: {"lighter", "longer"}}[h > 0]
			text := "load has two faces, and here they part: " + table.Fixed(math.Abs(h), 1) + " % " +
				way[0] +
				" as force for each m/s, the drive " + table.Fixed(math.Abs(d), 1) + " % " + way[1]
			if len(casesOf(t)) > 1 {
				text = kase.Texts[i] + ": " + text
			}
			out = append(out, words.Capital(words.Sentence(text)))
		}
	}
	return out
}
