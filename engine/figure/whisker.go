package figure

import (
	"fmt"
	"math"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Whisker reads a comparison: quantity (text), percent, low, high (percent and
// its ends in per cent of the first), verdict (text); low and high may be blank.
// Without low and high, a change column of estimates and before give the ends.
const Whisker document.Kind = "whisker"

var whiskerKind = &Kind{
	Name:  Whisker,
	Needs: func(*document.Figure) []Need { return []Need{{"quantity", Names}} },
	Lacks: func(f *document.Figure) string {
		if len(toldWhiskers(f.Table)) == 0 {
			return "every change in it is too small to matter"
		}
		return ""
	},
	Title:    func(f *document.Figure) string { return named(f, "Change of each quantity") },
	Describe: describeWhisker,
	Reading: func(f *document.Figure) string {
		s := "Dots are changes in per cent of the first, lines their 95 % intervals."
		if len(toldWhiskers(f.Table)) < len(whiskersOf(f.Table)) {
			s += " Changes too small to matter are left to the table."
		}
		if f.Worthwhile > 0 {
			s += " The grey band is the smallest change of speed that matters, " +
				typeset.Number(f.Worthwhile, 1) + " %."
		}
		return s
	},
	Draw:   drawWhisker,
	Beside: besideComparison,
}

// besideComparison draws a comparison that was drawn from doubts and is worth a
// picture: more than two lines with intervals.
func besideComparison(t *table.Table) (*document.Figure, Place) {
	n := 0
	if IsComparison(t) {
		for _, w := range toldWhiskers(t) {
			if !math.IsNaN(w.low) {
				n++
			}
		}
	}
	if n < 3 {
		return nil, Below
	}
	return &document.Figure{Kind: Whisker, Name: "how sure", Table: t}, Below
}

// whisker is one paired change in per cent of the first, with its ends.
type whisker struct {
	name           string
	mid, low, high float64 // low and high NaN where there was one run
	verdict        string
}

// whiskersOf reads a comparison. Ends come from low and high, else from the
// change's own interval as a part of what it was before.
func whiskersOf(t *table.Table) []whisker {
	quantity, cases, verdict := t.Column("quantity"), t.TextColumn("case"), t.TextColumn("verdict")
	percent, low, high, change, before := t.Column("percent"), t.Column("low"), t.Column("high"),
		t.Column("change"), t.Column("before")
	var out []whisker
	for i := range t.Len() {
		w := whisker{name: words.Spaced(quantity.Texts[i]), mid: math.NaN(), low: math.NaN(),
			high: math.NaN()}
		if cases != nil && cases.Varies() {
			w.name += " · " + cases.Texts[i]
		}
		if verdict != nil {
			w.verdict = verdict.Texts[i]
		}
		if percent != nil {
			w.mid = percent.Value(i)
		}
		switch {
		case percent != nil && percent.Kind == table.Measured && percent.Estimates[i] != nil:
			w.low, w.high = percent.Estimates[i].Low, percent.Estimates[i].High
		case low != nil && high != nil && low.Unit == "%":
			w.low, w.high = low.Value(i), high.Value(i)
		case change != nil && change.Kind == table.Measured && change.Estimates[i] != nil && before != nil:
			e, b := change.Estimates[i], math.Abs(before.Value(i))/100
			if b > 0 {
				w.low, w.high = e.Low/b, e.High/b
				if math.IsNaN(w.mid) {
					w.mid = e.Value / b
				}
			}
		}
		if !math.IsNaN(w.mid) {
			out = append(out, w)
		}
	}
	return out
}

// mostWhiskers is how many changes one figure shows; of more, those that are too
// small to matter stay in the table.
const mostWhiskers = 12

func toldWhiskers(t *table.Table) []whisker {
	all := whiskersOf(t)
	if len(all) <= mostWhiskers {
		return all
	}
	var out []whisker
	for _, w := range all {
		if w.verdict != "too small to matter" {
			out = append(out, w)
		}
	}
	return out
}

// drawWhisker draws changes as dots with 95 % whiskers about a line of no change.
func drawWhisker(f *document.Figure, d *draw.Surface) {
	ws := toldWhiskers(f.Table)
	values := []float64{0}
	for _, w := range ws {
		values = append(values, w.mid, w.low, w.high)
	}
	left, right, pitch := 160., 166., 32.
	if d.Narrow() {
		left, right, pitch = 8, 12, 46
	}
	x := draw.Axis(append(values, symmetric(values)...), 6)
	x.From, x.To = left, d.W-right
	top := 26.
	bottom := top + pitch*float64(len(ws))
	for _, t := range x.Ticks {
		class := "hair"
		if t == 0 {
			class = "axis"
		}
		d.Line(class, x.At(t), top, x.At(t), bottom)
		d.Text("t2 mid", x.At(t), bottom+17, typeset.Signed(t, x.Digits))
	}
	d.Text("sm t2 mid halo", math.Max(30, math.Min(x.At(0), d.W-30)), top-8, "no change")
	for i, w := range ws {
		y := top + pitch*(float64(i)+.5)
		figures := typeset.Signed(w.mid, 1) + typeset.Thin + "%"
		ends := ""
		if !math.IsNaN(w.low) {
			ends = typeset.Signed(w.low, 1) + " to " + typeset.Signed(w.high, 1)
		}
		if d.Narrow() {
			d.Text("halo", 0, y-9, draw.Cut(w.name, 12.5, 160))
			d.Text("b end halo", d.W, y-9, figures)
			y += 7
		} else {
			d.Text("", 0, y+4.5, draw.Cut(w.name, 13.5, left-14))
			d.Text("b end", d.W-right+70, y+4.5, figures)
			d.Text("sm t2", d.W-right+78, y+4.5, ends)
		}
		if f.Worthwhile > 0 && i == speedLine(ws) {
			d.Rect("worth", x.At(-f.Worthwhile), y-9, x.At(f.Worthwhile)-x.At(-f.Worthwhile), 18)
		}
		if !math.IsNaN(w.low) {
			drawInterval(d, x.At(w.low), x.At(w.high), y)
		}
		d.MarkSized(0, x.At(w.mid), y, 4.5)
	}
	d.Text("t2 end", x.To, bottom+34, "change, % of the first")
	d.H = bottom + 40
}

// drawInterval draws an interval; its end strokes would only smear a short one.
func drawInterval(d *draw.Surface, low, high, y float64) {
	d.Line("ln s1", low, y, high, y)
	if high-low > 16 {
		d.Line("rule", low, y-5, low, y+5)
		d.Line("rule", high, y-5, high, y+5)
	}
}

// symmetric leaves a little room on the lesser side of nought.
func symmetric(values []float64) []float64 {
	low, high := draw.Extent(values)
	span := high - low
	return []float64{math.Min(low, -.08*span), math.Max(high, .08*span)}
}

func speedLine(ws []whisker) int {
	for i, w := range ws {
		if w.name == "speed" {
			return i
		}
	}
	return -1
}

func describeWhisker(f *document.Figure) string {
	var parts []string
	for _, w := range whiskersOf(f.Table) {
		s := fmt.Sprintf("%s %s %%", w.name, typeset.Signed(w.mid, 1))
		if !math.IsNaN(w.low) {
			s += fmt.Sprintf(" (%s to %s)", typeset.Signed(w.low, 1), typeset.Signed(w.high, 1))
		}
		if w.verdict != "" {
			s += ", " + w.verdict
		}
		parts = append(parts, s)
	}
	return words.Capital(strings.Join(parts, "; ")) + "."
}

// IsComparison says whether a table has the shape of a comparison.
func IsComparison(t *table.Table) bool {
	return t != nil && t.Len() > 0 && t.TextColumn("quantity") != nil && t.Column("before") != nil &&
		t.Column("after") != nil
}
