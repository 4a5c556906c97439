package builtins

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/session"
	"thole/engine/defaults"
	"thole/engine/stroke"
)

// commonStart is what every example of help and reference may stand on.
var commonStart = func() string {
	text := "\n"
	for _, s := range exampleStart {
		text += s.lines + "\n"
	}
	return text
}()

// try runs a study's text and gives what it told.
func try(t *testing.T, text string) *session.Outcome {
	t.Helper()
	return Run(context.Background(), "test.star", []byte(text), session.Config{Jobs: runtime.GOMAXPROCS(0)})
}

func tryWell(t *testing.T, text string) *session.Outcome {
	t.Helper()
	out := try(t, text)
	if len(out.Errors) > 0 {
		t.Errorf("%s\n%s", text, out.Errors.Error())
	}
	return out
}

// Every example of help and reference runs as it stands.
func TestExamplesOfRecordsRun(t *testing.T) {
	n := 0
	for _, r := range allRecords() {
		if r.Example == "" {
			if !r.Reads && !strings.HasPrefix(r.Name, "change") {
				t.Errorf("%s has no example", r.FullName())
			}
			continue
		}
		if r.Of == "run" || r.Name == "read_run" || r.Prompt {
			continue // these need a run's folder, or the prompt: their own tests have one
		}
		n++
		text := commonStart + "show(1)\n" + strings.TrimSpace(r.Example) + "\n"
		if out := try(t, text); len(out.Errors) > 0 {
			t.Errorf("%s\n  %s\n%s", r.FullName(), r.Example, out.Errors.Error())
		}
	}
	if n < 30 {
		t.Errorf("only %d examples", n)
	}
}

func allRecords() []*lang.Record {
	l := Library()
	all := append([]*lang.Record(nil), l.Records...)
	for _, d := range l.Things {
		all = append(all, d.Methods...)
	}
	return all
}

// Every line of a topic that begins with > runs, in order.
func TestExamplesOfTopicsRun(t *testing.T) {
	if len(topics) < 14 {
		t.Fatalf("only %d topics", len(topics))
	}
	for _, topic := range topics {
		var b strings.Builder
		b.WriteString(commonStart + "show(1)\n")
		for line := range strings.Lines(topic.Text) {
			if text, ok := strings.CutPrefix(line, "> "); ok {
				b.WriteString(text)
			}
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > 80 {
				t.Errorf("%s: a line of %d characters does not fit the window", topic.Name, n)
			}
		}
		t.Run(topic.Name, func(t *testing.T) { tryWell(t, b.String()) })
	}
}

// Documented defaults are the real ones: a thing made with its defaults spelt
// out equals one made without.
func TestDocumentedDefaultsHold(t *testing.T) {
	makers := map[string]string{
		"hull": `hull("2x"`, "blade": `blade("scull hatchet"`, "oar": `oar(length=288, inboard=88, blade="scull hatchet"`,
		"rower": `rower(mass=80, power=300`, "water": `water(`, "crew": `crew(mass=80, power=300, rate=30`,
	}
	checked := 0
	for name, call := range makers {
		r := Library().Record(name)
		for _, p := range r.Params {
			if p.Default == nil {
				continue
			}
			checked++
			sep := ", "
			if strings.HasSuffix(call, "(") {
				sep = ""
			}
			value := fmt.Sprint(p.Default)
			if s, ok := p.Default.(string); ok {
				value = fmt.Sprintf("%q", s)
			}
			text := fmt.Sprintf("a = %s)\nb = %s%s%s=%s)\nresult(\"same\", \"yes\" if a.%s == b.%s else \"no\")\n", call, call, sep, p.Name, value, p.Name, p.Name)
			if out := tryWell(t, text); len(out.Document.Results) != 1 || out.Document.Results[0].Text != "yes" {
				t.Errorf("%s: the documented default of %s is not the real one", name, p.Name)
			}
		}
	}
	if checked < 15 {
		t.Errorf("only %d defaults checked", checked)
	}
}

