//go:build !windows

package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"

	"thole/engine/term"
)

// sitting is the prompt on a real pseudo-terminal, with a window that is looked
// at.
type sitting struct {
	t    *testing.T
	dir  string
	cmd  *exec.Cmd
	tty  *os.File
	mu   sync.Mutex
	seen *screen
	raw  strings.Builder
	done chan struct{}
}

// sitDown opens the prompt in a folder, in a window of that many columns.
func sitDown(t *testing.T, dir string, columns int, env ...string) *sitting {
	t.Helper()
	const rows = 40
	s := &sitting{t: t, dir: dir, seen: newScreen(columns, rows), done: make(chan struct{})}
	s.cmd = exec.Command("thole", "prompt")
	s.cmd.Dir = dir
	s.cmd.Env = append(os.Environ(),
		append([]string{"LC_ALL=C.UTF-8", "TERM=xterm-256color", "NO_COLOR=", "THOLE_HISTORY=" +
			filepath.Join(dir, "history")}, env...)...)
	var err error
	if s.tty, err = pty.StartWithSize(s.cmd, &pty.Winsize{Rows: rows, Cols: uint16(columns)}); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(s.done)
		buffer := make([]byte, 4096)
		for {
			n, err := s.tty.Read(buffer)
			s.mu.Lock()
			s.seen.Write(buffer[:n])
			s.raw.Write(buffer[:n])
			s.mu.Unlock()
			if err != nil { // the terminal closes when the command ends
				return
			}
		}
	}()
	t.Cleanup(func() {
		s.cmd.Process.Kill()
		s.tty.Close()
	})
	return s
}

func (s *sitting) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.seen.Text()
}

// keys types keys as they are.
func (s *sitting) keys(keys string) {
	s.t.Helper()
	if _, err := io.WriteString(s.tty, keys); err != nil {
		s.t.Fatal(err)
	}
}

// patience is how long a test waits for what must come: long, as machines that
// run tests may be busy, and no more than that is said by it.
const patience = 15 * time.Second

// wait waits until the window shows what it should.
func (s *sitting) wait(what string, shows func(text string) bool) time.Duration {
	s.t.Helper()
	begun := time.Now()
	for time.Since(begun) < patience {
		if shows(s.text()) {
			return time.Since(begun)
		}
		time.Sleep(2 * time.Millisecond)
	}
	s.t.Fatalf("%s did not come:\n%s", what, s.text())
	return 0
}

// ready waits for the prompt at the end of the window.
func (s *sitting) ready() time.Duration {
	s.t.Helper()
	return s.wait("the prompt",
		func(text string) bool { return text == ">" || strings.HasSuffix(text, "\n>") })
}

// dropped waits for the prompt behind so many dropped lines.
func (s *sitting) dropped(n int) {
	s.t.Helper()
	s.wait("the prompt after Ctrl-C",
		func(text string) bool { return strings.Count(text, "^C") == n && strings.HasSuffix(text, "\n>") })
}

// line types a line and gives what the window shows below it.
func (s *sitting) line(line string) string {
	s.t.Helper()
	before := len(s.text())
	s.keys(line + "\r")
	s.wait("the answer to "+line, func(text string) bool {
		return len(text) > before+1 &&
			strings.HasSuffix(text, "\n>")
	})
	text := strings.TrimSuffix(s.text()[before:], "\n>")
	_, below, _ := strings.Cut(text, "\n")
	return below
}

// leave types Ctrl-D and gives the exit code.
func (s *sitting) leave() int {
	s.t.Helper()
	s.keys("\x04")
	return s.ended()
}

func (s *sitting) ended() int {
	s.t.Helper()
	select {
	case <-s.done:
	case <-time.After(patience):
		s.t.Fatalf("it did not end:\n%s", s.text())
	}
	err := s.cmd.Wait()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		s.t.Fatal(err)
	}
	return s.cmd.ProcessState.ExitCode()
}

const aBoat = "now = row(hull(\"1x\"), crew(mass=84, power=380, rate=32), oar(length=288, inboard=88, " +
	"blade=\"scull hatchet\"), name=\"now\")"

