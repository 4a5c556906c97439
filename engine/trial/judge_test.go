package trial

import (
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"thole/engine/table"
)

func pieces(t *testing.T, name string) *table.Table {
	t.Helper()
	data, err := os.ReadFile("../../testdata/studies/" + name)
	if err != nil {
		t.Fatal(err)
	}
	p, _, err := ReadTrial(name, data)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

func judge(t *testing.T, p *table.Table, s JudgeSettings) *Judgement {
	t.Helper()
	j, err := Judge(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, within)
	}
}

// sheet makes pieces by hand: settings, times over 500 m, and more columns.
func sheet(settings string, seconds []float64, more ...*table.Column) *table.Table {
	piece, setting := &table.Column{Name: "piece"}, &table.Column{Name: "setting", Kind: table.Text, Texts: strings.Fields(settings)}
	distance, time := &table.Column{Name: "distance", Unit: "m"}, &table.Column{Name: "time", Unit: "s", Nums: seconds}
	for i := range seconds {
		piece.Nums, distance.Nums = append(piece.Nums, float64(i+1)), append(distance.Nums, 500)
	}
	return &table.Table{Columns: append([]*table.Column{piece, setting, distance, time}, more...)}
}

func column(name string, x ...float64) *table.Column { return &table.Column{Name: name, Nums: x} }

var longShortNames = JudgeSettings{A: "long", B: "short"}

// The morning that agrees with itself too well: the numbers printed when the
// judgement was designed, to the decimals printed.
func TestTooGoodMorning(t *testing.T) {
	j := judge(t, pieces(t, "saturday_too_good.csv"), longShortNames)
	const printed = 0.0051 // half of the last decimal
	near(t, "difference", j.Difference.Value, 0.67, printed)
	near(t, "low", j.Difference.Low, 0.50, printed)
	near(t, "high", j.Difference.High, 0.83, printed)
	for i, want := range []float64{0.54, 0.80, 0.80, 0.62} {
		near(t, "pair", j.Pairs[i], want, printed)
	}
	near(t, "drift", j.Drift.Value, -0.12, printed)
	near(t, "drift low", j.Drift.Low, -0.20, printed)
	near(t, "drift high", j.Drift.High, -0.04, printed)
	near(t, "wind", j.Wind.Value, 0.19, printed)
	near(t, "wind low", j.Wind.Low, -0.68, printed)
	near(t, "wind high", j.Wind.High, 1.06, printed)
	near(t, "scatter", j.Scatter, 0.07, printed)
	if j.Degrees != 4 || j.Verdict != "short faster" || j.Chance < 0.99 || j.Drift.Verdict != "less" || j.Wind.Verdict != "cannot be told apart" {
		t.Errorf("degrees %d, verdict %q, chance %v, drift %v, wind %v", j.Degrees, j.Verdict, j.Chance, j.Drift, j.Wind)
	}
	if len(j.Cautions) != 1 || !strings.Contains(j.Cautions[0], "scatter by 0.07 %, crews by 0.9 %: too good") {
		t.Errorf("cautions: %q", j.Cautions)
	}
	if len(j.LeftOut) != 1 || !strings.Contains(j.LeftOut[0], "rate was 30 1/min throughout") {
		t.Errorf("left out: %q", j.LeftOut)
	}
}

