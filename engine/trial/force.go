package trial

import (
	"math"
	"slices"

	"thole/engine/table"
)

// A sensor at the gate or on the handle has a zero and a sign of its own, and an angle
// counted from either end. What the samples themselves show of that is put right, and said.

// MeasuredForce is the pull as it was measured, put right: samples in their order.
type MeasuredForce struct {
	At    []float64 // oar angle, deg, of the drive alone where the way back was measured too; or time, s
	Force []float64 // N, pulls above 0
	Rows  []int     // which samples these are
	Said  []string  // what was done

	ZeroFound bool // on the way back; else the zero stays as it is
}

// parts of the range of force: what lies no further from the level of the way back than
// band is way back; a stroke has begun where the pull passes begun. Both from memory.
const (
	band  = 0.1
	begun = 0.1
)

// ForceOverAngle puts right a force over the oar's angle [deg]. Where the angle goes there
// and back, the part with the greater pull is the drive, angles rise in it, and the way
// back gives the zero; where it only goes there, the zero stays as it is.
func ForceOverAngle(angle, force []float64) MeasuredForce {
	var rows [2][]int // where the angle rises, where it falls
	for i := range angle {
		switch slope := angle[min(i+1, len(angle)-1)] - angle[max(i-1, 0)]; {
		case slope > 0:
			rows[0] = append(rows[0], i)
		case slope < 0:
			rows[1] = append(rows[1], i)
		}
	}
	var m MeasuredForce
	few := len(angle) / 8 // noise turns a sample or two
	if len(rows[0]) <= few || len(rows[1]) <= few {
		for i := range angle {
			m.Rows = append(m.Rows, i)
		}
		m.At = slices.Clone(angle)
		m.Force = pulling(force, 0, &m)
		return m
	}
	// the way back is where the force hardly changes
	drive, back := 0, 1
	if spread(force, rows[0]) < spread(force, rows[1]) {
		drive, back = 1, 0
	}
	m.ZeroFound = true
	sign := 1.
	if drive == 1 {
		sign = -1
		m.Said = append(m.Said, "its angles fall from catch to finish, so they are turned round")
	}
	right := pulling(force, middle(pick(force, rows[back])), &m)
	m.Rows = rows[drive]
	for _, i := range m.Rows {
		m.At, m.Force = append(m.At, sign*angle[i]), append(m.Force, right[i])
	}
	return m
}

// FirstDrive keeps of several drives over the angle the first that goes nine tenths of the
// whole arc: one line to draw.
func (m *MeasuredForce) FirstDrive() {
	arc := slices.Max(m.At) - slices.Min(m.At)
	from := 0
	for i := 1; i <= len(m.At); i++ {
		if i < len(m.At) && m.At[i] > m.At[i-1]-arc/2 {
			continue
		}
		if one := m.At[from:i]; i-from < len(m.At) && slices.Max(one)-slices.Min(one) >= .9*arc {
			m.At, m.Force, m.Rows = one, m.Force[from:i], m.Rows[from:i]
			m.Said = append(m.Said, firstWhole)
			return
		}
		from = i
	}
}

const firstWhole = "of its strokes the first whole one is taken"

// ForceOverTime puts right a force over the time [s]. Its level at the way back is the
// zero, where it begins or ends there. Of several strokes the first whole one is kept; times
// count from where its pull begins.
func ForceOverTime(time, force []float64) MeasuredForce {
	var m MeasuredForce
	var zero float64
	zero, m.ZeroFound = level(force)
	right := pulling(force, zero, &m)
	threshold := begun * slices.Max(right)
	var starts []int
	low := true
	for i, f := range right {
		if low && f >= threshold {
			starts, low = append(starts, i), false
		}
		low = low || f < threshold/2
	}
	from, to := 0, len(time)
	if len(starts) > 1 {
		if starts[0] == 0 && len(starts) > 2 { // it may have begun within a stroke
			starts = starts[1:]
		}
		from, to = starts[0], starts[1]
		m.Said = append(m.Said, firstWhole)
	} else if len(starts) == 1 {
		from = starts[0]
	}
	for i := from; i < to; i++ {
		m.Rows = append(m.Rows, i)
		m.At, m.Force = append(m.At, time[i]-time[from]), append(m.Force, right[i])
	}
	return m
}

// PullBegins is the time at which a computed pull passes the share of its peak from which
// ForceOverTime counts.
func PullBegins(time, force []float64) float64 {
	threshold := begun * slices.Max(force)
	for i, f := range force {
		if f >= threshold {
			return time[i]
		}
	}
	return 0
}

// level is the force on the way back: the mean of the narrowest band that holds two fifths of
// all samples, if it is narrow and the first or last sample lies in it; else 0. A drive alone
// has no such band, or has it at its top and begins and ends far from it.
func level(force []float64) (zero float64, found bool) {
	sorted := slices.Sorted(slices.Values(force))
	k := max(2, 2*len(sorted)/5)
	best, at := math.Inf(1), 0
	for i := 0; i+k <= len(sorted); i++ {
		if w := sorted[i+k-1] - sorted[i]; w < best {
			best, at = w, i
		}
	}
	whole := sorted[len(sorted)-1] - sorted[0]
	within := func(x float64) bool {
		return x >= sorted[at]-band*whole/2 && x <= sorted[at+k-1]+band*whole/2
	}
	if best > band*whole || !within(force[0]) && !within(force[len(force)-1]) {
		return 0, false
	}
	return middle(sorted[at : at+k]), true
}

// pulling takes the zero off and turns a pull that counts down.
func pulling(force []float64, zero float64, m *MeasuredForce) []float64 {
	out := make([]float64, len(force))
	for i, f := range force {
		out[i] = f - zero
	}
	low, high := slices.Min(out), slices.Max(out)
	if math.Abs(zero) > (high-low)/200 {
		m.Said = append(m.Said, "its zero stood at "+table.Fixed(zero, 0)+" N and is taken off")
	}
	if -low > high {
		m.Said = append(m.Said, "its pull counts below 0, so it is turned round")
		for i := range out {
			out[i] = -out[i]
		}
	}
	return out
}

func pick(x []float64, rows []int) []float64 {
	out := make([]float64, len(rows))
	for k, i := range rows {
		out[k] = x[i]
	}
	return out
}

func middle(x []float64) float64 {
	sorted := slices.Sorted(slices.Values(x))
	return (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
}

// spread is how far the middle four fifths of the samples reach.
func spread(x []float64, rows []int) float64 {
	sorted := slices.Sorted(slices.Values(pick(x, rows)))
	return sorted[(len(sorted)-1)*9/10] - sorted[len(sorted)/10]
}
