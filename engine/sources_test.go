package engine

import (
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// The mark is made of every file that computes, and of no test: a file that it
// misses could change a stroke and leave old points in the store.
func TestMarkCoversTheRooms(t *testing.T) {
	embedded := map[string]bool{}
	fs.WalkDir(sources, ".", func(path string, d fs.DirEntry, err error) error {
		embedded[path] = !d.IsDir()
		return err
	})
	seen := 0
	for _, room := range []string{"defaults", "num", "fluid", "blade", "oar", "hull", "crew", "stroke",
		"stroke/problem", "stroke/general", "stroke/fast", "stroke/replay", "equalload"} {
		files, err := filepath.Glob(filepath.Join(room, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v", room, err)
		}
		for _, file := range files {
			seen++
			if isTest := strings.HasSuffix(file, "_test.go"); embedded[filepath.ToSlash(file)] == isTest {
				t.Errorf("%s: in the mark %v; name it in sources.go", file, !isTest)
			}
		}
	}
	if seen < 30 || len(Fingerprint()) != 16 {
		t.Errorf("%d files, mark %q", seen, Fingerprint())
	}
}
