package sources

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

// Number is one number taken from a source, as it was printed there, and what
// the model makes of it where it can be rowed.
type Number struct {
	Source     string // key
	About      string // "blade", "wind", "ripple"...: what it is about
	Boat       string // the class it is rowed in; "" for none
	Quantity   string // "energy lost at the blade, single"
	Printed    string // as printed
	Where      string // table, page, "abstract", "quoted"
	Conditions string // boat, crew, rate, power, as its authors had them
	Role       Role
	Unit       string
	Low, High  float64 // the printed number or its range, in Unit; NaN where it is none
	Rowed      string  // how it is rowed here; "" where it is not
	Model      string  // the model's number in Unit, as recorded; "" where it is not rowed
	HeldBy     string  // package and test that compute it again
}

//go:embed numbers.csv
var numbersText []byte

var numbers = sync.OnceValue(func() []Number {
	rows, err := csv.NewReader(bytes.NewReader(numbersText)).ReadAll()
	if err != nil { // an embedded file that a test has read
		panic(err)
	}
	out := make([]Number, 0, len(rows))
	for _, r := range rows[1:] {
		out = append(out, Number{
			Source: r[0], About: r[1], Boat: r[2], Quantity: r[3], Printed: r[4], Where: r[5],
			Conditions: r[6], Role: Role(r[7]),
			Unit: r[8], Low: end(r[9]), High: end(r[10]), Rowed: r[11], Model: r[12], HeldBy: r[13],
		})
	}
	return out
})

func end(cell string) float64 {
	if x, err := strconv.ParseFloat(cell, 64); err == nil {
		return x
	}
	return math.NaN()
}

// Numbers gives all that was taken, in the ledger's own order.
func Numbers() []Number { return append([]Number(nil), numbers()...) }

// Counts says whether a number is one that the model can be judged by: nothing
// was set by it, somebody read it, and it is rowed.
func (n *Number) Counts() bool {
	s, _ := Find(n.Source)
	return n.Role == Independent && n.HeldBy != "" && s.Read != Memory
}

// Value is the model's number and the size of its last digit; ok is false
// where none is recorded.
func (n *Number) Value() (value, digit float64, ok bool) {
	value, err := strconv.ParseFloat(n.Model, 64)
	if err != nil {
		return 0, 0, false
	}
	digit = 1
	mantissa, exponent, _ := strings.Cut(n.Model, "e")
	if _, decimals, has := strings.Cut(mantissa, "."); has {
		digit = math.Pow(10, -float64(len(decimals)))
	}
	if e, err := strconv.Atoi(exponent); err == nil {
		digit *= math.Pow(10, float64(e))
	}
	return value, digit, true
}

// Miss is how far the model lies outside what is printed, in per cent of the
// nearer end: 0 inside a range, positive for more in size. ok is false where
// nothing is printed or rowed.
func (n *Number) Miss() (percent float64, ok bool) {
	value, _, ok := n.Value()
	if !ok || math.IsNaN(n.Low) || math.IsNaN(n.High) {
		return 0, false
	}
	nearer := n.Low
	switch {
	case value > n.High:
		nearer = n.High
	case value >= n.Low:
		return 0, true
	}
	return 100 * (value - nearer) / nearer, true
}

// Says is the number in a line: what is printed, what the model gives, how far
// apart.
func (n *Number) Says() string {
	text := n.Quantity + ": " + n.Printed
	if n.Model == "" {
		return text
	}
	model := strings.Replace(n.Model, "-", "−", 1)
	if n.Unit == "%" {
		model += " %"
	} else if n.Unit != "" {
		model += " " + n.Unit
	}
	text += ", here " + model
	if n.Turned() {
		text += ", the other way"
	}
	if miss, ok := n.Miss(); ok && n.Role != SignOnly {
		switch {
		case miss == 0:
			text += ", met"
		case math.Abs(miss) < 0.05:
			text += ", met to the digits printed"
		case math.Abs(miss) < 1:
			text += fmt.Sprintf(", %.1f %% too %s", math.Abs(miss), lowHigh(miss))
		default:
			text += fmt.Sprintf(", %.0f %% too %s", math.Abs(miss), lowHigh(miss))
		}
	}
	return text
}

// Turned says whether the model gives the other direction than the one printed.
func (n *Number) Turned() bool {
	value, _, ok := n.Value()
	return ok && n.Role == SignOnly && (n.Printed == "rises" && value < 0 || n.Printed == "falls" &&
		value > 0)
}

func lowHigh(miss float64) string {
	if miss < 0 {
		return "small"
	}
	return "large"
}

// Count gives how many printed numbers the rowing is judged by and from how many
// sources; the arithmetic of trials (about "trial") is counted apart. Two rows of one
// printed number (a range rowed in two boats) count once.
func Count(trials bool) (printed, of int) {
	numbers, from := map[string]bool{}, map[string]bool{}
	for _, n := range Numbers() {
		if n.Counts() && trials == (n.About == "trial") {
			numbers[n.Source+n.About+n.Printed] = true
			from[n.Source] = true
		}
	}
	return len(numbers), len(from)
}