// A paste arrives whole: tabs and blanks for indents, empty lines within, with
// the marks of a paste around it and without.
func TestPasteOfBlocks(t *testing.T) {
	tabs := "def f(x):\r\t# tabs\r\r\tif x > 2:\r\r\t\treturn \"more\"\r\r\telse:\r\t\treturn " +
		"\"less\"\r\rf(3)\rf(1)\r"
	blanks := "def g(x):\n    y = x + 1\n\n    # blanks\n\n    return y\ntotal = [\n\n  g(1),\n  " +
		"g(2)]\nfor i in range(2):\n    total = total + [i]\n\ntotal\n"
	for _, marked := range []bool{false, true} {
		t.Run(fmt.Sprintf("marked %v", marked), func(t *testing.T) {
			t.Parallel()
			s := sitDown(t, t.TempDir(), 80)
			s.ready()
			for _, paste := range []string{tabs, blanks} {
				if marked {
					paste = "\x1b[200~" + paste + "\x1b[201~"
				}
				s.keys(paste)
				s.wait("the last answer", func(text string) bool {
					return strings.HasSuffix(text, "\nless\n>") ||
						strings.HasSuffix(text, "\n[2, 3, 0, 1]\n>")
				})
			}
			text := s.text()
			for _, wrong := range []string{"why ", "type ", "nothing is called"} {
				if strings.Contains(text, wrong) {
					t.Errorf("wrong in the window:\n%s", text)
				}
			}
			if !strings.Contains(text, "> f(3)\nmore\n> f(1)\nless\n>") ||
				!strings.Contains(text, ".         return \"more\"\n.\n.     else:") {
				t.Errorf("the window:\n%s", text)
			}
			if code := s.leave(); code != 0 {
				t.Errorf("ended with %d", code)
			}
		})
	}
}

// What is pasted is text: keys and escapes within it do nothing, and a paste
// without a line end at its end waits for whoever pasted it.
func TestPasteIsText(t *testing.T) {
	t.Parallel()
	s := sitDown(t, t.TempDir(), 80)
	s.ready()
	s.keys("\x1b[200~" + "a = 1\x04\x03\x1b\r\na + \x151" + "\x1b[201~")
	s.wait("the second line", func(text string) bool { return strings.HasSuffix(text, "> a + 1") })
	s.keys("\r")
	s.wait("its answer", func(text string) bool {
		return strings.HasSuffix(text, "\n2\n>")
	})
	if text := s.text(); strings.Contains(text, "^C") {
		t.Errorf("the window:\n%s", text)
	}
}

// A block is found again whole, over a restart; the file is the user's own, one
// JSON text a line, and a line that failed is in it.
func TestHistoryOfABlock(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := sitDown(t, dir, 80)
	s.ready()
	s.keys("def f(x):\r    y = x + 1\r    return \"<\" + fmt(y) + \">\"\r\r")
	s.ready()
	s.line("f(nothing)")
	s.leave()

	path := filepath.Join(dir, "history")
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Fatalf("%v, %v", info, err)
	}
	data, _ := os.ReadFile(path)
	if want := `"def f(x):\n    y = x + 1\n    return \"<\" + fmt(y) + \">\""` + "\n" + `"f(nothing)"` +
		"\n"; string(data) != want {
		t.Errorf("the file holds\n%s", data)
	}

	s = sitDown(t, dir, 80)
	s.ready()
	if got := s.line("f(1)"); !strings.Contains(got, "nothing is called") {
		t.Errorf("another session knows f:\n%s", got)
	}
	s.keys("\x1b[A\x1b[A\x1b[A")
	s.wait("the block", func(text string) bool {
		return strings.Contains(text,
			"> def f(x):⏎    y = x + 1⏎    return")
	})
	s.keys("\r")
	s.ready()
	if got := s.line("f(1)"); got != "<2.0>" {
		t.Errorf("f(1) is %q", got)
	}
	if code := s.leave(); code != 0 {
		t.Errorf("ended with %d", code)
	}
}

