package message_test

import (
	"context"
	"flag"
	"os"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/builtins/session/message"
	"thole/builtins/session/typed"
	"thole/scripts"
)

var update = flag.Bool("update", false, "record what the examples of cases.txt say")

// withoutExample are cases that no study brings about today, each with why it stays.
var withoutExample = map[string]string{
	"a name of a later version":         "the library has none just now",
	"too many brackets within brackets": "its study has thousands of them: the next test",
	"a repeat that is too large":        "the guards refuse it first; it is the interpreter's own last word",
	"resolving: any other rule":         "catches what a newer resolver may say",
	"running: any other rule":           "catches what a newer interpreter may say",
}

// tried runs a case's example and gives the message.
func tried(t *testing.T, c *message.Case) *message.Message {
	t.Helper()
	cfg := session.Config{Boathouse: scripts.Library, Jobs: 2}
	var errs message.Messages
	if c.Typed {
		errs = typed.New(builtins.Configure(cfg)).Eval(context.Background(), c.Try).Errors
	} else {
		errs = builtins.Run(context.Background(), "study.star", []byte(c.Try), cfg).Errors
	}
	if len(errs) == 0 {
		t.Fatalf("[%s] %s: nothing is wrong with\n%s", c.Where, c.Name, c.Try)
	}
	return errs[0]
}

// TestEveryCaseArises runs the example of each case: it hits that very case, and
// the whole message is the recorded one.
func TestEveryCaseArises(t *testing.T) {
	const file = "testdata/recorded.txt"
	recorded, err := os.ReadFile(file)
	if err != nil && !*update {
		t.Fatal(err)
	}
	want := map[string]string{}
	for _, part := range strings.Split("\n"+string(recorded), "\n[") {
		head, text, _ := strings.Cut(part, "\n")
		want["["+head] = strings.TrimRight(text, "\n") + "\n"
	}
	var all strings.Builder
	for _, c := range message.Cases() {
		if c.Try == "" {
			if withoutExample[c.Name] == "" && withoutExample[c.Where+": "+c.Name] == "" {
				t.Errorf("[%s] %s has no example", c.Where, c.Name)
			}
			continue
		}
		m := tried(t, c)
		if m.Case != c.Name {
			t.Errorf("[%s] %s: its example hits %q:\n%s%s", c.Where, c.Name, m.Case, c.Try, m)
		}
		if m.What == "" || m.Why == "" || m.Type == "" || m.Source == "" {
			t.Errorf("[%s] %s: a part is missing:\n%s", c.Where, c.Name, m)
		}
		head := "[" + c.Where + "] " + c.Name
		all.WriteString(head + "\n" + m.String() + "\n")
		if got := m.String(); got != want[head] && !*update {
			t.Errorf("%s says\n%swant\n%s", head, got, want[head])
		}
	}
	if *update {
		if err := os.WriteFile(file, []byte(all.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestEachMessageTwentyTimes: no message depends on the order of a map.
func TestEachMessageTwentyTimes(t *testing.T) {
	for _, c := range message.Cases() {
		if c.Try == "" {
			continue
		}
		first := tried(t, c).String()
		for range 19 {
			if again := tried(t, c).String(); again != first {
				t.Fatalf("[%s] %s says now\n%sand now\n%s", c.Where, c.Name, first, again)
			}
		}
	}
}
