package builtins

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/builtins/session"
	"thole/engine/document"
)

// folder serves the files of a directory to a study.
type folder string

func (f folder) ReadFile(name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(string(f), name))
}

// runIn runs a text as a study in a directory, with parameters set.
func runIn(dir, text string, set map[string]string) *session.Outcome {
	return session.Run(context.Background(), "study.star", []byte(text), session.Config{Library: Library(), Files: folder(dir), Set: set, Jobs: 2})
}

// studied runs a file of testdata/studies and fails where it has errors.
func studied(t *testing.T, name string, set map[string]string) *session.Outcome {
	t.Helper()
	dir := filepath.Join("..", "testdata", "studies")
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	o := runIn(dir, string(text), set)
	for _, m := range o.Errors {
		t.Fatalf("%s: %s\n%s\n%s", name, m.Error(), m.Why, m.Type)
	}
	return o
}

// cardTitled finds a card by its title.
func cardTitled(t *testing.T, d *document.Document, title string) *document.Card {
	t.Helper()
	for _, b := range d.Blocks {
		if s, ok := b.(*document.Shown); ok && s.Card != nil && s.Card.Title == title {
			return s.Card
		}
	}
	t.Fatalf("no card %q is shown", title)
	return nil
}

func remark(c *document.Card, label string) string {
	for _, it := range c.Items {
		if it.Label == label {
			return it.Remark
		}
	}
	return ""
}

func TestTrialStudyBefore(t *testing.T) {
	d := studied(t, "f_trial.star", nil).Document
	if !strings.Contains(d.Answer, "Row the 8 pieces in the order below") {
		t.Errorf("answer %q", d.Answer)
	}
	for _, b := range d.Blocks {
		if s, ok := b.(*document.Shown); ok && s.Table != nil && s.Name == "order of pieces" {
			if !s.Table.WriteIn || s.Side == "" || len(s.Foot) != 3 || s.Foot[1] != "For a chance of 0.80: 24 pieces a setting." {
				t.Errorf("sheet: side %q, foot %q", s.Side, s.Foot)
			}
			return
		}
	}
	t.Error("no order of pieces is shown")
}

func TestTrialStudyAfter(t *testing.T) {
	for file, want := range map[string]struct{ answer, caution, title string }{
		"saturday.csv":          {"Saturday cannot tell long from short (+0.60 %", "", "cannot tell"},
		"saturday_too_good.csv": {"Saturday says short faster: +0.67 % (95 % +0.50 to +0.83), worth having with a chance of over 0.99.", "too good", "short faster"},
	} {
		d := studied(t, "f_trial.star", map[string]string{"pieces": file}).Document
		if !strings.Contains(d.Answer, want.answer) {
			t.Errorf("%s: answer %q", file, d.Answer)
		}
		card := cardTitled(t, d, want.title)
		var cautions []string
		for _, c := range d.Cautions {
			cautions = append(cautions, c.Text)
		}
		if said := strings.Join(cautions, "\n"); !strings.Contains(said, want.caution) {
			t.Errorf("%s: cautions %q", file, cautions)
		}
		if want.title == "short faster" {
			if got := remark(card, "wind"); got != "+0.19 % for each m/s (-0.68 to +1.06): cannot be told apart" {
				t.Errorf("wind %q", got)
			}
			if got := remark(card, "pairs"); got != "+0.54  +0.80  +0.80  +0.62 %" {
				t.Errorf("pairs %q", got)
			}
		}
	}
}

func TestCalibrateStudy(t *testing.T) {
	o := studied(t, "g_calibrate.star", nil)
	if !strings.HasPrefix(o.Document.Answer, "Two centimetres less: 1.3 % (95 % 1.2 to 1.3)") {
		t.Errorf("answer %q", o.Document.Answer)
	}
	card := cardTitled(t, o.Document, "fit")
	if got := remark(card, "power"); got != "373 W (95 % 362 to 384)" {
		t.Errorf("power %q", got)
	}
	var said []string
	for _, c := range o.Document.Cautions {
		said = append(said, c.Text)
	}
	for _, name := range []string{"grip", "air"} { // one speed in one wind, and a force curve read to 4 %
		if !strings.Contains(strings.Join(said, "\n"), "do not settle "+name) {
			t.Errorf("%s counts as settled: %q", name, said)
		}
	}
	said = nil
	for _, r := range o.Remarks {
		said = append(said, r.What)
	}
	if !strings.Contains(strings.Join(said, "\n"), "piece 1 from 0:58: 1307 m in 5:21.0") {
		t.Errorf("remarks %q", said)
	}
}

