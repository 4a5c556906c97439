package typed_test

import (
	"context"
	"testing"
	"time"

	"thole/builtins"
	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/builtins/session/source"
	"thole/builtins/session/typed"
)

// seeds are texts that people type, good and bad.
var seeds = []string{
	"x = f\"{a}\"\n", "x ** 2\n", "def f(x):\n\treturn x\n", "x = (1,\n", "\"\"\"open\n", "a <= b <= c\n", "x = “a”\n", "x is not None\n",
	"answer(\"{x.y:1 cm}\")\n", "answer(\"{{{x}}}\")\n", "# only\n", "load(\"a.star\", \"b\")\n", "for i in range(3):\n    x = i\n", "x = {1, 2}\n", "\x00", "\xff",
	"x = 1_000\n", "x = 289cm\n", "note(\"\"\"\n  a\n b\n\"\"\")\n", "while x < 3:\n  x += 1\n", "param(\"x (cm)\", 3, low=1)\n", "x = lambda: x\n", "oar = 3\n", "def f(): return f()\nf()\n",
	"x = [i for i in range(10) if i % 2]\n", "x = 1 if True\n", "é = 3\n", "x = '\\q'\n", "print(1)(2)\n", "x = y = 3\n", "(a, b) += 1\n",
}

// FuzzStatements types texts at the prompt: the reader of statements, what
// stands on what, keep and completion never break.
func FuzzStatements(f *testing.F) {
	for _, s := range seeds {
		f.Add(s, "x = 1\n")
	}
	f.Fuzz(func(t *testing.T, one, two string) {
		l := typed.New(session.Config{Library: builtins.Library(), Jobs: 1, Limits: limits.Limits{Heap: 64 << 20, Items: 10_000, Text: 1 << 20}})
		for _, text := range []string{one, two, one} {
			source.More(text)
			l.Complete(text)
			ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
			r := l.Eval(ctx, text)
			cancel()
			for _, m := range r.Errors {
				if m.What == "" || m.Level == message.Wrong && (m.Why == "" || m.Type == "") {
					t.Errorf("a part is missing: %+v", m)
				}
			}
		}
		l.Keep("T")
		l.Again(context.Background())
		l.Undo()
		l.Undo()
	})
}
