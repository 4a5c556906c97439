package input

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"

	"go.starlark.net/syntax"
)

// given lines come from a text: all at once, or one by one.
type givenLines struct {
	lines []string
	paste bool
}

func (g *givenLines) Next(string) (string, error) {
	if len(g.lines) == 0 {
		return "", io.EOF
	}
	line := g.lines[0]
	g.lines = g.lines[1:]
	return line, nil
}

func (g *givenLines) Peek(i int) (string, bool) {
	if !g.paste || i >= len(g.lines) {
		return "", false
	}
	return g.lines[i], true
}

// blocksOf cuts a text into blocks.
func blocksOf(text string, paste bool) []string {
	b := &Blocks{From: &givenLines{strings.Split(text, "\n"), paste}}
	var blocks []string
	for {
		block, err := b.Next()
		if errors.Is(err, io.EOF) {
			return blocks
		}
		if strings.TrimSpace(block) != "" {
			blocks = append(blocks, block)
		}
	}
}

func TestBlocks(t *testing.T) {
	for _, c := range []struct{ text, pasted, typed string }{
		{"a = 1\nb = 2", "a = 1|b = 2", "a = 1|b = 2"},
		{"def f(x):\n  return x\n\nf(1)", "def f(x):/  return x|f(1)", "def f(x):/  return x|f(1)"},
		{"def f(x):\n  y = x\n\n  return y\nf(1)", "def f(x):/  y = x//  return y|f(1)",
			"def f(x):/  y = x|  return y|f(1)"},
		{"def f(x): return x\nf(1)", "def f(x): return x|f(1)", "def f(x): return x|f(1)"},
		{"def f(x):\nreturn x\nf(1)", "def f(x):/return x|f(1)", "def f(x):/return x|f(1)"},
		{"if a:\n  b\n\nelse:\n  c\nd", "if a:/  b//else:/  c|d", "if a:/  b|else:/  c|d"},
		{"if a: b\nelse: c\nd", "if a: b/else: c|d", "if a: b|else: c|d"},
		{"def f():\n  # why\n\n  return 1\n\n", "def f():/  # why//  return 1",
			"def f():/  # why//  return 1"},
		{"def f():\n  a\n# at the edge\n  b\nc", "def f():/  a/# at the edge/  b|c",
			"def f():/  a/# at the edge/  b|c"},
		{"x = [1,\n\n2]\ny", "x = [1,//2]|y", "x = [1,//2]|y"},
		{"note(\"\"\"a\n\nb\"\"\")\ny", "note(\"\"\"a//b\"\"\")|y", "note(\"\"\"a//b\"\"\")|y"},
		{"x = 1 + \\\n  2\ny", "x = 1 + \\/  2|y", "x = 1 + \\/  2|y"},
		{"> a = 1\n> def f():\n.     return 1\n> f()", "a = 1|def f():/    return 1|f()",
			"a = 1|def f():/    return 1|f()"},
		{"# alone\n\n\na", "# alone|a", "# alone|a"},
		{"def f():\n  a", "def f():/  a", "def f():/  a"},
		{"", "", ""},
	} {
		for paste, want := range map[bool]string{true: c.pasted, false: c.typed} {
			var got []string
			for _, block := range blocksOf(c.text, paste) {
				got = append(got, strings.ReplaceAll(strings.TrimRight(block, "\n"), "\n", "/"))
			}
			if strings.Join(got, "|") != want {
				t.Errorf("%q, paste %v: %q, want %q", c.text, paste, strings.Join(got, "|"), want)
			}
		}
	}
}

