// Package examples holds every worked study to its recorded results: a study
// that answers otherwise than it did is either mended or recorded anew, by
//
//	go test ./examples -update
package examples

import (
	"context"
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/document"
	"thole/scripts"
)

var update = flag.Bool("update", false, "record the results anew")

// recorded is what a study is held to: its answer to the letter, its results to
// nine digits (machines differ in the last bits of a fused multiplication).
type recorded struct {
	Answer  string                 `json:"answer"`
	Results map[string]resultValue `json:"results"`
}

type resultValue struct {
	Value float64  `json:"value,omitempty"`
	Unit  string   `json:"unit,omitempty"`
	Low   *float64 `json:"low,omitempty"`
	High  *float64 `json:"high,omitempty"`
	Text  string   `json:"text,omitempty"`
}

// folder is an example's folder as its study sees it.
type folder string

func (f folder) ReadFile(name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(string(f), name))
}

// runExample runs a study in an example's folder.
func runExample(dir, name string, text []byte) *session.Outcome {
	return builtins.Run(context.Background(), name, text, session.Config{Files: folder(dir), Boathouse: scripts.Library, Jobs: runtime.GOMAXPROCS(0)})
}

func TestExamples(t *testing.T) {
	studies, _ := filepath.Glob("*/study.*")
	if len(studies) < 3 {
		t.Fatalf("only %d examples found", len(studies))
	}
	for _, path := range studies {
		t.Run(filepath.Dir(path), func(t *testing.T) { holdToRecord(t, path) })
	}
}

func holdToRecord(t *testing.T, path string) {
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	out := runExample(filepath.Dir(path), filepath.Base(path), text)
	if len(out.Errors) > 0 {
		t.Fatalf("%s", out.Errors.Error())
	}
	got := record(out.Document)
	if got.Answer == "" || len(got.Results) == 0 {
		t.Fatal("an example gives an answer and results")
	}
	file := filepath.Join(filepath.Dir(path), "recorded.json")
	if *update {
		data, err := json.MarshalIndent(got, "", " ")
		if err == nil {
			err = os.WriteFile(file, append(data, '\n'), 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
		return
	}
	var want recorded
	data, err := os.ReadFile(file)
	if err == nil {
		err = json.Unmarshal(data, &want)
	}
	if err != nil {
		t.Fatalf("%v: record it with go test ./examples -update", err)
	}
	compare(t, got, want)
}

func compare(t *testing.T, got, want recorded) {
	if got.Answer != want.Answer {
		t.Errorf("answer\n got %s\nwant %s", got.Answer, want.Answer)
	}
	if len(got.Results) != len(want.Results) {
		t.Errorf("%d results, recorded are %d", len(got.Results), len(want.Results))
	}
	for name, w := range want.Results {
		g, ok := got.Results[name]
		if !ok || g.Unit != w.Unit || g.Text != w.Text || !near(&g.Value, &w.Value) || !near(g.Low, w.Low) || !near(g.High, w.High) {
			t.Errorf("result %q: got %+v, recorded %+v", name, g, w)
		}
	}
}

// near compares to nine digits; what a search found by bisection may differ in
// the last of them, hence 1e-8.
func near(a, b *float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a-*b) <= 1e-8*math.Max(1, math.Abs(*b))
}

func record(doc *document.Document) recorded {
	r := recorded{Answer: doc.Answer, Results: map[string]resultValue{}}
	for _, x := range doc.Results {
		v := resultValue{Value: x.Value, Unit: x.Unit}
		if x.IsText {
			v = resultValue{Text: x.Text}
		}
		if e := x.Estimate; e != nil {
			v.Low, v.High = &e.Low, &e.High
		}
		r.Results[x.Name] = v
	}
	return r
}

// Every example says what it is in five lines and marks its people as invented.
func TestExampleReadmes(t *testing.T) {
	studies, _ := filepath.Glob("*/study.*")
	for _, path := range studies {
		text, err := os.ReadFile(filepath.Join(filepath.Dir(path), "README.md"))
		if err != nil {
			t.Error(err)
			continue
		}
		if !strings.Contains(string(text), "invented") {
			t.Errorf("%s: its README does not say that club and crews are invented", path)
		}
	}
}