// Ctrl-C during a sweep of a minute gives the prompt back within half a second,
// and nothing is lost. On a laden machine one of three tries has to make it.
func TestCtrlCAtThePrompt(t *testing.T) {
	s := sitDown(t, t.TempDir(), 90)
	s.ready()
	s.line(aBoat)
	s.line("def f(wind, power): return now.change(wind=wind, crew=crew(mass=84, power=power, rate=32))")
	var took []time.Duration
	for range 3 {
		s.keys("t = vary(f, wind=steps(-5, 5, 0.01), power=steps(300, 400, 0.2))\r")
		s.wait("progress", func(text string) bool {
			return strings.HasSuffix(text,
				" left (Ctrl-C stops, what is done is kept)")
		})
		begun := time.Now()
		s.keys("\x03")
		s.ready()
		took = append(took, time.Since(begun))
		if took[len(took)-1] < 500*time.Millisecond {
			break
		}
	}
	if last := took[len(took)-1]; last > 500*time.Millisecond {
		t.Errorf("the prompt came back after %v", took)
	}
	if text := s.text(); !strings.Contains(text, "stopped at stroke ") ||
		!strings.Contains(text, "t was not given; what is done is kept") {
		t.Errorf("what it said:\n%s", text)
	}
	if got := s.line("now.speed"); got != "4.287" {
		t.Errorf("now.speed is %q", got)
	}
	if got := s.line("t"); !strings.Contains(got, "nothing is called \"t\"") {
		t.Errorf("t is %q", got)
	}
	if code := s.leave(); code != 0 {
		t.Errorf("ended with %d", code)
	}
}

// Ctrl-C at the prompt drops the line, or the whole block, and a paste that has
// not run yet.
func TestCtrlCDropsTheLine(t *testing.T) {
	t.Parallel()
	s := sitDown(t, t.TempDir(), 80)
	s.ready()
	s.line("a = 5")
	s.keys("a = 6\x03")
	s.dropped(1)
	s.keys("def f(x):\r    retrun x\r\x03")
	s.dropped(2)
	s.keys("b = (1 +\r")
	s.wait("the open bracket", func(text string) bool { return strings.HasSuffix(text, "> b = (1 +\n.") })
	s.keys("\x03")
	s.dropped(3)
	if got := s.line("a"); got != "5" {
		t.Errorf("a is %q:\n%s", got, s.text())
	}
	s.keys("c = (1\r")
	s.wait("the hint", func(text string) bool {
		return strings.Contains(text,
			"is still open: close it here")
	})
	s.keys(")\r")
	s.ready()
	if got := s.line("c"); got != "1" {
		t.Errorf("c is %q", got)
	}
	for _, word := range []string{"quit()"} {
		s.keys(word + "\r")
	}
	if code := s.ended(); code != 0 {
		t.Errorf("ended with %d", code)
	}
}

// What is typed during a computation is there afterwards.
func TestTypedAhead(t *testing.T) {
	t.Parallel()
	s := sitDown(t, t.TempDir(), 80)
	s.ready()
	s.keys("x = 0\rfor i in range(1000000): x += 1\r")
	s.keys("x\r\"ne")
	s.keys("xt\"\r")
	s.wait("the last answer", func(text string) bool {
		return strings.HasSuffix(text,
			"> \"next\"\nnext\n>")
	})
	if text := s.text(); !strings.Contains(text, "> x\n1000000\n>") {
		t.Errorf("the window:\n%s", text)
	}
}

// A window that changes its size is asked anew.
func TestResize(t *testing.T) {
	t.Parallel()
	s := sitDown(t, t.TempDir(), 100)
	s.ready()
	s.line(aBoat)
	wide100 := s.line("show(now)")
	s.mu.Lock()
	s.seen.columns = 60
	s.mu.Unlock()
	if err := pty.Setsize(s.tty, &pty.Winsize{Rows: 40, Cols: 60}); err != nil {
		t.Fatal(err)
	}
	s.line("1")
	narrow := s.line("show(now)")
	if strings.Count(narrow, "\n") <= strings.Count(wide100, "\n") {
		t.Errorf("the same in 100 and 60 columns:\n%s\n%s", wide100, narrow)
	}
	for _, line := range strings.Split(narrow, "\n") {
		if term.Width(line) > 60 {
			t.Errorf("%d columns: %s", term.Width(line), line)
		}
	}
	// a line being typed over the edge, while the window changes
	s.keys("\"" + strings.Repeat("oar ", 20))
	pty.Setsize(s.tty, &pty.Winsize{Rows: 40, Cols: 80})
	s.mu.Lock()
	s.seen.columns = 80
	s.mu.Unlock()
	s.keys("end\"\r")
	s.wait("the text", func(text string) bool {
		return strings.Contains(text, "oar end") &&
			strings.HasSuffix(text, "\n>")
	})
}