func TestOrdinaryMorning(t *testing.T) {
	j := judge(t, pieces(t, "saturday.csv"), longShortNames)
	if j.Verdict != "cannot tell" || len(j.Cautions) != 0 || j.MorePieces < 10 {
		t.Errorf("verdict %q, cautions %q, more pieces %d", j.Verdict, j.Cautions, j.MorePieces)
	}
	// the more pieces are those that would do it: the plan says so of them
	all := float64(j.MorePieces + 4)
	chance := chanceToTell(math.Abs(j.Difference.Value), j.Scatter*math.Sqrt(2/all), degreesOf(int(2*all), 2), 1)
	if chance < wanted {
		t.Errorf("with %v a setting the chance is %.2f", all, chance)
	}
	// turned round, everything turns round
	back := judge(t, pieces(t, "saturday.csv"), JudgeSettings{A: "short", B: "long"})
	near(t, "turned", back.Difference.Value, -j.Difference.Value, 1e-12)
	near(t, "turned low", back.Difference.Low, -j.Difference.High, 1e-9)
	near(t, "chance", back.Chance, j.Chance, 1e-9)
	if back.Ahead != "short" || j.Ahead != "short" {
		t.Errorf("ahead: %q and %q", j.Ahead, back.Ahead)
	}
}

// Speeds made by hand from a difference, a drift and a wind come back exactly.
func TestExactMorning(t *testing.T) {
	settings := "long short short long short long long short"
	wind := []float64{1, 0.5, 1.5, 0.7, 1.9, 1.2, 0.3, 1.1}
	stream := []float64{0.1, -0.1, 0.2, 0, 0.05, -0.2, 0.1, 0.15}
	var seconds []float64
	for i, s := range strings.Fields(settings) {
		v := 1.5 - 0.10/100*float64(i) - 1.8/100*wind[i]
		if s == "short" {
			v += 0.42 / 100
		}
		seconds = append(seconds, 500/(math.Exp(v)+stream[i]))
	}
	j := judge(t, sheet(settings, seconds, column("wind", wind...), column("stream", stream...)), longShortNames)
	near(t, "difference", j.Difference.Value, 0.42, 1e-9)
	near(t, "drift", j.Drift.Value, -0.10, 1e-9)
	near(t, "wind", j.Wind.Value, -1.8, 1e-9)
	if j.Verdict != "short faster" || !strings.Contains(strings.Join(j.Says, "\n"), "stream") {
		t.Errorf("verdict %q, says %q", j.Verdict, j.Says)
	}
}

// A wind that rises piece by piece cannot be told from the drift: the model's own
// effect stands in, and its doubt goes into the drift.
func TestWindHandInHandWithDrift(t *testing.T) {
	seconds := []float64{112.6, 111.4, 112.7, 112.9, 112.3, 113.9, 112.6, 112.4}
	wind := column("wind", 1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7)
	j := judge(t, sheet("long short short long short long long short", seconds, wind), longShortNames)
	at := slices.IndexFunc(j.Effects, func(e Effect) bool { return e.Name == "wind" })
	if at < 0 || !j.Effects[at].Model || j.Degrees != 5 {
		t.Fatalf("effects %+v, degrees %d", j.Effects, j.Degrees)
	}
	said := strings.Join(j.Says, "\n")
	if !strings.Contains(said, "hand in hand with the order rowed") || !strings.Contains(said, "model's own effect of wind stands in") {
		t.Errorf("says %q", j.Says)
	}
	// without any wind column the difference is the same, for ABBA BAAB sees
	// neither; the drift's own interval is narrower, for nobody doubted it
	bare := judge(t, sheet("long short short long short long long short", seconds), longShortNames)
	near(t, "difference", j.Difference.Value, bare.Difference.Value, 0.02) // the effect of wind is not quite straight
	if j.Drift.High-j.Drift.Low <= bare.Drift.High-bare.Drift.Low {
		t.Errorf("drift %v with doubt, %v without", j.Drift, bare.Drift)
	}
	if !strings.Contains(strings.Join(bare.Cautions, "\n"), "no wind was written down") {
		t.Errorf("cautions %q", bare.Cautions)
	}
}

