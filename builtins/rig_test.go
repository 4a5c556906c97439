package builtins

import (
	"math"
	"slices"
	"strings"
	"testing"

	"thole/engine/document"
)

// The start of every study here: a single on a rig of which everything is known.
const rigged = `sculls = oar(length=288, inboard=88, blade="scull hatchet")
here = rig(span=159, height=16, pitch=4, work_through=8, stretcher=46)
now = row(hull("1x"), crew(mass=84, power=380, rate=32, catch=62, finish=43), sculls, rig=here)
`

const sine = math.Pi / 180

// What a rig moves, by closed forms: L_in 84 cm.
func TestRigMovesTheHands(t *testing.T) {
	catchAt := func(cm float64) float64 { return math.Asin(math.Sin(62*sine)+cm/84) / sine }
	for _, c := range []struct {
		what, study string
		want        float64
	}{
		{"stretcher two to the stern",
			`result("x", now.change(rig=here.change(stretcher=48)).catch)`,
			catchAt(2)},
		{"slides and stretcher",
			`result("x", now.change(rig=here.change(work_through=9)).catch)`,
			catchAt(1)},
		{"slides alone",
			`result("x", now.change(rig=here.change(work_through=9, stretcher=45)).catch)`,
			62},
		{"there and back",
			`result("x", now.change(rig=here.change(stretcher=48)).change(rig=here).catch)`,
			62},
		{"in two steps as in one",
			`result("x", now.change(rig=here.change(stretcher=47)).change(rig=here.change(stretcher=48)).catch)`,
			catchAt(2)},
		{"in row, measured on another",
			`result("x", row(now.hull, now.crew, sculls,
    rig=here.change(stretcher=48), measured_rig=here).catch)`,
			catchAt(2)},
		{"collar follows two of span",
			`result("x", now.change(rig=here.change(span=161), collar="follows").catch)`,
			math.Asin(84.0/85*math.Sin(62*sine)) / sine},
		{"and keeps the overlap",
			`w = now.change(rig=here.change(span=161), collar="follows")
result("x", overlap(w.oar, w.rig))`,
			21},
		{"and the length",
			`result("x", now.change(rig=here.change(span=161), collar="follows").oar.length)`,
			288},
		{"collar stays",
			`result("x", now.change(rig=here.change(span=161), collar="stays").catch)`,
			62},
		{"another inboard, the reach kept",
			`result("x", now.change(oar=sculls.change(inboard=90)).catch)`,
			math.Asin(84.0/86*math.Sin(62*sine)) / sine},
		{"and kept on from inboard to inboard",
			`result("x", now.change(oar=sculls.change(inboard=90)).change(oar=sculls.change(inboard=87)).finish)`,
			math.Asin(84.0/83*math.Sin(43*sine)) / sine},
		{"the angles kept instead",
			`result("x", now.change(oar=sculls.change(inboard=90), measured_on=None).catch)`,
			62},
		{"angles measured elsewhere stay measured there",
			`result("x", now.change(oar=sculls.change(inboard=90), measured_on=sculls.change(inboard=89)).catch)`,
			math.Asin(85.0/86*math.Sin(62*sine)) / sine},
		{"sculls say nothing of a sweep oar's angles",
			`result("x", now.change(hull=hull("2-"), rig=None,
    oar=oar(length=374, inboard=115, blade="sweep hatchet")).catch)`,
			62},
		{"a wanted catch is brought",
			`f = fit_angles(now, catch=64, finish=42)
result("x", now.change(rig=here.change(stretcher=f.stretcher), oar=sculls.change(inboard=f.inboard)).catch)`,
			64},
		{"a catch alone, inboard kept",
			`result("x", fit_angles(now, catch=64).inboard)`,
			88},
		{"hands by height",
			`result("x", hands(now.change(rig=here.change(height=17))).drive - hands(now).drive)`,
			1 + 84.0/175},
		{"handles at square",
			`result("x", handles_apart(now).at_square)`,
			-21},
		{"pitch with outward pitch",
			`result("x", now.change(rig=here.change(outward_pitch=1)).trace("pitch", at=[-62])[0].pitch)`,
			math.Asin(math.Sin(4*sine)*math.Cos(sine)+math.Cos(4*sine)*math.Sin(sine)*math.Sin(62*sine)) / sine},
		{"lift by the force there",
			`l = now.trace("blade_force", "lift_at_blade", at=[-20])[0]
result("x", l.lift_at_blade / l.blade_force)`,
			math.Sin(4 * sine)},
		{"gearing in one line",
			`result("x", gearing(sculls, here).survey)`,
			200.0 / 77.5},
		{"gearing at an angle",
			`result("x", gearing(sculls, angle=60).effective)`,
			2 * 175.0 / 84},
		{"no moment of spps",
			`result("x", yaw_moment(row(hull("4-"), crew(mass=84, power=380, rate=32),
    oar(length=374, inboard=115, blade="sweep hatchet"),
    rig=rig(spread=85, sides="spps"))))`,
			0},
		{"seats unlike: the mean of lift",
			`d = row(hull("2x"), crew(mass=84, power=380, rate=32), sculls,
    rig=[here, here.change(pitch=6)])
result("x", d.trace("pitch", at=[0])[0].pitch)`,
			5},
		{"seats unlike: one moved",
			`d = row(hull("2x"), crew(mass=84, power=380, rate=32, catch=62, finish=43), sculls,
    rig=here)
result("x", d.change(rig=[here, here.change(stretcher=48)]).seats[1].catch)`,
			catchAt(2)},
	} {
		out := tryWell(t, rigged+c.study+"\n")
		if got := out.Document.Results[0].Value; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.12g, want %.12g", c.what, got, c.want)
		}
	}
}

