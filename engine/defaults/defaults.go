// Package defaults is the one table of default values: what the tool takes when a
// study says nothing, with unit, the span within which the truth may lie, the
// source and how sure that source is. Help, reports, doubt(), the
// physics and the tests all read it; no default stands anywhere else.
//
// Values are in the trade's unit, as a user would type them. SI gives them to
// the physics.
package defaults

import (
	"fmt"
	"math"
)

// Sureness says how sure a source is.
type Sureness string

// How sure: read in the published source, read in a second text that quotes
// it, from memory (with its confidence), derived here, common practice.
const (
	Published  Sureness = "P"
	Quoted     Sureness = "P2"
	MemoryHigh Sureness = "M high"
	Memory     Sureness = "M medium"
	MemoryLow  Sureness = "M low"
	Derived    Sureness = "D"
	DerivedLow Sureness = "D low"
	Practice   Sureness = "C"
)

// Default is one default value.
type Default struct {
	// the thing it belongs to: "hull", "blade", "oar", "rower", "crew", "water", "air", "rig"
	Where    string
	Name     string  // the parameter as it is typed: "class_factor"
	For      string  // the boat, shape or kind it holds for: "4x", "sweep hatchet", "scull"; "" for all
	Value    float64 // in Unit
	Unit     string  // "cm²", "deg", "kg"; "" for a bare number
	Low      float64 // span of the doubt, in Unit; NaN where none is known
	High     float64
	Source   string
	Sureness Sureness
}

// SI gives the value in SI units (m, kg, s, N, rad).
func (f Default) SI() float64 { return f.Value * Scale(f.Unit) }

// Spanned says whether the doubt about this value is known.
func (f Default) Spanned() bool { return !math.IsNaN(f.Low) && !math.IsNaN(f.High) }

// Scale is the factor from a trade unit to SI. Units of SI itself, and units
// that stand for themselves (m^⅓, 1/min), have the factor 1.
func Scale(unit string) float64 {
	switch unit {
	case "cm":
		return 0.01
	case "mm":
		return 0.001
	case "cm²":
		return 1e-4
	case "deg":
		return math.Pi / 180
	}
	return 1
}

// All gives every default, in the order of the documentation. The slice is the
// caller's own.
func All() []Default { return append([]Default(nil), table...) }

// places finds a line of the table by where, name and what it is for: every thing that is made
// asks for several, a million times in a sweep.
var places = func() map[[3]string]*Default {
	at := make(map[[3]string]*Default, len(table))
	for i := range table {
		at[[3]string{table[i].Where, table[i].Name, table[i].For}] = &table[i]
	}
	return at
}()

// Find gives the default of a parameter of a thing for a boat, shape or kind.
// A default that holds for all answers where no closer one does.
func Find(where, name, of string) (Default, bool) {
	for _, of := range []string{of, ""} {
		if f := places[[3]string{where, name, of}]; f != nil {
			return *f, true
		}
	}
	return Default{}, false
}

// Must is Find in SI units, for the physics' own constructors, which ask only
// for what the table holds: anything else is a programmer's mistake.
func Must(where, name, of string) float64 {
	f, ok := Find(where, name, of)
	if !ok {
		panic(fmt.Sprintf("defaults: no default %s.%s for %q", where, name, of))
	}
	return f.SI()
}
