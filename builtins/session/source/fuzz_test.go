package source

import "testing"

// seeds are texts that people type, good and bad.
var seeds = []string{
	"x = f\"{a}\"\n", "x ** 2\n", "def f(x):\n\treturn x\n", "x = (1,\n", "\"\"\"open\n", "x = “a”\n", "# only\n",
	"note(\"\"\"\n  a\n b\n\"\"\")\n", "x = '\\q'\n", "\x00", "\xff", "x = 1_000\n", "x = 289cm\n", "é = 3\n", "x = 1e\n",
}

// FuzzLex cuts any text: lexemes stand in order and hold what the text holds.
func FuzzLex(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		line, col := 0, 0
		for _, l := range Lex(text) {
			if l.Text == "" || l.Line < line || l.Line == line && l.Col < col {
				t.Fatalf("%+v after %d:%d", l, line, col)
			}
			line, col = l.Last, l.End
		}
	})
}
