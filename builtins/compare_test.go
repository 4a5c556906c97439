package builtins

import (
	"context"
	"slices"
	"strings"
	"testing"

	"thole/builtins/session"
	"thole/engine/document"
)

// shownOf gives the table that a study's last show puts on its page.
func shownOf(t *testing.T, script string) *document.Shown {
	t.Helper()
	out := asked(t, script)
	if len(out.Errors) > 0 {
		t.Fatalf("%s: %s", script, out.Errors.Error())
	}
	blocks := out.Document.Blocks
	return blocks[len(blocks)-1].(*document.Shown)
}

// Cases are called by what differs from the first, where they have no name of their own.
func TestCasesAreNamedByWhatDiffers(t *testing.T) {
	const bare = "now = row(single, me, sculls)\n"
	for script, want := range map[string]string{
		`show(compare(now, now.change(oar=sculls.change(length=290))))`:                       "288 → 290, inboard 88",
		`show(compare(now, now.change(oar=sculls.change(inboard=90))))`:                       "inboard 88 → 90",
		`show(compare(now, now.change(oar=oar(length=290, inboard=90, blade=sculls.blade))))`: "288 → 290, inboard 88 → 90",
		`show(compare(now, now.change(wind=3)))`:                                              "wind 0 → 3 m/s",
		`show(compare(now, now.change(hold="effort", target=now, crew=me.change(rate=34))))`: "rate 32 → 34 1/min, " +
			"hold power → effort",
		`show(compare(now, now.change(oar=sculls.change(blade=sculls.blade.change(area=900)))))`: "area 820 → 900 cm²",
		`show(compare(now, now.change(name="same again")))`:                                      "before -> same again",
		`show(compare(calm, calm.change(wind=3)))`:                                               "calm -> wind 0 → 3 m/s",
		`show(compare(sculls, sculls.change(length=290)))`:                                       "288 → 290, inboard 88",
	} {
		shown := shownOf(t, bare+script)
		if head := shown.Head + shown.Table.Head; !strings.HasPrefix(head, want) {
			t.Errorf("%s: head %q, want %q", script, head, want)
		}
	}
}

// More than two stand as columns, the same in all said beneath; the value stays the long table.
func TestManyCasesAreColumns(t *testing.T) {
	script := `
now = row(single, me, sculls)
c = compare(now, now.change(oar=sculls.change(inboard=90)), now.change(oar=sculls.change(blade=sculls.blade.change(area=900))))
note("{n}", n=len(c.where(quantity="speed")))
show(c)`
	shown := shownOf(t, script)
	want := []string{"quantity", "unit", "before", "inboard 88 → 90", "area 820 → 900 cm²", "best"}
	if got := shown.Table.Names(); !slices.Equal(got, want) {
		t.Fatalf("columns %q, want %q", got, want)
	}
	quantity, best := shown.Table.Column("quantity"), shown.Table.Column("best")
	for i, name := range quantity.Texts {
		switch name {
		case "time_2000":
			if best.Texts[i] != "area 820 → 900 cm²" {
				t.Errorf("best time: %q", best.Texts[i])
			}
		case "heaviness":
			if best.Texts[i] != "" {
				t.Errorf("a best heaviness: %q", best.Texts[i])
			}
		case "rate", "power":
			t.Errorf("%s is the same in all, and stands in a line", name)
		}
	}
	// the catch moves with the inboard alone: unchanged in one case, so not called unchanged
	if !slices.Contains(quantity.Texts, "catch") {
		t.Error("catch, which moves in one case, has no line")
	}
	if len(shown.Foot) == 0 || !strings.HasPrefix(shown.Foot[0], "unchanged: ") || strings.Contains(shown.Foot[0], "catch") {
		t.Errorf("foot %q", shown.Foot)
	}
	if shown.Table.Held != "at the same power" {
		t.Errorf("held %q", shown.Table.Held)
	}
}

