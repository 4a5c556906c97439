package session

import (
	"context"
	"strings"
	"testing"
	"time"

	"thole/builtins/session/limits"
	"thole/builtins/session/message"
)

// seeds are texts that people type, good and bad.
var seeds = []string{
	quadHead, "x = f\"{a}\"\n", "x ** 2\n", "def f(x):\n\treturn x\n", "x = (1,\n", "\"\"\"open\n",
	"a <= b <= c\n", "x = “a”\n", "x is not None\n",
	"answer(\"{x.y:1 cm}\")\n", "answer(\"{{{x}}}\")\n", "# only\n", "load(\"a.star\", \"b\")\n",
	"for i in range(3):\n    x = i\n", "x = {1, 2}\n", "\x00", "\xff",
	"x = 1_000\n", "x = 289cm\n", "note(\"\"\"\n  a\n b\n\"\"\")\n", "while x < 3:\n  x += 1\n",
	"param(\"x (cm)\", 3, low=1)\n", "x = lambda: x\n", "oar = 3\n", "def f(): return f()\nf()\n",
	"x = [i for i in range(10) if i % 2]\n", "x = 1 if True\n", "é = 3\n", "x = '\\q'\n", "print(1)(2)\n",
	"x = y = 3\n", "(a, b) += 1\n",
}

// fuzzRun runs a text for a short while.
func fuzzRun(name, text string) *Outcome {
	ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	return Run(ctx, name, []byte(text),
		Config{Library: fakeLibrary, Jobs: 1, Files: folder{},
			Limits: limits.Limits{Heap: 64 << 20, Items: 10_000, Text: 1 << 20}})
}

// FuzzMessages holds every message to what a reader needs: its parts are there,
// its place lies in the text, no word of the machinery shows.
func FuzzMessages(f *testing.F) {
	for _, s := range seeds {
		f.Add(s, false)
		f.Add("# T\n\n```starlark\n"+s+"```\n", true)
	}
	f.Fuzz(func(t *testing.T, text string, markdown bool) {
		name := "s.star"
		if markdown {
			name = "s.md"
		}
		o := fuzzRun(name, text)
		for _, m := range append(append(message.Messages(nil), o.Errors...), o.Cautions...) {
			checkMessage(t, m, text)
		}
		// what check accepts, and params, never break either
		Check(name, []byte(text), Config{Library: fakeLibrary})
		Params(name, []byte(text), Config{Library: fakeLibrary})
	})
}

func checkMessage(t *testing.T, m *message.Message, text string) {
	t.Helper()
	if m.What == "" || m.Level == message.Wrong && (m.Why == "" || m.Type == "") {
		t.Errorf("a part is missing: %+v", m)
	}
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
	if m.Line < 0 || m.Line > len(lines) || m.Col < 0 || m.Caret < 0 || m.CaretLen < 0 {
		t.Errorf("the place lies outside the text: %+v", m)
	}
	if m.Source != "" && m.Caret > len([]rune(m.Source))+1 {
		t.Errorf("the caret stands outside the line: %+v", m)
	}
	// the fence has that name
	said := strings.ToLower(m.What + strings.ReplaceAll(m.Why, "```starlark", "```"))
	for _, word := range []string{"starlark", "goroutine", "frozen", "panic", ".go:", "nonetype",
		"runtime error", limits.Mark} {
		if strings.Contains(said, word) && !strings.Contains(strings.ToLower(text), word) {
			t.Errorf("a word of the machinery, %q: %+v", word, m)
		}
	}
}
