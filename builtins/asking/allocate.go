package asking

import (
	"errors"
	"fmt"
	"math"

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
			Help: "a line for each who wants one"},
		{Name: "stock", Is: lang.ThingOf, Types: []string{"table"}, Needed: true,
			Help: "a line for each kind in stock; a column count says how many it serves"},
		{Name: "cost", Is: lang.Func, Needed: true,
			Help: "of a want's line and a stock's line: a number, None for never"},
	},
	Gives: "a table: the first column of each, cost, reason; .total, and .second, the next best whole " +
		"answer",
	Errors: []string{"tables whose first columns have the same name"},
	Example: `allocate(table([{"crew": "Otters"}, {"crew": "Herons"}]), table([{"set": "A", "count (-)": ` +
		`1}, {"set": "B", "count (-)": 1}]), lambda c, s: 1 if c.crew == "Otters" and s.set == "A" else 2)`,
	Notes: []string{"first as many as possible are served, then at the least total",
		"equal answers are settled by the order of the lines"},
	Sources: []string{"shortest augmenting paths: Kuhn 1955; Jonker & Volgenant 1987"},
	Do:      allocateDo,
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
	counts, err := countsOf(c, stock.T)
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

	best, second := study.Allocate(cost, counts)
	lay := func(a *study.Allotted) *lang.Table {
		return allotted(a, who, what, cost, counts, failed)
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

// countsOf reads how many wants each line of the stock serves.
func countsOf(c *lang.Call, stock *table.Table) ([]int, error) {
	counts := make([]int, stock.Len())
	col := stock.Column("count")
	for j := range counts {
		counts[j] = 1
		if col == nil {
			continue
		}
		x := col.Value(j)
		if !(x >= 0) || x != math.Trunc(x) {
			return nil, c.Wrong("stock", lang.Mistake("a set is there once, twice, or not at all",
				"a whole number in the column count", "count in line %d of the stock is no whole number",
				j+1))
		}
		counts[j] = int(x)
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
func allotted(a *study.Allotted, who, what *table.Column, cost [][]float64, counts []int,
	failed []error) *lang.Table {
	paid, reason := table.NewColumn("cost", "", table.Number), table.NewColumn("reason", "", table.Text)
	all := make([]int, len(a.Stock))
	for i, j := range a.Stock {
		all[i] = i
		if j < 0 {
			paid.Nums, reason.Texts = append(paid.Nums, math.NaN()), append(reason.Texts, whyNone(cost[i],
				counts, failed[i]))
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
func whyNone(cost []float64, counts []int, failed error) string {
	fitting := 0
	for j, x := range cost {
		if !math.IsNaN(x) {
			fitting += counts[j]
		}
	}
	switch {
	case fitting > 0:
		return "all that would do are taken"
	case failed != nil:
		return failed.Error()
	}
	return "nothing in stock will do"
}
