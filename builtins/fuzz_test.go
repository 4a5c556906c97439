package builtins_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"thole/builtins"
	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/engine/record"
	"thole/engine/report"
	"thole/scripts"
)

// small is a folder with one table and one earlier run.
type small struct{}

func (small) ReadFile(name string) ([]byte, error) {
	if name == "oars.csv" {
		return []byte("set,kind,count,length (cm),inboard (cm)\nA,scull,2,289,87.5\nB,sweep,1,374,115\n"), nil
	}
	return nil, errors.New("no such file")
}

// wordsOfTheMachinery must not reach a user.
var wordsOfTheMachinery = regexp.MustCompile(`(?i)\bpanic\b|goroutine|starlark\.|\.go:\d|nil pointer|index out of range|runtime error`)

// FuzzStudy: whatever stands in a study, it ends within its limits, what is
// wrong is said without a word of the machinery, and what was told can be shown
// and kept.
func FuzzStudy(f *testing.F) {
	// the bombs of testdata/hostile are run by their own suite: here they would
	// only use up the time
	for _, pattern := range []string{"../examples/*/study.star", "../testdata/hostile/escapes/*.star"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("%s: %d seeds, %v", pattern, len(files), err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
		defer cancel()
		begun := time.Now()
		out := builtins.Run(ctx, "study.star", text, session.Config{Files: small{}, Boathouse: scripts.Library, Jobs: 2, Version: "test",
			Limits: limits.Limits{Seconds: 0.2, Heap: 256 << 20, Items: 20_000, Text: 1 << 20}})
		// the limit, the grace that a study has to notice it, and a busy machine
		if d := time.Since(begun); d > 10*time.Second {
			t.Fatalf("took %v under a limit of 0.2 s", d)
		}
		for _, m := range out.Errors {
			if m.What == "" && len(m.Names) == 0 {
				t.Fatalf("an error that says nothing: %+v", m)
			}
			if said := m.Head() + " " + m.Why + " " + m.Type; wordsOfTheMachinery.MatchString(said) {
				t.Fatalf("says %q", said)
			}
		}
		if out.Stopped { // what is left behind may still be writing
			return
		}
		// a page has a size limit of its own, and says so
		if err := report.WritePage(&bytes.Buffer{}, out.Document); err != nil && !strings.Contains(err.Error(), "the page would be") {
			t.Fatalf("cannot be shown: %v", err)
		}
		var params record.Ordered[*record.Param]
		data, err := record.Of(out.Document, params, nil).Encode()
		if err != nil {
			t.Fatalf("cannot be kept: %v", err)
		}
		if _, err := record.Decode(data); err != nil {
			t.Fatalf("kept but not read: %v", err)
		}
	})
}
