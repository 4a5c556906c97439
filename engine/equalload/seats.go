package equalload

import (
	"math"

	"thole/engine/stroke"
)

// together answers seat by seat: each seat keeps its own load, the boat's speed
// is shared, so that an oar moves the others' loads a little. Broyden's method
// from the old oars with the slopes of the seats' own loads (Broyden 1965,
// Mathematics of Computation 19:577-593); where it leaves the oars that have a
// stroke, seat after seat is searched instead, which also says what a seat cannot.
func (q *task) together() (*Answer, error) {
	n := len(q.groups)
	x := make([]float64, n)
	for k, g := range q.groups {
		x[k] = g.start
	}
	s, err := q.row(x)
	if err != nil {
		return nil, err
	}
	off := q.offs(s)
	if farthest(off) <= matchedWithin {
		return q.answer(s, x, nil), nil
	}

	// all oars a little shorter together: the slope of each seat's own load
	step := make([]float64, n)
	moved := make([]float64, n)
	for k := range x {
		step[k] = float64(-0.03 * x[k])
		moved[k] = x[k] + step[k]
	}
	if t, err := q.row(moved); err == nil {
		inverse := make([][]float64, n) // of the Jacobian
		first := q.offs(t)
		for k := range inverse {
			inverse[k] = make([]float64, n)
			inverse[k][k] = step[k] / (first[k] - off[k])
		}
		if a := q.broyden(x, off, inverse); a != nil {
			return a, nil
		}
	}
	return q.seatAfterSeat(x)
}

// broyden closes in from x; nil where it does not.
func (q *task) broyden(x, off []float64, inverse [][]float64) *Answer {
	low, high := q.Adjust.window()
	for range 20 {
		next := make([]float64, len(x))
		for k := range x {
			d := 0.0
			for j := range off {
				d -= float64(inverse[k][j] * off[j])
			}
			next[k] = x[k] + min(max(d, -0.2*x[k]), 0.2*x[k])
			if !(next[k] > low && next[k] < high) {
				return nil
			}
		}
		s, err := q.row(next)
		if err != nil {
			return nil
		}
		then := q.offs(s)
		if farthest(then) <= matchedWithin {
			return q.answer(s, next, nil)
		}
		if farthest(then) > 4*farthest(off) {
			return nil
		}
		update(inverse, x, next, off, then)
		x, off = next, then
	}
	return nil
}

// update is Broyden's: the least change of the inverse that explains the step.
func update(inverse [][]float64, x, next, off, then []float64) {
	n := len(x)
	foretold := make([]float64, n) // inverse · change of off
	for k := range n {
		for j := range n {
			foretold[k] += float64(inverse[k][j] * (then[j] - off[j]))
		}
	}
	row, scale := make([]float64, n), 0.0 // stepᵀ inverse
	for j := range n {
		for k := range n {
			row[j] += float64((next[k] - x[k]) * inverse[k][j])
		}
	}
	for k := range n {
		scale += float64((next[k] - x[k]) * foretold[k])
	}
	if scale == 0 {
		return
	}
	for k := range n {
		for j := range n {
			inverse[k][j] += (next[k] - x[k] - foretold[k]) * row[j] / scale
		}
	}
}

// seatAfterSeat searches one seat's window after the other until all agree.
func (q *task) seatAfterSeat(x []float64) (*Answer, error) {
	x = append([]float64(nil), x...)
	for range 12 {
		for k := range x {
			l := q.scan(k, func(y float64) (*stroke.Stroke, error) {
				z := append([]float64(nil), x...)
				z[k] = y
				return q.row(z)
			})
			near, _, err := l.search(x[k])
			if err != nil {
				return nil, err
			}
			x[k] = near.x
			if off := q.offs(near.stroke); farthest(off) <= 10*matchedWithin {
				return q.answer(near.stroke, x, nil), nil
			}
		}
	}
	return nil, &stroke.Failure{Cause: stroke.NotFound,
		What: "the seats' oars do not settle: each one moves the others' loads",
		Why:  "seat after seat was matched twelve times over",
		Type: "one seat's oar alone, or " + `match="drive_time"`}
}

func (q *task) offs(s *stroke.Stroke) []float64 {
	off := make([]float64, len(q.groups))
	for k := range off {
		off[k] = q.off(s, k)
	}
	return off
}

func farthest(off []float64) float64 {
	w := 0.0
	for _, o := range off {
		if math.IsNaN(o) {
			return math.Inf(1)
		}
		w = max(w, math.Abs(o))
	}
	return w
}
