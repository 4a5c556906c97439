package scripts

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The season's template and the worked example have the same registers, in the
// example as CSV files: what is mended in one is mended in the other.
func TestSeasonTemplateIsTheExample(t *testing.T) {
	template, ok := Template("season")
	if !ok {
		t.Fatal("no template season")
	}
	seen := 0
	err := fs.WalkDir(template, ".", func(path string, d fs.DirEntry, err error) error {
		register, ok := strings.CutPrefix(path, "boathouse/")
		if err != nil || !ok || register == "columns.csv" {
			return err
		}
		seen++
		mine, err := fs.ReadFile(template, path)
		if err != nil {
			return err
		}
		theirs, err := os.ReadFile(filepath.Join("../examples/season/2026", register))
		if err != nil {
			return err
		}
		if body(string(mine)) != body(string(theirs)) {
			t.Errorf("%s differs from examples/season/2026/%s", path, register)
		}
		return nil
	})
	if err != nil || seen != 6 {
		t.Errorf("%d files compared, %v", seen, err)
	}
}

// body leaves out the remarks, which name the club in one and not in the other.
func body(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, "#") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "")
}

// Every function that a study may load says what it does.
func TestLibrariesAreDocumented(t *testing.T) {
	for _, name := range Libraries() {
		text, ok := Library(name)
		if !ok {
			t.Fatalf("no library %s", name)
		}
		lines := strings.Split(string(text), "\n")
		if !strings.HasPrefix(lines[0], `"""`) {
			t.Errorf("%s does not say what it is", name)
		}
		for i, line := range lines {
			if strings.HasPrefix(line, "def ") && !strings.HasPrefix(line, "def _") && !strings.HasPrefix(strings.TrimSpace(lines[i+1]), `"""`) {
				t.Errorf("%s: %s has no docstring", name, line)
			}
		}
	}
	if _, ok := Library("../scripts"); ok {
		t.Error("a library was found outside the room")
	}
}

func TestHelpOfTheBoathouse(t *testing.T) {
	lines, ok := Help("boathouse")
	text := strings.Join(lines, "\n")
	for _, want := range []string{"The boathouse:", "One line a seat, bow is 1;", "pairs_that_differ(measured, by=0.3)", "findings(*lists)"} {
		if !ok || !strings.Contains(text, want) {
			t.Errorf("%q is not in the help", want)
		}
	}
	if strings.Contains(text, "_finding(") {
		t.Error("the help tells what no study can load")
	}
	lines, ok = Help("out_of_line")
	if want := `load("@boathouse", "out_of_line")`; !ok || lines[len(lines)-1] != want || !strings.Contains(lines[1], "Places of the values") {
		t.Errorf("help of one function: %q", lines)
	}
	if _, ok := Help("nothing_of_the_kind"); ok {
		t.Error("help on nothing")
	}
}
