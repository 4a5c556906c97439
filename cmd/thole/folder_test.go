package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/builtins/lang"
	"thole/engine/record"
)

// A study reads the run that the user named, wherever the user stands; not one
// that it names by itself.
func TestOnlyRunsThatWereNamedAreReadElsewhere(t *testing.T) {
	here := t.TempDir()
	t.Chdir(here)
	data, err := sampleRecord().Encode()
	if err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{"club", "club/beside", "here", "runs/kept", "other"} {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		if dir != "club" {
			os.WriteFile(filepath.Join(dir, record.FileName), data, 0o644)
			os.WriteFile(filepath.Join(dir, "data.csv"), data, 0o644)
		}
	}
	f, err := openStudyFolder("club/study.star")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	f.allow(map[string]string{"last_run": "here/", "older": "kept", "oldest": filepath.Join(here, "other")})
	for name, readable := range map[string]bool{
		"beside/record.json": true, "here/record.json": true, "kept/record.json": true,
		filepath.ToSlash(filepath.Join(here, "other/record.json")): true,
		"other/record.json": false, "runs/kept/record.json": false, "../here/record.json": false,
		"here/data.csv": false, "../runs/kept/data.csv": false, "here/../other/record.json": false,
	} {
		_, err := f.ReadFile(name)
		if (err == nil) != readable {
			t.Errorf("%s: %v", name, err)
		}
		if e := lang.AsError(err); err != nil && (e == nil || e.Why == "" || e.Type == "") {
			t.Errorf("%s is refused with %#v", name, err)
		}
	}
}

func TestRefusalsNameTheNearest(t *testing.T) {
	dir := t.TempDir()
	os.WriteFile(filepath.Join(dir, "oars.csv"), []byte("set\nA\n"), 0o644)
	f, err := openStudyFolder(filepath.Join(dir, "study.star"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	_, err = f.ReadFile("oar.csv")
	if e := lang.AsError(err); e == nil || !strings.Contains(e.Why, "oars.csv") || e.Type != `"oars.csv"` {
		t.Errorf("%#v", e)
	}
	_, err = f.ReadFile("../club/oars.csv")
	if e := lang.AsError(err); e == nil || e.What != "this file lies outside the study's folder" {
		t.Errorf("%#v", e)
	}
}