// The model's own effect of wind lies between the model's boats and the
// published tables (wind newsletter 2009): 5 m/s ahead −7.8 to −17.4 %, astern
// +3.3 to +7.5 %.
func TestWindOwn(t *testing.T) {
	for _, c := range []struct{ wind, low, high float64 }{{5, -17.4, -7.8}, {-5, 3.3, 7.5}} {
		if got := 100 * (windFactor(c.wind/5) - 1); got < c.low || got > c.high {
			t.Errorf("wind %v: %+.1f %%", c.wind, got)
		}
	}
	near(t, "still air", windFactor(0), 1, 1e-12)
	for _, w := range []float64{-8, -2, 0.5, 3, 10} { // a second route: bisection
		near(t, "wind", windFactor(w/4.5), inWind(w/4.5, airShare), 1e-9)
	}
}

// Each setting rowed one way only: nothing can be told, whatever the numbers.
func TestOneWayEach(t *testing.T) {
	seconds := []float64{112.6, 109.4, 109.7, 112.9, 109.3, 112.8, 112.6, 109.4}
	way := &table.Column{Name: "way", Kind: table.Text, Texts: strings.Fields("out back back out back out out back")}
	j := judge(t, sheet("long short short long short long long short", seconds, way), longShortNames)
	if j.Verdict != "cannot tell" || !strings.Contains(strings.Join(j.Cautions, "\n"), "one way only") {
		t.Errorf("verdict %q, cautions %q", j.Verdict, j.Cautions)
	}
	// crossed, the way is taken out: 3 % of it, and no difference is left
	crossed := &table.Column{Name: "way", Kind: table.Text, Texts: strings.Fields("out back out back out back out back")}
	seconds = []float64{112.6, 109.3, 112.8, 109.4, 112.6, 109.4, 112.7, 109.3}
	j = judge(t, sheet("long short short long short long long short", seconds, crossed), longShortNames)
	if i := slices.IndexFunc(j.Effects, func(e Effect) bool { return e.Name == "way" }); i < 0 || math.Abs(j.Effects[i].Estimate.Value+3) > 0.1 {
		t.Errorf("effects %+v", j.Effects)
	}
}

// A spoiled piece is shown, with the judgement without it, and kept.
func TestOddPiece(t *testing.T) {
	settings := "long short short long short long long short long short short long"
	seconds := []float64{112.6, 111.9, 112.1, 112.9, 112.2, 113.1, 119.0, 112.3, 113.2, 112.5, 112.7, 113.3}
	j := judge(t, sheet(settings, seconds), longShortNames)
	if len(j.Odd) != 1 || j.Odd[0].Piece != 7 {
		t.Fatalf("odd %+v", j.Odd)
	}
	o := j.Odd[0]
	near(t, "off", o.Off, 100*math.Log(113.0/119), 0.4)
	if o.Verdict != "short faster" || o.Without.High-o.Without.Low > (j.Difference.High-j.Difference.Low)/4 {
		t.Errorf("without %v (%s), with %v (%s)", o.Without, o.Verdict, j.Difference, j.Verdict)
	}
	if !strings.Contains(strings.Join(j.Cautions, "\n"), "piece 7 stands") {
		t.Errorf("cautions %q", j.Cautions)
	}
	marks := j.Figure.Column("odd").Texts
	if marks[3] != "odd" || marks[0] != "" {
		t.Errorf("figure marks %q", marks)
	}
}

// Three rigs: every two of them, the intervals widened so that all hold at once.
func TestThreeRigs(t *testing.T) {
	const mornings = 400
	together, one := 0, 0
	order := orderOf([]string{"a", "b", "c"}, 12, 5)
	for m := range mornings {
		p := rowMorning(morning{order: order, error: 0.6, drift: -0.1, seed: uint64(m)})
		j := judge(t, p, JudgeSettings{A: "a", B: "b"})
		if j.All == nil || j.All.Len() != 3 {
			t.Fatalf("three settings, %v", j.All)
		}
		held := true
		for _, e := range j.All.Column("difference").Estimates {
			held = held && e.Low <= 0 && 0 <= e.High
		}
		if held {
			together++
		}
		if j.Difference.Low <= 0 && 0 <= j.Difference.High {
			one++
		}
	}
	// at least 95 % together (Bonferroni is a little too wide), 95 % the one asked
	// for; three standard errors of 400
	const slack = 0.033
	if share := float64(together) / mornings; share < 0.95-slack {
		t.Errorf("all three hold in %.3f of mornings", share)
	}
	if share := float64(one) / mornings; math.Abs(share-0.95) > slack {
		t.Errorf("the one asked for holds in %.3f of mornings", share)
	}
}

