package lang

import (
	"math"
	"strconv"
	"strings"
)

// plain writes a number as one would type it: no needless zeros, at most six
// figures, ASCII minus.
func plain(x float64) string {
	if x == math.Trunc(x) && math.Abs(x) < 1e15 {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	s := strconv.FormatFloat(x, 'g', 6, 64)
	if strings.Contains(s, "e") {
		return s
	}
	return s
}
