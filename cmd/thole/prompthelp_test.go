package main

import (
	"io"
	"strings"
	"testing"

	"thole/builtins"
	"thole/cmd/thole/input"
	"thole/engine/term"
)

// What the first page of help says to type leads to a comparison of two oars:
// each of its lines runs, and the last one shows how the speeds differ.
func TestTheFirstPageLeadsToAComparison(t *testing.T) {
	var out strings.Builder
	tty := &terminal{term.Terminal{Window: term.Window{Width: 80}, Out: &out, Err: &out}}
	p, err := tty.openPrompt("", nil)
	if err != nil {
		t.Fatal(err)
	}
	p.typed = true
	typed := 0
	page := builtins.HelpPage(nil, 80)
	for line := range strings.Lines(page) {
		text := strings.TrimSpace(line)
		if !strings.HasPrefix(line, "  ") || !code.MatchString(text) && text != "now" {
			continue
		}
		typed++
		out.Reset()
		if !p.run(text) {
			t.Fatalf("%s\n%s", text, out.String())
		}
	}
	if typed != 7 || !strings.Contains(out.String(), "now -> 2 cm longer") ||
		!strings.Contains(out.String(), "heaviness ") {
		t.Errorf("%d lines, the last gave\n%s", typed, out.String())
	}
	if lines := strings.Count(page, "\n"); lines > 22 {
		t.Errorf("the first page has %d lines: it would leave a window of 24", lines)
	}
	for _, r := range builtins.Library().Records {
		if r.Prompt && r.Name != "keep" && !p.run(r.Example) { // keep's own story is among the sessions
			t.Errorf("%s\n%s", r.Example, out.String())
		}
	}
}

// Examples of every page of help run once the lines are typed that the page asks for.
func TestExamplesOfHelpAtThePrompt(t *testing.T) {
	for _, topic := range builtins.Library().Topics {
		t.Run(topic.Name, func(t *testing.T) {
			var out strings.Builder
			tty := &terminal{term.Terminal{Window: term.Window{Width: 80}, Out: &out, Err: &out}}
			p, err := tty.openPrompt("", nil)
			if err != nil {
				t.Fatal(err)
			}
			p.typed = true
			page, _ := builtins.Library().Help(topic.Name, 80)
			_, need := builtins.ExamplesNeed(page,
				func(name string) bool { _, ok := p.live.Lookup(name); return ok })
			var lines []string
			for line := range strings.Lines(page) {
				if text, ok := strings.CutPrefix(line, "> "); ok {
					lines = append(lines, strings.TrimRight(text, "\n"))
				}
			}
			for _, block := range blocksOf(strings.Join(append(need, lines...), "\n")) {
				if !p.run(block) {
					t.Errorf("%s\n%s", block, out.String())
				}
			}
		})
	}
}

// blocksOf cuts a text that was pasted into blocks.
func blocksOf(text string) (blocks []string) {
	from := &input.Blocks{From: &typist{lines: strings.Split(text, "\n"), paste: true,
		at: &terminal{term.Terminal{Out: io.Discard}}}}
	for {
		block, err := from.Next()
		if err != nil {
			return blocks
		}
		if strings.TrimSpace(block) != "" {
			blocks = append(blocks, block)
		}
	}
}
