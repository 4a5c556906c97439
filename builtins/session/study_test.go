package session

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"thole/builtins/lang"
	"thole/builtins/session/limits"
	"thole/engine/document"
)

// folder is a study's folder in memory.
type folder map[string]string

func (f folder) ReadFile(name string) ([]byte, error) {
	if strings.HasPrefix(name, "../") {
		return nil, lang.Mistake("a study reads in its own folder only, so a stranger's cannot look around",
			"copy oars.csv beside quad.star, then read_csv(\"oars.csv\", ...)",
			"this file lies outside the study's folder")
	}
	if text, ok := f[name]; ok {
		return []byte(text), nil
	}
	return nil, lang.Mistake("the folder holds other files", "another name", "there is no file %q", name)
}

func withFiles(f folder) func(*Config) { return func(c *Config) { c.Files = f } }

func fail(t *testing.T, o *Outcome) {
	t.Helper()
	for _, m := range o.Errors {
		t.Error(m.String())
	}
}

func wantHead(t *testing.T, o *Outcome, want string) {
	t.Helper()
	if len(o.Errors) == 0 {
		t.Fatalf("no error, want %q", want)
	}
	if got := o.Errors[0].Head(); got != want {
		t.Errorf("got\n%swant %s", o.Errors[0].String(), want)
	}
}

func TestMarkdownStudyRunsAsOneFile(t *testing.T) {
	o := run(t, "path.md", strings.Join([]string{
		"# How far {far} {cut:0 cm}?",
		"",
		"The oar has {cut:1 cm}, in code `{not}` it has none.",
		"",
		"```starlark",
		`sculls = oar(length=288, inboard=88)`,
		"cut = sculls.outboard - 1",
		"far = 3",
		"```",
		"",
		"## Next {{brace}}",
		"",
		"```text",
		"{untouched}",
		"```",
		"",
		"- in a list:",
		"  ```starlark",
		`  answer("It is {cut}.")`,
		"  ```",
	}, "\n"))
	fail(t, o)
	if o.Document.Title != "How far 3 199 cm?" || o.Document.Answer != "It is 199." {
		t.Errorf("title %q answer %q", o.Document.Title, o.Document.Answer)
	}
	var notes []string
	for _, b := range o.Document.Blocks {
		notes = append(notes, b.(*document.Note).Markdown)
	}
	want := []string{"The oar has 199.0 cm, in code `{not}` it has none.",
		"## Next {brace}\n\n```text\n{untouched}\n```\n\n- in a list:"}
	if fmt.Sprint(notes) != fmt.Sprint(want) {
		t.Errorf("notes %q, want %q", notes, want)
	}
}

func TestMarkdownKeepsLinesAndColumns(t *testing.T) {
	o := run(t, "path.md", "# T\n\n- list\n  ```starlark\n  x = very(1)\n  ```\n")
	wantHead(t, o, `path.md:5:7: nothing is called "very"`)
	if m := o.Errors[0]; m.Source != "  x = very(1)" || m.Caret != 6 {
		t.Errorf("source %q caret %d", m.Source, m.Caret)
	}
	o = run(t, "path.md", "# T\n\nA place {nothere} in prose.\n\n```starlark\nanswer(\"x\")\n```\n")
	wantHead(t, o, `path.md:3:10: no name for the place {nothere}`)
}

