package builtins

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The reference cases as studies, through the whole language: testdata/cases/README.md
// says where their numbers come from. Every result is met to 1e-5, what the reference's
// own steps leave and what is promised, or to 1e-8 where it is next to nothing (a spring's last joules).
func TestCases(t *testing.T) {
	open := struct {
		Cases []struct {
			Input    struct{ Name string }
			Expected map[string]any
		}
	}{}
	readCases(t, "open.json", &open)
	expected := map[string]map[string]float64{}
	for _, c := range open.Cases {
		fields := map[string]float64{}
		for name, v := range c.Expected {
			if x, ok := v.(float64); ok {
				fields[name] = x
			}
		}
		expected[c.Input.Name] = fields
	}
	branches := map[string]map[string]float64{}
	readCases(t, "branches/expected.json", &branches)
	for name, fields := range branches {
		expected["branches/"+name] = fields
	}
	if len(expected) != 40 {
		t.Errorf("%d cases", len(expected))
	}
	for name, fields := range expected {
		t.Run(name, func(t *testing.T) { holdsCase(t, name, fields) })
	}
}

func readCases(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../testdata/cases", name))
	if err == nil {
		err = json.Unmarshal(data, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// holdsCase runs one case's study and holds every result that is expected of it.
func holdsCase(t *testing.T, name string, fields map[string]float64) {
	text, err := os.ReadFile("../testdata/cases/" + name + ".star")
	if err != nil {
		t.Fatal(err)
	}
	out := tryWell(t, string(text))
	held := 0
	for _, r := range out.Document.Results {
		want, ok := fields[r.Name]
		if !ok {
			if strings.HasPrefix(name, "branches/") {
				t.Errorf("nothing is expected of %s", r.Name)
			}
			continue
		}
		held++
		if miss := math.Abs(r.Value - want); !(miss <= math.Max(1e-5*math.Abs(want), 1e-8)) {
			t.Errorf("%s: %.9g, expected %.9g: off by %.1e", r.Name, r.Value, want, miss/math.Abs(want))
		}
	}
	if held < 17 {
		t.Errorf("only %d results are held", held)
	}
}
