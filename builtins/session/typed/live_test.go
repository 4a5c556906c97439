package typed_test

import (
	"context"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/builtins/session/source"
	"thole/builtins/session/typed"
)

// live types lines one by one and fails on any error.
func live(t *testing.T, lines ...string) *typed.Session {
	t.Helper()
	l := typed.New(builtins.Configure(session.Config{Jobs: 2}))
	for _, line := range lines {
		if r := l.Eval(context.Background(), line); r.Errors != nil {
			t.Fatalf("%s\n%s", line, r.Errors[0].String())
		}
	}
	return l
}

func value(t *testing.T, l *typed.Session, line string) string {
	t.Helper()
	r := l.Eval(context.Background(), line)
	if r.Errors != nil {
		t.Fatalf("%s\n%s", line, r.Errors[0].String())
	}
	if r.Value == nil {
		return ""
	}
	return r.Value.String()
}

func TestNamesGivenAgainAreSeenByEarlierFunctions(t *testing.T) {
	l := live(t, "x = 1", "def f(): return x + g()", "def g(): return 100", "x = 10")
	if got := value(t, l, "f()"); got != "110" {
		t.Errorf("f() is %s", got)
	}
	live(t, "x = 1", "x = x + 1", "x += 1", "for i in range(3):\n    x += i\n")
	l = live(t, "total = 1", "for i in range(3):\n    total += i\n", "if total > 3:\n    total = 40\n")
	if got := value(t, l, "total"); got != "40" {
		t.Errorf("total is %s", got)
	}
	l = live(t, "oar = oar(length=288, inboard=88, blade='scull hatchet')", "y = oar.length")
	if got := value(t, l, "y"); got != "288" {
		t.Errorf("y is %s", got)
	}
	l = live(t, "t = 3", "t", "_ + 4", "_ + 5")
	if got := value(t, l, "_"); got != "12" {
		t.Errorf("_ is %s", got)
	}
}

func TestSweepReadsLiveNames(t *testing.T) {
	l := live(t, "sculls = oar(length=288, inboard=88, blade='scull hatchet')", `today = row(hull("4x"), crew(mass=78, power=360, rate=36), sculls)`,
		"def at(outboard): return helper(outboard)", "def helper(o): return today.change(oar=sculls.change(outboard=o))",
		"t = vary(at, outboard=[200, 202])")
	rows := `[t["speed"] == [at(200).speed, at(202).speed], at(200).speed != at(202).speed]`
	if got := value(t, l, rows); got != "[True, True]" {
		t.Errorf("the sweep's speeds are those of its function: %s", got)
	}
}

func TestErrorsAtThePrompt(t *testing.T) {
	l := live(t, "sculls = oar(length=288, inboard=88, blade='scull hatchet')")
	for _, c := range []struct{ line, want string }{
		{"y = scull.length\n", "nothing is called \"scull\"\n"},
		{"y = sculls.lenght\n", "an oar has no \"lenght\"\n"},
		{"import math", "nothing has to be imported\n"},
		{"answer(\"{scull}\")", "no name for the place {scull}\n"},
		{"z = 1 / 0", "nothing can be divided by 0\n"},
	} {
		r := l.Eval(context.Background(), c.line)
		if len(r.Errors) != 1 || !strings.HasPrefix(r.Errors[0].String(), c.want) || r.Errors[0].Source == "" {
			t.Errorf("%s: %v", c.line, r.Errors)
		}
	}
	// what stands before an error in a block stands
	if r := l.Eval(context.Background(), "a = 1\nb = nothing\n"); strings.Join(r.Gave, "") != "a" {
		t.Errorf("gave %v, %v", r.Gave, r.Errors)
	}
	if got := value(t, l, "a"); got != "1" {
		t.Errorf("a is %s", got)
	}
	// a def may call what comes later, and the error comes when it runs
	live(t, "def f(): return later()")
	l = live(t, "def f(): return latr()")
	r := l.Eval(context.Background(), "f()")
	if len(r.Errors) != 1 || r.Errors[0].What != `nothing is called "latr"` {
		t.Errorf("%v", r.Errors)
	}
}

