package table

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"thole/engine/rounding"
)

// Units are converted in two places only, because only there is the unit
// written by the user: in the header of a CSV file and behind --set.

// a unit is one kind of quantity times a factor; %, 1/min and °C stand alone.
type measure struct {
	kind   string
	factor float64
}

var units = map[string]measure{
	"mm": {"length", 0.001}, "cm": {"length", 0.01}, "dm": {"length", 0.1}, "m": {"length", 1},
	"km": {"length", 1000},
	"in": {"length", 0.0254}, "ft": {"length", 0.3048},
	"mm²": {"area", 1e-6}, "cm²": {"area", 1e-4}, "dm²": {"area", 0.01}, "m²": {"area", 1},
	"in²": {"area", 0.00064516},
	"W":   {"power", 1}, "kW": {"power", 1000},
	"g": {"mass", 0.001}, "kg": {"mass", 1}, "lb": {"mass", 0.45359237},
	"N": {"force", 1}, "kN": {"force", 1000}, "kgf": {"force", 9.80665},
	"1/min": {"rate", 1}, "1/s": {"rate", 60},
	"m/s": {"speed", 1}, "km/h": {"speed", 1 / 3.6}, "kn": {"speed", 1852.0 / 3600},
	"s": {"time", 1}, "ms": {"time", 0.001}, "min": {"time", 60}, "h": {"time", 3600},
	"deg": {"angle", 1}, "rad": {"angle", 180 / math.Pi},
	"N·s/m": {"heaviness", 1},
	"kg·m²": {"swing weight", 1},
	"N·m":   {"moment", 1},
	"J":     {"work", 1}, "kJ": {"work", 1000},
	"%":       {"share", 1},
	"°C":      {"temperature", 1},
	"s/500 m": {"pace", 1},
}

// other ways to write a unit, all lower case and without blanks.
var spelled = map[string]string{
	"cm2": "cm²", "cm^2": "cm²", "sqcm": "cm²", "dm2": "dm²", "dm^2": "dm²", "m2": "m²", "m^2": "m²",
	"mm2": "mm²", "mm^2": "mm²", "in2": "in²", "in^2": "in²",
	"ns/m": "N·s/m", "n*s/m": "N·s/m", "n.s/m": "N·s/m", "n·s/m": "N·s/m",
	"kgm2": "kg·m²", "kgm²": "kg·m²", "kg*m2": "kg·m²", "kg·m2": "kg·m²", "kg*m²": "kg·m²", "kgm^2": "kg·m²",
	"kg·m^2": "kg·m²",
	"nm":     "N·m", "n*m": "N·m", "n·m": "N·m",
	"°": "deg", "degree": "deg", "degrees": "deg", "degs": "deg",
	"c": "°C", "degc": "°C", "celsius": "°C", "°c": "°C",
	"spm": "1/min", "strokes/min": "1/min", "str/min": "1/min", "/min": "1/min", "min-1": "1/min",
	"min⁻¹": "1/min", "perminute": "1/min",
	"sec": "s", "secs": "s", "second": "s", "seconds": "s", "mins": "min", "minute": "min", "minutes": "min",
	"hour": "h", "hours": "h",
	"metre": "m", "metres": "m", "meter": "m", "meters": "m", "centimetre": "cm", "centimetres": "cm",
	"centimeter": "cm", "centimeters": "cm",
	"millimetre": "mm", "millimetres": "mm", "inch": "in", "inches": "in", "\"": "in", "foot": "ft",
	"feet": "ft",
	"watt": "W", "watts": "W", "newton": "N", "newtons": "N", "joule": "J", "joules": "J", "kilo": "kg",
	"kilos": "kg", "lbs": "lb", "pound": "lb", "pounds": "lb",
	"kmh": "km/h", "kph": "km/h", "ms-1": "m/s", "m/sec": "m/s", "mps": "m/s", "knots": "kn", "kt": "kn",
	"kts":     "kn",
	"percent": "%", "pct": "%", "s/500m": "s/500 m", "/500m": "s/500 m", "sec/500m": "s/500 m",
}

// CanonicalUnit gives a unit as the tool writes it: "cm2" is cm², "spm" is
// 1/min, "degrees" is deg. A unit nobody knows comes back as it is.
func CanonicalUnit(unit string) string {
	unit = strings.TrimSpace(unit)
	if unit == "-" {
		return ""
	}
	if _, ok := units[unit]; ok {
		return unit
	}
	flat := strings.ToLower(strings.Join(strings.Fields(unit), ""))
	if known, ok := spelled[flat]; ok {
		return known
	}
	// "CM", "kg" written "KG": only where one known unit reads so without case
	found := ""
	for known := range units {
		if strings.ToLower(strings.ReplaceAll(known, " ", "")) == flat {
			if found != "" {
				return unit
			}
			found = known
		}
	}
	if found != "" {
		return found
	}
	return unit
}

