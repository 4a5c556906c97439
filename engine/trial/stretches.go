package trial

import (
	"fmt"
	"math"
	"slices"

	"thole/engine/table"
)

// Stretch is a piece found in a track.
type Stretch struct {
	Number     int     // from 1
	Start, End float64 // s since the first record
	Distance   float64 // m, along the smoothed track
	Speed      float64 // m/s, over the ground
	Rate       float64 // 1/min; NaN unknown
	Course     float64 // deg from north, of the straight line from start to end; NaN unknown
	Doubtful   bool    // a gap lies within
}

const (
	// pieceShare of the outing's fast speed is rowing hard; below it lies
	// paddling, spinning, the way home.
	pieceShare = 0.85
	// shortestPiece counts as one, s.
	shortestPiece = 40.0
	// settled: a piece begins and ends where the boat runs at this share of the
	// piece's own middle speed: the build and the easing off are no part of it.
	settled = 0.97
	// dip is how long a piece may fall below and still be one, s.
	dip = 6.0
	// opposite: how far from straight back a way may lie, deg.
	opposite = 30.0
)

// findPieces marks what was rowed hard: speed above 85 % of the outing's fast
// speed for 40 s at least. Fast is what a tenth of the moving time lies above.
func (t *Track) findPieces(points []Point) {
	speed, time, way := t.Table.Column("speed").Nums, t.Table.Column("time").Nums,
		t.Table.Column("distance").Nums
	var moving []float64
	for _, v := range speed {
		if v > slowest {
			moving = append(moving, v)
		}
	}
	number := table.NewColumn("piece", "", table.Number)
	number.Nums = slices.Repeat([]float64{math.NaN()}, len(speed))
	defer func() { t.Table.Columns = append(t.Table.Columns, number) }()
	if len(moving) == 0 {
		return
	}
	slices.Sort(moving)
	limit := pieceShare * moving[len(moving)*9/10]
	gap := gapLimit(points)

	for i := 0; i < len(speed); {
		if !(speed[i] >= limit) {
			i++
			continue
		}
		last := i // last record above the limit, over short dips
		for k := i; k < len(speed) && time[k]-time[last] <= dip; k++ {
			if speed[k] >= limit {
				last = k
			}
		}
		if from, to := trim(speed, i, last); time[to]-time[from] >= shortestPiece {
			s := Stretch{Number: len(t.Pieces) + 1, Start: time[from], End: time[to], Distance: way[to] -
				way[from]}
			s.Speed = s.Distance / (s.End - s.Start)
			_, s.Course = geodesic(points[from].Lat, points[from].Lon, points[to].Lat, points[to].Lon)
			if !math.IsNaN(points[from].Way) {
				s.Course = math.NaN() // nobody knows where it was rowed
			}
			s.Rate = meanRate(points[from : to+1])
			for k := from; k <= to; k++ {
				s.Doubtful = s.Doubtful || k > from && time[k]-time[k-1] > gap
				number.Nums[k] = float64(s.Number)
			}
			t.Pieces = append(t.Pieces, s)
			t.Notes = append(t.Notes, s.String())
		}
		i = last + 1
	}
}

// trim takes off the build and the easing off.
func trim(speed []float64, from, to int) (int, int) {
	middle := slices.Sorted(slices.Values(speed[from : to+1]))[(to-from)/2]
	for from < to && speed[from] < settled*middle {
		from++
	}
	for to > from && speed[to] < settled*middle {
		to--
	}
	return from, to
}

// String tells a piece as a coach would write it down.
func (s Stretch) String() string {
	text := fmt.Sprintf("piece %d from %s: %.0f m in %s, %s /500 m", s.Number, table.Clock(s.Start, 0),
		s.Distance, table.Clock(s.End-s.Start, 1), table.Clock(500/s.Speed, 1))
	if !math.IsNaN(s.Rate) {
		text += fmt.Sprintf(", rate %.1f", s.Rate)
	}
	if !math.IsNaN(s.Course) {
		text += fmt.Sprintf(", course %.0f°", math.Mod(math.Round(s.Course), 360))
	}
	if s.Doubtful {
		text += ", with a gap in it"
	}
	return text
}

func meanRate(points []Point) float64 {
	sum, n := 0.0, 0.0
	for _, p := range points {
		if !math.IsNaN(p.Rate) {
			sum += p.Rate
			n++
		}
	}
	return sum / n // NaN where none was recorded
}

// Stream is what a piece out and one back say of the water: rowed alike, the
// boat's speed through the water is the mean of both speeds over the ground,
// and the stream half their difference, positive with the first of them. (The
// mean of the times would be off by (stream/speed)²: equation 14.2.)
func Stream(out, back Stretch) (water, stream float64) {
	return (out.Speed + back.Speed) / 2, (out.Speed - back.Speed) / 2
}

// findStream pairs neighbouring pieces out and back.
func (t *Track) findStream() {
	for i := 0; i+1 < len(t.Pieces); i++ {
		a, b := t.Pieces[i], t.Pieces[i+1]
		turn := math.Abs(math.Remainder(b.Course-a.Course, 360))
		if !(turn >= 180-opposite) { // nor where a course is not known
			continue
		}
		water, stream := Stream(a, b)
		t.Notes = append(t.Notes, fmt.Sprintf("pieces %d and %d, out and back: %.3f m/s through the water, "+
			"stream %s m/s with piece %d, if both were rowed alike",
			a.Number, b.Number, water, table.Signed(stream, 2), a.Number))
		i++
	}
}