// A line of 6,000 characters, typed and pasted.
func TestLongLine(t *testing.T) {
	t.Parallel()
	s := sitDown(t, t.TempDir(), 80)
	s.ready()
	line := "len(\"" + strings.Repeat("o", 6000-7) + "\")"
	for range 2 {
		s.keys(line + "\r")
		s.wait("its length", func(text string) bool { return strings.HasSuffix(text, "\n5993\n>") })
		s.line("\"next\"")
		line = "\x1b[200~" + line + "\x1b[201~"
	}
}

// Tab: an indent on blank text, parameters with unit and default, choices,
// fields, names, files.
func TestCompletionAtThePrompt(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for _, name := range []string{"oars.csv", "oars_old.csv"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("set\nA\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s := sitDown(t, dir, 80)
	s.ready()
	s.line(aBoat)
	for i, c := range []struct{ typed, list, after string }{
		{"x = oar(length=288, in\t",
			"\n  inboard=   cm   needed   50 to 150; usual 83 to 89 scull, 112 to 118 sweep\n",
			"> x = oar(length=288, inboard="},
		{"y = row(now.hull, now.crew, now.oar, \t",
			"\n  hold=                 \"power\"   power, handle_power, effort, force, speed\n",
			"> y = row(now.hull, now.crew, now.oar,"},
		{"y = now.change(wi\t", "\n  wind=   m/s   as it is   -20 to 20; from ahead counts up\n",
			"> y = now.change(wind="},
		{"h = hull(\"2\t", "\n  2x\"  2-\"  2+\"\n", "> h = hull(\"2"},
		{"now.heav\t", "", "> now.heaviness"},
		{"now.oar.out\t", "", "> now.oar.outboard"},
		{"now.re\t", "", "> now.recovery_time"},
		{"plot_\t", "\n  plot_curves   ", "> plot_"},
		{"t = read_csv(\"oa\t\t", "\n  oars.csv\"      oars_old.csv\"\n", "> t = read_csv(\"oars"},
		{"help(\"gea\t", "", "> help(\"gearing\")"},
		{"\tx", "", ">     x"},
	} {
		before := len(s.text())
		s.keys(c.typed)
		s.wait("the list for "+c.typed, func(text string) bool {
			return strings.Contains(text[before-1:], c.list) && strings.HasSuffix(text, c.after)
		})
		s.keys("\x03")
		s.dropped(i + 1)
	}
}

// On a terminal that knows no escapes the lines are read as they come: no
// prompt, no colour, and the session goes on after an error.
func TestDumbTerminal(t *testing.T) {
	t.Parallel()
	s := sitDown(t, t.TempDir(), 80, "TERM=dumb")
	s.keys("a = 1\nb = nothing\na + 1\n")
	s.wait("the answer", func(text string) bool { return strings.HasSuffix(text, "\n2") })
	s.keys("def f(x):\n    return x + 1\n\nf(6)\n")
	s.wait("the answer of f", func(text string) bool { return strings.HasSuffix(text, "\n7") })
	if code := s.leave(); code != 0 {
		t.Errorf("ended with %d", code)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if raw := s.raw.String(); strings.Contains(raw, "\x1b") || strings.Contains(raw, "> ") {
		t.Errorf("%q", raw)
	}
}

// BenchmarkFirstPrompt is the time from the start of the process to the first
// prompt, on a real terminal; it has to stay under 0.1 s.
func BenchmarkFirstPrompt(b *testing.B) {
	for range b.N {
		cmd := exec.Command("thole", "prompt")
		cmd.Dir = b.TempDir()
		cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8", "TERM=xterm",
			"THOLE_HISTORY="+filepath.Join(cmd.Dir, "history"))
		tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
		if err != nil {
			b.Fatal(err)
		}
		var shown strings.Builder
		buffer := make([]byte, 4096)
		for !strings.Contains(shown.String(), "\n> ") {
			n, err := tty.Read(buffer)
			if err != nil {
				b.Fatal(err)
			}
			shown.Write(buffer[:n])
		}
		b.StopTimer()
		cmd.Process.Kill()
		cmd.Wait()
		tty.Close()
		b.StartTimer()
	}
}
