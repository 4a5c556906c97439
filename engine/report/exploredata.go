package report

import (
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/rounding"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// exploreData is what the sliders read. Values and changes are whole numbers of
// the last shown decimal, rounded once by package table, so that a page shows the
// very digits that a run prints; null is a state without a stroke.
type exploreData struct {
	ID      string         `json:"id"`
	Axes    []axisData     `json:"axes"`
	Fields  []fieldData    `json:"fields"`
	Base    []int          `json:"base"`
	Reasons map[int]string `json:"reasons,omitempty"`
	Plots   []plotData     `json:"plots"`
	Drawn   int            `json:"drawn"` // field drawn first
}

type axisData struct {
	Name  string    `json:"name"`
	Label string    `json:"label"`
	Unit  string    `json:"unit"`
	Nums  []float64 `json:"nums,omitempty"`
	Shown []string  `json:"shown"`
}

type fieldData struct {
	Label  string     `json:"label"`
	Unit   string     `json:"unit"`
	Digits int        `json:"digits"`
	Change int        `json:"change"`
	Clock  bool       `json:"clock,omitempty"`
	Base   *float64   `json:"base"`
	Values []*int     `json:"values"`
	Diffs  []*int     `json:"diffs"`
	Axis   axisOfPlot `json:"axis"`
}

type axisOfPlot struct {
	Low    float64   `json:"low"`
	High   float64   `json:"high"`
	Ticks  []float64 `json:"ticks"`
	Labels []string  `json:"labels"`
	Title  string    `json:"title"`
	Span   string    `json:"span"`
}

func axisShown(a *document.Axis, i int) string {
	if a.Texts != nil {
		return a.Texts[i]
	}
	return typeset.Printed(table.Fixed(a.Values[i], table.ColumnDigits(a.Values, a.Digits)))
}

func exploreDataOf(e *document.Explore, id string) exploreData {
	d := exploreData{ID: id, Base: e.Base, Reasons: map[int]string{}}
	for i := range e.Axes {
		a := &e.Axes[i]
		x := axisData{Name: a.Name, Label: words.Capital(words.Spaced(a.Name)), Unit: a.Unit, Nums: a.Values}
		for j := range a.Len() {
			x.Shown = append(x.Shown, typeset.Clean(axisShown(a, j)))
		}
		d.Axes = append(d.Axes, x)
	}
	base := e.Index(e.Base)
	for k, f := range e.Fields {
		var all []float64
		for s := range e.States {
			all = append(all, e.Value(s, k))
		}
		digits, change := f.Digits, f.Change
		if digits < 0 {
			digits = table.ColumnDigits(all, digits)
		}
		if change < 0 {
			change = min(digits+1, 8)
		}
		out := fieldData{Label: words.Spaced(f.Name), Unit: f.Unit, Digits: digits, Change: change,
			Clock: f.Clock}
		b := e.Value(base, k)
		if !math.IsNaN(b) {
			out.Base = &b
		}
		for _, v := range all {
			out.Values = append(out.Values, scaled(v, digits))
			out.Diffs = append(out.Diffs, scaled(v-b, change))
		}
		y := draw.Axis(all, 6)
		out.Axis = axisOfPlot{Low: y.Low, High: y.High, Ticks: y.Ticks,
			Title: words.Capital(typeset.Head(out.Label, f.Unit)), Span: y.Spans()}
		for _, t := range y.Ticks {
			out.Axis.Labels = append(out.Axis.Labels, y.Label(t))
		}
		d.Fields = append(d.Fields, out)
	}
	d.Drawn = tellingField(e)
	for s, why := range e.Reasons {
		if why != "" {
			d.Reasons[s] = typeset.Clean(why)
		}
	}
	return d
}

// tellingField is the field that the first axis moves most, measured against all
// that the sliders do to it: drawn first, because its lines do not lie flat.
func tellingField(e *document.Explore) int {
	best, most := 0, -1.
	for k := range e.Fields {
		var all, along []float64
		for s := range e.States {
			all = append(all, e.Value(s, k))
		}
		at := append([]int(nil), e.Base...)
		for i := range e.Axes[0].Len() {
			at[0] = i
			along = append(along, e.Value(e.Index(at), k))
		}
		low, high := draw.Extent(all)
		a, b := draw.Extent(along)
		if share := (b - a) / (high - low); high > low && share > most+1e-9 {
			best, most = k, share
		}
	}
	return best
}

// scaled is v as a whole number of its last decimal, rounded as tables are.
func scaled(v float64, digits int) *int {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	n := int(math.Round(rounding.Decimals(v, digits) * math.Pow(10, float64(digits))))
	return &n
}

// fieldUnit is the unit after a field's value: a clock needs no s.
func fieldUnit(f fieldData) string {
	if f.Clock {
		return strings.TrimPrefix(typeset.UnitAfter(strings.TrimPrefix(f.Unit, "s")), "")
	}
	return typeset.UnitAfter(f.Unit)
}

func fieldText(e *document.Explore, state, field int, d exploreData) string {
	v, f := e.Value(state, field), d.Fields[field]
	if math.IsNaN(v) {
		return "–"
	}
	if f.Clock {
		return typeset.Printed(table.Clock(v, f.Digits))
	}
	return typeset.Number(v, f.Digits)
}

// stateWords is the sentence that follows the sliders.
func stateWords(e *document.Explore, at []int, d exploreData) string {
	where, state := words.Capital(placeWords(d, at))+": ", e.Index(at)
	var what []string
	for k, f := range d.Fields {
		if t := fieldText(e, state, k, d); t != "–" {
			what = append(what, f.Label+" "+t+fieldUnit(f))
		}
	}
	switch {
	case len(what) > 0:
		return where + strings.Join(what, ", ") + "."
	case state < len(e.Reasons) && e.Reasons[state] != "":
		return where + e.Reasons[state]
	}
	return where + "no stroke there"
}

// sliced is how many axes the table beneath the sliders runs over: the first two
// where that stays readable, else the first. The others stay at the base.
func sliced(e *document.Explore) int {
	if len(e.Axes) > 1 && e.Axes[0].Len()*e.Axes[1].Len() <= 120 {
		return 2
	}
	return 1
}

// sliceOf is the base case as a table.
func sliceOf(e *document.Explore) *table.Table {
	over := sliced(e)
	t := &table.Table{}
	for i := range over {
		a := &e.Axes[i]
		c := &table.Column{Name: a.Name, Unit: a.Unit, Digits: a.Digits}
		if a.Texts != nil {
			c.Kind = table.Text
		}
		t.Columns = append(t.Columns, c)
	}
	for _, f := range e.Fields {
		t.Columns = append(t.Columns, &table.Column{Name: f.Name, Unit: f.Unit, Digits: f.Digits,
			Change: f.Change})
	}
	at := slices.Clone(e.Base)
	line := func() {
		for i, c := range t.Columns[:over] {
			if c.Kind == table.Text {
				c.Texts = append(c.Texts, e.Axes[i].Texts[at[i]])
			} else {
				c.Nums = append(c.Nums, e.Axes[i].Values[at[i]])
			}
		}
		for k, c := range t.Columns[over:] {
			c.Nums = append(c.Nums, e.Value(e.Index(at), k))
		}
	}
	for at[0] = range e.Axes[0].Len() {
		if over == 1 {
			line()
			continue
		}
		for at[1] = range e.Axes[1].Len() {
			line()
		}
	}
	return t
}

// sliceWords says what the table holds fixed.
func sliceWords(e *document.Explore) string {
	fixed := ""
	for i := sliced(e); i < len(e.Axes); i++ {
		fixed += ", " + words.Spaced(e.Axes[i].Name) + " " + axisShown(&e.Axes[i], e.Base[i]) +
			typeset.UnitAfter(e.Axes[i].Unit)
	}
	return fixed
}
