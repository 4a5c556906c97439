package message

import "testing"

// TestTheTableNamesWhatThereIs: each piece that a case names is one of the place's.
func TestTheTableNamesWhatThereIs(t *testing.T) {
	known := map[string]func(string) bool{
		"reading": func(name string) bool { return readingPieces[name] != nil },
		"running": func(name string) bool { return runningPieces[name] != nil },
	}
	for _, c := range Cases() {
		is := known[c.Where]
		if is == nil {
			continue
		}
		var names []string
		for _, cond := range c.When {
			names = append(names, cond.Name)
		}
		for _, text := range []string{c.What, c.Why, c.Type, c.Mark, c.Arg} {
			for _, p := range places.FindAllStringSubmatch(text, -1) {
				if _, reword := rewordings[p[1]]; p[0] != "<>" && !(reword && p[2] != "") {
					names = append(names, p[1]+p[2])
				}
			}
		}
		for _, name := range names {
			if !is(name) {
				t.Errorf("[%s] %s names %q, which no place has", c.Where, c.Name, name)
			}
		}
		if c.What == "" || c.Why == "" || c.Type == "" {
			t.Errorf("[%s] %s: a part is missing", c.Where, c.Name)
		}
	}
}
