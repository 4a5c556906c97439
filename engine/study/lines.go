package study

import (
	"fmt"
	"math"

	"thole/engine/table"
)

// varied lays points and results out as lines of a table.
func varied(axes []Axis, points []Point, results []Result) *table.Table {
	b := &lines{}
	asked := rowedOtherwise(axes, points, results)
	name := func(a Axis) string {
		if asked[a.Name] {
			return a.Name + "_asked"
		}
		return a.Name
	}
	for _, a := range axes {
		kind := table.Number
		if a.Labels != nil {
			kind = table.Text
		}
		b.column(Quantity{name(a), a.Unit, a.Digits, a.Digits}, kind)
	}
	if hasCases(results) {
		b.column(Quantity{Name: "case"}, table.Text)
	}
	for i, r := range results {
		outcome := r.Outcome
		if r.Err != nil || len(outcome) == 0 {
			outcome = Outcome{{Err: r.Err}}
		}
		for _, c := range outcome {
			b.line()
			for k, a := range axes {
				if a.Labels != nil {
					b.text(name(a), a.Labels[int(points[i][k])])
				} else {
					b.number(Quantity{Name: name(a)}, points[i][k])
				}
			}
			if c.Name != "" {
				b.text("case", c.Name)
			}
			for _, v := range c.Values {
				switch {
				case isAxis(axes, v.Name) && !asked[v.Name]:
					// the axis says it as it was written
				case v.IsText:
					b.text(v.Name, v.Text)
				default:
					b.number(v.Quantity, v.Number)
				}
			}
			if c.Err != nil {
				b.text("reason", c.Err.Error())
			}
		}
	}
	return b.done()
}

// rowedOtherwise names the axes that say another value than what came out under their
// name: "inboard" asked 90 where the function rowed 89. Both are then columns,
// "inboard_asked" and "inboard". A thousandth of a unit is below what anyone measures.
func rowedOtherwise(axes []Axis, points []Point, results []Result) map[string]bool {
	other := map[string]bool{}
	for k, a := range axes {
		if a.Labels != nil {
			continue
		}
		for i, r := range results {
			for _, c := range r.Outcome {
				if v, ok := c.Get(a.Name); ok && !v.IsText && math.Abs(v.Number-points[i][k]) > 1e-3 {
					other[a.Name] = true
				}
			}
		}
	}
	return other
}

func isAxis(axes []Axis, name string) bool {
	for _, a := range axes {
		if a.Name == name {
			return true
		}
	}
	return false
}

func hasCases(results []Result) bool {
	for _, r := range results {
		for _, c := range r.Outcome {
			if c.Name != "" {
				return true
			}
		}
	}
	return false
}

// lines grows a table line by line; a column that appears late is blank above.
type lines struct {
	columns []*table.Column
	reasons []string
	byName  map[string]*table.Column
	n       int
}

func (b *lines) column(q Quantity, kind table.Kind) *table.Column {
	if c := b.byName[q.Name]; c != nil {
		return c
	}
	if b.byName == nil {
		b.byName = map[string]*table.Column{}
	}
	c := &table.Column{Name: q.Name, Unit: q.Unit, Digits: q.Digits, Change: q.Change, Kind: kind}
	for range b.n {
		c.Nums, c.Texts = grow(c)
	}
	b.byName[q.Name] = c
	b.columns = append(b.columns, c)
	return c
}

// grow adds one blank.
func grow(c *table.Column) ([]float64, []string) {
	if c.Kind == table.Text {
		return nil, append(c.Texts, "")
	}
	return append(c.Nums, math.NaN()), nil
}

func (b *lines) line() {
	b.n++
	b.reasons = append(b.reasons, "")
	for _, c := range b.columns {
		c.Nums, c.Texts = grow(c)
	}
}

func (b *lines) number(q Quantity, x float64) {
	if c := b.column(q, table.Number); c.Kind == table.Number {
		c.Nums[b.n-1] = x
	} else {
		c.Texts[b.n-1] = fmt.Sprint(x)
	}
}

// text fills a cell; a column that held numbers so far turns into texts.
func (b *lines) text(name, s string) {
	if name == "reason" {
		b.reasons[b.n-1] = s
		return
	}
	c := b.column(Quantity{Name: name}, table.Text)
	if c.Kind == table.Number {
		c.Kind, c.Texts = table.Text, make([]string, len(c.Nums))
		for i, x := range c.Nums {
			if !math.IsNaN(x) {
				c.Texts[i] = fmt.Sprint(x)
			}
		}
		c.Nums = nil
	}
	c.Texts[b.n-1] = s
}

func (b *lines) done() *table.Table {
	reason := &table.Column{Name: "reason", Kind: table.Text, Texts: b.reasons}
	return &table.Table{Columns: append(b.columns, reason)}
}