// Water and model beside each other, and together only where asked.
func TestAgreement(t *testing.T) {
	p := pieces(t, "saturday_too_good.csv")
	said := func(low, high float64) *table.Estimate {
		return &table.Estimate{Value: (low + high) / 2, Low: low, High: high, Unit: "%"}
	}
	j := judge(t, p, JudgeSettings{A: "long", B: "short", Predicted: said(0.4, 0.8)})
	if !strings.Contains(j.Agreement, "came out as the model said") || j.Combined != nil {
		t.Errorf("%q, combined %v", j.Agreement, j.Combined)
	}
	j = judge(t, p, JudgeSettings{A: "long", B: "short", Predicted: said(-0.6, -0.4)})
	if !strings.Contains(j.Agreement, "did not come out") {
		t.Errorf("%q", j.Agreement)
	}
	j = judge(t, pieces(t, "saturday.csv"), JudgeSettings{A: "long", B: "short", Predicted: said(0.1, 0.3), Combine: true})
	if !strings.Contains(j.Agreement, "do not contradict") {
		t.Errorf("%q", j.Agreement)
	}
	e := j.Combined
	if e == nil || e.Low < 0.1-0.02 || e.High > 0.3+0.02 || e.High-e.Low > 0.21 {
		t.Errorf("combined %v: the model's own ±0.1 outweighs the water's ±1.5", e)
	}
	if !strings.Contains(strings.Join(j.Says, "\n"), "as asked") {
		t.Errorf("says %q", j.Says)
	}
}

// Capitals and blanks do not make another rig.
func TestSpellingOfSettings(t *testing.T) {
	seconds := []float64{112.6, 111.4, 112.7, 112.9, 112.3, 113.9}
	plain := judge(t, sheet("long short short long short long", seconds), longShortNames)
	mixed := judge(t, sheet("long Short short LONG SHORT Long", seconds), JudgeSettings{A: " Long", B: "short"})
	near(t, "difference", mixed.Difference.Value, plain.Difference.Value, 0)
	if mixed.All != nil || mixed.A != "long" || mixed.B != "Short" {
		t.Errorf("a %q, b %q, all %v", mixed.A, mixed.B, mixed.All)
	}
}

