package account

import (
	"slices"
	"strings"
	"testing"

	"thole/engine/document"
)

// Every mix of categories in every order names each careful one once and no senior; "not
// said" is careful.
func TestEveryCarefulCategoryIsNamedInAnyOrder(t *testing.T) {
	for mix := range 1 << len(Categories) {
		var rowed []string
		for i, k := range Categories {
			if mix&(1<<i) != 0 {
				rowed = append(rowed, k)
			}
		}
		var first []document.Caution
		for turn := range max(1, len(rowed)) {
			order := append(slices.Clone(rowed[turn:]), rowed[:turn]...)
			for range 2 {
				slices.Reverse(order)
				b := New()
				for _, k := range order {
					b.categories[k] = true
				}
				got := LoadCautions(b.rowed())
				if turn == 0 && first == nil {
					first = got
				}
				if !slices.Equal(got, first) {
					t.Fatalf("%v: %v, in another order %v", order, got, first)
				}
			}
		}
		for k, name := range who {
			said := len(first) > 0 && strings.Contains(first[0].Text, name)
			if said != slices.Contains(rowed, k) {
				t.Errorf("%v rowed: %s named is %t", rowed, name, said)
			}
		}
		if onlySenior := !slices.ContainsFunc(rowed, Careful); onlySenior != (len(first) == 0) {
			t.Errorf("%v rowed: %v", rowed, first)
		}
	}
}
