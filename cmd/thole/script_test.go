package main

import (
	"os/exec"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"thole/engine/term/termtest"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"thole": main, "sit": sit})
}

// The command as its users type it: testdata/script, one file a story. exits N
// thole ... runs it and asks for that exit code.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *termtest.Update,
		Setup: func(env *testscript.Env) error {
			env.Setenv("LC_ALL", "C.UTF-8")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE command...")
	}
	want, err := strconv.Atoi(args[0])
	if err != nil {
		ts.Fatalf("%q is no exit code", args[0])
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit, ok := err.(*exec.ExitError)
		if !ok {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("ended with %d, want %d", got, want)
	}
}