func TestAgainAndUndo(t *testing.T) {
	l := live(t, "a = 1", "b = a + 1", "def f(): return a", "c = f()", "d = 7")
	r := l.Eval(context.Background(), "a = 10")
	if got := strings.Join(r.Stale, " "); got != "b c" {
		t.Errorf("stale %q", got)
	}
	redone, r := l.Again(context.Background())
	if len(redone) != 2 || redone[0].Name != "b" || redone[0].New.String() != "11" || r.Errors != nil {
		t.Errorf("redone %+v %v", redone, r.Errors)
	}
	if got := value(t, l, "c"); got != "10" {
		t.Errorf("c is %s", got)
	}
	l.Undo() // the line that showed c
	what, names, ok := l.Undo()
	if what != "again()" || strings.Join(names, " ") != "b c" || !ok {
		t.Errorf("undo %q %q", what, names)
	}
	if got := strings.Join(l.StaleNames(), " "); got != "b c" {
		t.Errorf("stale %q", got)
	}
	what, names, _ = l.Undo()
	if what != "a = 10" || strings.Join(names, " ") != "a" {
		t.Errorf("undo %q %q", what, names)
	}
	if got := value(t, l, "[a, b, c]"); got != "[1, 2, 1]" {
		t.Errorf("after undo %s", got)
	}
	// a name that was given again since is not old, and again leaves it alone
	l = live(t, "a = 1", "b, c = a, 2", "c = 9", "a = 5")
	if got := strings.Join(l.StaleNames(), " "); got != "b" {
		t.Errorf("stale %q", got)
	}
	l.Again(context.Background())
	if got := value(t, l, "[b, c]"); got != "[5, 9]" {
		t.Errorf("after again %s", got)
	}
	l = live(t, "oar = 3")
	l.Undo()
	if got := value(t, l, "oar(length=288, inboard=88, blade='scull hatchet').length"); got != "288" {
		t.Errorf("oar %s", got)
	}
}

func TestMoreLinesAreWanted(t *testing.T) {
	for _, c := range []struct {
		text string
		more bool
	}{
		{"", false}, {"x = 1", false}, {"x = (1 +", true}, {"x = (1 +\n2)", false},
		{"def f(x):", true}, {"def f(x): return x", false}, {"def f(x):\n    return x", true}, {"def f(x):\n    return x\n", true}, {"def f(x):\n    return x\n\n", false},
		{"note(\"\"\"\n  text", true}, {"note(\"\"\"\n  text\n\"\"\")", false}, {"if x:\n    y = 1\nelse:\n    y = 2\n\n", false},
		{"x = '('", false}, {"# (", false}, {"for i in range(3): print(i)", false}, {"d = {\"a\": 1,", true},
	} {
		if got := source.Open(c.text) || source.More(c.text); got != c.more {
			t.Errorf("%q: %v", c.text, got)
		}
	}
}

func TestStopAtThePromptKeepsTheSession(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	l := typed.New(builtins.Configure(session.Config{Jobs: 2, Progress: func(string, session.Step) { cancel() }}))
	l.Eval(ctx, "def f(outboard):\n    s = 0\n    for i in range(1000000):\n        s += i\n    return s\n")
	r := l.Eval(ctx, "t = vary(f, outboard=steps(1, 2000000, 1))")
	if !r.Stopped || r.Errors[0].What != "stopped" {
		t.Fatalf("%+v", r)
	}
	if got := value(t, l, "1 + 1"); got != "2" {
		t.Errorf("after the stop %s", got)
	}
	if _, ok := l.Lookup("t"); ok {
		t.Error("t was given")
	}
}