func TestJudgeRefuses(t *testing.T) {
	four := []float64{112.6, 111.4, 112.7, 112.9}
	for name, c := range map[string]struct {
		table *table.Table
		a, b  string
		says  string
	}{
		"one rig":     {sheet("long long long long", four), "long", "short", `all pieces were rowed with "long"`},
		"wrong name":  {sheet("long short short long", four), "long", "shrt", `no piece was rowed with b="shrt"`},
		"a slip":      {sheet("long short shrot long short long", append(four, 112, 113)), "long", "short", `piece 3: setting "shrot" is neither`},
		"same":        {sheet("long short short long", four), "long", "long", `a and b are both "long"`},
		"two pieces":  {sheet("long short", four[:2]), "long", "short", "cannot be judged"},
		"three":       {sheet("long short long", four[:3]), "long", "short", "cannot be judged"},
		"no time":     {sheet("long short short long", []float64{112, nan, 112, 113}), "long", "short", "piece 2 has no time"},
		"mixed units": {sheet("long short short long", []float64{112, 1.87, 112, 113}), "long", "short", "267"},
		"no column":   {&table.Table{Columns: []*table.Column{column("piece", 1)}}, "a", "b", "no column"},
		"way":         {sheet("long short short long", four, &table.Column{Name: "way", Kind: table.Text, Texts: []string{"out", "home", "out", "back"}}), "long", "short", `way is "home"`},
	} {
		_, err := Judge(c.table, JudgeSettings{A: c.a, B: c.b})
		var e *table.Error
		if !errors.As(err, &e) || e.Why == "" || e.Type == "" || !strings.Contains(e.What, c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The three ways to write a time, and what is none.
func TestTimes(t *testing.T) {
	for text, want := range map[string]float64{"112.3": 112.3, "112,3": 112.3, "1:52.3": 112.3, "1:52,3": 112.3, "0:01:52,3": 112.3, "0:01:52.3": 112.3, " 01:52 ": 112, "1:02:03": 3723} {
		got, err := parseTime(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		}
		near(t, text, got, want, 1e-9)
	}
	for _, text := range []string{"1:72", "1.52.3", "1:52:30:1", "fast", "1e2", "-5", "1:-2", "1:2.5:3", "112.3s", "0x10", "1:", ":5", "."} {
		if got, err := parseTime(text); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

// A sheet as a spreadsheet saves it, with semicolons and decimal commas; and
// mistakes told by row and column.
func TestReadTrial(t *testing.T) {
	text := "Piece;Setting;Distance (m);Time;Rate;Wind (km/h);Remarks\n1;long;500;1:52,6;30;3,6;\n2;short;500;0:01:51,4;30,5;;seat squeaks\n"
	got, notes, err := ReadTrial("s.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Column("time").Nums; s[0] != 112.6 || s[1] != 111.4 {
		t.Errorf("times %v", s)
	}
	if w := got.Column("wind").Nums; math.Abs(w[0]-1) > 1e-12 || !math.IsNaN(w[1]) {
		t.Errorf("wind %v", w)
	}
	if got.Column("remarks").Texts[1] != "seat squeaks" || len(notes) == 0 {
		t.Errorf("remarks %q, notes %q", got.Column("remarks").Texts, notes)
	}
	head := "piece,setting,distance (m),time (s)\n1,long,500,112.6\n"
	for name, c := range map[string]struct {
		text      string
		what      string
		line, col int
	}{
		"missing time": {head + "2,short,500,\n", "piece 2 has no time", 3, 1},
		"bad time":     {head + "2,short,500,1:72\n", `"1:72" is no time`, 3, 13},
		"minutes":      {head + "2,short,500,1.87\n", "piece 2: 500 m in 1.87 s", 3, 13},
		"twice":        {head + "1,short,500,111.4\n", "piece 1 stands twice", 3, 1},
		"no setting":   {head + "2,,500,111.4\n", "piece 2 has no setting", 3, 1},
		"no number":    {head + ",short,500,111.4\n", "line 2 has no piece number", 3, 1},
	} {
		_, _, err := ReadTrial("s.csv", []byte(c.text))
		var e *table.Error
		if !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !strings.Contains(e.What, c.what) || e.File != "s.csv" || e.Line != c.line || e.Col != c.col || e.Why == "" || e.Type == "" {
			t.Errorf("%s: %+v", name, *e)
		}
	}
	if _, _, err := ReadTrial("s.csv", []byte("piece,setting,distance (m)\n1,long,500\n")); err == nil || !strings.Contains(err.Error(), "time") {
		t.Errorf("no time column: %v", err)
	}
}

// Pieces without any scatter whose wind goes hand in hand with the setting: what
// is left is the doubt of the model's own wind, and it has ends.
func TestNoScatterHasEndsAllTheSame(t *testing.T) {
	for _, c := range []contrast{{value: 0.7, error: 1e-15, fixed: 0.054, degrees: 4}, {value: 0.7, error: 0.3, fixed: 1e-16, degrees: 4}} {
		want := studentT(0.975, c.degrees)*c.error + 1.959964*c.fixed
		if got := c.halfWidth(0.975); math.Abs(got-want) > 1e-6 {
			t.Errorf("%+v: half width %v, want %v", c, got, want)
		}
	}
}
