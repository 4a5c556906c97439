package figure

import (
	"math"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/draw"
)

// Lines nearly on top of each other get a second panel with their difference,
// others do not; a table of many panels becomes one drawing a quantity.
func TestDifferencePanel(t *testing.T) {
	close := closeCurves()
	rows := rowsOf(close)
	if len(rows) != 2 {
		t.Fatalf("%d rows", len(rows))
	}
	d := differences(rows[0])
	if d == nil || d.title() != "Difference from now, N" || len(d.facets[0].curves) != 2 {
		t.Fatalf("no panel of differences: %+v", d)
	}
	// the second stroke's force is drawn 1 % above the first's
	first, second := rows[0].facets[0].curves[0], d.facets[0].curves[0]
	for i := range first.ys {
		if math.Abs(second.ys[i]-.01*first.ys[i]) > 1e-9 { // rounding of forces of 690 N
			t.Fatalf("at %g the difference is %g of %g", first.xs[i], second.ys[i], first.ys[i])
		}
	}
	if len(Drawings(close)) != 2 {
		t.Error("four panels stay in one drawing")
	}
	far := &document.Figure{Kind: Lines, X: "x", Y: []string{"y"}, By: "by", Panel: "panel",
		Table: tableOf(numbers("x", "", 1, 2, 3, 1, 2, 3),
			numbers("y", "m", 1, 2, 3, 1, 2, 3.01), texts("by", "a", "a", "a", "b", "b", "b"),
			texts("panel", "p", "p", "p", "q", "q", "q"))}
	if apartLines := rowsOf(far); differences(apartLines[0]) != nil {
		t.Error("small multiples got a panel of differences")
	}
}

// Contours of a plane are straight lines where they belong.
func TestContours(t *testing.T) {
	var g grid
	for i := range 6 {
		g.xs = append(g.xs, float64(i))
	}
	for j := range 5 {
		g.ys = append(g.ys, float64(j))
		var row []float64
		for i := range 6 {
			row = append(row, 2*float64(i)+3*float64(j))
		}
		g.z = append(g.z, row)
	}
	lines := draw.LevelLines(g.xs, g.ys, g.z, 7)
	if len(lines) != 1 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, p := range lines[0] {
		if math.Abs(2*p[0]+3*p[1]-7) > 1e-9 {
			t.Errorf("(%g, %g) is not on the level", p[0], p[1])
		}
	}
}

// What is drawn is what the data say: a line's points, read back out of the SVG,
// lie where the axis puts their values, to a tenth of a unit.
func TestLinesLieOnTheirValues(t *testing.T) {
	f := &document.Figure{Kind: Lines,
		Table: tableOf(numbers("outboard", "cm", 190, 192, 195, 200),
			numbers("speed", "m/s", 4.2, 4.25, 4.21, 4.3)), X: "outboard", Y: []string{"speed"}}
	pictures, err := Pictures(f)
	if err != nil {
		t.Fatal(err)
	}
	rows := rowsOf(f)
	y := rows[0].axis(6)
	var ticks, marks []draw.Shape
	for _, s := range pictures[0].Shapes {
		switch {
		case s.Kind == draw.Words && s.Class == "t2 end" &&
			(s.Text == y.Label(y.Low) || s.Text == y.Label(y.High)):
			ticks = append(ticks, s)
		case s.Kind == draw.Disc && s.Class == "f1":
			marks = append(marks, s)
		}
	}
	if len(ticks) != 2 || len(marks) != 4 {
		t.Fatalf("%d ticks, %d marks", len(ticks), len(marks))
	}
	for i, v := range rows[0].facets[0].curves[0].ys {
		want := ticks[0].Y - 4.4 + (v-y.Low)/(y.High-y.Low)*(ticks[1].Y-ticks[0].Y)
		if math.Abs(marks[i].Y-want) > .1 {
			t.Errorf("%g drawn at %g, its value lies at %g", v, marks[i].Y, want)
		}
	}
}

