package account

import "testing"

// Whoever rows last, the crew that needs the most care decides the caution.
func TestMostCarefulCategoryStays(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"senior", "junior", false}, {"junior", "senior", true}, {"junior", "novice", true},
		{"returning", "masters", false}, {"senior", "senior", false}, {"returning", "senior", true},
	} {
		if got := moreCareful(c.a, c.b); got != c.want {
			t.Errorf("%s needs more care than %s: %t", c.a, c.b, got)
		}
	}
}
