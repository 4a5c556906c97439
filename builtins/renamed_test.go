package builtins

import (
	"context"
	"strings"
	"testing"

	"thole/builtins/session"
)

// oldNames has, for every line of renamed, a study in the old words, what its error says, and
// what the study reads once it is written anew.
var oldNames = map[string][]struct{ old, says, anew string }{
	"hull.drag_factor": {
		{`show(hull("1x", drag_factor=1.05))`, "class_factor", `show(hull("1x", class_factor=1.05))`},
		{`print(h.change(drag_factor=1))`, "class_factor", `print(h.change(class_factor=1))`},
		{`note("{h.drag_factor:2}")`, "class_factor", `note("{h.class_factor:2}")`},
	},
	"stroke.stroke_length": {
		{`print(s.stroke_length)`, "distance_per_stroke", `print(s.distance_per_stroke)`},
		{`print(t["stroke_length"])`, "distance_per_stroke", `print(t["distance_per_stroke"])`},
		{`print(t[0].stroke_length)`, "distance_per_stroke", `print(t[0].distance_per_stroke)`},
		{`plot(t, x="mass", y="stroke_length")`, "distance_per_stroke", `plot(t, x="mass", y="distance_per_stroke")`},
		{`print(t.highest("stroke_length"))`, "distance_per_stroke", `print(t.highest("distance_per_stroke"))`},
		{`print(find(f, of="stroke_length", target=8.05, mass=(60, 90)))`, "distance_per_stroke",
			`print(find(f, of="distance_per_stroke", target=8.05, mass=(60, 90)))`},
		{`print(explore(f, of=["stroke_length"], mass=[70, 80]))`, "distance_per_stroke",
			`print(explore(f, of=["distance_per_stroke"], mass=[70, 80]))`},
		{`answer("Müde: {s.stroke_length:1 m} {s.speed}")`, "distance_per_stroke",
			`answer("Müde: {s.distance_per_stroke:1 m} {s.speed}")`},
		{`result("stroke_length", s.stroke_length)`, "distance_per_stroke",
			`result("stroke_length", s.distance_per_stroke)`},
	},
	"trial_plan.difference": {{`show(trial_plan(settings=("a", "b"), difference=0.5, pieces=8))`, "worthwhile",
		`show(trial_plan(settings=("a", "b"), worthwhile=0.5, pieces=8))`}},
	"blade.law=perfect": {{`show(blade("scull hatchet", area=820, law="perfect"))`, `blade("perfect")`,
		`show(blade("scull hatchet", area=820).change(law="perfect"))`}},
	"lever_ratio":     {{`print(lever_ratio(o))`, "gearing(...).lever", `print(gearing(o).lever)`}},
	"spread_ratio":    {{`print(spread_ratio(o, r))`, "gearing(...).spread", `print(gearing(o, r).spread)`}},
	"survey_ratio":    {{`print(survey_ratio(o, r))`, "gearing(...).survey", `print(gearing(o, r).survey)`}},
	"effective_ratio": {{`print(effective_ratio(o))`, "gearing(...).effective", `print(gearing(o).effective)`}},
}

const beforeOldNames = `o = oar(length=288, inboard=88, blade="scull hatchet")
r = rig(span=159)
h = hull("1x")
def f(mass=75):
    return row(h, crew(mass=mass, power=300, rate=30, category="senior"), o)
s = f()
t = vary(f, mass=[70, 80])
note("The study.")
`

// Every old name is an error that says the new one, and is written anew by check --rename
// into a study that runs.
func TestOldNames(t *testing.T) {
	for name := range renamed {
		cases := oldNames[name]
		if len(cases) == 0 {
			t.Errorf("no study has the old name %s", name)
		}
		for _, c := range cases {
			out := Run(context.Background(), "old.star", []byte(beforeOldNames+c.old), session.Config{})
			if len(out.Errors) == 0 {
				t.Errorf("%s runs as it ever did", c.old)
			} else if said := out.Errors[0].String(); !strings.Contains(said, c.says) {
				t.Errorf("%s does not say %s:\n%s", c.old, c.says, said)
			}
			anew, err := session.Rename("old.star", []byte(beforeOldNames+c.old), Configure(session.Config{}))
			if got, _ := strings.CutPrefix(string(anew.Text), beforeOldNames); err != nil || got != c.anew {
				t.Errorf("%s is written anew as\n%s, not\n%s (%v)", c.old, got, c.anew, err)
			}
			if strings.HasPrefix(c.old, "print(explore") {
				continue // explore tells: its value cannot be printed
			}
			if out := Run(context.Background(), "old.star", anew.Text, session.Config{}); len(out.Errors) > 0 {
				t.Errorf("written anew, %s fails: %s", c.anew, out.Errors[0])
			}
		}
	}
}

// What is the study's own stays: its functions, its columns, the names of its results; line
// ends, too.
func TestRenameLeavesWhatIsTheStudysOwn(t *testing.T) {
	for _, text := range []string{
		"def lever_ratio(o):\n    return 1\nprint(lever_ratio(3))\n",
		"t = table([{\"stroke_length\": 3}])\nprint(t[\"stroke_length\"], t[0].stroke_length)\n",
		"t = read_csv(\"a.csv\", columns=[\"stroke_length (m)\"])\nprint(t[0].stroke_length)\n",
		"show(3, name=\"stroke_length\")\r\n",
	} {
		anew, err := session.Rename("own.star", []byte(text), Configure(session.Config{}))
		if err != nil || string(anew.Text) != text {
			t.Errorf("%q became %q (%v)", text, anew.Text, err)
		}
	}
	anew, _ := session.Rename("s.md", []byte("# A\r\n\r\nWay {s.stroke_length:1 m}.\r\n\r\n```starlark\r\nf = [lever_ratio]\r\n```\r\n"),
		Configure(session.Config{}))
	if got := string(anew.Text); !strings.Contains(got, "Way {s.distance_per_stroke:1 m}.\r\n\r\n") || len(anew.Left) != 1 {
		t.Errorf("Markdown became %q, left %v", got, anew.Left)
	}
}
