package asking

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/rounding"
	"thole/engine/study"
	"thole/engine/table"
)

var allocateRecord = &lang.Record{
	Name: "allocate", Topic: "asking", Says: "it gives each want one of the stock at the least cost",
	Summary: "which of the stock goes to which want, at the least total cost",
	Params: []lang.Param{
		{Name: "wants", Is: lang.ThingOf, Types: []string{"table"}, Needed: true,
			Help: "a line for each who wants some; a column count says how many it takes, all of one line " +
				"of stock"},
		{Name: "stock", Is: lang.ThingOf, Types: []string{"table"}, Needed: true,
			Help: "a line for each kind in stock; a column count says how many there are"},
		{Name: "cost", Is: lang.Func, Needed: true,
			Help: "of a want's line and a stock's line: a number, None for never"},
		{Name: "whole", Is: lang.Flag, ByName: true, Default: false,
			Help: "True: a line of the stock is shared only where nothing else serves"},
	},
	Gives: "a table: the first column of each, cost, reason; .total, and .second, the next best whole " +
		"answer",
	Errors: []string{"tables whose first columns have the same name"},
	Example: `allocate(table([{"crew": "Otters"}, {"crew": "Herons"}]), table([{"set": "A", "count (-)": ` +
		`1}, {"set": "B", "count (-)": 1}]), lambda c, s: 1 if c.crew == "Otters" and s.set == "A" else 2)`,
	Notes: []string{"first as much as possible is in use, then, with whole=True, as few as possible share, " +
		"then " +
		"the total is least",
		"without a column count a want takes one, and one is in stock",
		"equal answers are settled by name, whatever the order of the lines: the first name has the first"},
	Sources: []string{"shortest augmenting paths: Kuhn 1955; Jonker & Volgenant 1987; " +
		"where counts differ, branch and bound over them"},
	Do: allocateDo,
}

func allocateDo(c *lang.Call) (starlark.Value, error) {
	wants, stock := c.Value("wants").(*lang.Table), c.Value("stock").(*lang.Table)
	for _, name := range []string{"wants", "stock"} {
		// no lines is an answer, nobody served; no columns is nothing to name it by
		if len(c.Value(name).(*lang.Table).T.Columns) == 0 {
			return nil, c.Wrong(name, lang.Mistake("its first column names what is paired",
				`table([{"crew": "Otters"}])`, "%s has no columns", name))
		}
	}
	who, what := wants.T.Columns[0], stock.T.Columns[0]
	if who.Name == what.Name {
		return nil, c.Wrong("stock", lang.Mistake("the answer has both names beside each other",
			fmt.Sprintf("stock.rename(%s=\"set\")", what.Name), "both tables begin with %s", who.Name))
	}
	need, err := countsOf(c, "wants", wants.T)
	if err != nil {
		return nil, err
	}
	counts, err := countsOf(c, "stock", stock.T)
	if err != nil {
		return nil, err
	}

	q := &Question{C: c, Fn: c.Func("cost"), asks: "cost", What: "pairing", quiet: true, never: true}
	if q.Names, err = twoInputs(c, q.Fn); err != nil {
		return nil, err
	}
	tables := []*lang.Table{wants, stock}
	q.thing = func(i int, x float64) starlark.Value { return tables[i].Line(int(x)) }
	if err := lang.HostOf(c.Thread).Check("table", wants.Len()*stock.Len()); err != nil {
		return nil, err
	}
	var points []study.Point
	for i := range wants.Len() {
		for j := range stock.Len() {
			points = append(points, study.Point{float64(i), float64(j)})
		}
	}
	results := q.Batch(c.Context(), points)
	if err := c.Context().Err(); err != nil {
		return nil, err
	}
	cost := make([][]float64, wants.Len())
	failed := make([]error, wants.Len()) // of the first pair of a want that had no answer
	for n, r := range results {
		i := n / stock.Len()
		x := math.NaN()
		var stop *study.Stop
		switch {
		case errors.As(r.Err, &stop):
			return nil, q.Tell(stop.Err, "")
		case r.Err != nil:
			if failed[i] == nil {
				failed[i] = r.Err
			}
		case r.Outcome != nil:
			x = r.Outcome[0].Values[0].Number
		}
		cost[i] = append(cost[i], x)
	}

	best, second := settled(study.Allocation{Cost: cost, Need: need, Count: counts, Whole: c.Flag("whole")},
		who, what)
	lay := func(a *study.Allotted) *lang.Table {
		return allotted(a, who, what, cost, need, counts, failed)
	}
	if !best.Proved {
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{
			Text: "allocate: too many ways to try them all; a better one than this may exist",
			Why:  "many wants share few lines of the stock", Type: "the kinds one by one, or fewer lines"})
	}
	out := lay(best)
	out.Extra = starlark.StringDict{"total": lang.Num(rounding.Clean(best.Total)), "second": starlark.None}
	if second != nil {
		next := lay(second)
		next.Extra = starlark.StringDict{"total": lang.Num(rounding.Clean(second.Total))}
		out.Extra["second"] = next
	}
	return out, nil
}

