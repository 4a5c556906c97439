package trial

import "thole/engine/table"

// Track is one outing of a watch.
type Track struct {
	Table    *table.Table // time s, distance m, speed m/s: the smoothed track, a line a record
	Cautions []string     // gaps and jumps, where they lie, a sentence each
	Start    string       // clock time of the first record, as written in the file; "" unknown
	Points   []Point      // as recorded
}

// Point is one record.
type Point struct {
	Time     float64 // s since the first record
	Lat, Lon float64 // deg; NaN where the watch had no fix
	Rate     float64 // strokes a minute, NaN where not recorded
}

// Stretch is a piece found in a track.
type Stretch struct {
	Start, End float64 // s since the first record
	Distance   float64 // m, net along the smoothed track
	Speed      float64 // m/s
	Rate       float64 // 1/min; NaN unknown
	Course     float64 // deg from north, of the straight line from start to end
	Doubtful   bool    // a gap or a jump lies within
}
