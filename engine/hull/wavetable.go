package hull

import (
	"math"
	"sync"

	"thole/engine/num"
)

// A table of R/(ρ∇²) over speed for one waterline and depth, at displacements on a lattice a
// tenth apart in ln ∇. A boat's own waves are read between four of them, so that a season of
// weights or temperatures shares a few tables. Each is a pure function of its key, built once
// whoever asks, and remembered; a full memory is emptied, which costs time and no bit.
type waveKey struct {
	length, depth float64
	step          int // ln ∇ over latticeStep
}

const (
	latticeStep = 0.1
	tableStep   = 0.05               // of speed, m/s
	tableEnd    = 180                // nodes up to 9 m/s; beyond, drag grows with the square
	tableNodes  = tableEnd + 1 + two // and two more for the last slope
	two         = 2
	slowestWave = 0.06 // Froude number below which waves are left out: under 1e-4 of friction
)

type waveTable struct {
	once  sync.Once
	value [tableNodes]float64
}

var waveTables = struct {
	sync.Mutex
	known map[waveKey]*waveTable
}{known: map[waveKey]*waveTable{}}

const mostWaveTables = 2000

// tabled gives the table of a key, building it when it is not remembered.
func (k waveKey) tabled() *[tableNodes]float64 {
	waveTables.Lock()
	t, ok := waveTables.known[k]
	if !ok {
		if len(waveTables.known) >= mostWaveTables {
			clear(waveTables.known)
		}
		t = new(waveTable)
		waveTables.known[k] = t
	}
	waveTables.Unlock()
	t.once.Do(func() {
		volume := num.Exp(latticeStep * float64(k.step))
		f := formOf(k.length, volume)
		for i := range t.value {
			if u := tableStep * float64(i); u > slowestWave*math.Sqrt(gravity*k.length) {
				t.value[i] = f.waves(u, k.depth) / (volume * volume)
			}
		}
	})
	return &t.value
}

// waveCurve is R/ρ [m⁴/s²] of a boat at the nodes of speed, by the cubic in ln ∇ through the four
// nearest tables: to 1e-6 of itself.
func waveCurve(length, volume, depth float64) (curve [tableNodes]float64) {
	x := num.Ln(volume) / latticeStep
	first := math.Floor(x)
	u := x - first
	weights := [4]float64{
		-u * (u - 1) * (u - 2) / 6, (u + 1) * (u - 1) * (u - 2) / 2,
		-(u + 1) * u * (u - 2) / 2, (u + 1) * u * (u - 1) / 6,
	}
	for i, w := range weights {
		table := waveKey{length, depth, int(first) - 1 + i}.tabled()
		for j := range curve {
			curve[j] += float64(w * volume * volume * table[j])
		}
	}
	return curve
}
