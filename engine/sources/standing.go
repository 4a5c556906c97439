package sources

import (
	"slices"
	"strings"
)

// Used is what a study rests on, as far as the ledger has something to say of it.
type Used struct {
	Boats []string // classes rowed
	Windy bool     // some stroke had wind
	Bent  bool     // some shaft bends
}

// Standing says in three sentences what a result stands on: what was checked
// independently near this case and how far off, what was fitted, and what nobody has
// measured.
func Standing(u Used) [3]string {
	return [3]string{u.checked(), u.fitted(), u.unmeasured()}
}

// nearest is a class that numbers were printed for, for those that have none.
var nearest = map[string]string{"2x": "1x", "4x": "1x", "2+": "2-", "4-": "2-", "4+": "2-"}

func (u Used) checked() string {
	about := []string{"blade", "ripple", "rhythm", "body"}
	if u.Windy {
		about = append(about, "wind")
	}
	here, near := u.numbers(about, u.Boats), ""
	if len(here) == 0 {
		var others []string
		for _, b := range u.Boats {
			others = append(others, nearest[b])
		}
		here, near = u.numbers(about, others), " (of the nearest class that was measured)"
	}
	here = append(here, u.numbers(about, []string{""})...)
	if len(here) == 0 {
		return "Checked independently near this case: nothing."
	}
	return "Checked by printed numbers that set nothing here" + near + ": " + strings.Join(here, "; ") + "."
}

// numbers are the counted ones about these things in these classes, in words.
func (u Used) numbers(about, boats []string) []string {
	var out []string
	for _, n := range Numbers() {
		if n.Counts() && n.Model != "" && slices.Contains(about, n.About) && slices.Contains(boats, n.Boat) {
			out = append(out, n.Says()+" ("+n.Source+")")
		}
	}
	return out
}

func (u Used) fitted() string {
	out := "Fitted: the travel of the body, to the power of moving it (Hofmijster et al. 2018)"
	if slices.ContainsFunc(u.Boats, func(b string) bool { return b != "1x" }) {
		out += "; the drag factor of the class, to the ratios of the best times of record"
	}
	return out + "."
}

func (u Used) unmeasured() string {
	out := []string{"how a blade of this make differs from a flat plate of its size",
		"what depth does to the force on a blade that is rowed",
		"where the flow along a racing hull turns turbulent"}
	if u.Windy {
		out = append(out, "the shelter of rowers behind the first")
	}
	if u.Bent {
		out = append(out, "what a bent shaft loses")
	}
	return "Nobody has measured: " + strings.Join(out, "; ") +
		"; what a load does to a back or a rib over a season."
}
