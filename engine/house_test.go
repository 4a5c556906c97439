// Package engine_test holds the house to its directions: which room may look
// into which. A new arrow is a decision, written here and in DEVELOPERS.md.
package engine_test

import (
	"go/build"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// mayImport names, for every room, the rooms of the house it may import.
var mayImport = map[string][]string{
	"engine/num":        {},
	"engine/fluid":      {"engine/num"},
	"engine/words":      {},
	"engine/rounding":   {},
	"engine/model":      {}, // the model in words
	"engine/sources":    {}, // the ledger
	"engine/table":      {},
	"engine/checkpoint": {},
	"engine/canonical":  {},
	"engine/defaults":   {},
	"engine/blade":      {"engine/num", "engine/defaults", "engine/fluid"},
	"engine/oar":        {"engine/num", "engine/defaults", "engine/fluid", "engine/blade"},
	"engine/rigging":    {"engine/num", "engine/oar", "engine/blade"},
	"engine/hull":       {"engine/num", "engine/defaults", "engine/fluid"},
	"engine/crew":       {"engine/num", "engine/defaults", "engine/fluid"},

	"engine/stroke/problem": {"engine/num", "engine/defaults", "engine/fluid", "engine/blade", "engine/oar",
		"engine/hull", "engine/crew"},
	"engine/stroke/fast": {"engine/num", "engine/fluid", "engine/blade", "engine/oar", "engine/hull",
		"engine/crew", "engine/stroke/problem"},
	"engine/stroke/general": {"engine/num", "engine/fluid", "engine/blade", "engine/oar", "engine/hull",
		"engine/crew", "engine/stroke/problem"},
	"engine/stroke/replay": {"engine/num", "engine/defaults", "engine/table", "engine/blade",
		"engine/stroke/problem", "engine/stroke/general"},
	"engine/stroke": {"engine/stroke/problem", "engine/stroke/fast", "engine/stroke/general",
		"engine/stroke/replay", "engine/num", "engine/table"},
	"engine/equalload": {"engine/num", "engine/oar", "engine/stroke"},
	"engine/forms":     {"engine/defaults", "engine/blade", "engine/crew", "engine/stroke/problem"},
	"engine/weighing":  {"engine/canonical", "engine/forms", "engine/stroke", "engine/study"},
	// boats for tests, no part of the program
	"engine/stroke/problem/problemtest": {"engine/num", "engine/fluid", "engine/blade", "engine/oar",
		"engine/hull", "engine/crew", "engine/stroke/problem"},

	"engine/study":          {"engine/num", "engine/table"},
	"engine/trial":          {"engine/num", "engine/table", "engine/fluid", "engine/stroke", "engine/study"},
	"engine/document":       {"engine/table"},
	"engine/typeset":        {"engine/table"},
	"engine/draw":           {"engine/typeset"},
	"engine/figure/rigtest": {"engine/blade", "engine/document", "engine/oar", "engine/rigging"}, // for tests
	"engine/figure":         {"engine/document", "engine/draw", "engine/table", "engine/term", "engine/typeset"},
	"engine/chart":          {"engine/document", "engine/draw", "engine/figure"},
	"engine/report":         {"engine/table", "engine/document", "engine/typeset", "engine/draw", "engine/figure"},
	"engine":                {}, // its mark, made of numbers
	// the strokes it is made of
	"engine/reference": {"engine/num", "engine/fluid", "engine/blade", "engine/oar", "engine/hull", "engine/crew",
		"engine/stroke", "engine/stroke/problem", "engine/equalload", "engine/table"},
	"engine/workbook":      {"engine/table"},
	"engine/record":        {"engine", "engine/document", "engine/table"},
	"engine/term":          {"engine/table"},
	"engine/term/termtest": {"engine/term"},
	"engine/window":        {"engine/term", "engine/table", "engine/document", "engine/figure", "engine/record"},
	// the live page: its engine, and running a study for it
	"cmd/live/engine": {},
	"cmd/live/rerun": {"builtins", "builtins/lang", "builtins/session", "builtins/session/limits",
		"builtins/session/message", "engine/record", "engine/report", "scripts"},
	"cmd/thole/input": {"builtins/session/source", "engine/term"},
	"builtins/units":  {},
	"builtins/lang":   {"builtins/units", "engine/table"},
	// running studies: their text, what messages say of it, limits, runs, and lines typed one by one
	"builtins/session/source":  {"builtins/lang"},
	"builtins/session/message": {"builtins/session/source", "builtins/lang", "engine/table"},
	"builtins/session/limits":  {"builtins/lang"},
	"builtins/session": {"builtins/session/source", "builtins/session/message", "builtins/session/limits",
		"builtins/lang", "engine/document", "engine/table"},
	"builtins/session/typed": {"builtins/session", "builtins/session/source", "builtins/session/message",
		"builtins/session/limits", "builtins/lang"},
	// the rooms of what a script can call, the lower first
	"builtins/account": {"builtins/lang", "builtins/session", "engine/defaults", "engine/hull", "engine/document", "engine/table",
		"engine/weighing"},
	"builtins/views": {"builtins/lang", "engine/document", "engine/table"},
	"builtins/things": {"builtins/units", "builtins/lang", "builtins/account", "builtins/views", "engine/defaults",
		"engine/fluid", "engine/blade", "engine/oar", "engine/rigging", "engine/hull", "engine/crew", "engine/document",
		"engine/table"},
	"builtins/rowing": {"builtins/units", "builtins/lang", "builtins/session", "builtins/account", "builtins/views",
		"builtins/things", "engine/fluid", "engine/blade", "engine/oar", "engine/rigging", "engine/stroke", "engine/forms", "engine/canonical",
		"engine/document", "engine/table"},
	"builtins/weighing": {"builtins/units", "builtins/lang", "builtins/session", "builtins/account", "builtins/views",
		"builtins/rowing", "builtins/asking", "engine/equalload", "engine/forms", "engine/stroke", "engine/study", "engine/trial",
		"engine/weighing", "engine/document", "engine/figure", "engine/table"},
	"builtins/asking": {"builtins/units", "builtins/lang", "builtins/session", "builtins/account", "builtins/views",
		"builtins/things", "builtins/rowing", "engine/defaults", "engine/stroke", "engine/equalload", "engine/study", "engine/weighing", "engine/canonical",
		"engine/document", "engine/table"},
	"builtins/telling": {"builtins/units", "builtins/lang", "builtins/session", "builtins/account", "builtins/views",
		"builtins/things", "builtins/rowing", "builtins/asking", "engine/blade", "engine/rigging", "engine/stroke", "engine/study",
		"engine/document", "engine/figure", "engine/report", "engine/table", "engine/trial"},
	"builtins/data": {"builtins/lang", "builtins/session", "builtins/session/message", "engine/record", "engine/table"},
	"builtins/trials": {"builtins/lang", "builtins/session", "builtins/account", "builtins/views", "builtins/rowing", "builtins/asking",
		"builtins/data", "engine/stroke", "engine/study", "engine/trial", "engine/document", "engine/figure",
		"engine/report", "engine/table"},
	"builtins": {"builtins/lang", "builtins/session", "builtins/account", "builtins/views", "builtins/things",
		"builtins/rowing", "builtins/asking", "builtins/weighing", "builtins/telling", "builtins/data", "builtins/trials", "engine/defaults",
		"engine/document", "engine/table"},
}

// leaves are rooms that any other may look into.
var leaves = []string{"engine/words", "engine/rounding", "engine/model", "engine/sources"}

// forbidden are packages that a room may not import, though Go offers them:
// the physics knows no script, no plot, no files and no clock.
var forbidden = []string{"os", "os/exec", "time", "net", "net/http", "go.starlark.net", "gonum.org/v1/plot", "golang.org/x/term"}

// exempt lifts single prohibitions, each for a reason.
var exempt = map[string][]string{
	"engine/checkpoint":    {"os", "time"},              // it is a file
	"engine/chart":         {"os", "gonum.org/v1/plot"}, // it is the plot
	"engine/term/termtest": {"os"},                      // it reads the files of tests
	"engine/trial":         {"time"},                    // tracks carry times of day
	"builtins/lang":        {"go.starlark.net"},         // it is the language
	"builtins/session":     {"go.starlark.net", "time"}, // a session has a time limit

	"builtins/session/source":  {"go.starlark.net"},
	"builtins/session/message": {"go.starlark.net"},
	"builtins/session/limits":  {"go.starlark.net"},
	"builtins/session/typed":   {"go.starlark.net"},

	"cmd/live/engine": {"os", "os/exec"}, // it builds a program
	"cmd/thole/input": {"os", "time"},    // it reads keys and keeps the history

	"builtins":          {"go.starlark.net"},
	"builtins/account":  {"go.starlark.net"},
	"builtins/views":    {"go.starlark.net"},
	"builtins/things":   {"go.starlark.net"},
	"builtins/rowing":   {"go.starlark.net"},
	"builtins/asking":   {"go.starlark.net"},
	"builtins/weighing": {"go.starlark.net"},
	"builtins/telling":  {"go.starlark.net"},
	"builtins/data":     {"go.starlark.net"},
	"builtins/trials":   {"go.starlark.net"},

	"engine/stroke/problem/problemtest": {"os"}, // it reads the cases
}

// mostFiles is how many files of code one room holds, so that a newcomer sees
// them at a glance.
const mostFiles = 25

func TestImportDirections(t *testing.T) {
	seen := 0
	for _, top := range []string{"engine", "builtins", "cmd"} {
		walk(t, top, func(room string, pkg *build.Package) {
			seen++
			if n := len(pkg.GoFiles); n > mostFiles {
				t.Errorf("%s holds %d files of code, %d at most: it wants rooms of its own", room, n, mostFiles)
			}
			if room == "cmd/thole" {
				return // the command looks into all
			}
			allowed, known := mayImport[room]
			if !known {
				t.Errorf("%s: a room this test does not know; say here what it may look into", room)
				return
			}
			for _, imp := range pkg.Imports {
				inner, ok := strings.CutPrefix(imp, "thole/")
				if ok && !slices.Contains(allowed, inner) && !slices.Contains(leaves, inner) {
					t.Errorf("%s looks into %s, which the house does not allow", room, inner)
				}
				for _, s := range forbidden {
					if (imp == s || strings.HasPrefix(imp, s+"/") && s != "net" && s != "os") && !slices.Contains(exempt[room], s) {
						t.Errorf("%s imports %s, which is forbidden there", room, imp)
					}
				}
			}
		})
	}
	if seen < 10 {
		t.Fatalf("only %d rooms found: the walk is broken", seen)
	}
}

// walk calls visit for every package below the folder, named from the root.
func walk(t *testing.T, top string, visit func(room string, pkg *build.Package)) {
	t.Helper()
	root := ".."
	err := filepath.WalkDir(filepath.Join(root, top), func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if d.Name() == "testdata" {
			return filepath.SkipDir
		}
		pkg, err := build.ImportDir(path, 0)
		if err != nil || len(pkg.GoFiles) == 0 {
			return nil // no Go here
		}
		room, err := filepath.Rel(root, path)
		if err == nil {
			visit(filepath.ToSlash(room), pkg)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A line of code has at most 110 columns, a tab counting four: two files stand side by side on a screen. Text
// between backquotes is as long as what it says.
func TestLinesFitTheScreen(t *testing.T) {
	for _, top := range []string{"engine", "builtins", "cmd"} {
		walk(t, top, func(room string, pkg *build.Package) {
			for _, name := range pkg.GoFiles {
				path := filepath.Join(pkg.Dir, name)
				text, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				raw := false
				for i, line := range strings.Split(string(text), "\n") {
					quoted := raw || strings.Contains(line, "`")
					raw = raw != (strings.Count(line, "`")%2 == 1)
					n := utf8.RuneCountInString(strings.ReplaceAll(line, "\t", "    "))
					if n > 110 && !quoted {
						t.Errorf("%s/%s:%d has %d columns: break it", room, name, i+1, n)
					}
				}
			}
		})
	}
}
