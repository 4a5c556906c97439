package trial

import (
	"bytes"
	"fmt"
	"math"

	"thole/engine/table"
)

// Track is one outing of a watch.
type Track struct {
	// time s, distance m, speed m/s, piece, and rate where it was recorded: the smoothed track, a
	// line a record
	Table    *table.Table
	Pieces   []Stretch
	Cautions []string // gaps and jumps, and where they lie, a sentence each
	Notes    []string // the pieces found, and the stream out of those rowed out and back
}

// Point is one record of a watch.
type Point struct {
	Time     float64 // s since the first record
	Lat, Lon float64 // deg
	Rate     float64 // strokes a minute, NaN where not recorded
	Way      float64 // m, the watch's own, where it recorded no place; else NaN
	Counted  float64 // m, the watch's own count beside a place, 0 where it has none
}

const (
	// boatFastest is what no boat does over the ground, even with the stream, m/s.
	boatFastest = 12.0
	// gapFactor times the usual interval, and at least leastGap, is a gap.
	gapFactor = 5.0
	leastGap  = 5.0 // s
	// smoothReach is how far, before and after, a record is smoothed, s: two or
	// three strokes, so that neither the watch's jitter nor the run within a
	// stroke counts as way.
	smoothReach = 6.0
	fewestFixes = 10
	// mostOften: records nearer than this, s, add nothing that smoothing keeps.
	mostOften = 0.05
)

// ReadTrack reads a watch's track, GPX or FIT, whichever the file is. Distance
// runs along the smoothed track: summing the raw records would count the
// watch's jitter as way.
func ReadTrack(file string, data []byte) (*Track, error) {
	t := &Track{}
	var points []Point
	var err error
	switch {
	case len(data) >= 12 && bytes.Equal(data[8:12], []byte(".FIT")):
		points, err = t.readFIT(file, data)
	case bytes.Contains(data[:min(len(data), 4096)], []byte("<gpx")):
		points, err = t.readGPX(file, data)
	default:
		err = &table.Error{What: fmt.Sprintf("%s is no track", file),
			Why:  "a track is a GPX file or a watch's .fit file, and this begins like neither",
			Type: "the track as the watch's program exports it, GPX or FIT", File: file}
	}
	if err != nil {
		return nil, err
	}
	points = t.withoutDrive(t.clean(t.steadyClock(points)))
	if len(points) < fewestFixes {
		return nil, &table.Error{What: fmt.Sprintf("%s has %d usable records", file, len(points)),
			Why: fmt.Sprintf("a track needs %d at least to be smoothed", fewestFixes), Type: "a longer track",
			File: file}
	}
	t.smooth(points)
	t.ownDistance(points)
	t.findPieces(points)
	t.findStream()
	return t, nil
}

// clean takes out records that stand still in time and those no boat could
// reach, and says where; what lies over a gap is said too, and kept.
func (t *Track) clean(points []Point) []Point {
	var inTime []Point
	var backward int
	for _, p := range points {
		if n := len(inTime); n > 0 {
			if wait := p.Time - inTime[n-1].Time; wait <= 0 {
				backward++
				continue
			} else if wait < mostOften {
				continue
			}
		}
		inTime = append(inTime, p)
	}
	kept, jumps := byMajority(inTime)
	if backward > 0 {
		t.Cautions = append(t.Cautions,
			fmt.Sprintf("%d records with a time that had been before were left out.", backward))
	}
	if len(jumps) > 0 {
		t.Cautions = append(t.Cautions,
			fmt.Sprintf("%d records jump further than any boat rows (the first at %s) and were left out.",
				len(jumps), table.Clock(jumps[0], 0)))
	}
	limit := gapLimit(kept)
	for i := 1; i < len(kept); i++ {
		if wait := kept[i].Time - kept[i-1].Time; wait > limit {
			t.Cautions = append(t.Cautions,
				fmt.Sprintf("a gap of %.0f s at %s: the way across it is taken straight.", wait,
					table.Clock(kept[i-1].Time, 0)))
		}
	}
	return kept
}

// gapLimit is the longest usual wait between two records.
func gapLimit(points []Point) float64 {
	return math.Max(leastGap, gapFactor*usualWait(points))
}

// mostApart is how far a watch's own distance may lie from the one by its places
// before it is told as a caution: over a kilometre the two differ by what jitter and
// smoothing do, a per cent or so (from memory).
const mostApart = 0.02