func TestLoadsDefinitionsOnly(t *testing.T) {
	f := folder{"club.star": "our = oar(length=288, inboard=88)\ndef longer(o): return " +
		"o.change(length=290)\n", "loud.star": "note(\"x\")\n", "bad.star": "x = very(1)\n",
		"a.star": `load("b.star", "y")` + "\nx = 1\n", "b.star": `load("a.star", "x")` + "\ny = 1\n"}
	o := run(t, "s.star", `load("club.star", "our", "longer")`+"\nanswer(\"{x}\", x=longer(our).length)\n",
		withFiles(f))
	fail(t, o)
	if o.Document.Answer != "290" {
		t.Errorf("answer %q", o.Document.Answer)
	}
	if len(o.Files) != 2 || o.Files[1].Name != "club.star" || o.Files[1].Role != "loaded" {
		t.Errorf("files %+v", o.Files)
	}
	wantHead(t, run(t, "s.star", `load("loud.star", "x")`+"\n", withFiles(f)),
		"loud.star:1:1: note cannot be called in a loaded file")
	wantHead(t, run(t, "s.star", `load("bad.star", "x")`+"\n", withFiles(f)),
		`bad.star:1:5: nothing is called "very"`)
	wantHead(t, run(t, "s.star", `load("none.star", "x")`+"\n", withFiles(f)),
		`s.star:1:1: there is no file "none.star"`)
	wantHead(t, run(t, "s.star", `load("a.star", "x")`+"\n", withFiles(f)),
		`b.star:1:1: a.star loads itself, by way of the files it loads`)
	wantHead(t, run(t, "s.star", `load("club.star", "ours")`+"\n", withFiles(f)),
		"s.star:1:1: club.star has no ours")
	wantHead(t, run(t, "s.star", "x = read_csv(\"../club/oars.csv\")\n", withFiles(f)),
		"s.star:1:14: this file lies outside the study's folder")
}

func TestLibraryFilesAreNeverBlamed(t *testing.T) {
	boathouse := func(c *Config) {
		c.Boathouse = func(name string) ([]byte, bool) {
			return []byte("def longer(o):\n    return o.change(length=4000 + o.length)\n\ndef bad(o): " +
				"return o + 1\n"), name == "boathouse"
		}
	}
	o := run(t, "s.star", "load(\"@boathouse\", \"bad\")\nx = bad(oar(length=288, inboard=88))\n", boathouse)
	wantHead(t, o, "s.star:2:5: an oar and a number cannot be added")
}

// Fields are held against what a thing has before anything is rowed, and only
// where it is plain what the thing is.
func TestFieldsAreCheckedBeforeTheRun(t *testing.T) {
	for text, want := range map[string]string{
		"x = today.sped\n":                                    "s.star:6:11: a stroke has no \"sped\"",
		"x = today.oar.lenght\n":                              "s.star:6:15: an oar has no \"lenght\"",
		"y = today.change(oar=sculls)\nx = y.sped\n":          "s.star:7:7: a stroke has no \"sped\"",
		"def f(): return today.sped\n":                        "s.star:6:23: a stroke has no \"sped\"",
		"answer(\"{today.oar.lenght:1 cm} {today.speed}\")\n": "s.star:6:10: an oar has no \"lenght\"",
		"answer(\"{x.sped}\", x=today)\n":                     "s.star:6:10: a stroke has no \"sped\"",
		"def f(today): return today.sped\nanswer(\"x\")\n":    "",
		"if today.speed > 3:\n    z = 1\nelse:\n    z = sculls\nanswer(\"x\" if z == 1 else z.nothing)\n": "",
		"t = vary(rowed, outboard=[200])\nanswer(\"{n}\", n=len(t.names))\n":                              "",
	} {
		_, ms := Check("s.star", []byte(quadHead+text), Config{Library: fakeLibrary})
		got := ""
		if len(ms) > 0 {
			got = ms[0].Head()
		}
		if got != want {
			t.Errorf("%s: got %q, want %q", text, got, want)
		}
	}
}

