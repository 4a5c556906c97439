// Package termtest holds lines set for a window against files that were read by
// eye before they were kept. For tests only.
package termtest

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"thole/engine/term"
)

// Update says that files are to be written anew: go test -update.
var Update = flag.Bool("update", false, "write the golden files anew")

// Golden compares lines, without their colours, with testdata/NAME.txt.
func Golden(t *testing.T, name string, lines []string) {
	t.Helper()
	var b strings.Builder
	for _, line := range lines {
		b.WriteString(strings.TrimRight(term.Paint(line, false), " ") + "\n")
	}
	path := filepath.Join("testdata", filepath.FromSlash(name)+".txt")
	if *Update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), b.String()); diff != "" {
		t.Errorf("%s: %s", name, diff)
	}
}

// Fits holds that nothing is wider than its window.
func Fits(t *testing.T, w term.Window, lines []string) {
	t.Helper()
	for _, line := range lines {
		if n := term.Width(strings.TrimRight(line, " ")); n > w.Width {
			t.Errorf("%d columns in a window of %d: %q", n, w.Width, line)
		}
	}
}