// Where hands kept their reach the assumptions say so, and only there.
func TestReachIsSaid(t *testing.T) {
	for study, want := range map[string]bool{
		`s = now.change(oar=sculls.change(inboard=90))`:                   true,
		`s = now.change(oar=sculls.change(inboard=90), measured_on=None)`: false,
		`s = now.change(oar=sculls.change(length=290))`:                   false,
	} {
		said := false
		for _, a := range tryWell(t, rigged+study+"\nnote(\"told\")\n").Document.Assumptions {
			said = said || strings.HasPrefix(a.Value, "keep their reach")
		}
		if said != want {
			t.Errorf("%s: said %v, want %v", study, said, want)
		}
	}
}

// Bad rigs get a sentence each, that says what to type.
func TestRigsThatCannotBe(t *testing.T) {
	for _, c := range []struct{ study, what, typ string }{
		{`row(hull("2-"), crew(mass=84, power=380, rate=32),
    oar(length=374, inboard=115, blade="sweep hatchet"), rig=here)`,
			"a span belongs to sculling", "rig(spread=85)"},
		{`row(hull("1x"), now.crew, sculls, rig=rig(spread=85))`,
			"a spread belongs to sweep boats", "rig(span=159)"},
		{`row(hull("1x"), now.crew, sculls).change(rig=here)`,
			"has no rig to change", "rig=... in row"},
		{`now.change(rig=rig(span=159))`,
			"has no stretcher", "in both rigs"},
		{`now.change(rig=here.change(stretcher=60))`,
			"cannot follow the hands", "longer inboard"},
		{`now.change(collar="follows")`,
			"goes with rig=", "rig="},
		{`now.change(rig=here, oar=sculls, collar="follows")`,
			"do not go together", "oar= or"},
		{`rig(span=159, sides="ps")`,
			"sweep boats", "sides out"},
		{`rig(spread=85, sides="left")`,
			"other letters", `sides="psps"`},
		{`lever_ratio(sculls)`,
			"is now gearing(...).lever", "gearing(sculls).lever"},
		{`yaw_moment(now, "ps")`,
			"takes 1 value", "sides="},
		{`fit_angles(now, catch=20, finish=6)`,
			"want an inboard of", "nearer"},
		{`hands(now.change(rig=here.change(height=None)))`,
			"no height", "height=16"},
		{`now.change(rig=here.change(pitch=None)).trace("pitch")`,
			"no pitch", "pitch=4"},
		{`plot_rig(row(hull("1x"), now.crew, sculls))`,
			"no rig to draw", "rig=rig(...)"},
		{`row(now.hull, now.crew, sculls, measured_rig=here)`,
			"without rig", "rig="},
	} {
		out := try(t, rigged+c.study+"\n")
		if len(out.Errors) != 1 {
			t.Errorf("%s: %d errors", c.study, len(out.Errors))
			continue
		}
		if m := out.Errors[0]; !strings.Contains(m.What, c.what) || !strings.Contains(m.Type, c.typ) {
			t.Errorf("%s says %q, type %q; want %q, %q", c.study, m.What, m.Type, c.what, c.typ)
		}
	}
}