// settled asks with the lines in the order of their names, so that the order in which they
// were written settles nothing.
func settled(a study.Allocation, who, what *table.Column) (best, second *study.Allotted) {
	rows, columns := byName(who, len(a.Need)), byName(what, len(a.Count))
	sorted := study.Allocation{Whole: a.Whole}
	for _, i := range rows {
		sorted.Need = append(sorted.Need, a.Need[i])
		line := make([]float64, len(columns))
		for k, j := range columns {
			line[k] = a.Cost[i][j]
		}
		sorted.Cost = append(sorted.Cost, line)
	}
	for _, j := range columns {
		sorted.Count = append(sorted.Count, a.Count[j])
	}
	best, second = study.Allocate(sorted)
	for _, x := range []*study.Allotted{best, second} {
		if x == nil {
			continue
		}
		stock := make([]int, len(rows))
		for k, i := range rows {
			if stock[i] = x.Stock[k]; stock[i] >= 0 {
				stock[i] = columns[stock[i]]
			}
		}
		x.Stock = stock
	}
	return best, second
}

// byName gives lines in the order of a column's cells.
func byName(c *table.Column, n int) []int {
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if c.Kind == table.Text {
			return cmp.Compare(c.Texts[a], c.Texts[b])
		}
		return cmp.Compare(c.Value(a), c.Value(b))
	})
	return order
}

// countsOf reads how many pieces each line takes, or how many of it are in stock.
func countsOf(c *lang.Call, param string, t *table.Table) ([]int, error) {
	counts := make([]int, t.Len())
	col := t.Column("count")
	for i := range counts {
		counts[i] = 1
		if col == nil {
			continue
		}
		x, least := col.Value(i), 0.0
		why := "a set is there once, twice, or not at all"
		if param == "wants" {
			least, why = 1, "who wants some takes one at least"
		}
		if !(x >= least) || x != math.Trunc(x) {
			return nil, c.Wrong(param, lang.Mistake(why, "a whole number in the column count",
				"count in line %d of the %s is no whole number%s", i+1, param,
				map[bool]string{true: " of 1 or more"}[least > 0]))
		}
		counts[i] = int(x)
	}
	return counts, nil
}

// twoInputs names the inputs of the cost function in their order.
func twoInputs(c *lang.Call, fn starlark.Callable) ([]string, error) {
	takes, _, any := inputsOf(fn)
	if len(takes) < 2 || any && len(takes) == 0 {
		return nil, c.Wrong("cost",
			lang.Mistake("it is asked with a line of the wants and a line of the stock",
				"lambda crew, set: abs(...)", "%s does not take two lines", FnName(fn)))
	}
	if needs := len(takes); needs > 2 {
		_, required, _ := inputsOf(fn)
		if len(required) > 2 {
			return nil, c.Wrong("cost",
				lang.Mistake("it is asked with a line of the wants and a line of the stock",
					"lambda crew, set: abs(...)", "%s takes %d inputs, not two", FnName(fn), len(required)))
		}
	}
	return takes[:2], nil
}

// allotted lays an answer out, a line a want.
func allotted(a *study.Allotted, who, what *table.Column, cost [][]float64, need, counts []int,
	failed []error) *lang.Table {
	paid, reason := table.NewColumn("cost", "", table.Number), table.NewColumn("reason", "", table.Text)
	all := make([]int, len(a.Stock))
	for i, j := range a.Stock {
		all[i] = i
		if j < 0 {
			paid.Nums, reason.Texts = append(paid.Nums, math.NaN()), append(reason.Texts, whyNone(cost[i],
				need[i], counts, failed[i]))
			continue
		}
		paid.Nums, reason.Texts = append(paid.Nums, cost[i][j]), append(reason.Texts, "")
	}
	return lang.NewTable(&table.Table{Columns: []*table.Column{cellsOf(who, all), cellsOf(what, a.Stock),
		paid, reason}})
}

// cellsOf picks cells of a column, a blank for -1.
func cellsOf(c *table.Column, lines []int) *table.Column {
	out := &table.Column{Name: c.Name, Unit: c.Unit, Digits: c.Digits, Change: c.Change, Kind: c.Kind}
	if c.Kind == table.Measured {
		out.Kind = table.Number
	}
	for _, i := range lines {
		switch {
		case out.Kind == table.Text && i < 0:
			out.Texts = append(out.Texts, "")
		case out.Kind == table.Text:
			out.Texts = append(out.Texts, c.Texts[i])
		case i < 0:
			out.Nums = append(out.Nums, math.NaN())
		default:
			out.Nums = append(out.Nums, c.Value(i))
		}
	}
	return out
}

// whyNone says why a want went without.
func whyNone(cost []float64, need int, counts []int, failed error) string {
	most, enough := 0, false
	for j, x := range cost {
		if !math.IsNaN(x) {
			most, enough = max(most, counts[j]), enough || counts[j] >= need
		}
	}
	switch {
	case enough:
		return "all that would do are taken"
	case most > 0:
		return fmt.Sprintf("takes %d of one line, and none that would do has more than %d", need, most)
	case failed != nil:
		return failed.Error()
	}
	return "nothing in stock will do"
}
