package report

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/figure"
	"thole/engine/typeset"
)

func written(t *testing.T, doc *document.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := WritePage(&b, doc); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var (
	tagPattern    = regexp.MustCompile(`<[a-zA-Z][^>]*>`)
	eventPattern  = regexp.MustCompile(`(?i)\s(on\w+|style|src|srcset|action|formaction|xlink:href|data)=`)
	hrefPattern   = regexp.MustCompile(`href="([^"]*)"`)
	policyPattern = regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`)
)

// One style, at most one script, each named by its hash in a policy that lets
// nothing else in; no attribute that the hashes forbid; no address outside the
// page; the same bytes each time; small.
func TestPageIsOneShutFile(t *testing.T) {
	for name, doc := range allDocs() {
		page := written(t, doc)
		if page != written(t, allDocs()[name]) {
			t.Errorf("%s: not the same bytes twice", name)
		}
		if len(page) > MaxPage/4 {
			t.Errorf("%s: %d kB is much for a page of this size", name, len(page)>>10)
		}
		policy := policyPattern.FindStringSubmatch(page)
		if policy == nil {
			t.Fatalf("%s: no policy", name)
		}
		want := "default-src 'none'; style-src '" + hashOf(between(t, page, "<style>", "</style>")) + "'; "
		scripts := strings.Count(page, "<script>")
		if scripts == 1 {
			want += "script-src '" + hashOf(between(t, page, "<script>", "</script>")) + "'; "
		}
		want += "base-uri 'none'; form-action 'none'"
		if policy[1] != want {
			t.Errorf("%s: policy %q, want %q", name, policy[1], want)
		}
		needed := name == "lesson" || name == "path" || name == "explore" || name == "hostile"
		if scripts > 1 || (scripts == 1) != needed || strings.Count(page, "<style>") != 1 || strings.Count(page, "<script type=\"application/json\"") != scripts {
			t.Errorf("%s: %d scripts, needed: %v", name, scripts, needed)
		}
		for _, tag := range tagPattern.FindAllString(page, -1) {
			inside := regexp.MustCompile(`"[^"]*"`).ReplaceAllString(tag, `""`)
			if m := eventPattern.FindString(inside); m != "" {
				t.Errorf("%s: %s in %s", name, m, tag)
			}
			if h := hrefPattern.FindStringSubmatch(tag); h != nil && !strings.HasPrefix(h[1], "#") {
				t.Errorf("%s leads to %s", name, h[1])
			}
		}
	}
}

func between(t *testing.T, s, from, to string) string {
	t.Helper()
	_, s, ok := strings.Cut(s, from)
	if !ok {
		t.Fatalf("no %s", from)
	}
	s, _, _ = strings.Cut(s, to)
	return s
}

