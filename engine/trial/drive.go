package trial

import (
	"fmt"
	"math"

	"thole/engine/table"
)

const (
	// driveReach is how far before and after a record its speed over the ground is
	// taken for a drive, s: longer than what a watch's jump lasts.
	driveReach = 5.0
	// leastDrive is how long nobody rows as fast as boatFastest, s.
	leastDrive = 15.0
)

// withoutDrive cuts off a way by car, of a watch that was left on: the outing is the
// longest time between stretches over boatFastest, and ends where it last was as slow
// as a boat. What was cut off is told.
func (t *Track) withoutDrive(points []Point) []Point {
	speed := make([]float64, len(points))
	low, high := 0, 0
	for i, p := range points {
		for p.Time-points[low].Time > driveReach {
			low++
		}
		for high+1 < len(points) && points[high+1].Time-p.Time <= driveReach {
			high++
		}
		speed[i] = chord(points, low, high) // 0/0, a lone record, is NaN: not fast
	}
	best, from, topSpeed := [2]int{0, 0}, 0, 0.0
	longer := func(a, b int) {
		if b > a && (best[1] == best[0] ||
			points[b-1].Time-points[a].Time > points[best[1]-1].Time-points[best[0]].Time) {
			best = [2]int{a, b}
		}
	}
	for i := 0; i < len(points); i++ {
		end := i
		top := 0.0
		for end < len(points) && speed[end] > boatFastest {
			top = math.Max(top, speed[end])
			end++
		}
		if end > i && points[end-1].Time-points[i].Time >= leastDrive {
			longer(from, i)
			from, topSpeed = end, math.Max(topSpeed, top)
		}
		i = max(i, end-1)
	}
	if topSpeed == 0 {
		return points
	}
	longer(from, len(points))
	a, b := best[0], best[1]
	for a > 0 && a < b && speed[a] > fastest {
		a++
	}
	for b < len(points) && b > a && speed[b-1] > fastest {
		b--
	}
	where := "after " + table.Clock(points[max(b-1, 0)].Time, 0)
	switch {
	case a > 0 && b < len(points):
		where = "before " + table.Clock(points[a].Time, 0) + " and " + where
	case a > 0:
		where = "before " + table.Clock(points[a].Time, 0)
	}
	t.Cautions = append(t.Cautions, fmt.Sprintf("%s the watch moves at up to %.0f m/s, as in a car: "+
		"%d records there were left out.", where, topSpeed, len(points)-(b-a)))
	return points[a:b]
}
