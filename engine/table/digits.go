package table

import "strings"

// Digits of the trade, in one place: how many decimals a quantity is shown
// with, and how many a change of it. Rule 6 of the terminal; the page follows.

// places pairs the decimals of a value with those of a change of it.
type places struct{ value, change int }

// byName holds quantities whose name says more than their unit.
var byName = map[string]places{
	"split":               {1, 2},
	"drive_time":          {2, 3},
	"recovery_time":       {2, 3},
	"slip":                {0, 1},
	"rhythm":              {2, 3},
	"distance_per_stroke": {2, 2},
	"chance":              {2, 2},
	"wind":                {1, 1},
	"free_speed":          {1, 1},
}

// byUnit holds all the others that have a unit.
var byUnit = map[string]places{
	"m/s":     {3, 3},
	"s/500 m": {1, 2},
	"s":       {1, 2},
	"min":     {1, 1},
	"cm":      {1, 1},
	"deg":     {1, 1},
	"mm":      {1, 1},
	"m":       {2, 3},
	"cm²":     {0, 1},
	"m²":      {2, 3},
	"W":       {0, 1},
	"N":       {0, 1},
	"N·s/m":   {0, 1},
	"N·m":     {0, 1},
	"J":       {0, 1},
	"kg":      {1, 1},
	"kg·m²":   {2, 3},
	"1/min":   {1, 1},
	"km/h":    {1, 1},
	"%":       {1, 1},
	"°C":      {1, 1},
}

// DigitsFor gives the decimals a quantity is shown with and those of a change
// of it, by its name where that says more, else by its unit. Both are
// AutoDigits for a bare number nobody knows.
func DigitsFor(name, unit string) (digits, change int) {
	if p, ok := byName[name]; ok {
		return p.value, p.change
	}
	switch {
	case unit == "" && strings.HasSuffix(name, "_ratio"):
		return 2, 3
	case unit == "" && strings.HasSuffix(name, "_efficiency"):
		return 3, 3
	}
	if p, ok := byUnit[CanonicalUnit(unit)]; ok {
		return p.value, p.change
	}
	return AutoDigits, AutoDigits
}

// ClockFor says whether a quantity is written m:ss.s where it stands in a
// sentence or on a card. In tables it stays in seconds.
func ClockFor(name, unit string) bool {
	return CanonicalUnit(unit) == "s/500 m" || unit == "s" && strings.HasPrefix(name, "time_")
}

// SignedFor says whether a column holds changes by its very name.
func SignedFor(name string) bool {
	return name == "change" || name == "percent"
}

// Heading splits "speed (m/s)" into the name as it is typed, with blanks
// written as _, and the unit. "(-)" says a bare number: bracketed is true and
// the unit empty.
func Heading(text string) (name, unit string, bracketed bool) {
	text = strings.TrimSpace(text)
	if strings.HasSuffix(text, ")") {
		if open := strings.LastIndex(text, "("); open > 0 {
			unit = strings.TrimSpace(text[open+1 : len(text)-1])
			text = strings.TrimSpace(text[:open])
			bracketed = true
			if unit == "-" {
				unit = ""
			}
			unit = CanonicalUnit(unit)
		}
	}
	return strings.Join(strings.Fields(text), "_"), unit, bracketed
}

// NewColumn makes an empty column of that kind with the trade's digits.
func NewColumn(name, unit string, kind Kind) *Column {
	digits, change := DigitsFor(name, unit)
	return &Column{Name: name, Unit: unit, Digits: digits, Change: change, Kind: kind,
		Signed: SignedFor(name)}
}
