package trial

import (
	"math"
	"slices"
)

const (
	// believedAfter is how long a watch must have been lost, s, before a place no boat
	// could have reached meanwhile is believed.
	believedAfter = 30.0
	// mostChains is how many chains a record is held against, the latest: a track that
	// jumps at every record must not take for ever.
	mostChains = 16
)

// byMajority parts records, in the order of time, into chains along which a boat could
// have rowed, and gives the longest chain: the majority says where the boat was, not
// the first record, which is often a place the watch remembered from the day before.
// jumps are the times of those left out.
func byMajority(points []Point) (kept []Point, jumps []float64) {
	var chains [][]Point
	for _, p := range points {
		at := -1
		for k := len(chains) - 1; k >= max(0, len(chains)-mostChains); k-- {
			last := chains[k][len(chains[k])-1]
			if !reached(last, p) {
				continue
			}
			if at < 0 || last.Time > chains[at][len(chains[at])-1].Time {
				at = k
			}
		}
		if at < 0 { // none could have come here: one that was lost for long is believed
			for k := len(chains) - 1; k >= max(0, len(chains)-mostChains) && at < 0; k-- {
				last := chains[k][len(chains[k])-1]
				if len(chains[k]) >= fewestFixes && p.Time-last.Time >= believedAfter {
					at = k
				}
			}
		}
		if at < 0 {
			chains = append(chains, nil)
			at = len(chains) - 1
		}
		chains[at] = append(chains[at], p)
	}
	longest := -1
	for k := range chains {
		if longest < 0 || len(chains[k]) > len(chains[longest]) {
			longest = k
		}
	}
	for k := range chains {
		if k == longest {
			kept = chains[k]
			continue
		}
		for _, p := range chains[k] {
			jumps = append(jumps, p.Time)
		}
	}
	slices.Sort(jumps)
	return kept, jumps
}

// reached says whether a boat could have come from one record to the other: at its
// fastest, and 15 m for what the watch is wrong by. A record without a place is taken
// at its word.
func reached(from, to Point) bool {
	way, _ := geodesic(from.Lat, from.Lon, to.Lat, to.Lon)
	return math.IsNaN(way) || way <= boatFastest*(to.Time-from.Time)+15
}
