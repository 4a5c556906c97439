package main

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

// What is drawn in a window is held by files in testdata; they were read by eye
// beside the design before they were kept. -update writes them anew.
var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, name string, lines []string) {
	t.Helper()
	var b strings.Builder
	for _, line := range lines {
		b.WriteString(strings.TrimRight(painted(line, false), " ") + "\n")
	}
	path := filepath.Join("testdata", "window", name+".txt")
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), b.String()); diff != "" {
		t.Errorf("%s: %s", name, diff)
	}
}

// fits holds that nothing is wider than its window.
func fits(t *testing.T, w Window, lines []string) {
	t.Helper()
	for _, line := range lines {
		if n := wide(strings.TrimRight(line, " ")); n > w.Width {
			t.Errorf("%d columns in a window of %d: %q", n, w.Width, line)
		}
	}
}

func strokeCard() *document.Card {
	c := &document.Card{Title: "calm", Side: "1x, 84 kg, 32/min, no wind, water 15 °C",
		Foot: []string{"work 712 J a stroke: water 71 %, blade 20 %, air 8 %, oar 1 %", "oar 288 / 88 cm, scull hatchet 820 cm² x 46 cm; usual style; power held"}}
	for _, f := range []string{"speed 4.288 m/s", "split 1:56.6 /500_m", "time_2000 7:46.4", "rate 32.0 1/min", "drive_time 0.90 s", "recovery_time 0.97 s", "rhythm 1.08", "stroke_length 8.04 m", "travel 3.45 m", "power 380 W", "handle_power 322 W", "effort 1159 N", "heaviness 225 N·s/m", "peak_force 689 N", "mean_force 389 N", "early_load 525 N", "peak_pin_force 503 N", "slip 55 cm", "blade_efficiency 0.767", "hull_efficiency 0.950", "min_speed 3.319 m/s", "max_speed 5.124 m/s", "catch 63.0 deg", "finish 43.0 deg", "arc 106.0 deg", "outboard 200.0 cm", "inboard 88.0 cm"} {
		parts := append(strings.Fields(f), "")
		c.Items = append(c.Items, document.Item{Label: parts[0], Value: parts[1], Unit: strings.ReplaceAll(parts[2], "_", " ")})
	}
	return c
}

func TestCards(t *testing.T) {
	oar := &document.Card{Title: "oar", Side: "288 / 88 cm, scull", Items: []document.Item{
		{Label: "outboard", Value: "200", Unit: "cm", Remark: "pin to blade centre 175.0, pin to hands 84.0"},
		{Label: "hand_weight", Value: "9.1", Unit: "N", Remark: "swing_weight 1.43 kg·m², from 1.45 kg (usual)"},
		{Label: "lever_ratio", Value: "2.27", Remark: "outboard / inboard"},
		{Label: "effective_ratio", Value: "2.08", Remark: "pin to blade centre / pin to hands; at 60 deg 4.17"},
		{Label: "overlap", Value: "21.0", Unit: "cm", Remark: "gates counted (+4); pin to pin 17.0"},
	}}
	judged := &document.Card{Title: "short faster", Side: "8 pieces of 500 m, 4 a setting", Items: []document.Item{
		{Label: "difference", Remark: "+0.67 % of speed (95 % +0.50 to +0.83), short against long"},
		{Label: "worth it", Remark: "more than 0.3 %: chance over 0.99"},
		{Label: "wind", Remark: "+0.19 % for each m/s (-0.68 to +1.06): cannot be told apart"},
	}}
	for _, c := range []struct {
		name string
		w    Window
		card *document.Card
	}{
		{"card_judge_80", Window{Width: 80}, judged},
		{"card_100", Window{Width: 100}, strokeCard()},
		{"card_80", Window{Width: 80}, strokeCard()},
		{"card_50", Window{Width: 50}, strokeCard()},
		{"card_80_plain", Window{Width: 80, Plain: true}, strokeCard()},
		{"card_oar_80", Window{Width: 80}, oar},
		{"card_oar_60", Window{Width: 60}, oar},
	} {
		lines := c.w.card(c.card)
		fits(t, c.w, lines)
		golden(t, c.name, lines)
	}
}

