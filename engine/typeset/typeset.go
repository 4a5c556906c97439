// Package typeset gives numbers, units and running text the signs of print: a
// true minus, a narrow space before a unit. Start with Text for a sentence and
// Quantity for a value with its unit. Rounding and digits are package table's:
// a page shows the same figures as a terminal.
//
// It escapes nothing: that is the matter of whoever writes markup.
package typeset

import (
	"regexp"
	"strings"
)

// Signs of good setting. A page shows a true minus, so that a change stands out
// from a dash, and a narrow space that never breaks between a number and its unit.
const (
	Minus = "\u2212"
	Thin  = "\u202f"
)

// Clean drops what HTML does not allow at all: control characters other than
// blanks, and bytes that are no UTF-8.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r < 0x20, r >= 0x7f && r < 0xa0, r >= 0xfdd0 && r <= 0xfdef, r&0xfffe == 0xfffe:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

// units are those that may follow a number in running text, longest first.
const units = `N·s/m|s/500 m|kg·m²|m/s|1/min|cm²|m²|cm|mm|kg|km|deg|min|°C|°|%|W|J|N|m|s`

var (
	asciiMinus = regexp.MustCompile(`(^|[\s(\[])-(\d)`)
	withUnit   = regexp.MustCompile(`(\d) (` + units + `)($|[\s.,;:!?)\]])`)
)

// Text gives running text the page's signs: a true minus before a number and
// a narrow space before a unit. Text as it is typed in a terminal has neither.
func Text(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "+-", "±"), " -> ", " → ")
	s = asciiMinus.ReplaceAllString(s, "${1}"+Minus+"$2")
	// twice, because "3 m 4 s" shares the blank that one match eats
	for range 2 {
		s = withUnit.ReplaceAllStringFunc(s, func(m string) string {
			p := withUnit.FindStringSubmatch(m)
			return p[1] + UnitAfter(p[2]) + p[3]
		})
	}
	return s
}

// Typed gives a text in print's signs back as it is typed in a terminal.
func Typed(s string) string {
	return strings.NewReplacer(Minus, "-", Thin, " ", "°", " deg", "’", "'").Replace(s)
}

// UnitAfter gives the unit as it follows a number.
func UnitAfter(unit string) string {
	switch unit {
	case "":
		return ""
	case "deg", "°":
		return "°"
	}
	return Thin + strings.ReplaceAll(unit, " ", Thin)
}

// UnitName gives the unit as it stands alone, in a head or on an axis.
func UnitName(unit string) string {
	if unit == "deg" {
		return "degrees"
	}
	return strings.ReplaceAll(unit, " ", Thin)
}

// Head gives a name with its unit, as a head or an axis has it: "drive time, s".
func Head(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + ", " + UnitName(unit)
}
