package study

import (
	"context"
	"fmt"
	"math"

	"thole/engine/table"
)

// Axis is an input that Vary steps through: numbers, or texts and named things
// by their labels, in which case a Point holds the index.
type Axis struct {
	Name    string
	Unit    string
	Digits  int
	Numbers []float64
	Labels  []string // of texts and things; Numbers is then left out
}

func (a Axis) len() int {
	if a.Labels != nil {
		return len(a.Labels)
	}
	return len(a.Numbers)
}

func (a Axis) at(i int) float64 {
	if a.Labels != nil {
		return float64(i)
	}
	return a.Numbers[i]
}

// Grid gives every combination of the axes, the last axis running fastest.
func Grid(axes []Axis) []Point {
	points := []Point{{}}
	for _, a := range axes {
		longer := make([]Point, 0, len(points)*a.len())
		for _, p := range points {
			for i := range a.len() {
				longer = append(longer, append(p[:len(p):len(p)], a.at(i)))
			}
		}
		points = longer
	}
	return points
}

// Vary calls the function at every combination of the axes and gives a table: a
// column for each axis, then "case" where the function gives several, then
// what it gives, then "reason", which says why a line is blank. The order is
// that of the axes, whatever the cores. When the context ends early the lines
// that are done are kept and the error is an *Unfinished.
func Vary(ctx context.Context, fn Batch, axes []Axis) (*table.Table, *Failed, error) {
	for i, a := range axes {
		if a.len() == 0 {
			return nil, nil, fmt.Errorf("%s has no values", a.Name)
		}
		for _, b := range axes[:i] {
			if a.Name == b.Name {
				return nil, nil, fmt.Errorf("%s is given twice", a.Name)
			}
		}
	}
	points := Grid(axes)
	results := fn(ctx, points)
	err := stopped(ctx, results)
	if err != nil && err != ctx.Err() {
		return nil, nil, err
	}
	var unfinished error
	if err != nil {
		points, results = finished(ctx, points, results)
		unfinished = &Unfinished{Done: len(points), Of: len(Grid(axes)), Cause: err}
	}
	return varied(axes, points, results), countFailed(results), unfinished
}

// finished keeps the points that were answered before the context ended.
func finished(ctx context.Context, points []Point, results []Result) ([]Point, []Result) {
	var done []Point
	var kept []Result
	for i, r := range results {
		if r.Err != nil && (r.Err == ctx.Err() || r.Err == context.Cause(ctx)) {
			continue
		}
		done, kept = append(done, points[i]), append(kept, r)
	}
	return done, kept
}

// varied lays points and results out as lines of a table.
func varied(axes []Axis, points []Point, results []Result) *table.Table {
	b := &lines{}
	for _, a := range axes {
		kind := table.Number
		if a.Labels != nil {
			kind = table.Text
		}
		b.column(Quantity{a.Name, a.Unit, a.Digits, a.Digits}, kind)
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
					b.text(a.Name, a.Labels[int(points[i][k])])
				} else {
					b.number(Quantity{Name: a.Name}, points[i][k])
				}
			}
			if c.Name != "" {
				b.text("case", c.Name)
			}
			for _, v := range c.Values {
				if v.IsText {
					b.text(v.Name, v.Text)
				} else {
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
