//go:build !windows

package main

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"

	"thole/engine/term"
)

// inTerminal runs the command on a pseudo-terminal of that many columns and
// gives all that appears on it. After the text `wait` has come, keys are typed.
func inTerminal(t *testing.T, columns uint16, env []string, wait, keys string, args ...string) (shown string,
	code int, after time.Duration) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"quad.star": "title(\"How big a blade?\")\nshow(table([{\"set\": \"A\", \"area (cm²)\": 820}]), " +
			"name=\"blades\")\ncaution(\"Not rowed.\")\nanswer(\"820 cm², as before, and this sentence is " +
			"long enough to go over the edge of a narrow window.\")\n",
		"wrong.star": "x = very(3)\n",
		"endless.star": "def rowed(outboard, wind):\n    return row(hull(\"1x\"), crew(mass=84, power=380, " +
			"rate=32), oar(length=outboard + 88, inboard=88, blade=\"scull hatchet\"), wind=wind)\nt = " +
			"vary(rowed, outboard=steps(180, 210, 0.005), wind=steps(-5, 5, 0.1))\nanswer(\"{n}\", " +
			"n=len(t))\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("thole", args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(),
		append([]string{"LC_ALL=C.UTF-8", "TERM=xterm-256color", "NO_COLOR="}, env...)...)
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: columns})
	if err != nil {
		t.Fatal(err)
	}
	defer tty.Close()
	var b strings.Builder
	buffer := make([]byte, 4096)
	var typed time.Time
	for {
		n, err := tty.Read(buffer)
		b.Write(buffer[:n])
		if keys != "" && typed.IsZero() && strings.Contains(b.String(), wait) {
			typed = time.Now()
			io.WriteString(tty, keys)
		}
		if err != nil { // the terminal closes when the command ends
			break
		}
	}
	err = cmd.Wait()
	after = time.Since(typed)
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return strings.ReplaceAll(b.String(), "\r\n", "\n"), cmd.ProcessState.ExitCode(), after
}

func TestOnATerminal(t *testing.T) {
	shown, code, _ := inTerminal(t, 60, nil, "", "", "run", "quad.star")
	if code != 0 {
		t.Fatalf("ended with %d:\n%s", code, shown)
	}
	for _, want := range []string{"\x1b[1mHow big a blade?\x1b[0m\n", "\x1b[33mCaution\x1b[0m  Not rowed.\n",
		"\x1b[1mAnswer   820 cm², as before,", "\x1b[2m", "Page     runs/quad-"} {
		if !strings.Contains(shown, want) {
			t.Errorf("not shown: %q in\n%q", want, shown)
		}
	}
	for _, line := range strings.Split(shown, "\n") {
		if n := term.Width(withoutEscapes(line)); n > 60 && !strings.HasPrefix(line, "Also") {
			t.Errorf("%d columns: %q", n, line)
		}
	}
	if shown, code, _ = inTerminal(t, 80, nil, "", "", "run", "wrong.star"); code != 1 ||
		!strings.Contains(shown, "\x1b[31mwrong.star:1:5: nothing is called \"very\"\x1b[0m") {
		t.Errorf("ended with %d:\n%q", code, shown)
	}
	for _, env := range [][]string{{"NO_COLOR=1"}, {"TERM=dumb"}} {
		if shown, _, _ = inTerminal(t, 80, env, "", "", "run", "quad.star"); strings.Contains(shown, "\x1b") {
			t.Errorf("%v: colour in %q", env, shown)
		}
	}
	if shown, _, _ = inTerminal(t, 80, []string{"LC_ALL=C"}, "", "", "run",
		"quad.star"); !strings.Contains(shown, "820 cm2, as before") {
		t.Errorf("not plain: %q", shown)
	}
}

// withoutEscapes takes the colours off.
func withoutEscapes(line string) string {
	var b strings.Builder
	for len(line) > 0 {
		if strings.HasPrefix(line, "\x1b[") {
			if end := strings.IndexAny(line, "mK"); end > 0 {
				line = line[end+1:]
				continue
			}
		}
		b.WriteByte(line[0])
		line = line[1:]
	}
	return b.String()
}

// Ctrl-C ends a long sweep within half a second, with 130, says what was kept,
// and the line says so.
func TestCtrlC(t *testing.T) {
	shown, code, after := inTerminal(t, 90, nil, "(Ctrl-C stops, what is done is kept)", "\x03", "run",
		"endless.star", "--jobs", "1")
	if code != interrupted {
		t.Errorf("ended with %d:\n%s", code, shown)
	}
	// half a second is promised to the person; the last writing and a
	// laden machine get the rest
	if after > 2*time.Second {
		t.Errorf("ended %v after Ctrl-C", after)
	}
	if !strings.Contains(shown, "\rrowing  ") || !strings.Contains(shown, "s left") &&
		!strings.Contains(shown, "min left") {
		t.Errorf("no progress: %q", shown)
	}
	if strings.Contains(shown, "Answer") || !strings.Contains(shown, "stopped") {
		t.Errorf("what it said: %q", shown)
	}
}