// Heads and figures say at what all was rowed, whichever way it came to be held.
func TestHeldIsSaid(t *testing.T) {
	for script, want := range map[string]string{
		`show(compare(calm, calm.change(wind=3)))`:                                                                 "at the same power",
		`show(compare(calm, calm.change(wind=3, hold="effort", target=calm)))`:                                     "at the same effort",
		`show(compare(calm, calm.change(wind=3, hold="speed", target=calm)))`:                                      "at the same speed",
		`show(compare(calm, calm.change(wind=3, hold="handle_power", target=calm)))`:                               "at the same handle power",
		`show(compare(calm, calm.change(wind=3, hold="effort", target=1000)))`:                                     "nothing held alike",
		`show(vary(shorter, outboard=[196, 200]))`:                                                                 "at the same power",
		`show(compare(uncertainty(lambda wind: {"a": calm, "b": calm.change(wind=wind)}, draws=20, wind=(1, 3))))`: "at the same power",
		`show(compare(sculls, sculls.change(length=290)))`:                                                         "",
	} {
		if got := shownOf(t, script).Table.Held; got != want {
			t.Errorf("%s: held %q, want %q", script, got, want)
		}
	}
	for _, plot := range []string{`plot_curves(calm, calm.change(wind=3, name="windy"))`,
		`plot_path(calm, calm.change(wind=3, name="windy"))`, `plot_energy(calm, calm.change(wind=3, name="windy"))`,
		`plot(vary(shorter, outboard=[196, 198, 200]), x="outboard", y="speed")`} {
		out := asked(t, plot)
		f := out.Document.Blocks[0].(*document.Figure)
		if !strings.HasSuffix(f.Sentence, "At the same power.") {
			t.Errorf("%s: %q", plot, f.Sentence)
		}
	}
}

// Where force for each m/s and time under load move opposite ways a sentence says so.
func TestFacesOfLoadThatPart(t *testing.T) {
	parted := func(script string) bool {
		return strings.Contains(strings.Join(shownOf(t, script).Foot, " "), "two faces")
	}
	if !parted(`show(compare(calm, calm.change(crew=me.change(catch=68), oar=sculls.change(outboard=196))))`) {
		t.Error("a longer arc on a shorter oar: nothing said")
	}
	if parted(`show(compare(calm, calm.change(wind=3)))`) {
		t.Error("into the wind both are heavier")
	}
}

// An axis with a field's name never hides what was rowed: both are columns where they differ.
func TestWhatWasRowedStandsBesideWhatWasAsked(t *testing.T) {
	r := answers(t, `
t = vary(lambda inboard: calm.change(oar=sculls.change(inboard=inboard - 1)), inboard=[88, 89])
result("asked", t[1].inboard_asked)
result("rowed", t[1].inboard)
same = vary(lambda inboard: calm.change(oar=sculls.change(inboard=inboard)), inboard=[87, 88])
result("columns", len([n for n in same.names if n.startswith("inboard")]))
off = lambda inboard=88: calm.change(oar=sculls.change(inboard=inboard - 1))
kept = lambda inboard=88: calm.change(oar=sculls.change(inboard=inboard))
s = sensitivity(off, of="speed", inboard=(87, 89))
result("rowed low", s[0].rowed_low)
result("rowed high", s[0].rowed_high)
result("no rowed", len([n for n in sensitivity(kept, of="speed", inboard=(87, 89)).names if "rowed" in n]))
u = uncertainty(off, draws=40, inboard=(87, 89)).table
result("drawn", u.one(quantity="inboard_asked").as_set - u.one(quantity="inboard").as_set)
result("no asked", len([q for q in uncertainty(kept, draws=40, inboard=(87, 89)).table["quantity"] if "asked" in q]))
`)
	near(t, "rowed at the low end", r["rowed low"], 86, 1e-9)
	near(t, "rowed at the high end", r["rowed high"], 88, 1e-9)
	near(t, "no column where they agree", r["no rowed"]+r["no asked"], 0, 0)
	near(t, "drawn", r["drawn"], 1, 1e-9)
	near(t, "asked", r["asked"], 89, 0)
	near(t, "rowed", r["rowed"], 88, 1e-9)
	near(t, "one column where they agree", r["columns"], 1, 0)
}

