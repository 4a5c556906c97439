package account

import (
	"slices"

	"thole/engine/document"
)

// Categories say which cautions come first: the first needs none, of the others
// the earlier needs the more care.
var Categories = []string{"senior", "junior", "novice", "masters", "returning"}

// moreCareful says whether a rower's category needs more care than another.
func moreCareful(a, b string) bool {
	senior := Categories[0]
	return a != senior && (b == senior || slices.Index(Categories, a) < slices.Index(Categories, b))
}

// LoadCautions is the caution that comes first where those in the boat need more care.
func LoadCautions(category string) []document.Caution {
	var who string
	switch category {
	case "junior":
		who = "juniors"
	case "novice":
		who = "novices"
	case "masters":
		who = "masters"
	case "returning":
		who = "rowers coming back from injury"
	default:
		return nil
	}
	return []document.Caution{{Text: "Load: with " + who + " lighter first, in small steps; a heavier oar " +
		"is held longer by back and ribs. Pain: stop and see a clinician. The local code, coaches and " +
		"clinicians decide, not this tool."}}
}
