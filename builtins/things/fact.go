package things

import (
	"thole/engine/defaults"
)

// Fact is a default out of the one table of defaults, in the trade's unit.
func Fact(where, name, of string) float64 {
	f, ok := defaults.Find(where, name, of)
	if !ok {
		panic("no fact " + where + "." + name + " of " + of)
	}
	return f.Value
}