func bestOutboards() *table.Table {
	num := func(name, unit string, digits int, cells ...float64) *table.Column {
		c := table.NewColumn(name, unit, table.Number)
		c.Digits, c.Nums = digits, cells
		return c
	}
	return &table.Table{Columns: []*table.Column{
		num("blade_length", "", table.AutoDigits, 42, 42, 42, 46, 46, 46),
		num("area", "", table.AutoDigits, 860, 820, 780, 860, 820, 780),
		num("outboard", "cm", 1, 199, 200, 200, 201, 201, 201),
		num("speed", "m/s", 3, 5.0371, 5.0322, 5.0251, 5.0233, 5.0169, 5.0101),
		num("drive_time", "s", 2, 0.8062, 0.8081, 0.8059, 0.8092, math.NaN(), 0.8052),
	}}
}

// comparison is made like the engine's: unlike quantities in one column, a
// change as an estimate.
func comparison() *table.Table {
	quantity, unit := table.NewColumn("quantity", "", table.Text), table.NewColumn("unit", "", table.Text)
	before, after := table.NewColumn("before", "", table.Number), table.NewColumn("after", "", table.Number)
	change, percent := table.NewColumn("change", "", table.Measured), table.NewColumn("percent", "", table.Number)
	low, high := table.NewColumn("low", "", table.Number), table.NewColumn("high", "", table.Number)
	verdict := table.NewColumn("verdict", "", table.Text)
	percent.Digits = 1
	for _, q := range []struct {
		name, unit                   string
		digits, changeDigits         int
		before, after, ch, low, high float64
		percent                      float64
		verdict                      string
	}{
		{"outboard", "cm", 1, 1, 200, 193.4, -6.6, -7.2, -6.2, -3.3, "clearly less"},
		{"speed", "m/s", 3, 3, 4.237, 4.277, 0.039, 0.038, 0.042, 0.9, "clearly more"},
		{"split", "s/500 m", 1, 2, 118, 116.9, -1.09, -1.19, -1.02, -0.9, "clearly less"},
		{"heaviness", "N·s/m", 1, 1, 220.2, 217.1, -3.2, -3.4, -3.0, -1.4, "clearly less"},
		{"peak_force", "N", 0, 1, 686, 689, 2.3, 1.7, 3.3, 0.3, "too small to matter"},
		{"effort", "N", 0, 1, 1182, 1186, 2.8, 1.9, 4.1, 0.2, "too small to matter"},
		{"blade_efficiency", "", 3, 3, 0.739, 0.762, 0.022, 0.022, 0.023, 3.0, "clearly more"},
	} {
		quantity.Texts, unit.Texts = append(quantity.Texts, q.name), append(unit.Texts, q.unit)
		before.Nums, after.Nums = append(before.Nums, q.before), append(after.Nums, q.after)
		before.Places, after.Places = append(before.Places, q.digits), append(after.Places, q.digits)
		change.Estimates = append(change.Estimates, &table.Estimate{Value: q.ch, Low: q.low, High: q.high, Unit: q.unit, Digits: q.changeDigits, Signed: true, Verdict: q.verdict})
		percent.Nums = append(percent.Nums, q.percent)
		low.Nums, high.Nums = append(low.Nums, q.low), append(high.Nums, q.high)
		verdict.Texts = append(verdict.Texts, q.verdict)
	}
	return &table.Table{Columns: []*table.Column{quantity, unit, before, after, change, percent, low, high, verdict}}
}