func TestParametersAreReadAndSet(t *testing.T) {
	text := `area = param("area now (cm²)", 820, low=600, high=1000, help="blade the crew rows today")
if area > 0:
    name = param("crew", "Otters", choices=["Otters", "Herons"])
old = param("old", False)
answer("{area} {name} {old}")
`
	decls, ms := Params("s.star", []byte(text), Config{Library: fakeLibrary})
	if ms != nil || len(decls) != 3 || decls[0].Name != "area_now" || decls[0].Unit != "cm²" ||
		decls[0].High != 1000 || decls[2].Default != false {
		t.Fatalf("%v %+v", ms, decls)
	}
	set := func(kv ...string) func(*Config) {
		return func(c *Config) {
			c.Set = map[string]string{}
			for i := 0; i < len(kv); i += 2 {
				c.Set[kv[i]] = kv[i+1]
			}
		}
	}
	o := run(t, "s.star", text, set("area_now", "8dm²", "crew", "Herons", "old", "yes"))
	fail(t, o)
	if o.Document.Answer != "800 Herons yes" {
		t.Errorf("answer %q", o.Document.Answer)
	}
	if len(o.Remarks) != 1 || o.Remarks[0].What != "area_now: 8 dm² is 800 cm²" {
		t.Errorf("remarks %+v", o.Remarks)
	}
	for _, c := range []struct{ name, value, head, why, typ string }{
		{"area", "3", `thole run: s.star has no parameter "area"`, "it has area_now (cm²), crew and old",
			"thole run s.star --set area_now=3"},
		{"area_now", "3000", "thole run: area_now 3000 cm² is outside 600 to 1000", "the study allows 600 " +
			"to 1000; it is the blade the crew rows today", "thole run s.star --set area_now=1000"},
		{"area_now", "big", `thole run: area_now cannot be "big"`, "", ""},
		{"area_now", "3kg", `thole run: area_now cannot be "3kg"`, "", ""},
		{"crew", "Heron", "thole run: crew cannot be Heron", "the study allows Otters or Herons",
			"thole run s.star --set crew=Herons"},
		{"old", "perhaps", `thole run: old cannot be "perhaps"`, "old is True or False",
			"thole run s.star --set old=True"},
	} {
		o := run(t, "s.star", text, set(c.name, c.value))
		wantHead(t, o, c.head)
		m := o.Errors[0]
		if !m.Usage || c.why != "" && (m.Why != c.why || m.Type != c.typ) {
			t.Errorf("%s=%s: usage %v why %q type %q", c.name, c.value, m.Usage, m.Why, m.Type)
		}
	}
	_, ms = Params("s.star", []byte("n = 3\nx = param(\"x\", n)\n"), Config{Library: fakeLibrary})
	if len(ms) != 1 || ms[0].Head() != "s.star:2:16: this value of param is not written out" {
		t.Errorf("%v", ms)
	}
	_, ms = Params("s.star", []byte("def f(): return param(\"x\", 3)\n"), Config{Library: fakeLibrary})
	if len(ms) != 1 || ms[0].Head() != "s.star:1:17: param stands inside a function" {
		t.Errorf("%v", ms)
	}
}

func TestFailedPointsStayAsBlankLines(t *testing.T) {
	o := run(t, "power.star", quadHead+`
def at(power): return today.change(crew=crew(mass=78, power=power, rate=38))
t = vary(at, power=[180, 220])
show(t["reason"])
show(len(t.complete()))
`)
	fail(t, o)
	got := []string{o.Document.Blocks[0].(*document.Shown).Line, o.Document.Blocks[1].(*document.Shown).Line}
	want := []string{`["the drive would take 1.30 s of a 1.58 s stroke", None]`, "1"}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %q want %q", got, want)
	}
}

func TestOrderDoesNotDependOnCores(t *testing.T) {
	text := quadHead + "def f(outboard):\n    print(outboard)\n    return " +
		"today.change(oar=sculls.change(outboard=outboard))\nshow(vary(f, outboard=steps(150, 250, " +
		"1))[\"value\"])\n"
	var first string
	for _, jobs := range []int{1, 2, 8} {
		var printed strings.Builder
		o := run(t, "s.star", text, func(c *Config) {
			c.Jobs = jobs
			c.Print = func(s string) { printed.WriteString(s + " ") }
		})
		fail(t, o)
		got := printed.String() + o.Document.Blocks[0].(*document.Shown).Line
		if first == "" {
			first = got
		} else if got != first {
			t.Errorf("%d jobs: %s\nwant %s", jobs, got, first)
		}
	}
}

func TestOnlyWhatIsReadIsFixed(t *testing.T) {
	o := run(t, "s.star", quadHead+`
free = []
read = [1]
def helper(x): return x + read[0]
def f(outboard): return helper(outboard)
t = vary(f, outboard=[200, 201])
free.append(1)
read.append(1)
`)
	wantHead(t, o, "s.star:13:6: this list or dict is fixed by now")
}

