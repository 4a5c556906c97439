package lang_test

import (
	"strings"
	"testing"

	"thole/builtins/lang"
)

func TestHelpPage(t *testing.T) {
	l := &lang.Library{
		Records: append([]*lang.Record{paddleRecord}, lang.Basics()...),
		Things:  []lang.ThingDoc{paddles.Doc(), lang.TableDoc(), lang.EstimateDoc()},
		Topics:  []lang.Topic{{Name: "gearing", Summary: "how far", Text: "Five sums.\n"}},
		Synonym: map[string]string{"sweep": "paddle"},
		Fields:  []lang.Field{{Name: "speed", Unit: "m/s", Digits: 3, Help: "mean speed of the hull"}},
	}
	l.Seal()
	want := `paddle: a paddle from its lengths
  length   cm  needed     150 to 450; handle end to blade end; usual 281 to 293
  inboard  cm  88         50 to 150; handle end to the collar face
  shape        "hatchet"  shape of the blade; "hatchet" "tulip"
gives .length .inboard .change()
  paddle(length=288)
`
	for _, name := range []string{"paddle", "sweep"} {
		if got, ok := l.Help(name, 80); !ok || got != want {
			t.Errorf("%s\n%swant\n%s", name, got, want)
		}
	}
	if got, _ := l.Help("gearing", 80); got != "gearing: how far\nFive sums.\n" {
		t.Errorf("topic %q", got)
	}
	if got, _ := l.Help("table.sort", 80); !strings.HasPrefix(got, "table.sort: the lines in order") {
		t.Errorf("method %q", got)
	}
	if got, _ := l.Help("speed", 80); got != "speed: mean speed of the hull, m/s\n  shown with 3 decimals, as stroke.speed or in a told text as {x.speed}\n" {
		t.Errorf("field %q", got)
	}
	if _, ok := l.Help("nothing", 80); ok {
		t.Error("help on nothing")
	}
	for _, line := range strings.Split(want, "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("too wide: %s", line)
		}
	}
}

func TestHelpFoldsToTheWindow(t *testing.T) {
	l := library()
	got, _ := l.Help("paddle", 50)
	for _, line := range strings.Split(got, "\n") {
		if len([]rune(line)) > 50 {
			t.Errorf("too wide: %q", line)
		}
	}
}

// TestReferenceNamesEverything proves that no function, parameter or field is
// left out of the reference page.
func TestReferenceNamesEverything(t *testing.T) {
	l := &lang.Library{Records: append([]*lang.Record{paddleRecord}, lang.Basics()...), Things: []lang.ThingDoc{paddles.Doc(), lang.TableDoc()}}
	page := l.Seal().Reference()
	for _, r := range l.Records {
		if !strings.Contains(page, "\n### "+r.Name+"\n") {
			t.Errorf("no section for %s", r.Name)
		}
		for _, p := range r.Params {
			if !strings.Contains(page, "| `"+p.Name+"` |") {
				t.Errorf("%s: no line for %s", r.Name, p.Name)
			}
		}
	}
	for _, th := range l.Things {
		for _, f := range th.Fields {
			if !strings.Contains(page, "| `"+f.Name+"` |") {
				t.Errorf("%s: no line for .%s", th.Name, f.Name)
			}
		}
	}
}

func TestSealRefusesProgrammersMistakes(t *testing.T) {
	for name, r := range map[string]*lang.Record{
		"twice":           {Name: "a", Params: []lang.Param{{Name: "x"}, {Name: "x"}}, Do: paddleRecord.Do},
		"place after *":   {Name: "a", Params: []lang.Param{{Name: "x", ByName: true}, {Name: "y"}}, Do: paddleRecord.Do},
		"needed after":    {Name: "a", Params: []lang.Param{{Name: "x"}, {Name: "y", Needed: true}}, Do: paddleRecord.Do},
		"needed, default": {Name: "a", Params: []lang.Param{{Name: "x", Needed: true, Default: 1.0}}, Do: paddleRecord.Do},
		"does nothing":    {Name: "a"},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			(&lang.Library{Records: []*lang.Record{r}}).Seal()
		}()
	}
}