// A slider whose field was rowed otherwise says what it asks, and has the field beside it.
func TestSlidersSayWhatWasRowed(t *testing.T) {
	for script, want := range map[string]string{
		"inboard - 1": "inboard_asked: speed inboard", "inboard": "inboard: speed"} {
		out := asked(t, "explore(lambda inboard=88: calm.change(oar=sculls.change(inboard="+script+
			")), inboard=[87, 88, 89])")
		found := ""
		for _, b := range out.Document.Blocks {
			if e, ok := b.(*document.Explore); ok {
				got := e.Axes[0].Name + ":"
				for _, f := range e.Fields {
					got += " " + f.Name
				}
				found = got
			}
		}
		if found != want {
			t.Errorf("inboard=%s: %q, not %q", script, found, want)
		}
	}
}

// A machine's pace and watts as its displays pair them: 2:00 is 202.5 W, 1:40 350 W.
func TestMachinePower(t *testing.T) {
	r := answers(t, `
result("2:00", machine_power(120))
result("1:40", machine_power(100))
`)
	near(t, "2:00", r["2:00"], 202.5, 0.1) // displays show whole watts; from memory
	near(t, "1:40", r["1:40"], 350, 1e-9)
}

// compare of two strokes says weigh's words from weigh's numbers: the span over the forms is
// the same to the last bit, and a verdict is another only where weigh, which also crosses
// forms and holds, found what turns it.
func TestCompareIsWeighedQuietly(t *testing.T) {
	for name, other := range map[string]string{
		"length": `calm.change(oar=sculls.change(length=290))`,
		"area":   `calm.change(oar=sculls.change(blade=sculls.blade.change(area=900)))`,
		"catch":  `calm.change(crew=me.change(catch=66))`,
		"mass":   `calm.change(crew=me.change(mass=89))`,
		"wind":   `calm.change(wind=3)`,
	} {
		r := answers(t, `
c = compare(calm, `+other+`)
w = weigh(calm, `+other+`)
s = c.one(quantity="speed")
result("span", 1 if s.forms_low == w["speed"].forms_low and s.forms_high == w["speed"].forms_high else 0)
words = [(l.verdict, w[l.quantity].verdict) for l in c if l.quantity in w.table["quantity"]]
result("other", len([1 for v in words if v[0] != v[1] and not v[1].startswith("depends on") and "of small worth" not in v[1]]))
result("unweighed", len([1 for l in c if "not weighed" in l.verdict or l.verdict == "one run"]))
result("same", len([1 for v in words if v[0] == v[1]]))
`)
		if r["span"] != 1 {
			t.Errorf("%s: the span over the forms is not weigh's: %v", name, r)
		}
		if r["other"] != 0 || r["unweighed"] != 0 || r["same"] < 5 {
			t.Errorf("%s: %v", name, r)
		}
	}
}

// A page rows 60 strokes for it at most: the second comparison is told as not weighed, by name.
func TestQuietStrokesOfAPageEnd(t *testing.T) {
	out := asked(t, `show(compare(calm, calm.change(wind=2, name="two")))
show(compare(calm, calm.change(wind=3, name="three")))
show(compare(calm, calm.change(wind=2), calm.change(wind=4)))`)
	var texts []string
	for _, c := range out.Document.Cautions {
		texts = append(texts, c.Text)
	}
	all := strings.Join(texts, "\n")
	if !strings.Contains(all, "Not weighed (calm -> three; calm -> wind 0 → 2 m/s, wind 0 → 4 m/s)") {
		t.Errorf("cautions: %s", all)
	}
	once := asked(t, `show(compare(calm, calm.change(wind=2, name="two")))`)
	for _, c := range once.Document.Cautions {
		if strings.HasPrefix(c.Text, "Not weighed") {
			t.Errorf("weighed, and yet: %s", c.Text)
		}
	}
}