// ownDistance sets the watch's own count beside the distance by its places.
func (t *Track) ownDistance(points []Point) {
	own := 0.0
	for i := 1; i < len(points); i++ {
		own += math.Max(points[i].Counted-points[i-1].Counted, 0) // some begin again with each lap
	}
	ways := t.Table.Column("distance").Nums
	way := ways[len(ways)-1]
	if own == 0 || way == 0 {
		return
	}
	text := fmt.Sprintf("the watch's own distance is %.0f m, by its places it is %.0f m", own, way)
	if math.Abs(own/way-1) > mostApart {
		t.Cautions = append(t.Cautions, fmt.Sprintf("%s: %.1f %% apart, and speeds "+
			"of pieces may be wrong by as much.", text, 100*math.Abs(own/way-1)))
		return
	}
	t.Notes = append(t.Notes, text)
}

// smooth fits, around each record, a straight run to its neighbours (local
// linear regression, tricube weights; Cleveland 1979, Journal of the American
// Statistical Association 74:829–836), never across a gap.
func (t *Track) smooth(points []Point) {
	n := len(points)
	east, north := plane(points)
	limit := gapLimit(points)
	x, y, speed := make([]float64, n), make([]float64, n), make([]float64, n)
	from := 0
	for i := range n {
		if i > 0 && points[i].Time-points[i-1].Time > limit {
			from = i
		}
		low, high := i, i
		for low > from && points[i].Time-points[low-1].Time < smoothReach {
			low--
		}
		for high+1 < n && points[high+1].Time-points[i].Time < smoothReach &&
			points[high+1].Time-points[high].Time <= limit {
			high++
		}
		var vx, vy float64
		x[i], vx = localLine(points, east, low, high, points[i].Time)
		y[i], vy = localLine(points, north, low, high, points[i].Time)
		if low == high {
			vx, vy = between(points, east, north, i, limit)
		}
		speed[i] = math.Hypot(vx, vy)
	}
	time, distance := table.NewColumn("time", "s", table.Number),
		table.NewColumn("distance", "m", table.Number)
	fast := table.NewColumn("speed", "m/s", table.Number)
	way, lone := 0.0, 0
	for i := range n {
		if math.IsNaN(speed[i]) {
			lone++
		}
		if i > 0 {
			way += math.Hypot(x[i]-x[i-1], y[i]-y[i-1])
		}
		time.Nums, distance.Nums, fast.Nums = append(time.Nums, points[i].Time), append(distance.Nums, way),
			append(fast.Nums, speed[i])
	}
	if lone > 0 {
		t.Cautions = append(t.Cautions, fmt.Sprintf(
			"%d records stand alone between gaps: their speed is left blank.", lone))
	}
	t.Table = &table.Table{Columns: []*table.Column{time, distance, fast}}
}

// between is distance over time from the record before to the one behind, where
// they lie too far apart to be smoothed; NaN where gaps stand on both sides.
func between(points []Point, east, north []float64, i int, limit float64) (vx, vy float64) {
	low, high := i, i
	if i > 0 && points[i].Time-points[i-1].Time <= limit {
		low--
	}
	if i+1 < len(points) && points[i+1].Time-points[i].Time <= limit {
		high++
	}
	took := points[high].Time - points[low].Time
	return (east[high] - east[low]) / took, (north[high] - north[low]) / took // 0/0 is NaN
}

// plane lays the records on a plane that touches the ellipsoid at the middle
// one, m east and north, by its two radii of curvature there: over 20 km the
// scale is wrong by a few parts in a million along the meridian, and by 0.1 %
// across it at most, less than any watch.
func plane(points []Point) (east, north []float64) {
	const deg = math.Pi / 180
	middle := points[len(points)/2]
	sin := math.Sin(middle.Lat * deg)
	e2 := earthFlattening * (2 - earthFlattening)
	w := 1 - e2*sin*sin
	across := earthAxis / math.Sqrt(w)
	along := earthAxis * (1 - e2) / (w * math.Sqrt(w))
	for _, p := range points {
		// the parallel at each record's own latitude
		east = append(east, across*math.Cos(p.Lat*deg)*math.Remainder(p.Lon-middle.Lon, 360)*deg)
		north = append(north, along*(p.Lat-middle.Lat)*deg)
	}
	return east, north
}

// localLine gives value and slope at a time of the weighted line through the
// records low to high.
func localLine(points []Point, x []float64, low, high int, at float64) (value, slope float64) {
	var s, st, sx, stt, stx float64
	for k := low; k <= high; k++ {
		dt := points[k].Time - at
		u := math.Abs(dt) / smoothReach
		w := 1 - u*u*u
		w = w * w * w
		s += w
		st += w * dt
		sx += w * x[k]
		stt += w * dt * dt
		stx += w * dt * x[k]
	}
	det := s*stt - st*st
	if det <= 1e-9*s*s {
		return x[low], 0 // a lone record
	}
	return (stt*sx - st*stx) / det, (s*stx - st*sx) / det
}