func TestKeepWritesAStudy(t *testing.T) {
	for name, c := range map[string]struct {
		lines []string
		want  string
	}{
		"shown values": {[]string{"a = 1", "a", "print(a)", "answer(\"{a}\")", "a + 1"},
			"# kept from a prompt session\ntitle(\"T\")\na = 1\nshow(a)\nprint(a)\nanswer(\"{a}\")\nshow(a + 1)\n"},
		"given again": {[]string{"a = 1", "b = 2", "show(b)", "a = 5", "show(a)"},
			"# kept from a prompt session\ntitle(\"T\")\na = 5\nb = 2\nshow(b)\nshow(a)\n"},
		"given again from later": {[]string{"a = 1", "b = 2", "a = b + 5", "show(a)"},
			"# kept from a prompt session\ntitle(\"T\")\nb = 2\na = b + 5\nshow(a)\n"},
		"built on itself": {[]string{"a = 1", "a = a + 1", "a += 3", "show(\"x\")", "note(\"{a} or {a:1}\")"},
			"# kept from a prompt session\ntitle(\"T\")\na_1 = 1\na_2 = a_1 + 1\na = a_2 + (3)\nshow(\"x\")\nnote(\"{a} or {a:1}\")\n"},
		"loops": {[]string{"total = 0", "for i in range(4):\n    total += i\n", "show(total)"},
			"# kept from a prompt session\ntitle(\"T\")\ntotal = 0\nfor i in range(4):\n    total += i\nshow(total)\n"},
		"tool's name": {[]string{"oar = oar(length=288, inboard=88, blade='scull hatchet')", "show(oar.length)", "note(\"{oar.length}\")"},
			"# kept from a prompt session\ntitle(\"T\")\nmy_oar = oar(length=288, inboard=88, blade='scull hatchet')\nshow(my_oar.length)\nnote(\"{my_oar.length}\")\n"},
		"functions first": {[]string{"def f(): return g()", "def g(): return 3", "x = f()", "show(x)"},
			"# kept from a prompt session\ntitle(\"T\")\ndef f(): return g()\ndef g(): return 3\nx = f()\nshow(x)\n"},
		"last value": {[]string{"3 + 4", "y = _ + 1", "show(y)"},
			"# kept from a prompt session\ntitle(\"T\")\nvalue_1 = 3 + 4\nshow(value_1)\ny = value_1 + 1\nshow(y)\n"},
		"several on a line": {[]string{"a = 1; b = 2", "a", "(a +\n b)"},
			"# kept from a prompt session\ntitle(\"T\")\na = 1\nb = 2\nshow(a)\nshow((a +\n b))\n"},
	} {
		t.Run(name, func(t *testing.T) {
			l := live(t, c.lines...)
			got := l.Keep("T")
			if got != c.want {
				t.Errorf("got\n%swant\n%s", got, c.want)
			}
			unlike, errs := l.Verify(context.Background(), got)
			if errs != nil || unlike != nil {
				t.Errorf("unlike %v, %v", unlike, errs)
			}
		})
	}
}

func TestCompletion(t *testing.T) {
	l := live(t, "sculls = oar(length=288, inboard=88, blade='scull hatchet')", `calm = row(hull("4x"), crew(mass=78, power=360, rate=36), sculls, name="calm")`)
	for _, c := range []struct{ text, want string }{
		{"x = oar(length=288, in", "inboard="},
		{"x = oar(", "length= inboard= blade= name= mass= balance= swing_weight= stiffness= hand= gate= diameter="},
		{"x = row(hull(\"4x\"), ", "crew= oar= rig= hold= target= wind= water= measured_on= measured_rig= name="},
		{"h = hull(\"2", "2x\" 2-\" 2+\""},
		{"h = hull(boat=\"4", "4x\" 4-\" 4+\""},
		{"calm.sp", "speed split"},
		{"calm.oar.in", "inboard"},
		{"calm.ch", "change("},
		{"calm.change(oar=sculls.change(outb", "outboard="},
		{"note(\"It is {cal", "calm"},
		{"note(\"It is {calm.he", "heaviness"},
		{"cal", "calm calibrate"},
		{"plot_c", "plot_curves"},
		{"lamb", "lambda"},
		{"nothing.sp", ""},
		{"f(x).sp", ""},
	} {
		got := l.Complete(c.text)
		var names []string
		for _, it := range got.Items {
			names = append(names, it.Insert)
		}
		if strings.Join(names, " ") != c.want {
			t.Errorf("%s: %q, want %q", c.text, strings.Join(names, " "), c.want)
		}
	}
	if c := l.Complete(`t = read_csv("oa`); !c.Files || c.From != len(`t = read_csv("`) {
		t.Errorf("files %+v", c)
	}
	if c := l.Complete("x = oar(length=288, in"); c.From != len("x = oar(length=288, ") || c.Items[0].Unit != "cm" || c.Items[0].Default != "needed" || c.Items[0].Says != "50 to 150; usual 83 to 89 scull, 112 to 118 sweep" {
		t.Errorf("%+v", c)
	}
}
