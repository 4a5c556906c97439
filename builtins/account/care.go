package account

import (
	"slices"

	"thole/engine/document"
	"thole/engine/words"
)

// NotSaid is the category of whoever nobody named: it is treated with care.
const NotSaid = "not said"

// Categories say who rows, the one that nobody gave first. Only a senior needs no caution of
// load of their own.
var Categories = []string{NotSaid, "senior", "junior", "novice", "masters", "returning"}

// who writes a careful category as those it means.
var who = map[string]string{NotSaid: "rowers whose category is not said", "junior": "juniors",
	"novice": "novices", "masters": "masters", "returning": "rowers coming back from injury"}

// Careful says whether the load of a category's rowers is told first.
func Careful(category string) bool { return who[category] != "" }

// CarefulOf gives the careful categories among these, each once, in the order of Categories,
// "not said" behind those that are known.
func CarefulOf(categories []string) (careful []string) {
	for _, k := range append(slices.Clone(Categories[1:]), NotSaid) {
		if Careful(k) && slices.Contains(categories, k) {
			careful = append(careful, k)
		}
	}
	return careful
}

// LoadCautions is the caution that comes first where some of those that rowed need more
// care: it names every such category, whoever else rows.
func LoadCautions(categories []string) []document.Caution {
	careful := CarefulOf(categories)
	if len(careful) == 0 {
		return nil
	}
	var names []string
	for _, k := range careful {
		names = append(names, who[k])
	}
	return []document.Caution{{Text: "Load: with " + words.List(names) + " lighter first, in small steps; " +
		"a heavier oar is held longer by back and ribs. Pain: stop and see a clinician. The local code, " +
		"coaches and clinicians decide, not this tool."}}
}
