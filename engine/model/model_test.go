package model

import (
	"fmt"
	"strings"
	"testing"
)

// A page fits a window of 80 columns, begins with words for a coach, and numbers its
// equations one after the other, each line set in with the number at its end.
func TestPages(t *testing.T) {
	for _, s := range Sections() {
		for i, line := range strings.Split(s.Text, "\n") {
			if n := len([]rune(line)); n > 78 {
				t.Errorf("%s, line %d: %d columns", s.Name(), i+1, n)
			}
			if strings.Contains(line, "\t") || strings.TrimRight(line, " ") != line {
				t.Errorf("%s, line %d: tabs or blanks at the end", s.Name(), i+1)
			}
		}
		first, _, _ := strings.Cut(s.Text, "\n\n")
		if numbered.MatchString(first) || len(strings.Fields(first)) < 20 {
			t.Errorf("%s does not begin with a paragraph in words", s.Name())
		}
		for i, number := range s.Equations() {
			if number != fmt.Sprintf("%d.%d", s.Number, i+1) {
				t.Errorf("%s: equation %s where %d.%d is due", s.Name(), number, s.Number, i+1)
			}
		}
		if len(s.Equations()) > 0 && !strings.Contains(s.Text, "\nChecked: ") && s.Number != 13 {
			t.Errorf("%s does not say what it was checked against", s.Name())
		}
		if len(s.Equations()) > 0 && !strings.Contains(s.Text, "\nLeft out: ") && s.Number != 13 {
			t.Errorf("%s does not say what is left out", s.Name())
		}
	}
}

func TestFind(t *testing.T) {
	if s, _, ok := Find(3); !ok || s.Title != "The water on the blade" {
		t.Errorf("section 3: %v %q", ok, s.Title)
	}
	last := Sections()[len(Sections())-1]
	if _, near, ok := Find(99); ok || near.Number != last.Number {
		t.Errorf("section 99: nearest %d, %v", near.Number, ok)
	}
	if _, near, ok := Find(-4); ok || near.Number != 1 {
		t.Errorf("section -4: nearest %d, %v", near.Number, ok)
	}
}
