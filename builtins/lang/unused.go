package lang

import (
	"slices"

	"go.starlark.net/starlark"

	"thole/engine/table"
)

// unusedPlace is the first further name of a telling call that no text of it
// has a place for: a misspelt option, or a name left behind. Nil if all serve.
func (c *Call) unusedPlace() *Error {
	if !c.Record.Fills || len(c.Rest) == 0 {
		return nil
	}
	used := map[string]bool{}
	for _, v := range append(slices.Clone(c.values), c.More...) {
		if !usedPlaces(v, used) {
			return nil // a place that cannot be read is told when it is filled
		}
	}
	for _, given := range c.Rest {
		if used[given.Name] {
			continue
		}
		e := c.Record.unknown(given.Name, given.Value)
		if near := table.Nearest(given.Name, c.Record.names()); near == "" || !alike(given.Name, near) {
			e.Why = "further names fill the places of a text, and no text here has {" + given.Name + "}"
			e.Type = "{" + given.Name + "} in the text, or leave " + given.Name + "= out"
		}
		return e
	}
	return nil
}

// usedPlaces notes the first names of the places in a text, or in the texts of
// a list, and says whether all could be read.
func usedPlaces(v starlark.Value, used map[string]bool) bool {
	switch v := v.(type) {
	case starlark.String:
		places, err := Places(string(v))
		for _, p := range places {
			if len(p.Path) > 0 {
				used[p.Path[0]] = true
			}
		}
		return err == nil
	case *starlark.List, starlark.Tuple:
		items, _ := Items(v)
		for _, x := range items {
			if !usedPlaces(x, used) {
				return false
			}
		}
	}
	return true
}
