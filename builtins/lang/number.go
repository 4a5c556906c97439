package lang

import (
	"math"
	"strconv"
)

// plain writes a number as one would type it: no needless zeros, at most six
// figures unless it is whole, ASCII minus.
func plain(x float64) string {
	if x == math.Trunc(x) && math.Abs(x) < 1e15 {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strconv.FormatFloat(x, 'g', 6, 64)
}
