package scripts

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The season's template and the worked example are one study and one register:
// what is mended in one is mended in the other.
func TestSeasonTemplateIsTheExample(t *testing.T) {
	template, ok := Template("season")
	if !ok {
		t.Fatal("no template season")
	}
	seen := 0
	err := fs.WalkDir(template, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path == "README.md" {
			return err
		}
		seen++
		mine, err := fs.ReadFile(template, path)
		if err != nil {
			return err
		}
		theirs, err := os.ReadFile(filepath.Join("../examples/season", path))
		if err != nil {
			return err
		}
		if body(string(mine)) != body(string(theirs)) {
			t.Errorf("%s differs from examples/season/%s", path, path)
		}
		return nil
	})
	if err != nil || seen < 7 {
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