func TestTables(t *testing.T) {
	plan := &table.Table{WriteIn: true, Columns: []*table.Column{
		{Name: "piece", Nums: []float64{1, 2}}, {Name: "setting", Kind: table.Text, Texts: []string{"long", "short"}},
		{Name: "distance", Unit: "m", Digits: 1, Nums: []float64{500, 500}},
		{Name: "time", Unit: "s", Digits: 1, Nums: []float64{math.NaN(), math.NaN()}},
		{Name: "rate", Unit: "1/min", Digits: 1, Nums: []float64{math.NaN(), math.NaN()}},
		{Name: "wind", Unit: "m/s", Digits: 1, Nums: []float64{math.NaN(), math.NaN()}},
		{Name: "remarks", Kind: table.Text, Texts: []string{"", ""}},
	}}
	long := &table.Table{Columns: []*table.Column{{Name: "angle", Unit: "deg", Digits: 1}, {Name: "reason", Kind: table.Text}}}
	for i := range 20 {
		long.Columns[0].Nums = append(long.Columns[0].Nums, float64(i)/2)
		long.Columns[1].Texts = append(long.Columns[1].Texts, "")
	}
	reasons := &table.Table{Columns: []*table.Column{{Name: "power", Unit: "W", Nums: []float64{160, 180}}, {Name: "speed", Unit: "m/s", Digits: 3, Nums: []float64{math.NaN(), 3.9}},
		{Name: "reason", Kind: table.Text, Texts: []string{"the drive would take 1.30 s of a 1.58 s stroke: too little is left to come forward, a fifth is the least", ""}}}}
	only, err := comparison().Only("quantity", "unit", "before", "after", "change", "verdict")
	if err != nil {
		t.Fatal(err)
	}
	once, err := comparison().Only("quantity", "unit", "before", "after", "percent")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		w       Window
		table   *table.Table
		cutting Cutting
	}{
		{"table_best_80", Window{Width: 80}, bestOutboards(), Cutting{}},
		{"table_best_40", Window{Width: 40}, bestOutboards(), Cutting{}},
		{"table_compare_120", Window{Width: 120}, comparison(), Cutting{}},
		{"table_compare_100", Window{Width: 100}, comparison(), Cutting{}},
		{"table_compare_80", Window{Width: 80}, only, atPrompt},
		{"table_compare_60_plain", Window{Width: 60, Plain: true}, comparison(), Cutting{}},
		{"table_once_80", Window{Width: 80}, once, atPrompt},
		{"table_plan_80", Window{Width: 80}, plan, Cutting{}},
		{"table_long_prompt", Window{Width: 80}, long, atPrompt},
		{"table_long_run", Window{Width: 80}, long, Cutting{Head: 5, Tail: 2, More: "long.csv"}},
		{"table_reasons_60", Window{Width: 60}, reasons, Cutting{}},
		{"table_empty", Window{Width: 60}, &table.Table{Columns: []*table.Column{{Name: "crew", Kind: table.Text}}}, Cutting{}},
	} {
		lines := c.w.table(c.table, c.cutting)
		fits(t, c.w, lines)
		golden(t, c.name, lines)
	}
}

// heavinessByWind is the sweep of the design's chart: heaviness over outboard,
// calm and into 5 m/s.
func heavinessByWind() *document.Figure {
	t := &table.Table{Columns: []*table.Column{table.NewColumn("outboard", "cm", table.Number), table.NewColumn("wind", "m/s", table.Number), table.NewColumn("heaviness", "N·s/m", table.Number)}}
	for o := 192.0; o <= 204; o += 2 {
		for _, wind := range []float64{0, 5} {
			t.Columns[0].Nums = append(t.Columns[0].Nums, o)
			t.Columns[1].Nums = append(t.Columns[1].Nums, wind)
			t.Columns[2].Nums = append(t.Columns[2].Nums, 214+1.42*(o-192)+wind*4.6+wind*0.03*(o-192))
		}
	}
	return &document.Figure{Kind: figure.Lines, Name: "heaviness", Table: t, X: "outboard", Y: []string{"heaviness"}, By: "wind",
		Sentence: "From outboard 192 to 204 cm heaviness rises from 214 to 231 N·s/m at wind 0 and from 237 to 256 at wind 5: about 1.4 and 1.6 a cm."}
}

