package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"thole/engine/record"
	"thole/engine/term"
)

func TestRunsAreListedOldestFirst(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	now := time.Date(2026, 4, 12, 9, 30, 0, 0, time.FixedZone("", 3600))
	lay := func(folder, answer string, made time.Time) {
		r := sampleRecord()
		r.Answer = answer
		if folder == "runs/quad-0001" {
			r.Params.Add("side", &record.Param{Value: "port", Set: true})
		}
		data, err := r.Encode()
		if err != nil {
			t.Fatal(err)
		}
		os.MkdirAll(folder, 0o755)
		path := filepath.Join(folder, record.FileName)
		os.WriteFile(path, data, 0o644)
		os.Chtimes(path, made, made)
	}
	lay("runs/quad-0001", "An outboard of 199 cm on the 42 by 860 blade: 5.037 m/s against 5.018 m/s today.",
		now.Add(-2*time.Hour))
	lay("runs/quad-0002", "Another.", now.Add(-30*time.Hour))
	lay("last_year", "Four crews\nhave oars.", now.AddDate(-1, 0, 0))
	lay("runs/quad-0003", "From a clock that was wrong.", now.AddDate(1, 0, 0))
	os.MkdirAll("runs/quad-0004", 0o755)  // cut off
	os.MkdirAll("runs/quad.parts", 0o755) // parts are no run
	os.MkdirAll("runs/quad-0005", 0o755)  // damaged
	os.WriteFile("runs/quad-0005/record.json", []byte(`{"format"`), 0o644)

	runs, unfinished, broken, err := findRuns()
	if err != nil {
		t.Fatal(err)
	}
	lines := runList(term.Window{Width: 80}, runs, now)
	want := []string{
		"run        study  made         size  answer",
		"last_year  quad   12 Apr 2025  1 kB  Four crews have oars.",
		"quad-0002  quad   yesterday    1 kB  Another.",
		"the same study, data and parameters as last_year",
		"quad-0001  quad   today 07:30  2 kB  An outboard of 199 cm on the 42 by 860...",
		"unlike quad-0002: side: new, port",
		"quad-0003  quad   12 Apr 2027  1 kB  From a clock that was wrong.",
		"unlike quad-0001: side: gone, was port",
	}
	if got := strings.Split(strings.ReplaceAll(strings.Join(lines, "\n"), "\n  ", "\n"),
		"\n"); len(got) != len(want) {
		t.Errorf("%d lines:\n%s", len(got), strings.Join(lines, "\n"))
	}
	for i, line := range lines {
		if strings.TrimSpace(line) != want[i] {
			t.Errorf("line %d\n%q\n%q", i, strings.TrimSpace(line), want[i])
		}
		if len(line) > 80 {
			t.Errorf("line %d is %d wide", i, len(line))
		}
	}
	if text := runCount(len(runs), unfinished); !strings.Contains(text, "4 runs") ||
		!strings.Contains(text, "1 unfinished, quad-0004") {
		t.Errorf("count %q", text)
	}
	if len(broken) != 1 || !strings.Contains(broken[0], "quad-0005: its record.json is cut short") {
		t.Errorf("broken %q", broken)
	}
}

func TestRunsAreFoundByTheirName(t *testing.T) {
	t.Chdir(t.TempDir())
	data, _ := sampleRecord().Encode()
	for _, dir := range []string{"last_year", "runs/quad-0001"} {
		os.MkdirAll(dir, 0o755)
		os.WriteFile(filepath.Join(dir, record.FileName), data, 0o644)
	}
	os.MkdirAll("runs/quad-0002", 0o755)
	for _, typed := range []string{"last_year", "./last_year/", "quad-0001", "runs/quad-0001",
		"last_year/record.json"} {
		if _, err := findRun(typed); err != nil {
			t.Errorf("%s: %v", typed, err)
		}
	}
	for typed, why := range map[string]string{"lastyear": "last_year", "quad-0002": "same command",
		"nothing_like_it": "looked for"} {
		_, err := findRun(typed)
		m, ok := err.(*Message)
		if !ok || !strings.Contains(m.Why+m.Type, why) {
			t.Errorf("%s: %v, want %q", typed, err, why)
		}
	}
}

func TestTolerancesAreRead(t *testing.T) {
	r := sampleRecord()
	got, err := readTolerances([]string{"outboard=0.5"}, r, r)
	if err != nil || got["outboard"] != 0.5 {
		t.Errorf("%v, %v", got, err)
	}
	for _, typed := range []string{"outboard", "=1", "outboard=much", "outboard=-1", "outboard=NaN",
		"outbord=1"} {
		if _, err := readTolerances([]string{typed}, r, r); err == nil {
			t.Errorf("%q was taken", typed)
		} else if m, ok := err.(*Message); !ok || !m.Usage || m.Type == "" {
			t.Errorf("%q: %#v", typed, err)
		}
	}
	_, err = readTolerances([]string{"outbord=1"}, r, r)
	if m := err.(*Message); !strings.Contains(m.Type, "outboard=1") {
		t.Errorf("the nearest name is not offered: %q", m.Type)
	}
	// of several names equally near the same is offered each time
	for _, name := range []string{"pace d", "pace a", "pace c", "pace b"} {
		r.Results.Add(name, &record.Result{Value: 1.0})
	}
	for range 20 {
		_, err = readTolerances([]string{"pace x=1"}, r, r)
		if m := err.(*Message); !strings.Contains(m.Type, "pace a=1") {
			t.Fatalf("another name is offered: %q", m.Type)
		}
	}
}
