package builtins_test

import (
	"context"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/document"
)

const careStart = `
o = oar(length=280, inboard=87, blade="scull hatchet")
young = crew(mass=60, power=170, rate=28, category="junior", name="young")
grown = crew(mass=90, power=400, rate=34, category="senior", name="grown")
`

// A senior who rows too, before or after, takes nothing of the junior's caution.
func TestCautionStaysWhoeverRowsToo(t *testing.T) {
	for _, order := range [][2]string{{"young", "grown"}, {"grown", "young"}} {
		out := builtins.Run(context.Background(), "care.star", []byte(careStart+
			"a = row(hull(\"1x\"), "+order[0]+", o)\nb = row(hull(\"1x\"), "+order[1]+", o)\nresult(\"speed\", b.speed)\n"),
			session.Config{})
		if len(out.Errors) > 0 {
			t.Fatal(out.Errors[0].Head())
		}
		if c := out.Document.Cautions; len(c) == 0 || !strings.Contains(c[0].Text, "with juniors lighter first") {
			t.Errorf("%v: %v", order, c)
		}
	}
}

// The first line of a comparison says how the load of who needs care changes, with its
// size: heavier by a longer oar, lighter by a shorter one. A senior's is not told.
func TestTheRiseComesFirst(t *testing.T) {
	for _, c := range []struct{ crew, length, want, never string }{
		{"young", "288", " % heavier, drive ", "lighter"},
		{"young", "272", " % lighter, drive ", "heavier"},
		{"young.change(category=\"not said\")", "288", "category not said", "lighter"},
		{"grown", "288", "", ""},
	} {
		out := builtins.Run(context.Background(), "care.star", []byte(careStart+
			"a = row(hull(\"1x\"), "+c.crew+", o, name=\"now\")\n"+
			"b = row(hull(\"1x\"), "+c.crew+", o.change(length="+c.length+"), name=\"new\")\nshow(compare(a, b))\n"),
			session.Config{})
		if len(out.Errors) > 0 {
			t.Fatal(out.Errors[0].Head())
		}
		load := strings.Join(out.Document.Load, "\n")
		if c.want == "" {
			if load != "" {
				t.Errorf("a senior's load is told: %s", load)
			}
			continue
		}
		if !strings.HasPrefix(load, "Load, new against now: ") || !strings.Contains(load, c.want) ||
			strings.Contains(load, c.never) {
			t.Errorf("%s, %s cm: %q", c.crew, c.length, load)
		}
	}
}

// Seat by seat: only the junior's seat of a double is told, by its number.
func TestTheRiseSeatBySeat(t *testing.T) {
	out := builtins.Run(context.Background(), "care.star", []byte(careStart+`
two = crew(rate=28, rowers=[rower(mass=85, power=300, category="senior"), rower(mass=60, power=170, category="junior")])
a = row(hull("2x"), two, o, name="now")
b = row(hull("2x"), two, [o, o.change(length=288)], name="new")
show(compare(a, b))
`), session.Config{})
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].Head())
	}
	load := strings.Join(out.Document.Load, "\n")
	if !strings.Contains(load, "seat 2 (junior) ") || !strings.Contains(load, "heavier") ||
		strings.Contains(load, "seat 1") {
		t.Error(load)
	}
}

// A plan, its sheet and a judgement carry what holds on the water.
func TestTrialsCarryTheWatersLines(t *testing.T) {
	out := builtins.Run(context.Background(), "care.star", []byte(
		`show(trial_plan(settings=("long", "short"), worthwhile=0.5, pieces=8))`), session.Config{})
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].Head())
	}
	for _, b := range out.Document.Blocks {
		text := strings.Join(footOf(b), "\n")
		for _, want := range []string{"launch", "cold water", "local rules", "decides", "bolts and gates", "Pain: stop"} {
			if !strings.Contains(text, want) {
				t.Errorf("%T lacks %q: %s", b, want, text)
			}
		}
	}
}

// footOf gives the lines under a block's card or table.
func footOf(b document.Block) []string {
	s := b.(*document.Shown)
	if s.Card != nil {
		return s.Card.Foot
	}
	return s.Foot
}

