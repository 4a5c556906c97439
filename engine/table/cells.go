package table

import (
	"math"

	"thole/engine/rounding"
)

// mostDigits is as far as a column is written out to tell its lines apart.
const mostDigits = 3

// Shown writes a column's cells as a table shows them: whole numbers without
// decimals, else the column's digits, one more where nearly equal lines could
// not be told apart, changes signed, blanks blank. An estimate is its number;
// Intervals gives what stands behind it.
func (c *Column) Shown() []string {
	out := make([]string, c.Len())
	digits := c.columnDigits()
	for i := range out {
		if c.Blank(i) {
			continue
		}
		switch c.Kind {
		case Text:
			out[i] = c.Texts[i]
		case Measured:
			out[i] = c.Estimates[i].Number()
		default:
			places := digits
			if c.Places != nil {
				places = c.Places[i]
			}
			out[i] = Fixed(c.Nums[i], places)
			if c.Signed {
				out[i] = Signed(c.Nums[i], places)
			}
		}
	}
	return out
}

// Intervals writes "low to high" for each estimate of a column.
func (c *Column) Intervals() []string {
	out := make([]string, c.Len())
	for i := range out {
		if c.Kind == Measured && c.Estimates[i] != nil {
			e := c.Estimates[i]
			out[i] = Range(e.Low, e.High, e.Digits, e.Signed)
		}
	}
	return out
}

// columnDigits is the number of decimals for all cells of a column of numbers.
func (c *Column) columnDigits() int {
	if c.Kind != Number {
		return c.Digits
	}
	return ColumnDigits(c.Nums, c.Digits)
}

// ColumnDigits gives the decimals a column of these numbers is shown with, the
// quantity's own being digits.
//
// All whole: none. AutoDigits: as many as four figures of the largest take, so
// that the points stand in a row, and no more than any cell has. Else the
// quantity's own, and one more (never over three) where the whole column lies
// within ten units of the last decimal and two lines that differ look alike.
func ColumnDigits(cells []float64, digits int) int {
	whole, largest, low, high := true, 0.0, math.Inf(1), math.Inf(-1)
	for _, x := range cells {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		if math.Abs(x-math.Round(x)) > 1e-9*math.Max(1, math.Abs(x)) {
			whole = false
		}
		largest = math.Max(largest, math.Abs(x))
		low, high = math.Min(low, x), math.Max(high, x)
	}
	switch {
	case whole:
		return 0
	case digits < 0:
		return autoDigits(cells, largest)
	case digits < mostDigits && digits > 0 && high-low < 10*math.Pow(10, -float64(digits)) &&
		lookAlike(cells, digits):
		return digits + 1
	}
	return digits
}

// autoDigits are the decimals that four figures of the largest cell take, cut
// where all cells end sooner.
func autoDigits(cells []float64, largest float64) int {
	if largest >= 1e9 || largest < 1e-5 {
		return AutoDigits
	}
	most := min(max(3-int(math.Floor(math.Log10(largest))), 0), 8)
	for d := range most {
		ends := true
		for _, x := range cells {
			if !math.IsNaN(x) && math.Abs(x-rounding.Decimals(x, d)) > 1e-9*largest {
				ends = false
				break
			}
		}
		if ends {
			return d
		}
	}
	return most
}

// lookAlike says whether two cells that one more decimal would tell apart are
// written the same.
func lookAlike(cells []float64, digits int) bool {
	short := map[string]string{}
	for _, x := range cells {
		if math.IsNaN(x) {
			continue
		}
		key, more := Fixed(x, digits), Fixed(x, digits+1)
		if seen, ok := short[key]; ok && seen != more {
			return true
		}
		short[key] = more
	}
	return false
}
