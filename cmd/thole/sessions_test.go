package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"thole/engine/term"
	"thole/engine/term/termtest"
)

// Sessions as their users have them: testdata/sessions, one file a story, what
// was typed and what the window then showed. -update writes what is shown anew.
//
// `sit [-width n] [-plain] [-paste] in [STUDY]` is a person who types the lines
// of a file one by one; `stdin in` and `thole prompt` is a pipe.
func TestSessions(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "sessions")
	files, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
	if err != nil || len(files) < 25 {
		t.Fatalf("only %d sessions: %v", len(files), err)
	}
	studies, err := filepath.Abs(filepath.Join("..", "..", "testdata", "studies"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           dir,
		UpdateScripts: *termtest.Update,
		Setup: func(env *testscript.Env) error {
			env.Setenv("LC_ALL", "C.UTF-8")
			env.Setenv("STUDIES", studies)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// sit is the command of that name: the prompt, with a person who types the lines
// of a file, and all that a window would show on stdout.
func sit() {
	width := flag.Int("width", 80, "columns of the window")
	plain := flag.Bool("plain", false, "a locale without UTF-8")
	paste := flag.Bool("paste", false, "the lines come at once, as in a paste")
	var set texts
	flag.Var(&set, "set", "a parameter")
	flag.Parse()
	text, err := os.ReadFile(flag.Arg(0))
	if err != nil {
		fmt.Println(err)
		os.Exit(2)
	}
	tty := &terminal{term.Terminal{Window: term.Window{Width: *width, ASCII: *plain}, Out: os.Stdout,
		Err: os.Stdout}}
	p, err := tty.openPrompt(flag.Arg(1), set)
	if err == nil {
		p.typed = true
		err = p.carry(&typist{lines: strings.Split(strings.TrimSuffix(string(text), "\n"), "\n"), at: tty,
			paste: *paste})
	}
	if msg, ok := err.(*Message); ok {
		tty.printMessage(*msg)
		os.Exit(codeOf(msg))
	}
}

type texts []string

func (t *texts) String() string     { return strings.Join(*t, " ") }
func (t *texts) Set(s string) error { *t = append(*t, s); return nil }

// typist types lines and shows them as the window would.
type typist struct {
	lines []string
	at    *terminal
	paste bool
}

func (t *typist) Next(so string) (string, error) {
	if len(t.lines) == 0 {
		return "", io.EOF
	}
	line := t.lines[0]
	t.lines = t.lines[1:]
	sign := "> "
	if so != "" {
		sign = ". "
	}
	t.at.Print(sign + line)
	return line, nil
}

func (t *typist) Peek(i int) (string, bool) {
	if !t.paste || i >= len(t.lines) {
		return "", false
	}
	return t.lines[i], true
}
