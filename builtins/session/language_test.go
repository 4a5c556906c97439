package session

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
)

var mark = regexp.MustCompile(`### ("(?:[^"\\]|\\.)*")`)

// TestInTheLanguage runs the chunks of testdata/*.star: each runs well, or is
// refused in the line that is marked, with a message that holds the mark.
func TestInTheLanguage(t *testing.T) {
	files, err := filepath.Glob("testdata/*.star")
	if err != nil || len(files) < 2 {
		t.Fatalf("files %v, %v", files, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		line := 0
		for _, chunk := range strings.Split(string(data), "\n---\n") {
			text := strings.Repeat("\n", line) + chunk + "\nanswer(\"done\")\n" // lines as in the file
			line += strings.Count(chunk, "\n") + 2
			var wrong []string
			library := languageLibrary(func(s string) { wrong = append(wrong, s) })
			o := run(t, filepath.Base(file), text, func(c *Config) { c.Library = library })
			for _, w := range wrong {
				t.Errorf("%s: %s", file, w)
			}
			wantLine, want := 0, ""
			for i, l := range strings.Split(text, "\n") {
				if m := mark.FindStringSubmatch(l); m != nil {
					wantLine = i + 1
					want, _ = strconv.Unquote(m[1])
				}
			}
			switch {
			case want == "" && len(o.Errors) > 0:
				t.Errorf("%s", o.Errors[0].String())
			case want != "" && len(o.Errors) != 1:
				t.Errorf("%s:%d: %d messages, want one with %q", file, wantLine, len(o.Errors), want)
			case want != "" && (o.Errors[0].Line != wantLine || !strings.Contains(o.Errors[0].What, want)):
				t.Errorf("want line %d with %q, got\n%s", wantLine, want, o.Errors[0].String())
			case want != "" && (o.Errors[0].Why == "" || o.Errors[0].Type == ""):
				t.Errorf("a part is missing:\n%s", o.Errors[0].String())
			}
		}
	}
}

// languageLibrary is the tests' language with eq(got, want).
func languageLibrary(wrong func(string)) *lang.Library {
	l := *fakeLibrary
	l.Records = append([]*lang.Record{{Name: "eq", Summary: "two values are equal",
		Params: []lang.Param{{Name: "got", None: true}, {Name: "want", None: true}},
		Do: func(c *lang.Call) (starlark.Value, error) {
			got, want := c.Value("got"), c.Value("want")
			if same, err := starlark.Equal(got, want); err != nil || !same {
				wrong(c.Thread.CallFrame(1).Pos.String() + ": got " + got.String() + ", want " +
					want.String())
			}
			return starlark.None, nil
		}}}, fakeLibrary.Records...)
	return (&l).Seal()
}