// Moments by time: a tenth of a second apart from the catch, the finish last; told in two
// ways they are refused.
func TestMomentsByTime(t *testing.T) {
	out := builtins.Run(context.Background(), "path.star", []byte(careStart+`
s = row(hull("1x"), grown, o)
for p in [blade_path(s), perfect_path(s, every=0.1)]:
    for i in range(len(p) - 1):
        if abs(p["time"][i] - 0.1 * i) > 1e-9:
            fail("moment", i, p["time"][i])
    if abs(p["angle"][-1] - s.finish) > 1e-6:
        fail("last", p["angle"][-1])
plot_path(s, perfect=True)
`), session.Config{})
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].Head())
	}
	out = builtins.Run(context.Background(), "path.star", []byte(careStart+`
blade_path(row(hull("1x"), grown, o), points=12, every=0.1)
`), session.Config{})
	if len(out.Errors) != 1 || !strings.Contains(out.Errors[0].Head(), "do not go together") {
		t.Errorf("both ways: %v", out.Errors)
	}
}

// A junior's oar made longer, in whatever way it is asked: the first line of the result says
// heavier, with its size; made shorter, lighter. A senior's says nothing. The same on any
// number of cores.
func TestTheRiseInEveryWayOfAsking(t *testing.T) {
	const start = careStart + "a = row(hull(\"1x\"), %CREW%, o, name=\"now\")\nn = %LENGTH%\n" +
		"def to(length=280):\n    return a.change(oar=o.change(length=length))\n" +
		"def anew(length=280):\n    return row(hull(\"1x\"), %CREW%, o.change(length=length))\n"
	longer := "def both(mass=60):\n    w = a.change(crew=a.crew.change(mass=mass), name=\"now\")\n" +
		"    return {\"now\": w, \"new\": w.change(oar=o.change(length=n))}\n"
	for _, ask := range []struct{ how, line string }{
		{"changed and shown", "show(to(n))"},
		{"a lone card", "card(to(n))"},
		{"compared", "show(compare(a, to(n)))"},
		{"a figure of one", "plot_curves(to(n), y=\"handle_force\")"},
		{"a sweep from a stroke", "show(vary(to, length=[280, (280 + n) / 2, n]))"},
		{"a sweep of parts", "show(vary(anew, length=[280, (280 + n) / 2, n]))"},
		{"sliders", "explore(to, of=[\"speed\"], length=sorted([280, n]))"},
		{"a search", "show(find(to, of=\"outboard\", target=n - 87.5, length=(min(n, 280) - 1, max(n, 280) + 1)))"},
		{"drawn", longer + "show(compare(uncertainty(both, draws=10, mass=about(60, 2))))"},
		{"weighed", "show(weigh(a, to(n), forms=False))"},
		{"a search for the best", "show(find_best(to, maximise=\"drive_time\", length=(min(n, 281), max(n - 1, 280))) if n > 280 else " +
			"find_best(to, minimise=\"drive_time\", length=(n, 280)))"},
	} {
		for _, c := range []struct{ crew, length, want, never string }{
			{"young", "288", " % heavier", "lighter"}, {"young", "272", " % lighter", "heavier"},
			{"grown", "288", "", "Load"},
		} {
			var loads [2]string
			for i, jobs := range []int{1, 4} {
				text := strings.NewReplacer("%CREW%", c.crew, "%LENGTH%", c.length).Replace(start + ask.line + "\nnote(\"end\")\n")
				out := builtins.Run(context.Background(), "care.star", []byte(text), session.Config{Jobs: jobs})
				if len(out.Errors) > 0 {
					t.Fatalf("%s: %s", ask.how, out.Errors[0])
				}
				loads[i] = strings.Join(out.Document.Load, "\n")
			}
			if !strings.Contains(loads[0], c.want) || strings.Contains(loads[0], c.never) {
				t.Errorf("%s, %s, %s cm: %q", ask.how, c.crew, c.length, loads[0])
			}
			if loads[0] != loads[1] {
				t.Errorf("%s: on one core %q, on four %q", ask.how, loads[0], loads[1])
			}
		}
	}
}

// A trial has no computed stroke, and says who rows all the same.
func TestATrialSaysWhoRows(t *testing.T) {
	for category, want := range map[string]string{"junior": "with juniors", "not said": "not said", "senior": ""} {
		out := builtins.Run(context.Background(), "care.star", []byte(
			"show(trial_plan(settings=(\"a\", \"b\"), pieces=8, category=\""+category+"\"))\n"), session.Config{})
		if len(out.Errors) > 0 {
			t.Fatal(out.Errors[0])
		}
		said := ""
		for _, c := range out.Document.Cautions {
			said += c.Text
		}
		if !strings.Contains(said, want) || want == "" && strings.Contains(said, "Load:") {
			t.Errorf("%s: %q", category, said)
		}
	}
}
