// Package engine_test holds the house to its directions: which room may look
// into which. A new arrow is a decision, written here and in DEVELOPERS.md.
package engine_test

import (
	"go/build"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// looksInto names, for every room, the rooms of the house it may import.
var looksInto = map[string][]string{
	"engine/num":      {},
	"engine/fluid":    {"engine/num"},
	"engine/words":    {},
	"engine/rounding": {},
	"engine/table":    {},
	"engine/store":    {},
	"engine/plain":    {},
	"engine/facts":    {},
	"engine/blade":    {"engine/num", "engine/facts", "engine/fluid"},
	"engine/oar":      {"engine/num", "engine/facts", "engine/fluid", "engine/blade"},
	"engine/rigging":  {"engine/oar", "engine/blade"},
	"engine/hull":     {"engine/num", "engine/facts", "engine/fluid"},
	"engine/crew":     {"engine/num", "engine/facts", "engine/fluid"},
	"engine/stroke": {"engine/num", "engine/facts", "engine/fluid", "engine/table", "engine/blade", "engine/oar",
		"engine/hull", "engine/crew"},
	"engine/study":     {"engine/num", "engine/table"},
	"engine/trial":     {"engine/num", "engine/table", "engine/fluid", "engine/stroke", "engine/study"},
	"engine/document":  {"engine/table"},
	"engine/typeset":   {"engine/table"},
	"engine/draw":      {"engine/typeset"},
	"engine/figure":    {"engine/document", "engine/draw", "engine/table", "engine/typeset"},
	"engine/chart":     {"engine/document", "engine/draw", "engine/figure"},
	"engine/report":    {"engine/table", "engine/document", "engine/typeset", "engine/draw", "engine/figure"},
	"engine":           {}, // the mark of the rooms that compute
	"engine/record":    {"engine", "engine/document", "engine/table"},
	"builtins/lang":    {"engine/table"},
	"builtins/session": {"builtins/lang", "engine/document", "engine/table"},
}

// leaves are rooms that any other may look into.
var leaves = []string{"engine/words", "engine/rounding"}

// strangers are packages that a room may not import, though Go offers them:
// the physics knows no script, no plot, no files and no clock.
var strangers = []string{"os", "os/exec", "time", "net", "net/http", "go.starlark.net", "gonum.org/v1/plot", "golang.org/x/term"}

// mayMeet lifts single prohibitions, each for a reason.
var mayMeet = map[string][]string{
	"engine/store":     {"os", "time"},              // it is a file
	"engine/chart":     {"engine/document", "engine/draw", "engine/figure"},
	"engine/trial":     {"time"},                    // tracks carry times of day
	"builtins/lang":    {"go.starlark.net"},         // it is the language
	"builtins/session": {"go.starlark.net", "time"}, // a session has a time limit
}

func TestHouseDirections(t *testing.T) {
	seen := 0
	for _, top := range []string{"engine", "builtins/lang", "builtins/session"} {
		walk(t, top, func(room string, pkg *build.Package) {
			seen++
			allowed, known := looksInto[room]
			if !known {
				t.Errorf("%s: a room this test does not know; say here what it may look into", room)
				return
			}
			for _, imp := range pkg.Imports {
				inner, ok := strings.CutPrefix(imp, "thole/")
				if ok && !slices.Contains(allowed, inner) && !slices.Contains(leaves, inner) {
					t.Errorf("%s looks into %s, which the house does not allow", room, inner)
				}
				for _, s := range strangers {
					if (imp == s || strings.HasPrefix(imp, s+"/") && s != "net" && s != "os") && !slices.Contains(mayMeet[room], s) {
						t.Errorf("%s imports %s, a stranger there", room, imp)
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