// Defaults by boat and kind are those of the table of facts, which help and
// facts() show.
func TestDefaultsComeFromFacts(t *testing.T) {
	for _, f := range defaults.All() {
		var text string
		switch {
		case f.Where == "hull" && f.For != "" && f.Name != "air_area":
			text = fmt.Sprintf("x = hull(%q).%s\n", f.For, f.Name)
		case f.Where == "blade" && f.For != "":
			text = fmt.Sprintf("x = blade(%q).%s\n", f.For, f.Name)
		case f.Where == "oar" && f.Name != "damping":
			shape := f.For
			if shape == "" {
				shape = "scull"
			}
			text = fmt.Sprintf("x = oar(length=300, inboard=90, blade=\"%s hatchet\").%s\n", shape, f.Name)
		default:
			continue
		}
		out := tryWell(t, text+"result(\"x\", x)\n")
		if got := out.Document.Results[0].Value; math.Abs(got-f.Value) > 1e-12*math.Abs(f.Value) {
			t.Errorf("%s %s of %s: %v, the table of facts has %v", f.Where, f.Name, f.For, got, f.Value)
		}
	}
}

// The fields a stroke shows in scripts are the engine's one table of them.
func TestStrokeFieldsAreTheEngines(t *testing.T) {
	names := map[string]bool{}
	for _, f := range rowing.StrokeType.Fields {
		names[f.Name] = true
	}
	for _, f := range stroke.Fields {
		if !names[f.Name] {
			t.Errorf("a script cannot read %s", f.Name)
		}
	}
}

// A thing made by change is the thing made anew.
func TestChangeMakesAgain(t *testing.T) {
	out := tryWell(t, `
o = oar(length=288, inboard=88, blade="scull hatchet")
def same(name, a, b): result(name, "yes" if a == b else "no: %s, %s" % (a, b))
same("length", o.change(length=290), oar(length=290, inboard=88, blade="scull hatchet"))
same("outboard", o.change(outboard=202), oar(length=290, inboard=88, blade="scull hatchet"))
same("inboard keeps length", o.change(inboard=90), oar(length=288, inboard=90, blade="scull hatchet"))
same("two set the third", o.change(inboard=90, outboard=200), oar(length=290, inboard=90, blade="scull hatchet"))
same("blade", o.change(blade=blade("scull tulip")), oar(length=288, inboard=88, blade="scull tulip"))
same("lift follows drag", blade("scull hatchet").change(drag=1.2).lift, 0.6)
same("lift once given stays", blade("scull hatchet", lift=1.0).change(drag=1.2).lift, 1.0)
same("none takes out", blade("scull hatchet", lift=1.0).change(lift=None).lift, 2.07 / 2)
same("boat changes its defaults", hull("1x").change(boat="8+"), hull("8+"))
`)
	for _, r := range out.Document.Results {
		if r.Text != "yes" {
			t.Errorf("%s: %s", r.Name, r.Text)
		}
	}
}

// A shaft keeps its stiffness when it is cut: 98.0665 N/deflection at the
// outboard as made, times (L_made/L)³ (model 4).
func TestStiffnessOutlivesAChangeOfLength(t *testing.T) {
	out := tryWell(t, `
soft = oar(length=288, inboard=88, blade="scull hatchet", stiffness=45)
cut = soft.change(length=284)
def rowed(o): return row(hull("1x"), crew(mass=84, power=380, rate=32), o)
result("cut", rowed(cut).early_load)
result("anew", rowed(cut.change(stiffness=45)).early_load)
result("back", rowed(cut.change(length=288)).early_load)
result("soft", rowed(soft).early_load)
`)
	got := map[string]float64{}
	for _, r := range out.Document.Results {
		got[r.Name] = r.Value
	}
	if got["cut"] == got["anew"] {
		t.Error("a stiffness given anew counts as made at that outboard")
	}
	if math.Abs(got["back"]-got["soft"]) > 1e-6 {
		t.Errorf("cut and lengthened again: %v, before %v", got["back"], got["soft"])
	}
}