// Text of every kind stays text, wherever it stands.
func TestHostileTextStaysText(t *testing.T) {
	page := written(t, hostileDoc())
	script := between(t, page, "<script>", "</script>")
	rest := strings.Replace(page, script, "", 1)
	for _, bad := range []string{"<script>alert", "<img", "<svg onload", "<div onclick", "alert(1)</script>", "href=\"javascript", "\x00", "\x07"} {
		if strings.Contains(rest, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if !strings.Contains(rest, "&lt;script&gt;alert(1)&lt;/script&gt;") {
		t.Error("the text was dropped, not shown")
	}
	if n := strings.Count(rest, "</script>"); n != 2 { // the data's own end, the script's own end
		t.Errorf("%d ends of scripts", n)
	}
	if !strings.Contains(rest, "javascript:alert(4)") || !strings.Contains(rest, "http://example.com/p.png") {
		t.Error("a link's address is not told as text")
	}
}

// The frame's order, and the two boxes that never vanish.
func TestFrameInOrder(t *testing.T) {
	page := written(t, comparisonDoc())
	at := 0
	for _, want := range []string{"class=\"run\"", "<h1>", "class=\"answer\"", "What to set", "On the tape", "class=\"key\"", "Handle force and handle speed over the arc", "What moves the answer",
		"Before you trust it", "None found for this study.", "What to try on the water", "How it was computed", "Assumptions, every default in use", "The study’s text", "Again: <code>thole run b_equal_load.star"} {
		i := strings.Index(page[at:], want)
		if i < 0 {
			t.Fatalf("no %q, or before its turn", want)
		}
		at += i
	}
	if empty := written(t, &document.Document{}); !strings.Contains(empty, "None found for this study.") || !strings.Contains(empty, "This study gives no answer") {
		t.Error("an empty study's page lacks its boxes")
	}
}

// Figures without data are a sentence in their place.
func TestNothingToDraw(t *testing.T) {
	page := written(t, emptyDoc())
	for _, want := range []string{"Left over holds no lines", "its table holds no lines", "every value in it is blank", `its table has no column &#34;inboard&#34;`, "it has no path", "there is no stroke to move", "No sliders: there is nothing to explore"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(page, "<svg") || strings.Contains(page, "NaN") {
		t.Error("something was drawn out of nothing")
	}
}

// The largest grid that sliders may have fits into a page; what does not fit is
// refused in words, and nothing is written.
func TestSizes(t *testing.T) {
	grid := func(fields int) *document.Document {
		e := &document.Explore{Base: []int{0, 0, 0}}
		for k, n := range []int{25, 20, 20} {
			a := document.Axis{Name: fmt.Sprint("axis", k), Unit: "cm", Digits: 0}
			for i := range n {
				a.Values = append(a.Values, float64(i))
			}
			e.Axes = append(e.Axes, a)
		}
		for k := range fields {
			e.Fields = append(e.Fields, document.Field{Name: fmt.Sprint("field", k), Unit: "m/s", Digits: 3, Change: 3})
		}
		for i := range 10_000 {
			var s []float64
			for k := range fields {
				s = append(s, 4+math.Sin(float64(i*(k+1)))/3)
			}
			e.States, e.Reasons = append(e.States, s), append(e.Reasons, "")
		}
		return &document.Document{Title: "How large?", Blocks: []document.Block{e}}
	}
	if page := written(t, grid(8)); len(page) > MaxPage {
		t.Errorf("10 000 states of 8 fields make %d kB", len(page)>>10)
	} else {
		t.Logf("10 000 states of 8 fields: %d kB", len(page)>>10)
	}
	var b bytes.Buffer
	err := WritePage(&b, grid(16))
	if err == nil || !strings.Contains(err.Error(), "smaller grid of explore") || b.Len() != 0 {
		t.Errorf("a page too large: %v, %d bytes written", err, b.Len())
	}
	if err := WritePage(failing{}, sweepDoc()); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("a failed write gives %v", err)
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// A table of any length leaves a page: head and tail of it, and a word on the rest.
func TestLongTableIsCut(t *testing.T) {
	long := tableOf(numbers("line", ""), numbers("speed", "m/s"))
	for i := range 11_055 {
		long.Columns[0].Nums = append(long.Columns[0].Nums, float64(i))
		long.Columns[1].Nums = append(long.Columns[1].Nums, 4+float64(i)/1e5)
	}
	page := written(t, &document.Document{Title: "How long?", Blocks: []document.Block{&document.Shown{Name: "all", Table: long}}})
	for _, want := range []string{"All, 11055 lines", ">149</th>", ">10855 more lines, all in the .csv beside this page<", ">11005</th>", ">11054</th>"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(page, ">150</th>") || strings.Contains(page, ">11004</th>") {
		t.Error("more lines than were promised")
	}
}

// Running text gets the page's signs; code and names keep theirs.
func TestTypeset(t *testing.T) {
	for in, want := range map[string]string{
		"-6.6 cm (95 % -7.2 to -6.2)": "−6.6\u202fcm (95\u202f% −7.2 to −6.2)",
		"catch 63.0 deg, well":        "catch 63.0°, well",
		"scull-2 of set A-3":          "scull-2 of set A-3",
		"3 m 4 s":                     "3\u202fm 4\u202fs",
		"5 men":                       "5 men",
		"1:56.6 /500 m":               "1:56.6 /500\u202fm",
		"+-40 %":                      "±40\u202f%",
	} {
		if got := typeset.Text(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	if got := boldNumbers("Set A-2: <i>x</i> -6.6 cm & 5"); got != "Set A-2: &lt;i&gt;x&lt;/i&gt; <b>−6.6\u202fcm</b> &amp; <b>5</b>" {
		t.Errorf("bold: %s", got)
	}
	if got := markdown("a `-5 cm` of -5 cm\nand <b>5 cm</b>"); got != "<p>a <code>-5 cm</code> of −5\u202fcm\nand &lt;b&gt;5\u202fcm&lt;/b&gt;</p>\n" {
		t.Errorf("note: %q", got)
	}
	if got := typeset.Typed("−6.6\u202fcm at 5°, the pin’s"); got != "-6.6 cm at 5 deg, the pin's" {
		t.Errorf("typed: %q", got)
	}
}

// Steps of 1, 2 or 5, four to seven ticks, nought taken in where values come near.
func TestAxes(t *testing.T) {
	for _, c := range []struct{ low, high float64 }{{4.2, 4.32}, {0, 690}, {-63, 43}, {166, 183}, {.0021, .0094}, {-3e5, 8e5}, {5, 5}, {0, 0}, {-.4, .02}, {99, 101}} {
		s := draw.Axis([]float64{c.low, math.NaN(), c.high}, 6)
		step := s.Ticks[1] - s.Ticks[0]
		lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if s.Low > c.low || s.High < c.high || len(s.Ticks) < 3 || len(s.Ticks) > 8 || math.Abs(lead-1) > 1e-6 && math.Abs(lead-2) > 1e-6 && math.Abs(lead-5) > 1e-6 {
			t.Errorf("%g to %g: axis %g to %g by %g", c.low, c.high, s.Low, s.High, step)
		}
	}
	if s := draw.Axis([]float64{4.2, 4.32}, 6); s.Spans() != "axis 4.20 to 4.32" {
		t.Errorf("a cut axis says %q", s.Spans())
	}
	if s := draw.Axis([]float64{100, 690}, 6); s.Low != 0 || s.Spans() != "" {
		t.Errorf("an axis near nought begins at %g", s.Low)
	}
}

// Labels move apart as little as they have to, in their order, within the ends.
func TestApart(t *testing.T) {
	for _, c := range []struct{ in, want []float64 }{
		{[]float64{10, 100, 50}, []float64{10, 100, 50}},
		{[]float64{50, 50}, []float64{42.5, 57.5}},
		{[]float64{100, 101, 99}, []float64{100, 115, 85}},
		{[]float64{0, 1}, []float64{0, 15}},
		{[]float64{120, 119}, []float64{120, 105}},
	} {
		got := draw.Apart(c.in, 15, 0, 120)
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%v apart: %v, want %v", c.in, got, c.want)
				break
			}
		}
	}
}

// Lines nearly on top of each other get a second panel with their difference,
// others do not; a table of many panels becomes one drawing a quantity.
func TestDifferencePanel(t *testing.T) {
	var close *document.Figure
	for _, b := range comparisonDoc().Blocks {
		if f, ok := b.(*document.Figure); ok && f.Kind == figure.Curves {
			close = f
		}
	}
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
	if len(partsOf(close)) != 2 {
		t.Error("four panels stay in one drawing")
	}
	if apartLines := rowsOf(sweepDoc().Blocks[0].(*document.Figure)); differences(apartLines[0]) != nil {
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
	lines := levelLines(g, 7)
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
	f := &document.Figure{Kind: figure.Lines, Table: tableOf(numbers("outboard", "cm", 190, 192, 195, 200), numbers("speed", "m/s", 4.2, 4.25, 4.21, 4.3)), X: "outboard", Y: []string{"speed"}}
	pictures, err := Draw(f)
	if err != nil {
		t.Fatal(err)
	}
	rows := rowsOf(f)
	y := rows[0].axis(6)
	var ticks, marks []draw.Shape
	for _, s := range pictures[0].Shapes {
		switch {
		case s.Kind == draw.Words && s.Class == "t2 end" && (s.Text == y.Label(y.Low) || s.Text == y.Label(y.High)):
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

// The tape is in true proportion and says both lengths and the interval.
func TestTape(t *testing.T) {
	page := written(t, comparisonDoc())
	for _, want := range []string{"now 200.0\u202fcm", "new 193.4\u202fcm", "192.8 to 193.8\u202fcm, 95\u202f%", "The outboard is now 200.0\u202fcm; the new one is 193.4\u202fcm, between 192.8 and 193.8\u202fcm."} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Count(page, "On the tape</title>") != 2 { // wide and narrow
		t.Error("the tape is not drawn once, twice over")
	}
	if strings.Contains(written(t, sweepDoc()), "On the tape") {
		t.Error("a tape without a length to set")
	}
}

// A caption says when an axis does not begin at nought; a reference is ink.
func TestReferencesAreInk(t *testing.T) {
	curves := tableOf(texts("case", "as rowed", "as rowed", "perfect", "perfect"), numbers("angle", "deg", -60, 40, -60, 40), numbers("handle_speed", "m/s", 1, 2, 1.4, 3))
	f := &document.Figure{Kind: figure.Curves, Table: curves, X: "angle", Y: []string{"handle_speed"}, References: []string{"perfect"}}
	looks := map[string]draw.Series{}
	for _, c := range rowsOf(f)[0].facets[0].curves {
		looks[c.name] = c.look
	}
	if looks["as rowed"] != 0 || looks["perfect"] != draw.Reference {
		t.Errorf("looks: %v", looks)
	}
	if got := cutAxes(&document.Figure{Kind: figure.Lines, Table: tableOf(numbers("x", "", 1, 2), numbers("speed", "m/s", 4.2, 4.3)), X: "x", Y: []string{"speed"}}); got != "The axis of speed does not begin at 0." {
		t.Errorf("caption: %q", got)
	}
}

// The sentence of a figure is made from its data.
func TestSentence(t *testing.T) {
	tab := tableOf(numbers("outboard", "cm", 192, 204, 192, 204), numbers("wind", "m/s", 0, 0, 5, 5), numbers("heaviness", "N·s/m", 214, 231, 237, 256))
	got := Sentence(&document.Figure{Kind: figure.Lines, Table: tab, X: "outboard", Y: []string{"heaviness"}, By: "wind"})
	want := "From outboard 192 to 204 cm heaviness rises from 214 to 231 N·s/m at wind 0 and from 237 to 256 at wind 5: about 1.4 and 1.6 a cm."
	if got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// Pieces of two rigs take turns: neither line spans them all.
	turns := tableOf(texts("setting", "a", "b", "a", "b"), numbers("piece", "", 1, 2, 3, 4), numbers("pace", "s/500 m", 116.1, 118.2, 117.3, 120.4))
	got = Sentence(&document.Figure{Kind: figure.Lines, Table: turns, X: "piece", Y: []string{"pace"}, By: "setting"})
	want = "From the first to the last piece of each line pace rises from 116.1 to 117.3 s/500 m at setting a and from 118.2 to 120.4 at setting b."
	if got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// A caption speaks of pairs and a key only where there are any.
	one := &document.Figure{Kind: figure.Bars, Table: tableOf(texts("item", "air"), numbers("today", "J", 203))}
	if got := standing(one); strings.Contains(got, "key") {
		t.Errorf("one stroke: %q", got)
	}
	one.Table = tableOf(texts("item", "air"), numbers("today", "J", 203), numbers("longer", "J", 204))
	if got := standing(one); !strings.Contains(got, "key") {
		t.Errorf("two strokes: %q", got)
	}
	for name, doc := range allDocs() {
		for _, b := range doc.Blocks {
			f, ok := b.(*document.Figure)
			if !ok || emptiness(f) != "" && f.Kind != figure.Moving {
				continue
			}
			f.Sentence = ""
			if s := Sentence(f); strings.ContainsAny(s, typeset.Minus+typeset.Thin+"°’") || strings.Contains(s, "NaN") || s == "." {
				t.Errorf("%s, %s: a terminal would print %q", name, f.Kind, s)
			}
		}
	}
}
