package builtins

import (
	"strings"
	"testing"
)

const plainSingle = `
boat = hull("1x", air_area=0.62, wave_factor=0.065)
plain_sculls = oar(length=288, inboard=88, blade="scull hatchet")
plain = row(boat, crew(mass=84, power=380, rate=32), plain_sculls)
def cut():
    new = equal_load(plain, plain_sculls.change(blade=plain_sculls.blade.change(area=900, grip=1.03)))
    return {"now": plain, "cut": plain.change(oar=new)}
`

// Sizes of an independent program (plain law, 84 kg, 380 W, 32/min, 288/88), to its last
// digit: percent of speed at the same power, cm of outboard. The strokes before were rowed
// outside of the function: the forms reach them all the same, and the search too.
func TestWeighInAScript(t *testing.T) {
	r := answers(t, plainSingle+`
w = weigh(cut)
result("speed", w["speed"].as_set)
result("outboard", w["outboard"].as_set)
result("verdict", w["speed"].verdict)
law = w.assumptions.one(assumption="force across the shaft alone (crossflow)")
result("law speed", law.speed)
result("law outboard", law.outboard)
printed = ["a blade's drag without a surface", "a pull that peaks early", "an even pull", "a pull that peaks late"]
held = w.by_hold.where(lambda line: line.hold == "effort" and line.forms in printed)
result("effort low", min(held["speed"]))
result("effort high", max(held["speed"]))
result("crossed", len(w.crossed))
result("definitions", len(w.assumptions.where(kind="definition")))
result("turns", len(w.turns))
result("pieces", w.pieces)
n = weigh(plain, plain.change(oar=plain_sculls.change(length=290)))
result("two", n["speed"].verdict)
`)
	near(t, "speed", r["speed"], 0.431, 0.0005)
	near(t, "outboard", r["outboard"], -2.51, 0.005)
	near(t, "speed under the other law", r["law speed"], 0.452, 0.0005)
	near(t, "outboard under the other law", r["law outboard"], -2.75, 0.005)
	near(t, "lowest at the same effort", r["effort low"], 0.356, 0.0005)
	near(t, "highest at the same effort", r["effort high"], 0.608, 0.0005)
	near(t, "crossed", r["crossed"], 36, 0)
	near(t, "definitions", r["definitions"], 10, 0)
	near(t, "turns", r["turns"], 0, 0)
	if r["verdict: holds: more"] != 1 || !(r["pieces"] > 10) {
		t.Errorf("%v", r)
	}
	depends := false
	for name := range r {
		depends = depends || strings.HasPrefix(name, "two: depends on the hold: at the same power +0.07 %")
	}
	if !depends {
		t.Errorf("two centimetres: %v", r)
	}
}

// With inputs in doubt the middle lies between the ends, whichever way the strokes are
// given: by a function, or as two strokes with ranges of what both have.
func TestWeighDrawsBothWays(t *testing.T) {
	r := answers(t, plainSingle+`
def pair(drag):
    o = plain_sculls.change(blade=plain_sculls.blade.change(drag=drag))
    return [plain.change(oar=o), plain.change(oar=o.change(length=290))]
a = weigh(pair, draws=60, drag=(1.2, 2.1), forms=False, holds=False)
b = weigh(plain, plain.change(oar=plain_sculls.change(length=290)), draws=60, drag=(1.2, 2.1), forms=False, holds=False)
result("a low", a["speed"].low)
result("a high", a["speed"].high)
result("b low", b["speed"].low)
result("b high", b["speed"].high)
result("measure", a.measure)
`)
	near(t, "low", r["a low"], r["b low"], 1e-9)
	near(t, "high", r["a high"], r["b high"], 1e-9)
	if !(r["a low"] < r["a high"]) {
		t.Errorf("%v", r)
	}
}

func TestMistakesInWeighing(t *testing.T) {
	cases := []struct{ name, script, what string }{
		{"one stroke", `weigh(plain)`, "weigh has one stroke only"},
		{"fn gives one stroke", `weigh(lambda: plain)`, "one stroke: there is nothing to weigh it against"},
		{"fn gives a number", `weigh(lambda: 3)`, "the function gives a number"},
		{"three strokes", `weigh(lambda: [plain, plain, plain])`, "3 strokes: one question has two"},
		{"other names", `weigh(lambda drag: {"a" if drag < 1.7 else "b": plain, "c": plain.change(wind=1)}, drag=(1.2, 2.1))`, "in one draw"},
		{"a function and a stroke", `weigh(cut, plain)`, "weigh has a function and a stroke"},
		{"no such input", `weigh(plain, plain.change(wind=1), inboard=(86, 90))`, `two strokes have no "inboard" in common`},
		{"an input that moves nothing", `weigh(lambda drag: [plain, plain.change(wind=1)], drag=(1.2, 2.1))`, "drag moves neither stroke"},
		{"no such line", `weigh(plain, plain.change(wind=1), forms=False)["rate"]`, "rate is the same whatever was tried"},
	}
	for _, c := range cases {
		out := asked(t, plainSingle+c.script)
		if len(out.Errors) == 0 {
			t.Errorf("%s went through", c.name)
			continue
		}
		if !strings.Contains(out.Errors[0].What, c.what) || out.Errors[0].Type == "" {
			t.Errorf("%s: %q, type %q", c.name, out.Errors[0].What, out.Errors[0].Type)
		}
	}
}

// A form that cannot be rowed is told with why, and so is a hold that leaves nothing of the
// question: a crew of 60 W comes forward too late on a longer way, and a stronger crew at the same
// effort is the same crew.
func TestWhatCannotBeRowedIsTold(t *testing.T) {
	r := answers(t, `
weak = row(single, crew(mass=84, power=60, rate=20), sculls)
lines = weigh(weak, weak.change(wind=5)).assumptions
result("form", lines.one(assumption="a long way of the body").not_rowed)
stronger = weigh(calm, calm.change(crew=me.change(power=400))).assumptions
result("hold", stronger.one(assumption="at the same effort").not_rowed)
`)
	form, hold := false, false
	for name := range r {
		form = form || strings.HasPrefix(name, "form: the drive would take more than")
		hold = hold || strings.HasPrefix(name, "hold: nothing is left of what was asked")
	}
	if !form || !hold {
		t.Errorf("%v", r)
	}
}
