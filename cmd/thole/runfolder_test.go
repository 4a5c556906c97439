package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"thole/builtins/session/limits"
	"thole/engine/record"
)

// A stranger's folder may hold links where runs are written: nothing is written
// where they lead.
func TestRunsAreNotWrittenThroughLinks(t *testing.T) {
	outer := t.TempDir()
	inner, away := filepath.Join(outer, "inner"), filepath.Join(outer, "away")
	for _, dir := range []string{filepath.Join(inner, "runs"), away} {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(inner)
	os.Symlink(away, "runs/study-0001")
	if _, err := openRunFolder("runs/study-0001"); err == nil {
		t.Error("a run's folder that leads out was opened")
	} else if m := writeFailed("runs/study-0001", err); !strings.Contains(m.Why, "link") {
		t.Errorf("why: %s", m.Why)
	}
	f, err := openRunFolder("runs/study-0002")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	os.Symlink(filepath.Join(away, "page.html"), "runs/study-0002/page.html")
	os.Symlink(away, "runs/study-0002/sub")
	if err := f.Write("page.html", []byte("page")); err != nil {
		t.Error(err)
	}
	for _, name := range []string{"sub/x.csv", "../x.csv", filepath.Join(away, "x.csv")} {
		if err := f.Write(name, []byte("x")); err == nil {
			t.Errorf("%s was written", name)
		}
	}
	if left, _ := os.ReadDir(away); len(left) > 0 {
		t.Errorf("%v was written away", left)
	}
	if info, err := os.Lstat("runs/study-0002/page.html"); err != nil || !info.Mode().IsRegular() {
		t.Error("the page is still a link")
	}
}

// Another run into the same folder: the record of the earlier one stays, its
// other files go; the same run again changes nothing.
func TestAnotherRunIntoTheSameFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "last_year")
	write := func(r *record.Run, names ...string) string {
		f, err := openRunFolder(dir)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		for _, name := range names {
			if err := f.Write(name, []byte(r.Answer+name)); err != nil {
				t.Fatal(err)
			}
		}
		k := keeper{context.Background(), limits.Default, f}
		note, err := k.record(r)
		if err != nil {
			t.Fatal(err)
		}
		return note
	}
	first := sampleRecord()
	if note := write(first, "page.html", "old.csv"); note != "" {
		t.Errorf("a new folder is noted: %s", note)
	}
	if note := write(sampleRecord(), "page.html", "old.csv"); note != "" {
		t.Errorf("the same run again is noted: %s", note)
	}
	second := sampleRecord()
	second.Files[2] = record.NewFile("data/oars.csv", record.Input, []byte("set\nB\n"))
	if note := write(second, "page.html", "new.csv"); !strings.Contains(note, earlierName) {
		t.Errorf("another run is not noted: %q", note)
	}
	for name, there := range map[string]bool{"old.csv": false, "new.csv": true, earlierName: true,
		record.FileName: true} {
		if _, err := os.Stat(filepath.Join(dir, name)); (err == nil) != there {
			t.Errorf("%s: %v", name, err)
		}
	}
	kept, _, err := readRecord(filepath.Join(dir, earlierName))
	if err != nil || kept.Files[2].SHA256 != first.Files[2].SHA256 {
		t.Errorf("the earlier record is lost: %v", err)
	}
}

// A run that is not kept whole lists what was written of it, and nothing else of its
// record changes.
func TestRecordListsWhatIsThere(t *testing.T) {
	f, err := openRunFolder(filepath.Join(t.TempDir(), "run"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := sampleRecord()
	f.Write("speeds.csv", []byte("speed\n"))
	for _, name := range []string{"page.html", "figure.svg"} {
		f.Plan(name)
	}
	if _, err := (keeper{context.Background(), limits.Default, f}).record(r); err != nil {
		t.Fatal(err)
	}
	f.Write("page.html", []byte("a page"))
	if err := f.unplan(r); err != nil {
		t.Fatal(err)
	}
	written, _ := f.root.ReadFile(record.FileName)
	want, err := r.Encode()
	if err != nil || !slices.Equal(r.Outputs, []string{"page.html", "speeds.csv"}) ||
		string(written) != string(want) {
		t.Errorf("%v: it lists %q\n%s", err, r.Outputs, written)
	}
}
