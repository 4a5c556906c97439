package typeset

import (
	"slices"
	"testing"
)

// Running text gets the page's signs; code and names keep theirs.
func TestTypeset(t *testing.T) {
	for in, want := range map[string]string{
		"-6.6 cm (95 % -7.2 to -6.2)": "−6.6\u202fcm (95\u202f% −7.2 to −6.2)",
		"catch 63.0 deg, well":        "catch 63.0°, well",
		"scull-2 of set A-3":          "scull-2 of set A-3",
		"3 m 4 s":                     "3\u202fm 4\u202fs",
		"5 men":                       "5 men",
		"1:56.6 /500 m":               "1:56.6 /500\u202fm",
		"+-40 %":                      "±40\u202f%",
	} {
		if got := Text(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	got := Numbers("Set A-2: <i>x</i> -6.6 cm & 5")
	want := []Piece{{"Set A-2: <i>x</i> ", false}, {"−6.6\u202fcm", true}, {" & ", false}, {"5", true}, {"", false}}
	if !slices.Equal(got, want) {
		t.Errorf("numbers: %+v", got)
	}
	if got := Typed("−6.6\u202fcm at 5°, the pin’s"); got != "-6.6 cm at 5 deg, the pin's" {
		t.Errorf("typed: %q", got)
	}
}