// A catch past 80 degrees and hands that come into the body are cautions, and only they.
func TestRigCautions(t *testing.T) {
	for study, want := range map[string]string{
		`now.change(rig=here.change(stretcher=55))`: "lies past 80",
		`now.change(rig=here.change(stretcher=53))`: "the hands come into the body",
		`now.change(rig=here.change(span=161))`:     "the collars stayed",
		`now.change(rig=here.change(stretcher=48))`: "",
	} {
		said := ""
		for _, told := range tryWell(t, rigged+"show("+study+")\n").Document.Cautions {
			said += told.Text + "\n"
		}
		for _, text := range []string{"lies past 80", "the hands come into the body",
			"the collars stayed"} {
			expected := text == want || want == "lies past 80" && text == "the hands come into the body"
			if strings.Contains(said, text) != expected {
				t.Errorf("%s: %q", study, said)
			}
		}
	}
}

// What else is set stands beside it, seat by seat; what is doubted is no number to set; the
// gates of a scull are told each, and what the engine computed is not among what is set.
func TestCardToPinUp(t *testing.T) {
	out := tryWell(t, rigged+`uneven = rig(span=159, height=16, gates_apart=-1, pitch=4)
card(row(hull("2x", name="Sedge"), now.crew.change(seats=2), sculls, rig=uneven), season="2026",
    further={"oars": ["1 and 2", None], "stretcher angle (deg)": [40, 41]}, doubtful=[(2, "span", "160.2 found")])
`)
	card := out.Document.Blocks[0].(*document.RigCard)
	if !strings.HasSuffix(card.Side, "2x, Sedge, season 2026") {
		t.Errorf("headed %q", card.Side)
	}
	n := len(card.Columns)
	if got := card.Known[1]; got[0] != "?" || got[3] != "16.5" || got[4] != "15.5" || got[n-2] != "" || got[n-1] != "41.0" {
		t.Errorf("stroke's seat: %q", got)
	}
	if !slices.Equal(card.Doubtful, []string{"seat 2, span: 160.2 found"}) {
		t.Errorf("doubtful: %q", card.Doubtful)
	}
	for _, r := range card.Rows {
		if r.Label == "rowed" || r.Label == "ratios" || strings.Contains(r.Value, "height 16.0") {
			t.Errorf("among what is set: %s %s", r.Label, r.Value)
		}
	}
	for study, want := range map[string]string{
		`card(now, further={"oars": [1, 2]})`:      "oars\" has no value for each seat",
		`card(now, doubtful=[(1, "spam", "why")])`: "is nothing on this card",
		`card(now, doubtful=[(2, "span", "why")])`: "is nothing on this card",
	} {
		if out := try(t, rigged+study+"\n"); len(out.Errors) != 1 || !strings.Contains(out.Errors[0].What, want) {
			t.Errorf("%s: %v", study, out.Errors)
		}
	}
}

// A card has everything a rigger sets, seat by seat, and the drawing; what is bow's is
// never told as the crew's.
func TestCardOfARig(t *testing.T) {
	out := tryWell(t, rigged+`card(now)
card(row(hull("2x"), now.crew.change(seats=2), sculls, rig=[here, here.change(height=17)]))
`)
	one, two := out.Document.Blocks[0].(*document.RigCard), out.Document.Blocks[1].(*document.RigCard)
	for i, want := range []string{"span 159.0", "inboard 88.0", "length 288.0", "height port 16.0",
		"height starboard 16.0", "pitch 4.0", "outward ", "through 8.0", "stretcher 46.0"} {
		if got := one.Columns[i].Label + " " + one.Columns[i].Value; got != want {
			t.Errorf("column %d: %q, want %q", i, got, want)
		}
	}
	if high := one.Computed[0]; high.Label != "hands" || !strings.HasPrefix(high.Value, "33.2 cm over the seat") {
		t.Errorf("the hands: %+v", high)
	}
	if one.Drawing == nil || len(one.Drawing.Rigs) != 1 {
		t.Error("a card without its drawing")
	}
	if got := two.Known[1][3]; got != "17.0" {
		t.Errorf("stroke's height is %q", got)
	}
	for _, r := range two.Rows {
		if r.Label == "oar" || r.Label == "rig" || r.Label == "ratios" {
			t.Errorf("bow's %s is told as the crew's: %s", r.Label, r.Value)
		}
	}
}
