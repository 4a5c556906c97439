package report

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

// anyColumn draws a column of any kind with odd cells in it.
func anyColumn(t *rapid.T, name string, n int) *table.Column {
	c := &table.Column{Name: name, Unit: rapid.SampledFrom([]string{"", "cm", "m/s", "%", "deg"}).Draw(t, "unit"), Digits: rapid.IntRange(-1, 3).Draw(t, "digits"), Change: 2}
	number := rapid.OneOf(rapid.Float64Range(-50, 50), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 1e300, -1e-300, 5, 5, 5}))
	switch c.Kind = table.Kind(rapid.IntRange(0, 2).Draw(t, "kind")); c.Kind {
	case table.Number:
		for range n {
			c.Nums = append(c.Nums, number.Draw(t, "x"))
		}
	case table.Text:
		for range n {
			c.Texts = append(c.Texts, rapid.SampledFrom([]string{"", "a", "b", "holds: more", "one run", "outboard", "<b>"}).Draw(t, "text"))
		}
	default:
		for range n {
			var e *table.Estimate
			if rapid.Bool().Draw(t, "some") {
				e = &table.Estimate{Value: number.Draw(t, "v"), Low: number.Draw(t, "l"), High: number.Draw(t, "h"), Digits: 1, Signed: rapid.Bool().Draw(t, "signed")}
			}
			c.Estimates = append(c.Estimates, e)
		}
	}
	return c
}

// Tables of any shape, in figures of every kind: a page comes out, or a sentence
// in the figure's place; never a panic, never a coordinate that is no number.
func TestAnyShapeOfData(t *testing.T) {
	names := []string{"x", "y", "z", "by", "panel", "case", "quantity", "unit", "before", "after", "change", "percent", "low", "high", "verdict", "input", "at_low", "at_high", "flips_at", "what", "interval", "odd", "item", "side", "angle", "strip", "slip_speed", "reason", "value"}
	kinds := []document.Kind{figure.Lines, figure.Curves, figure.Bars, figure.Paths, figure.Heat, figure.Whisker, figure.Swing, figure.Moving, figure.Pieces, "none"}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 7).Draw(t, "lines")
		tab := &table.Table{WriteIn: rapid.Bool().Draw(t, "write in")}
		for _, name := range names {
			if rapid.IntRange(0, 3).Draw(t, "has "+name) > 0 {
				tab.Columns = append(tab.Columns, anyColumn(t, name, n))
			}
		}
		pick := func(of string) string { return rapid.SampledFrom(append(names, "", "missing")).Draw(t, of) }
		doc := &document.Document{Blocks: []document.Block{&document.Shown{Name: "shown", Table: tab, Side: "one run", Head: "a -> b"}}}
		for _, kind := range kinds {
			f := &document.Figure{Kind: kind, Table: tab, X: pick("X"), Y: []string{pick("Y"), pick("Y2")}[:rapid.IntRange(0, 2).Draw(t, "ys")], Z: pick("Z"), By: pick("By"), Panel: pick("Panel"),
				Guides: []document.Guide{{Axis: "x", At: 5, Label: "here"}, {Axis: "y", At: math.NaN(), Label: "nowhere"}, {Axis: "change", At: .3, Label: "level"}}, Worthwhile: .3}
			_ = figure.Sentence(f)
			doc.Blocks = append(doc.Blocks, f)
		}
		var b strings.Builder
		if err := WritePage(&b, doc); err != nil {
			t.Fatal(err)
		}
		for _, piece := range strings.Split(b.String(), "<svg")[1:] {
			svg, _, _ := strings.Cut(piece, "</svg>")
			for _, tag := range tagPattern.FindAllString(svg, -1) {
				if strings.Contains(tag, "NaN") || strings.Contains(tag, "Inf") {
					t.Fatalf("drawn at no number: %s", tag)
				}
			}
		}
	})
}
