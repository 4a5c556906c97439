package table

import (
	"math"
	"strconv"
	"strings"

	"thole/engine/rounding"
)

// Fixed writes x with that many decimals, halves away from zero, or with four
// figures for AutoDigits. ASCII minus, decimal point, no thousands mark, so
// that a figure can be copied back. Nothing is ever "-0". NaN is "".
func Fixed(x float64, digits int) string {
	if math.IsNaN(x) {
		return ""
	}
	if math.IsInf(x, 1) {
		return "no end"
	}
	if math.IsInf(x, -1) {
		return "-no end"
	}
	if digits < 0 {
		return FourFigures(x)
	}
	text := strconv.FormatFloat(rounding.Decimals(x, digits), 'f', digits, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// Signed writes a change: as Fixed, with + in front of what is above zero.
// A change that shows as nothing has no sign.
func Signed(x float64, digits int) string {
	text := Fixed(x, digits)
	if x > 0 && strings.Trim(text, "0.") != "" {
		return "+" + text
	}
	return text
}

// FourFigures writes a bare number: four figures, no trailing zeros, whole
// numbers whole.
func FourFigures(x float64) string {
	if x == 0 || math.IsNaN(x) {
		return Fixed(x, 0)
	}
	size := math.Abs(x)
	if x == math.Trunc(x) && size < 1e9 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	if size >= 1e9 || size < 1e-5 {
		return strconv.FormatFloat(x, 'g', 4, 64)
	}
	decimals := 3 - int(math.Floor(math.Log10(size)))
	if decimals <= 0 {
		return Fixed(x, 0)
	}
	text := Fixed(x, decimals)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// Clock writes seconds as minutes and seconds, "6:58.3"; from an hour on as
// "1:02:03.4". Below zero it has a minus in front.
func Clock(seconds float64, digits int) string {
	if math.IsNaN(seconds) || math.IsInf(seconds, 0) {
		return Fixed(seconds, 0)
	}
	digits = max(digits, 0)
	s := rounding.Decimals(math.Abs(seconds), digits)
	sign := ""
	if seconds < 0 && s > 0 {
		sign = "-"
	}
	minutes := math.Floor(s / 60)
	rest := Fixed(s-60*minutes, digits)
	if len(rest) < 2 || rest[1] == '.' {
		rest = "0" + rest
	}
	if minutes < 60 {
		return sign + strconv.FormatFloat(minutes, 'f', 0, 64) + ":" + rest
	}
	hours := math.Floor(minutes / 60)
	left := strconv.FormatFloat(minutes-60*hours, 'f', 0, 64)
	if len(left) < 2 {
		left = "0" + left
	}
	return sign + strconv.FormatFloat(hours, 'f', 0, 64) + ":" + left + ":" + rest
}

// WithUnit sets a unit behind a written number. A split's reads "/500 m", since
// a clock needs no s.
func WithUnit(number, unit string) string {
	switch {
	case unit == "" || number == "":
		return number
	case unit == "s/500 m" && strings.Contains(number, ":"):
		return number + " /500 m"
	case unit == "s" && strings.Contains(number, ":"):
		return number
	}
	return number + " " + unit
}

// Quantity writes a value as it stands in a sentence: "5.037 m/s",
// "1:56.6 /500 m", "184.2 cm", "177 N·s/m".
func Quantity(x float64, name, unit string, digits int) string {
	if math.IsNaN(x) {
		return ""
	}
	if ClockFor(name, unit) {
		return WithUnit(Clock(x, max(digits, 0)), unit)
	}
	return WithUnit(Fixed(x, digits), unit)
}

// Chance writes a probability with two digits and never as certain.
func Chance(p float64) string {
	switch {
	case p > 0.99:
		return "over 0.99"
	case p < 0.01:
		return "under 0.01"
	}
	return Fixed(p, 2)
}

// Range writes "low to high" with those digits.
func Range(low, high float64, digits int, signed bool) string {
	write := Fixed
	if signed {
		write = Signed
	}
	return write(low, digits) + " to " + write(high, digits)
}

// String writes an estimate: "-6.6 cm (95 % -7.2 to -6.2): holds: less".
func (e *Estimate) String() string {
	if e.Verdict == "" {
		return e.InText()
	}
	return e.InText() + ": " + e.Verdict
}

// InText writes an estimate as it stands within a sentence, which gives the
// verdict in its own words: "-6.6 cm (95 % -7.2 to -6.2)".
func (e *Estimate) InText() string {
	return WithUnit(e.Number(), e.Unit) + " (95 % " + Range(e.Low, e.High, e.Digits, e.Signed) + ")"
}

// Number writes the middle of an estimate, signed where it is a change.
func (e *Estimate) Number() string {
	if e.Signed {
		return Signed(e.Value, e.Digits)
	}
	return Fixed(e.Value, e.Digits)
}