func TestCharts(t *testing.T) {
	gap := heavinessByWind()
	gap.Table.Column("heaviness").Nums[6] = math.NaN()
	panels := heavinessByWind()
	panels.By, panels.Panel = "", "wind"
	curve := &document.Figure{Kind: figure.Curves, X: "angle", Y: []string{"handle_force"}, Sentence: "The pull peaks at 689 N."}
	curve.Table = &table.Table{Columns: []*table.Column{table.NewColumn("case", "", table.Text), table.NewColumn("angle", "deg", table.Number), table.NewColumn("handle_force", "N", table.Number)}}
	for k, name := range []string{"now", "broad"} {
		for a := -63.0; a <= 43; a++ {
			phi := (a + 63) / 106
			curve.Table.Columns[0].Texts = append(curve.Table.Columns[0].Texts, name)
			curve.Table.Columns[1].Nums = append(curve.Table.Columns[1].Nums, a)
			curve.Table.Columns[2].Nums = append(curve.Table.Columns[2].Nums, (689+float64(10*k))*math.Sin(math.Pi*math.Pow(phi, 0.7)))
		}
	}
	named := &document.Figure{Kind: figure.Lines, X: "set", Y: []string{"speed"}, Table: &table.Table{Columns: []*table.Column{
		{Name: "set", Kind: table.Text, Texts: []string{"long", "short", "middle"}}, {Name: "speed", Unit: "m/s", Digits: 3, Nums: []float64{5.01, 5.03, 5.04}}}}}
	blank := &document.Figure{Kind: figure.Lines, X: "x", Y: []string{"y"}, Table: &table.Table{Columns: []*table.Column{{Name: "x", Nums: []float64{1, 2}}, {Name: "y", Nums: []float64{math.NaN(), math.NaN()}}}}}
	energy := &document.Figure{Kind: figure.Bars, Table: &table.Table{Columns: []*table.Column{
		{Name: "item", Kind: table.Text, Texts: []string{"hands", "body", "water", "blade", "air", "oar"}},
		{Name: "side", Kind: table.Text, Texts: []string{"what the rower puts in", "what the rower puts in", "where it goes", "where it goes", "where it goes", "where it goes"}},
		{Name: "now", Unit: "J", Nums: []float64{640, 72, 505, 142, 57, 8}}, {Name: "broad", Unit: "J", Nums: []float64{640, 72, 520, 127, 57, 8}}}}}
	for _, c := range []struct {
		name string
		w    Window
		fig  *document.Figure
	}{
		{"chart_80", Window{Width: 80}, heavinessByWind()},
		{"chart_80_plain", Window{Width: 80, Plain: true}, heavinessByWind()},
		{"chart_60", Window{Width: 60}, heavinessByWind()},
		{"chart_gap", Window{Width: 80}, gap},
		{"chart_panels", Window{Width: 80}, panels},
		{"chart_curves", Window{Width: 100}, curve},
		{"chart_names", Window{Width: 80}, named},
		{"chart_blank", Window{Width: 80}, blank},
		{"chart_energy", Window{Width: 80}, energy},
		{"heat_80", Window{Width: 80}, slipMap()},
		{"path_80", Window{Width: 80}, pathFigure()},
		{"path_80_plain", Window{Width: 80, Plain: true}, pathFigure()},
		{"path_50", Window{Width: 50}, pathFigure()},
	} {
		lines := c.w.figure(c.fig)
		fits(t, c.w, lines)
		golden(t, c.name, lines)
	}
}

// pathFigure has paths in the shape of real ones: the boat travels under the
// turning oar, some 3.4 m in a drive.
func pathFigure() *document.Figure {
	path := func(name string, travel, drive float64, reference bool) document.Path {
		p := document.Path{Name: name, Reference: reference}
		at := func(f float64) (x, y float64) {
			angle := (63 - 106*f) * math.Pi / 180
			return travel*f + 175*math.Sin(angle), 175 * math.Cos(angle)
		}
		for k := range 12 {
			x, y := at(float64(k) / 11)
			p.CentreX, p.CentreY = append(p.CentreX, x), append(p.CentreY, y)
			p.Time = append(p.Time, drive*float64(k)/11)
		}
		for k := range 200 {
			x, y := at(float64(k) / 199)
			p.FineX, p.FineY = append(p.FineX, x), append(p.FineY, y)
		}
		return p
	}
	return &document.Figure{Kind: figure.Paths, Paths: []document.Path{path("calm", 335, 0.90, false), path("perfect grip", 395, 1.01, true)},
		Sentence: "calm: the blade goes back through the water by 21 cm, from 29 deg before square to 19 after, and leaves it 70 cm ahead of where it went in; with a perfect grip 120 cm, never backward, and the drive takes 0.11 s longer."}
}

// slipMap is a map of nine strips over the arc.
func slipMap() *document.Figure {
	t := &table.Table{Columns: []*table.Column{table.NewColumn("angle", "deg", table.Number), table.NewColumn("strip", "cm", table.Number), table.NewColumn("slip_speed", "m/s", table.Number)}}
	for strip := 0.0; strip < 45; strip += 5 {
		for angle := -62.0; angle <= 43; angle++ {
			t.Columns[0].Nums = append(t.Columns[0].Nums, angle)
			t.Columns[1].Nums = append(t.Columns[1].Nums, strip)
			t.Columns[2].Nums = append(t.Columns[2].Nums, (angle+20)/40+strip/60)
		}
	}
	return &document.Figure{Kind: figure.Heat, Table: t, X: "angle", Y: []string{"strip"}, Z: "slip_speed"}
}

// Whatever the window, nothing is wider than it.
func TestEveryWidthHolds(t *testing.T) {
	for width := 40; width <= 140; width++ {
		for _, plain := range []bool{false, true} {
			w := Window{Width: width, Plain: plain}
			fits(t, w, w.card(strokeCard()))
			fits(t, w, w.table(comparison(), Cutting{}))
			fits(t, w, w.table(bestOutboards(), atPrompt))
			fits(t, w, w.figure(heavinessByWind()))
			fits(t, w, w.figure(pathFigure()))
			fits(t, w, w.figure(slipMap()))
			fits(t, w, w.told(outboardRun()))
		}
	}
}
