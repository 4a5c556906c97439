package hull

import (
	"math"
	"sync"
)

// dragTable is the water's whole drag D_w over speed [N] for a hull whose waves are computed:
// friction and thin-ship waves, times the class's factor, between nodes by a monotone cubic. Its
// slopes are differences of fourth order, cut to three times the gentler neighbour where a cubic
// could overshoot (Fritsch & Carlson 1980): the harmonic slopes of num.Cubic would leave kinks in
// the curvature that the fast route's wide steps see.
type dragTable struct {
	piece [tableEnd][4]float64
	end   float64 // drag at the last node over its speed squared
}

// dragKey is all that a table depends on.
type dragKey struct {
	length, volume, depth      float64
	water, reynolds, unsettled float64 // as in Resistance
	scale                      float64 // of the waves: ρ k_class
}

var dragTables = struct {
	sync.RWMutex
	known map[dragKey]*dragTable
}{known: map[dragKey]*dragTable{}}

const mostDragTables = 1000

// tabled gives the drag table of a key. Two who ask at once may both build it: it comes out alike.
func (k dragKey) tabled() *dragTable {
	dragTables.RLock()
	t := dragTables.known[k]
	dragTables.RUnlock()
	if t != nil {
		return t
	}
	t = k.build()
	dragTables.Lock()
	if len(dragTables.known) >= mostDragTables {
		clear(dragTables.known)
	}
	dragTables.known[k] = t
	dragTables.Unlock()
	return t
}

func (k *dragKey) build() *dragTable {
	waves := waveCurve(k.length, k.volume, k.depth)
	plain := Resistance{water: k.water, reynolds: k.reynolds, laminar: k.unsettled}
	at := func(i int) float64 { // odd in the speed
		if i < 0 {
			i = -i
			return -plain.Water(tableStep*float64(i)) - float64(k.scale*waves[i])
		}
		return plain.Water(tableStep*float64(i)) + float64(k.scale*waves[i])
	}
	var y, d [tableEnd + 1]float64
	for i := range y {
		y[i] = at(i)
		d[i] = (float64(8*(at(i+1)-at(i-1))) - (at(i+2) - at(i-2))) / 12
		d[i] = gentle(d[i], at(i)-at(i-1), at(i+1)-at(i))
	}
	t := &dragTable{end: y[tableEnd] / (tableStep * tableStep * tableEnd * tableEnd)}
	for i := range t.piece {
		rise := y[i+1] - y[i]
		t.piece[i] = [4]float64{y[i], d[i], float64(3*rise) - float64(2*d[i]) - d[i+1], d[i] + d[i+1] -
			float64(2*rise)}
	}
	return t
}

// gentle cuts a slope so that the cubic keeps rising where its points rise.
func gentle(d, before, after float64) float64 {
	if before*after <= 0 {
		return 0
	}
	most := 3 * math.Min(math.Abs(before), math.Abs(after))
	return math.Max(-most, math.Min(most, d))
}

// at is the drag at speed a ≥ 0.
func (t *dragTable) at(a float64) float64 {
	x := float64(a * (1 / tableStep))
	if !(x < tableEnd) {
		return t.end * a * a
	}
	i := int(x)
	p := &t.piece[i]
	x -= float64(i)
	return p[0] + float64(x*(p[1]+float64(x*(p[2]+float64(x*p[3])))))
}