// KnownUnit says whether a unit can be converted.
func KnownUnit(unit string) bool {
	_, ok := units[CanonicalUnit(unit)]
	return ok
}

// UnitsLike lists the units that convert to this one, itself first.
func UnitsLike(unit string) []string {
	unit = CanonicalUnit(unit)
	m, ok := units[unit]
	if !ok {
		return nil
	}
	var like []string
	for name, other := range units {
		if other.kind == m.kind && name != unit {
			like = append(like, name)
		}
	}
	sort.Slice(like, func(i, j int) bool {
		a, b := units[like[i]].factor, units[like[j]].factor
		if a != b {
			return a < b
		}
		return like[i] < like[j]
	})
	return append([]string{unit}, like...)
}

// Convert turns x in one unit into another of the same kind. The error is a
// *Error in a coach's words.
func Convert(x float64, from, to string) (float64, error) {
	from, to = CanonicalUnit(from), CanonicalUnit(to)
	if from == to {
		return x, nil
	}
	a, okA := units[from]
	b, okB := units[to]
	switch {
	case to == "":
		return 0, &Error{What: fmt.Sprintf("a bare number is wanted, not %s", from),
			Why: "it was asked for without a unit", Type: "the number alone"}
	case !okA:
		return 0, &Error{What: fmt.Sprintf("%q is no unit of ours", from),
			Why: "wanted is " + to + likeWords(to), Type: to}
	case !okB || a.kind != b.kind:
		return 0, &Error{What: fmt.Sprintf("%s is not %s", from, to),
			Why: fmt.Sprintf("wanted is %s%s", to, likeWords(to)), Type: to}
	}
	// the quotient of the factors first: 2 m is 200 cm to the last bit
	return rounding.Clean(x * (a.factor / b.factor)), nil
}

func likeWords(unit string) string {
	like := UnitsLike(unit)
	if len(like) < 2 {
		return ""
	}
	return " (or " + strings.Join(like[1:], ", ") + ")"
}

// ParseQuantity reads a number with or without a unit behind it: "200", "2.00m",
// "8 dm2", "-4", "1:56.6" (minutes and seconds, in s). A decimal comma is not
// read here: in a command line 2,5 could be two numbers.
func ParseQuantity(text string) (value float64, unit string, err error) {
	text = strings.TrimSpace(text)
	if strings.Contains(text, ":") {
		return parseClock(text)
	}
	end := numberEnd(text)
	value, parseErr := strconv.ParseFloat(text[:end], 64)
	if parseErr != nil || math.IsInf(value, 0) || math.IsNaN(value) || strings.HasPrefix(text[end:], ",") ||
		strings.HasPrefix(text[end:], ".") {
		return 0, "", notANumber(text)
	}
	return value, CanonicalUnit(text[end:]), nil
}

// parseClock reads "1:56.6" or "0:01:56.6" into seconds.
func parseClock(text string) (float64, string, error) {
	wrong := &Error{What: fmt.Sprintf("%q is no time", text), Why: "minutes and seconds are written 1:56.6",
		Type: "1:56.6"}
	parts := strings.Split(text, ":")
	last := parts[len(parts)-1]
	seconds, err := strconv.ParseFloat(last, 64)
	if err != nil || len(parts) > 3 || numberEnd(last) != len(last) || seconds < 0 || seconds >= 60 {
		return 0, "", wrong
	}
	whole := 0.0
	for k, part := range parts[:len(parts)-1] {
		n, err := strconv.ParseUint(part, 10, 16)
		if err != nil || k > 0 && n >= 60 {
			return 0, "", wrong
		}
		whole = whole*60 + float64(n)
	}
	return rounding.Clean(whole*60 + seconds), "s", nil
}

func notANumber(text string) error {
	e := &Error{What: fmt.Sprintf("%q is no number", text),
		Why: "a number has a decimal point, and its unit may stand behind it", Type: "2.5 or 2.5cm"}
	if point := strings.Replace(text, ",", ".", 1); point != text && numberEnd(point) > 0 {
		if _, err := strconv.ParseFloat(point[:numberEnd(point)], 64); err == nil {
			e.Why, e.Type = "decimals are written with a point", point
		}
	}
	return e
}

// numberEnd finds where the number at the start of a text ends. An e belongs
// to it only when digits follow.
func numberEnd(text string) int {
	i := 0
	digits := func() {
		for i < len(text) && text[i] >= '0' && text[i] <= '9' {
			i++
		}
	}
	if i < len(text) && (text[i] == '-' || text[i] == '+') {
		i++
	}
	digits()
	if i < len(text) && text[i] == '.' {
		i++
		digits()
	}
	if i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		back := i
		i++
		if i < len(text) && (text[i] == '-' || text[i] == '+') {
			i++
		}
		from := i
		if digits(); i == from {
			i = back
		}
	}
	return i
}
