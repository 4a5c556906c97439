package examples

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/document"
	"thole/engine/table"
	"thole/engine/trial"
)

// run runs a study of an example's folder.
func run(t *testing.T, path string, set map[string]string) *session.Outcome {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	out := builtins.Run(context.Background(), filepath.Base(path), text, session.Config{Files: folder(filepath.Dir(path)), Set: set, Jobs: 2})
	if len(out.Errors) > 0 {
		t.Fatalf("%s", out.Errors.Error())
	}
	return out
}

// made holds the data of an example to the script that made them.
func made(t *testing.T, dir string) *session.Outcome {
	t.Helper()
	out := run(t, filepath.Join(dir, "make.star"), nil)
	if len(out.Written) == 0 {
		t.Fatal("make.star writes nothing")
	}
	for _, w := range out.Written {
		if *update {
			if err := os.WriteFile(filepath.Join(dir, w.Name), w.Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		have, err := os.ReadFile(filepath.Join(dir, w.Name))
		if err != nil || !bytes.Equal(have, w.Data) {
			t.Errorf("%s/%s is not what make.star makes (%v): go test ./examples -update", dir, w.Name, err)
		}
	}
	return out
}

// The fit finds the truth behind the made data within its stated errors.
func TestFitFindsTheTruth(t *testing.T) {
	truth := made(t, "fit-to-crew").Document.Results
	found := map[string]document.Result{}
	for _, r := range run(t, "fit-to-crew/study.star", nil).Document.Results {
		found[r.Name] = r
	}
	for _, want := range truth {
		e := found[want.Name].Estimate
		if e == nil || want.Value < e.Low || want.Value > e.High {
			t.Errorf("%s is %v, found %v", want.Name, want.Value, e)
		}
	}
	if len(truth) != 4 {
		t.Errorf("%d truths", len(truth))
	}
}

// A coach's way through a morning: plan, sheet, pieces typed in by hand in the
// notations people use, judgement.
func TestCoachsMorning(t *testing.T) {
	made(t, "trial-morning")
	before := run(t, "trial-morning/study.star", map[string]string{"pieces": ""}).Document
	if !strings.HasPrefix(before.Answer, "Not rowed yet.") {
		t.Errorf("answer %q", before.Answer)
	}
	var sheet *table.Table
	for _, b := range before.Blocks {
		if s, ok := b.(*document.Shown); ok && s.Table != nil && s.Table.WriteIn {
			sheet = s.Table
		}
	}
	if sheet == nil {
		t.Fatal("no sheet to write on")
	}
	var empty bytes.Buffer
	if err := table.WriteCSV(&empty, sheet); err != nil {
		t.Fatal(err)
	}
	// the times of morning.csv, written in three ways
	rowed, _, err := trial.ReadTrial("morning.csv", read(t, "trial-morning/morning.csv"))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(empty.String()), "\n")
	if len(lines) != 13 {
		t.Fatalf("the sheet has %d lines: %q", len(lines), lines[0])
	}
	for i := range rowed.Len() {
		cells := strings.Split(lines[i+1], ",")
		seconds := rowed.Column("time").Nums[i]
		whole := int(seconds) % 60
		tenths := int(seconds*10+0.5) % 10
		cells[3] = []string{
			fmt.Sprintf("%.1f", seconds), fmt.Sprintf("%d:%02d.%d", int(seconds)/60, whole, tenths), fmt.Sprintf(`"0:%02d:%02d,%d"`, int(seconds)/60, whole, tenths),
		}[i%3]
		cells[4], cells[5] = "30", fmt.Sprintf("%g", rowed.Column("wind").Nums[i])
		lines[i+1] = strings.Join(cells, ",")
		if got := cells[1]; got != rowed.Column("setting").Texts[i] {
			t.Fatalf("piece %d: the sheet says %s, it was rowed with %s", i+1, got, rowed.Column("setting").Texts[i])
		}
	}
	typed, _, err := trial.ReadTrial("typed.csv", []byte(strings.Join(lines, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	a, err := trial.Judge(typed, trial.JudgeSettings{A: "tulip", B: "hatchet"})
	if err != nil {
		t.Fatal(err)
	}
	b, err := trial.Judge(rowed, trial.JudgeSettings{A: "tulip", B: "hatchet"})
	if err != nil {
		t.Fatal(err)
	}
	if a.Difference.Value != b.Difference.Value || a.Difference.High != b.Difference.High || a.Verdict != "hatchet faster" {
		t.Errorf("typed in: %v %s, rowed: %v", a.Difference, a.Verdict, b.Difference)
	}
	after := run(t, "trial-morning/study.star", nil).Document
	if !strings.Contains(after.Answer, b.Verdict) {
		t.Errorf("answer %q", after.Answer)
	}
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