// Two strokes have one verdict on a page: that of weigh where it stands above, and none is rowed
// for it again. Where it stands below and found more, it says so.
func TestAPageHasOneVerdict(t *testing.T) {
	longer := "longer = calm.change(oar=sculls.change(length=290), name=\"290\")\n"
	r := answers(t, longer+`
w = weigh(calm, longer)
pairs = [(l.verdict.split(":")[0].split(" and ")[0], w[l.quantity].verdict) for l in compare(calm, longer)
    if l.quantity in w.table["quantity"]]
result("lines", len(pairs))
result("other", len([1 for brief, whole in pairs if not whole.startswith(brief)]))
result("blade", compare(calm, longer).one(quantity="effort").verdict)
`)
	if r["other"] != 0 || r["lines"] < 20 {
		t.Errorf("%v", r)
	}
	cautions := func(script string) string {
		all := ""
		for _, c := range asked(t, script).Document.Cautions {
			all += c.Text + "\n"
		}
		return all
	}
	larger := "larger = calm.change(oar=sculls.change(blade=sculls.blade.change(area=850)))\n"
	below := cautions(larger + "show(compare(calm, larger))\nshow(weigh(calm, larger))")
	above := cautions(larger + "show(weigh(calm, larger))\nshow(compare(calm, larger))")
	if !strings.Contains(below, `in weigh; weigh's holds`) || strings.Contains(above, "in compare") || strings.Contains(above+below, "Not weighed") {
		t.Errorf("above: %s\nbelow: %s", above, below)
	}
	for name, script := range map[string]string{
		"the same pair again": "two = calm.change(wind=2)\nshow(compare(calm, two))\nshow(compare(calm, two))",
		"the same stroke":     `show(compare(calm, calm.change(name="again")))`,
	} {
		if all := cautions(script); strings.Contains(all, "Not weighed") {
			t.Errorf("%s: %s", name, all)
		}
	}
}

// What a page rows quietly stays under sixty strokes.
func TestQuietStrokesAreCounted(t *testing.T) {
	rowed := func(script string) int {
		points := &kept{points: map[string][]byte{}}
		out := Run(context.Background(), "study.star", []byte(start+script),
			session.Config{Jobs: 2, Kept: points})
		if len(out.Errors) > 0 {
			t.Fatal(out.Errors.Error())
		}
		return len(points.points)
	}
	plain := rowed(`for w in [2, 3]: result("speed %d" % w, calm.change(wind=w).speed)`)
	quiet := rowed(`for w in [2, 3]: show(compare(calm, calm.change(wind=w)))`) - plain
	if quiet < 30 || quiet > 60 {
		t.Errorf("%d strokes rowed beside %d that the study asks for", quiet, plain)
	}
}

// Where nothing in the model stops a choice, the search and the weighing say so; where the
// load is held they do not. The answer of equal_load says its spread over definitions of load.
func TestHonestLimits(t *testing.T) {
	r := answers(t, `
wide = lambda area: calm.change(oar=sculls.change(blade=sculls.blade.change(area=area)))
free = find_best(wide, maximise="speed", area=(780, 840))
held = find_best(wide, maximise="speed", limits={"heaviness": (None, calm.heaviness)}, area=(780, 840))
result("free", 1 if "the crew is the limit" in free.note and "high end" in free.note else 0)
result("held", 1 if "the crew is the limit" in held.note else 0)
new = equal_load(calm, sculls.change(blade=sculls.blade.change(area=900)))
result("spread", 1 if "of 10 definitions of load outboard" in new.note else 0)
`)
	if r["free"] != 1 || r["held"] != 0 || r["spread"] != 1 {
		t.Errorf("%v", r)
	}
	shown := asked(t, `show(equal_load(calm, sculls.change(blade=sculls.blade.change(area=900))))`).Document.Blocks
	if card := shown[0].(*document.Shown).Card; !strings.Contains(card.Foot[len(card.Foot)-1], "definitions of load") {
		t.Errorf("an oar of equal load is shown without its spread: %q", card.Foot)
	}
	for script, want := range map[string]bool{
		`show(weigh(calm, calm.change(oar=sculls.change(length=290))))`: true,
		`show(weigh(calm, calm.change(oar=sculls.change(length=286))))`: false,
	} {
		said := ""
		for _, b := range asked(t, script).Document.Blocks {
			if s, ok := b.(*document.Shown); ok {
				said += s.Line
			}
		}
		if strings.Contains(said, "the crew is the limit, not the water") != want {
			t.Errorf("%s: %q", script, said)
		}
	}
}