// Whatever is pasted: no line is lost or doubled, and what is well formed as a
// whole is well formed block by block, with the same statements.
func FuzzBlocks(f *testing.F) {
	for _, seed := range []string{
		"a = 1\nb = 2", "def f(x):\n\ty = x\n\n\treturn y\n\nf(1)", "if a:\n  b\nelif c:\n\n  d\nelse: e",
		"x = [1,\n\n2]; y", "s = \"\"\"a\n\n  b\"\"\"\nt",
		"x = 1 + \\\n 2", "for i in range(3):\n  # why\n\n  print(i)\n# end\nx", "if a: b\nelse: c",
		"def f(a,\n  b):\n  return a", "> a\n> b", "def f():\nreturn 1",
		"(((", "\"\"\"", "if 1:\n 2\n\n\n\n 3\n4", "lambda: (\n1)\n", "a\\", "else:", "\t\n \n",
		"x = '#' # (\ny", "def f(): pass\n  \n  # in\nx",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.ContainsAny(text, "\r\x00") {
			return // line ends are made one before
		}
		blocksOf(text, false)
		blocks := blocksOf(text, true)
		for _, line := range strings.Split(text, "\n") {
			if strings.HasPrefix(line, "> ") || strings.HasPrefix(line, ". ") {
				return // signs are taken off
			}
		}
		if got, want := full(strings.Join(blocks, "")), full(text); got != want {
			t.Fatalf("lines of %q\nare %q", want, got)
		}
		options := &syntax.FileOptions{Set: true, TopLevelControl: true, GlobalReassign: true}
		whole, err := options.Parse("whole", text, 0)
		if err != nil {
			return
		}
		n := 0
		for _, block := range blocks {
			part, err := options.Parse("block", block, 0)
			if err != nil {
				t.Fatalf("%q is well formed, its block %q is not: %v", text, block, err)
			}
			n += len(part.Stmts)
		}
		if n != len(whole.Stmts) {
			t.Fatalf("%q has %d statements, its blocks %q have %d", text, len(whole.Stmts), blocks, n)
		}
	})
}

// full gives the lines of a text that are not empty.
func full(text string) string {
	var lines []string
	for _, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

func TestHistoryFile(t *testing.T) {
	path := t.TempDir() + "/thole/history"
	one, two := OpenHistory(path), OpenHistory(path)
	for i := range 3 {
		if one.Add(fmt.Sprintf("one = %d", i)) != nil || two.Add("def two():\n    return \"ä\"\n\n") != nil {
			t.Fatal("not written")
		}
	}
	want := []string{"one = 0", "def two():\n    return \"ä\"", "one = 1", "one = 2"}
	if got := OpenHistory(path).blocks; strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("%q", got)
	}
	for i := range mostHistory + 5 {
		one.blocks = append(one.blocks, fmt.Sprint(i))
	}
	if err := one.write(one.blocks); err != nil {
		t.Fatal(err)
	}
	one.Add("last")
	if got := OpenHistory(path).blocks; len(got) != mostHistory || got[mostHistory-1] != "last" {
		t.Errorf("%d blocks, %q", len(got), got[len(got)-1])
	}
}

// readAll reads a session of lines to its end and gives its blocks, and the bytes that
// were allocated for it.
func readAll(lines []string) (blocks []string, bytes uint64) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	b := &Blocks{From: &givenLines{lines: lines}}
	for {
		text, err := b.Next()
		if err != nil {
			break
		}
		blocks = append(blocks, text)
	}
	runtime.ReadMemStats(&after)
	return blocks, after.TotalAlloc - before.TotalAlloc
}

// What reading a block takes grows as its lines do: ten times the lines take no more
// than twenty times the memory (doubling buffers, and no more), where reading it from
// its beginning at each line would take a hundred times.
func TestBlocksAreReadOnce(t *testing.T) {
	for name, of := range map[string]struct{ head, line, foot string }{
		"a list":  {"x = [", "  (1, 'two'),", "]"},
		"a text":  {`note("""`, "  words, and more of them", `""")`},
		"a def":   {"def f(x):", "    x = x + (1)", ""},
		"remarks": {"x = [", "  # (", "]"},
	} {
		lines := func(n int) []string {
			all := []string{of.head}
			for range n {
				all = append(all, of.line)
			}
			return append(all, of.foot)
		}
		_, short := readAll(lines(300))
		blocks, long := readAll(lines(3000))
		if long > 20*short {
			t.Errorf("%s: %d bytes for 300 lines, %d for 3000", name, short, long)
		}
		if len(blocks) == 0 || strings.Count(blocks[0], "\n") < 3001 {
			t.Errorf("%s is not read as one block: %d", name, len(blocks))
		}
	}
}

// What is no text is handed on at once to be refused, whatever is open before it.
func TestNoText(t *testing.T) {
	blocks, _ := readAll([]string{"x = ([{", "\xff\xfe([", "y = 1"})
	if len(blocks) != 2 || blocks[0] != "x = ([{\n\xff\xfe([\n" {
		t.Errorf("%q", blocks)
	}
}

func TestLongestLine(t *testing.T) {
	r := bufio.NewReader(io.MultiReader(strings.NewReader("short\n"),
		strings.NewReader(strings.Repeat("x", longestLine+1))))
	if line, err := readLine(r); line != "short\n" || err != nil {
		t.Errorf("%q, %v", line, err)
	}
	if _, err := readLine(r); !errors.Is(err, errLongLine) {
		t.Errorf("a line without end: %v", err)
	}
}