// A caption says when an axis does not begin at nought; a reference is ink.
func TestReferencesAreInk(t *testing.T) {
	curves := tableOf(texts("case", "as rowed", "as rowed", "perfect", "perfect"),
		numbers("angle", "deg", -60, 40, -60, 40), numbers("handle_speed", "m/s", 1, 2, 1.4, 3))
	f := &document.Figure{Kind: Curves, Table: curves, X: "angle", Y: []string{"handle_speed"},
		References: []string{"perfect"}}
	looks := map[string]draw.Series{}
	for _, c := range rowsOf(f)[0].facets[0].curves {
		looks[c.name] = c.look
	}
	if looks["as rowed"] != 0 || looks["perfect"] != draw.Reference {
		t.Errorf("looks: %v", looks)
	}
	if got := cutAxes(&document.Figure{Kind: Lines,
		Table: tableOf(numbers("x", "", 1, 2), numbers("speed", "m/s", 4.2, 4.3)), X: "x",
		Y: []string{"speed"}}); got != " The axis of speed does not begin at 0." {
		t.Errorf("caption: %q", got)
	}
}

// The sentence of a figure is made from its data.
func TestSentence(t *testing.T) {
	tab := tableOf(numbers("outboard", "cm", 192, 204, 192, 204), numbers("wind", "m/s", 0, 0, 5, 5),
		numbers("heaviness", "N·s/m", 214, 231, 237, 256))
	got := Sentence(&document.Figure{Kind: Lines, Table: tab, X: "outboard", Y: []string{"heaviness"},
		By: "wind"})
	want := "From outboard 192 to 204 cm heaviness rises from 214 to 231 N·s/m at wind 0 and from 237 to " +
		"256 at wind 5: about 1.4 and 1.6 a cm."
	if got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// Pieces of two rigs take turns: neither line spans them all.
	turns := tableOf(texts("setting", "a", "b", "a", "b"), numbers("piece", "", 1, 2, 3, 4),
		numbers("pace", "s/500 m", 116.1, 118.2, 117.3, 120.4))
	got = Sentence(&document.Figure{Kind: Lines, Table: turns, X: "piece", Y: []string{"pace"},
		By: "setting"})
	want = "From the first to the last piece of each line pace rises from 116.1 to 117.3 s/500 m at " +
		"setting a and from 118.2 to 120.4 at setting b."
	if got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// A caption speaks of pairs and a key only where there are any.
	one := &document.Figure{Kind: Bars, Table: tableOf(texts("item", "air"), numbers("today", "J", 203))}
	if got := Caption(one); strings.Contains(got, "key") {
		t.Errorf("one stroke: %q", got)
	}
	one.Table = tableOf(texts("item", "air"), numbers("today", "J", 203), numbers("longer", "J", 204))
	if got := Caption(one); !strings.Contains(got, "key") {
		t.Errorf("two strokes: %q", got)
	}
}

// A line that turns is told by where it peaks or is lowest, never by a slope; two that cross
// by where they do.
func TestSentenceOfLinesThatTurn(t *testing.T) {
	line := func(ys ...float64) string {
		x, y := numbers("inboard", "cm", 86, 87, 88, 89), numbers("speed", "m/s", ys...)
		y.Digits = 3
		return Sentence(&document.Figure{Kind: Lines, Table: tableOf(x, y), X: "inboard", Y: []string{"speed"}})
	}
	for _, c := range []struct{ got, want string }{
		{line(4.1, 4.3, 4.2, 4.15), "From inboard 86 to 89 cm speed peaks at 4.300 m/s (inboard 87)."},
		{line(4.1, 4.05, 4.0, 4.15), "From inboard 86 to 89 cm speed is lowest at 4.000 m/s (inboard 88)."},
		{line(4.1, 4.2, 4.3, 4.4), "From inboard 86 to 89 cm speed rises from 4.100 to 4.400 m/s: about 0.1 a cm."},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	both := tableOf(numbers("inboard", "cm", 86, 88, 86, 88), numbers("speed", "m/s", 4.1, 4.3, 4.2, 4.2),
		texts("case", "now", "now", "new", "new"))
	got := Sentence(&document.Figure{Kind: Lines, Table: both, X: "inboard", Y: []string{"speed"}, By: "case"})
	if !strings.HasSuffix(got, " Now and new cross at about inboard 87.0 cm.") {
		t.Error(got)
	}
}
