package trial

import (
	"fmt"
	"math"
	"slices"

	"thole/engine/table"
)

// steadyClock puts right a watch's clock that was set while the boat rowed on: back, so
// that the times behind had been before, or ahead, while a boat that rowed before and
// after is no further than in the usual wait. What follows is taken to follow on at
// that wait, and it is told. A record alone out of its order is no clock that was set,
// nor is a way recorded twice, which does not go on where the boat was.
func (t *Track) steadyClock(raw []Point) []Point {
	limit, usual := gapLimit(raw), usualWait(raw)
	points := slices.Clone(raw)
	shift := 0.0 // s, of all records from here on
	for i := range points {
		points[i].Time += shift
		if i < fewestFixes/2 || i+fewestFixes/2 >= len(points) {
			continue
		}
		wait := points[i].Time - points[i-1].Time
		on := points[i]
		on.Time = points[i-1].Time + usual
		set, how := reached(points[i-1], on), "back"
		switch {
		case wait > 0 && wait <= limit:
			continue
		case wait > 0:
			set = set && chord(points, i-fewestFixes/2, i-1) > slowest &&
				chord(raw, i, i+fewestFixes/2) > slowest
			how = "ahead"
		default:
			set = set && raw[i+1].Time > raw[i].Time && raw[i+1].Time+shift <= points[i-1].Time
		}
		if !set {
			continue
		}
		shift += on.Time - points[i].Time
		t.Cautions = append(t.Cautions, fmt.Sprintf("the watch's clock was set %s by %s at %s: "+
			"what follows is taken to follow on.", how, table.Clock(math.Abs(on.Time-points[i].Time), 0),
			table.Clock(points[i-1].Time, 0)))
		points[i] = on
	}
	return points
}

// usualWait is the median wait between records, s, as far as time goes on.
func usualWait(points []Point) float64 {
	var waits []float64
	for i := 1; i < len(points); i++ {
		if wait := points[i].Time - points[i-1].Time; wait > 0 {
			waits = append(waits, wait)
		}
	}
	if len(waits) == 0 {
		return 0
	}
	slices.Sort(waits)
	return waits[len(waits)/2]
}

// chord is the speed over the straight way from one record to a later one, m/s.
func chord(points []Point, from, to int) float64 {
	way, _ := geodesic(points[from].Lat, points[from].Lon, points[to].Lat, points[to].Lon)
	return way / (points[to].Time - points[from].Time)
}
