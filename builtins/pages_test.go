package builtins

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"thole/engine/model"
	"thole/engine/sources"
)

// Every source that help names leads to a section of the model or to the ledger, or
// says that there is none.
func TestSourcesOfHelpLeadSomewhere(t *testing.T) {
	l := Library()
	records := slices.Clone(l.Records)
	for i := range l.Things {
		records = append(records, l.Things[i].Methods...)
	}
	section := regexp.MustCompile(`^model (\d+)(: .*)?$`)
	seen := 0
	for _, r := range records {
		for _, s := range r.Sources {
			seen++
			if m := section.FindStringSubmatch(s); m != nil {
				n, _ := strconv.Atoi(m[1])
				if _, _, ok := model.Find(n); !ok {
					t.Errorf("%s: %s does not exist", r.FullName(), s)
				}
				continue
			}
			none := strings.HasPrefix(s, "derived: ") || strings.Contains(s, ": derived") || strings.Contains(s, "from memory") ||
				strings.Contains(s, "common practice, no source")
			if len(sources.Cited(s)) == 0 && !none {
				t.Errorf("%s cites %q, which leads nowhere", r.FullName(), s)
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d sources in help", seen)
	}
}

// Sections, sources and checks have pages; a section there is not leads to the nearest.
func TestPagesOfModelAndSources(t *testing.T) {
	l := Library()
	for _, c := range []struct{ ask, has string }{
		{"model", " 3  The water on the blade"}, {"model 3", "(3.2)"}, {"MODEL 3", "(3.2)"},
		{"sources", "Affeld"}, {"Affeld et al. 1993", "a quarter to a third"}, {"affeld et al. 1993", "10.1055"}, {"checks", "Independent"},
	} {
		if page, ok := l.Help(c.ask, 80); !ok || !strings.Contains(page, c.has) {
			t.Errorf("help on %q: %v, without %q", c.ask, ok, c.has)
		}
	}
	for ask, near := range map[string]string{"model 99": "model " + strconv.Itoa(len(model.Sections())), "model 0": "model 1", "Affeld et al. " + "1994": "Affeld et al. 1993"} {
		if _, ok := l.Help(ask, 80); ok && strings.HasPrefix(ask, "model") {
			t.Errorf("there is a page on %q", ask)
		}
		if got := NearestHelp(ask); got != near {
			t.Errorf("nearest to %q: %q, expected %q", ask, got, near)
		}
	}
	for _, p := range l.Pages {
		for _, line := range strings.Split(p.Text, "\n") {
			if len([]rune(line)) > 80 {
				t.Errorf("%s has a line of %d columns", p.Name, len([]rune(line)))
			}
		}
	}
	page := ReferencePage()
	if regexp.MustCompile(`model\.md|facts [0-9]|facts\.md`).MatchString(page) {
		t.Error("the reference cites pages that nobody has")
	}
	for _, has := range []string{"### 3 The water on the blade", "| Affeld et al. 1993 |"} {
		if !strings.Contains(page, has) {
			t.Errorf("the reference lacks %q", has)
		}
	}
}
