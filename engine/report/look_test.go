package report

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"thole/engine/figure/rigtest"
)

// TestPagesToLookAt writes the made-up pages into THOLE_LOOK, for a person to
// open: what is ugly is not found by a test.
func TestPagesToLookAt(t *testing.T) {
	dir := os.Getenv("THOLE_LOOK")
	if dir == "" {
		t.Skip("set THOLE_LOOK=folder to have the pages written there")
	}
	docs := allDocs()
	for _, boat := range rigtest.Boats {
		docs["rig-"+boat] = rigPage(boat)
	}
	for name, doc := range docs {
		var b bytes.Buffer
		if err := WritePage(&b, doc); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if err := os.WriteFile(filepath.Join(dir, name+".html"), b.Bytes(), 0o666); err != nil {
			t.Error(err)
		}
		t.Logf("%s: %d kB", name, b.Len()>>10)
	}
}