func TestStopKeepsWhatIsDone(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	cfg := Config{Library: fakeLibrary, Jobs: 1, Progress: func(what string, p Step) {
		if p.Done == 5 {
			cancel()
		}
	}}
	o := Run(ctx, "s.star", []byte(quadHead+"t = vary(rowed, outboard=steps(150, 250, 1))\nanswer(\"x\")\n"),
		cfg)
	if !o.Stopped || len(o.Errors) != 1 {
		t.Fatalf("%+v", o)
	}
	want := "s.star:6:5: stopped\n   6 | t = vary(rowed, outboard=steps(150, 250, 1))\n           " +
		"^^^^\nwhy   5 of 101 strokes are done and kept; no answer was told\ntype  thole run s.star\n"
	if got := o.Errors[0].String(); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestTimeLimitSaysHowToRaiseIt(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	o := Run(ctx, "s.star", []byte("x = 0\nfor i in range(1000000):\n    for j in range(1000000):\n        "+
		"x = x + 1\n"), Config{Library: fakeLibrary, Limits: limits.Limits{Seconds: 0.05}})
	if !o.Stopped || o.Errors[0].What != "stopped at the time limit, 0.1 s" ||
		o.Errors[0].Type != "thole run s.star --time-limit 0.1" {
		t.Errorf("%s", o.Errors[0].String())
	}
}

func TestLimitsHold(t *testing.T) {
	if testing.Short() {
		t.Skip("takes memory")
	}
	limits := func(c *Config) { c.Limits = limits.Limits{Heap: 64 << 20, Items: 200_000, Text: 4 << 20} }
	for name, c := range map[string]struct{ text, what string }{
		"text times":  {`x = "a" * (1 << 33)`, "this text would have 8.6 billion characters"},
		"list times":  {`x = [1] * (1 << 28)`, "this list would have 268.4 million elements"},
		"tuple times": {`x = (1,) * (1 << 28)`, "this list would have 268.4 million elements"},
		"range":       {`x = list(range(1 << 30))`, "this range would have 1.1 billion elements"},
		"doubling": {"x = \"ab\"\nfor i in range(60):\n    x = x + x\n",
			"this text would have 8.4 million characters"},
		"doubling in place": {"x = [1]\nfor i in range(60):\n    x += x\n",
			"this list would have 262144 elements"},
		"extend": {"x = [1]\nfor i in range(60):\n    x.extend(x)\n",
			"this list would have 262144 elements"},
		"join": {`x = ("a" * 100000).join([str(i) for i in range(1000)])`,
			"this text would have 100 million characters"},
		"replace": {`x = ("a" * 100000).replace("a", "b" * 1000)`,
			"this text would have 100 million characters"},
		"percent": {`x = ("%s" * 10000) % tuple(["a" * 10000] * 10000)`,
			"written out, this value is too long"},
		"shared parts": {"x = [1]\nfor i in range(40):\n    x = [x, x]\nprint(x)\n",
			"written out, this value is too long"},
		"numbers": {"x = 10\nfor i in range(60):\n    x = x * x\n", "this number is too large"},
		"comprehensions": {`x = [[j for j in range(100000)] for i in range(100000)]`,
			"stopped at the memory limit, 64 MB"},
		"slices": {"x = [0] * 200000\ny = []\nfor i in range(100000):\n    y.append(x[:])\n",
			"stopped at the memory limit, 64 MB"},
		"upper": {"x = \"a\" * 4000000\ny = []\nfor i in range(100000):\n    " +
			"y.append(x.upper())\n", "stopped at the memory limit, 64 MB"},
		"steps": {`x = steps(0, 1, 1e-12)`, "this list would have 1000 billion elements"},
		"in a function": {"def f(outboard): return len(\"a\" * (1 << 33))\nx = vary(f, outboard=[1, " +
			"2])\n", "this text would have 8.6 billion characters"},
		"getattr": {`x = getattr("a" * 100000, "replace")("a", "b" * 1000)`,
			"this text would have 100 million characters"},
	} {
		t.Run(name, func(t *testing.T) {
			o := run(t, "s.star", c.text+"\n", limits)
			if len(o.Errors) != 1 || o.Errors[0].What != c.what || o.Errors[0].Line == 0 {
				for _, m := range o.Errors {
					t.Error(m.String())
				}
				t.Errorf("want %s", c.what)
			}
		})
	}
}

func TestCyclesAndDeepDataEnd(t *testing.T) {
	for _, text := range []string{
		"x = []\nx.append(x)\nprint(x)\nshow(x)\n",
		"x = {}\nx[\"x\"] = x\nshow(str(x))\n",
		"x = []\nfor i in range(100000):\n    x = [x]\nshow(len(str(x)))\n",
		"x = ()\nfor i in range(1000000):\n    x = (x,)\ny = {x: 1}\n",
		"x = (1,)\nfor i in range(60):\n    x = (x, x)\ny = {}\ny[x] = 2\n",
		"x = (1,)\nfor i in range(60):\n    x = (x, x)\ny = set([x])\n",
		"x = (1,)\nfor i in range(60):\n    x = (x, x)\ny = {}.get(x)\n",
		"x = (1,)\nfor i in range(60):\n    x = (x, x)\ny = x in {}\n",
		"x = []\nfor i in range(1000000):\n    x = [x]\ndef f(outboard): return len(x)\ny = vary(f, " +
			"outboard=[1, 2])\n",
		"x = []\nfor i in range(1000000):\n    x = [x]\nnote(\"{x}\")\n",
	} {
		o := run(t, "s.star", text,
			func(c *Config) { c.Limits = limits.Limits{Text: 1 << 20, Items: 200_000} })
		if len(o.Errors) != 1 || o.Errors[0].Line == 0 {
			t.Errorf("%s: %v", text, o.Errors)
		}
	}
}

func TestCheckRunsNothing(t *testing.T) {
	sum, ms := Check("s.star", []byte(quadHead+`t = read_csv(param("oars", "oars.csv"))
for i in range(3):
    show(i)
fail("must not run")
`), Config{Library: fakeLibrary})
	if ms != nil || len(sum.Params) != 1 || len(sum.Reads) != 1 || sum.Reads[0] != "oars.csv" {
		t.Errorf("%v %+v", ms, sum)
	}
	// a slip in a branch or function is found, but a window is not held against it
	_, ms = Check("s.star", []byte("def f(): return crew(mass=78, pwr=3, rate=3)\nx = 1\n"),
		Config{Library: fakeLibrary})
	if len(ms) != 1 || ms[0].Head() != `s.star:1:31: crew has no "pwr"` {
		t.Errorf("%v", ms)
	}
	_, ms = Check("s.star", []byte("def f(): return oar(length=2.89, inboard=88)\nx = 1\n"),
		Config{Library: fakeLibrary})
	if ms != nil {
		t.Errorf("%v", ms)
	}
}

func TestTellingHasBounds(t *testing.T) {
	for text, what := range map[string]string{
		"for i in range(100000):\n    note(\"x\")\n": "this study tells too much: 10001 blocks",
		"note(\"x\" * 200000)\n":                     "this text has 200000 characters, 100000 are the most",
		"note(\"[\" * 5000)\n":                       "this text has 5000 [, 2000 are the most",
		"note(\"> \" * 50 + \"x\")\n":                "this text is quoted more than 20 deep",
		"s = \"aaaaaaaa\"\nfor i in range(40):\n    s = fill(\"{s}{s}{s}{s}\", s=s)\n": "written out, this " +
			"value is too long",
		"for i in range(20000):\n    result(\"r\" + str(i), i)\n": "this study tells " +
			"too much: 10001 results",
	} {
		o := run(t, "s.star", text)
		if len(o.Errors) != 1 || o.Errors[0].What != what || o.Errors[0].Line == 0 {
			t.Errorf("%s: %v", text, o.Errors)
		}
	}
}
