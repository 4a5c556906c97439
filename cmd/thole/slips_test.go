package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"thole/engine/term"
)

// What people type amiss, and what must be said: testdata/slips/slips.csv. Every slip is
// answered with what to type, or by a caution that says so, and never by an answer alone.
func TestSlips(t *testing.T) {
	file, err := os.Open("../../testdata/slips/slips.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	slips, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(slips) < 61 {
		t.Errorf("%d slips, 60 and a head at least", len(slips))
	}
	t.Chdir(t.TempDir())
	const start = "o = oar(length=288, inboard=88, blade=\"scull hatchet\")\n" +
		"c = crew(mass=60, power=200, rate=28, catch=60, finish=42, category=\"junior\")\n" +
		"s = row(hull(\"1x\"), c, o)\n" +
		"t = vary(lambda mass: s.change(crew=c.change(mass=mass)), mass=[60, 62])\n"
	for _, slip := range slips[1:] {
		typed, said := slip[0], slip[1]
		got := strings.Join(strings.Fields(typedAtPrompt(t, start+typed+"\n")), " ")
		if !strings.Contains(got, strings.Join(strings.Fields(said), " ")) {
			t.Errorf("%s\nmust be answered with  %s, and is with\n%s", typed, said, got)
		}
		for _, word := range []string{"Starlark", "goroutine", ".go:", "frozen", "went wrong inside"} {
			if strings.Contains(got, word) {
				t.Errorf("%s is answered with %q", typed, word)
			}
		}
	}
}

// typedAtPrompt gives what a window shows in answer to the last of these lines, without the
// line itself.
func typedAtPrompt(t *testing.T, text string) string {
	var out bytes.Buffer
	tty := &terminal{term.Terminal{Window: term.Window{Width: 100}, Out: &out, Err: &out}}
	p, err := tty.openPrompt("", nil)
	if err != nil {
		t.Fatal(err)
	}
	p.typed = true
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	_ = p.carry(&typist{lines: lines, at: tty})
	last := lines[len(lines)-1]
	shown := out.String()
	var answer []string
	for _, line := range strings.Split(shown[strings.LastIndex(shown, "> "+last)+len("> "+last):], "\n") {
		if said := strings.TrimSpace(line); !strings.Contains(last, strings.Trim(said, ".")) {
			answer = append(answer, said)
		}
	}
	return strings.Join(answer, "\n")
}