// The words of a trial in the language: what each gives, and what a mistake gets.
func TestTrialWords(t *testing.T) {
	const start = `
usual = row(hull("1x"), crew(mass=84, power=360, rate=31, catch=62, finish=42), oar(length=288, inboard=88, blade="scull hatchet"))
def morning(names, times):
    return table([{"piece (-)": i + 1, "setting": s, "distance (m)": 500, "time (s)": times[i]} for i, s in enumerate(names)])
abba = ["a", "b", "b", "a", "b", "a", "a", "b"]
times = [112.6, 111.4, 112.7, 112.9, 112.3, 113.9, 112.6, 112.4]
def by_power(power=360): return usual.change(crew=usual.crew.change(power=power))
`
	for name, c := range map[string]struct{ text, says string }{
		"three rigs":      {`v = judge(morning(["a", "b", "c", "c", "b", "a", "b", "c", "a", "a", "c", "b"], times + times[:4]), a="a", b="c"); answer("{n} {m}", n=len(v.all), m=v.all[0].verdict)`, "3 cannot tell"},
		"odd none":        {`v = judge(morning(abba, times), a="a", b="b"); answer("{n} {p}", n=len(v.odd), p=v.pairs)`, "0 "},
		"predicted":       {`v = judge(morning(abba, times), a="a", b="b", predicted=0.4, combine=True); answer("{v.agreement} {v.combined}")`, "do not contradict each other"},
		"learned":         {`p = trial_plan(settings=["a", "b"], pieces=8, learn=morning(["a"] * 8, times)); answer("{p.typical_error} {p.seed}")`, "% (95 %"},
		"more pieces":     {`v = judge(morning(abba, times), a="a", b="b"); answer("more: {v.more_pieces}")`, "more: 7"},
		"fit of a number": {`f = calibrate(by_power, {"speed": about(4.3, 0.02)}, power=(300, 450)); answer("{f.power} {f.widened} {f.stroke.speed}")`, "4.300 m/s"},
		"fit of a dict":   {`f = calibrate(lambda power: {"speed": by_power(power).speed}, {"speed": about(4.3, 0.02)}, power=(300, 450)); answer("{a}", a=f.stroke == None)`, "yes"},
		"fit over time":   {`f = calibrate(by_power, {"boat_speed": usual.trace("time", "boat_speed").where(lambda p: p.time < 1)}, power=(300, 450)); answer("{f.power.value:0}")`, "360"},
		"wrong setting":   {`judge(morning(abba, times), a="a", b="bb")`, `no piece was rowed with b="bb"`},
		"one rig":         {`judge(morning(["a"] * 8, times), a="a", b="b")`, `all pieces were rowed with "a"`},
		"one setting":     {`trial_plan(settings=["a"])`, "two settings or more"},
		"no time":         {`trial_plan(settings=["a", "b"], minutes=15)`, "15 min hold"},
		"learn two":       {`trial_plan(settings=["a", "b"], learn=morning(abba, times))`, "2 settings"},
		"no error":        {`calibrate(by_power, {"speed": 4.3}, power=(300, 450))`, "without its error"},
		"no curve":        {`calibrate(by_power, {"handel_force": table([{"angle (deg)": 0, "handel_force (N)": 3}])}, power=(300, 450))`, `no curve "handel_force"`},
		"no such field":   {`calibrate(by_power, {"sped": about(4.3, 0.1)}, power=(300, 450))`, `gives no "sped"`},
		"nothing":         {`calibrate(by_power, {}, power=(300, 450))`, "nothing was measured"},
		"no range":        {`calibrate(by_power, {"speed": about(4.3, 0.1)})`, "no range"},
		"no input":        {`calibrate(by_power, {"speed": about(4.3, 0.1)}, pwr=(300, 450))`, `no input "pwr"`},
		"combine nothing": {`judge(morning(abba, times), a="a", b="b", combine=True)`, "needs predicted="},
		"predicted in s":  {`u = uncertainty(lambda power: {"x (s)": power / 100}, power=(300, 400)); judge(morning(abba, times), a="a", b="b", predicted=u.x)`, "predicted= is in s"},
		"no track":        {`read_track("saturday.csv")`, "is no track"},
	} {
		o := runIn(filepath.Join("..", "testdata", "studies"), start+c.text+"\n", nil)
		got := o.Document.Answer
		for _, m := range o.Errors {
			got += m.What
			if m.Why == "" || m.Type == "" {
				t.Errorf("%s: %q has no why or nothing to type: %q %q", name, m.What, m.Why, m.Type)
			}
		}
		if !strings.Contains(got, c.says) {
			t.Errorf("%s: %q, want %q", name, got, c.says)
		}
	}
}

// A fit is drawn jointly: what two inputs share is not counted twice.
func TestFitIsDrawnJointly(t *testing.T) {
	const text = `
usual = row(hull("1x"), crew(mass=84, power=360, rate=31, catch=62, finish=42), oar(length=288, inboard=88, blade="scull hatchet"))
def model(power=360, air=0.62): return usual.change(crew=usual.crew.change(power=power), hull=hull("1x", air_area=air))
fit = calibrate(model, {"speed": about(usual.speed, 0.02)}, power=(250, 480), air=about(0.62, 0.15))
together = uncertainty(lambda power, air: {"speed": model(power, air).speed}, fit=fit, draws=200)
apart = uncertainty(lambda power, air: {"speed": model(power, air).speed}, draws=200,
                    power=about(fit.power.value, (fit.power.high - fit.power.low) / 3.92), air=about(fit.air.value, (fit.air.high - fit.air.low) / 3.92))
result("together", together.speed)
result("apart", apart.speed)
answer("done")
`
	o := runIn(".", text, nil)
	for _, m := range o.Errors {
		t.Fatalf("%s %s", m.Error(), m.Why)
	}
	width := func(i int) float64 { e := o.Document.Results[i].Estimate; return e.High - e.Low }
	// the speed was measured to 0.02 m/s: drawn together its interval is 0.08 m/s
	if w := width(0); w < 0.05 || w > 0.11 {
		t.Errorf("drawn together the speed's interval is %.3f m/s wide, measured 0.08", w)
	}
	if width(1) < 1.2*width(0) {
		t.Errorf("apart %.3f, together %.3f m/s", width(1), width(0))
	}
}
