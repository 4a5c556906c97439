// Package main_test opens live pages in browsers: what they compute there, and what a reader does.
package main_test

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/cmd/live/engine"
	"thole/cmd/live/rerun"
	"thole/scripts"
)

const root = "../.."

// missing skips a test for want of a tool, or fails it where tools have to be.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("THOLE_NEED_BROWSER") != "" {
		t.Fatalf("%s is missing, and THOLE_NEED_BROWSER is set", what)
	}
	t.Skipf("%s is missing", what)
}

// folder is what a study reads in.
type folder string

func (f folder) ReadFile(name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(string(f), name))
}

func run(t *testing.T, study string, set map[string]string) *session.Outcome {
	t.Helper()
	text, err := os.ReadFile(study)
	if err != nil {
		t.Fatal(err)
	}
	return builtins.Run(context.Background(), filepath.Base(study), text, session.Config{Files: folder(filepath.Dir(study)),
		Boathouse: scripts.Library, Set: set, Jobs: 2, Command: "thole run " + filepath.Base(study)})
}

type page struct {
	Name string `json:"name"`
	File string `json:"file"`
}

// cases is what the script that drives the browsers is told.
type cases struct {
	Studies []page            `json:"studies"`
	Main    string            `json:"main"`
	Param   string            `json:"param"`
	Value   string            `json:"value"`
	Answer  string            `json:"answer"` // natively, with the value
	Sent    string            `json:"sent"`   // natively, as the study stands
	Cells   []string          `json:"cells"`
	Refusal string            `json:"refusal"`
	Altered string            `json:"altered"`
	Hostile map[string]string `json:"hostile"`
}

func TestLivePages(t *testing.T) {
	if os.Getenv("THOLE_LONG") == "" {
		t.Skip("builds the engine and opens every study in two browsers, minutes long: .ci/long runs it")
	}
	if _, err := exec.LookPath("node"); err != nil {
		missing(t, "node")
	}
	if _, err := os.Stat(root + "/testdata/page/node_modules/puppeteer-core"); err != nil {
		missing(t, "puppeteer-core (npm ci in testdata/page)")
	}
	e, err := engine.Build(root)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	c := prepare(t, dir, e)
	holdsSize(t, c)
	told, err := json.Marshal(c)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, "cases.json"), told, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range []struct{ name, program string }{{"chrome", "chromium"}, {"firefox", "firefox-esr"}} {
		t.Run(b.name, func(t *testing.T) {
			program, err := exec.LookPath(b.program)
			if err != nil {
				missing(t, b.program)
			}
			script, err := filepath.Abs(root + "/testdata/page/live.mjs")
			if err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command("node", script, b.name, program, filepath.Join(dir, "cases.json")).CombinedOutput()
			if err != nil {
				t.Errorf("%v", err)
			}
			for line := range strings.Lines(string(out)) {
				if line = strings.TrimSpace(line); strings.HasPrefix(line, "measured ") {
					t.Log(line)
				} else if line != "" {
					t.Error(line)
				}
			}
		})
	}
}

// holdsSize checks that no live page is too large to be sent. Where there is no xz the
// engine is packed a half larger, and nothing is held.
func holdsSize(t *testing.T, c cases) {
	t.Helper()
	const most = 5 << 20
	if _, err := exec.LookPath("xz"); err != nil {
		t.Log("no xz: the size is not held")
		return
	}
	for _, p := range append(c.Studies, page{"main", c.Main}) {
		info, err := os.Stat(p.File)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("measured %s: %.2f MB", p.Name, float64(info.Size())/1e6)
		if info.Size() > most {
			t.Errorf("the live page of %s has %d bytes, more than %d", p.Name, info.Size(), most)
		}
	}
}

// prepare writes the live page of every study with results, and what is expected of one.
func prepare(t *testing.T, dir string, e engine.Engine) cases {
	write := func(name string, data []byte) string {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
		return file
	}
	live := func(name string, out *session.Outcome) string {
		data, err := rerun.Page(out, nil, e.Loader, e.Packed)
		if err != nil {
			t.Fatal(err)
		}
		return write(name+".html", data)
	}
	c := cases{Param: "area_now", Value: "821", Hostile: map[string]string{
		"endless":   "x = 0\nfor i in range(1000000000):\n    x = x + 1\nanswer(\"x\")\n",
		"text bomb": "x = \"<script>hostile = 1</script>\"\nfor i in range(60):\n    x = x + x\nanswer(x)\n",
		"markup":    "answer(\"<img src=x onerror='hostile = 1'><script>hostile = 1</script>\")\noops(1)\n",
	}}
	examples, err := filepath.Glob(root + "/examples/*/study.*")
	if err != nil {
		t.Fatal(err)
	}
	shared, err := filepath.Glob(root + "/testdata/studies/*_*.*")
	if err != nil {
		t.Fatal(err)
	}
	for _, study := range append(shared, examples...) {
		if ext := filepath.Ext(study); ext != ".star" && ext != ".md" {
			continue
		}
		name := filepath.Base(study)
		if strings.HasPrefix(name, "study.") {
			name = filepath.Base(filepath.Dir(study))
		}
		out := run(t, study, nil)
		if len(out.Errors) > 0 {
			t.Logf("%s does not run natively: %s", name, out.Errors[0].Head())
			continue
		}
		c.Studies = append(c.Studies, page{name, live(name, out)})
	}
	if len(c.Studies) < 20 {
		t.Fatalf("only %d studies found", len(c.Studies))
	}

	study := root + "/testdata/studies/a_outboard.star"
	out := run(t, study, nil)
	c.Main, c.Sent = live("main", out), plain(out.Document.Answer)
	changed := run(t, study, map[string]string{c.Param: c.Value})
	c.Answer, c.Cells = plain(changed.Document.Answer), []string{c.Value}
	c.Refusal = run(t, study, map[string]string{c.Param: "9999"}).Errors[0].What

	text, err := os.ReadFile(c.Main)
	if err != nil {
		t.Fatal(err)
	}
	altered := regexp.MustCompile(`(\\"speed\\": \{\\n   *\\"value\\": \d\.\d*)(\d)`).ReplaceAllStringFunc(string(text), func(s string) string {
		return s[:len(s)-1] + map[bool]string{true: "4", false: "5"}[s[len(s)-1] == '5']
	})
	if altered == string(text) {
		t.Fatal("no recorded speed found to alter")
	}
	c.Altered = write("altered.html", []byte(altered))
	return c
}

// plain is a sentence as a page prints it: units stand behind a narrow space.
func plain(s string) string {
	return regexp.MustCompile(`(\d) (cm²|cm|m/s|s)\b?`).ReplaceAllString(s, "$1\u202f$2")
}
