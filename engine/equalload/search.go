package equalload

import (
	"fmt"
	"math"
	"sort"

	"thole/engine/stroke"
)

// outward are the first steps from the stroke's own oar on each side, as shares
// of its measure; farther is how it goes on to the window's end, where it does.
// Wide steps do: the quantities are nearly straight and turn once at most.
var outward = []float64{0.12, 0.35}

const farther = 0.3

// tried is one oar asked: its measure and how far the load is off there, as a
// logarithm; the stroke is nil where there is none.
type tried struct {
	x, off float64
	stroke *stroke.Stroke
}

// scan searches one measure over its window, with all else held.
type scan struct {
	q     *task
	group int // whose oar it is
	at    func(x float64) tried
	tries []tried
	gaps  [][2]float64 // the last good and the first failing oar of a side
	fail  error        // why the nearest failing oar has no stroke
	low   float64
	high  float64
}

// alone answers for a crew that rows alike on one kind of oar.
func (q *task) alone() (*Answer, error) {
	l := q.scan(0, func(x float64) (*stroke.Stroke, error) { return q.row([]float64{x}) })
	near, other, err := l.search(q.groups[0].start)
	if err != nil {
		return nil, err
	}
	var second []float64
	if other != nil {
		second = []float64{other.x}
	}
	return q.answer(near.stroke, []float64{near.x}, second), nil
}

func (q *task) scan(group int, row func(x float64) (*stroke.Stroke, error)) *scan {
	l := &scan{q: q, group: group}
	l.low, l.high = q.Adjust.window()
	l.at = func(x float64) tried {
		s, err := row(x)
		t := tried{x: x, off: math.NaN()}
		if err != nil {
			if l.fail == nil {
				l.fail = err
			}
			return t
		}
		t.stroke, t.off = s, q.off(s, group)
		return t
	}
	return l
}

// search gives the oar nearest to the stroke's own that matches, and a second one
// if there is.
func (l *scan) search(own float64) (near, other *tried, err error) {
	start, err := l.begin(own)
	if err != nil {
		return nil, nil, err
	}
	sides := []*side{{l: l, end: l.low, sign: -1}, {l: l, end: l.high, sign: 1}}
	for _, step := range outward {
		for _, s := range sides {
			s.advance(start * (1 + float64(s.sign*step)))
		}
	}
	for _, s := range sides {
		for !s.done && (s.mayTurn() || len(l.brackets()) == 0) {
			s.advance(s.last().x + float64(s.sign*farther*start))
		}
	}
	answers := l.crossings()
	if len(answers) == 0 {
		for _, gap := range l.gaps {
			l.feel(gap[0], gap[1])
		}
		if answers = l.crossings(); len(answers) == 0 {
			answers = l.turn()
		}
	}
	if len(answers) == 0 {
		return nil, nil, l.nothing()
	}
	sort.SliceStable(answers, func(i, j int) bool {
		return math.Abs(answers[i].x-own) < math.Abs(answers[j].x-own)
	})
	if len(answers) > 1 {
		other = &answers[1]
	}
	return &answers[0], other, nil
}

// begin finds a first oar with a stroke: the stroke's own length, or where the
// new oar has no stroke there (a far bigger blade), one nearby.
func (l *scan) begin(own float64) (float64, error) {
	for _, share := range []float64{1, 0.93, 1.07, 0.85, 1.15, 0.7, 1.3} {
		x := min(max(share*own, l.low), l.high)
		if t := l.at(x); t.stroke != nil {
			l.fail = nil
			l.add(t)
			return x, nil
		}
	}
	f := &stroke.Failure{Cause: stroke.OutOfReach, Type: l.q.elsewhere(),
		What: fmt.Sprintf("%sthe new oar has no stroke at any %s near %.0f cm", l.q.label(l.group),
			l.q.Adjust, 100*own), Why: l.fail.Error()}
	if l.q.At == stroke.Speed {
		f.Type = `at="power", or a blade with more hold`
	}
	return 0, f
}

func (l *scan) add(t tried) {
	l.tries = append(l.tries, t)
	sort.SliceStable(l.tries, func(i, j int) bool { return l.tries[i].x < l.tries[j].x })
}

// side is the way outward on one side of the stroke's own oar.
type side struct {
	l    *scan
	end  float64 // of the window
	sign float64
	done bool // at the end, or at the first oar without a stroke
}

// last is the farthest oar asked on this side.
func (s *side) last() tried { return s.from(0) }

// from counts oars from the outermost inward.
func (s *side) from(n int) tried {
	if s.sign < 0 {
		return s.l.tries[n]
	}
	return s.l.tries[len(s.l.tries)-1-n]
}

// advance asks one oar farther out.
func (s *side) advance(x float64) {
	if s.done {
		return
	}
	if s.sign*(s.end-x) <= 0 {
		x, s.done = s.end, true
	}
	t := s.l.at(x)
	if t.stroke == nil {
		s.done = true
		s.l.gaps = append(s.l.gaps, [2]float64{s.last().x, x})
		return
	}
	s.l.add(t)
}

// mayTurn says whether the parabola through the three outermost oars turns back
// before twice the way to the window's end: then a second match may lie beyond.
func (s *side) mayTurn() bool {
	if len(s.l.tries) < 3 {
		return true
	}
	a, b, c := s.from(2), s.from(1), s.from(0)
	inner, outer := (b.off-a.off)/(b.x-a.x), (c.off-b.off)/(c.x-b.x)
	bend := 2 * (outer - inner) / (c.x - a.x)
	slope := outer + float64(bend*(c.x-b.x))/2 // at c
	there := slope + float64(bend*2*(s.end-c.x))
	return slope*there <= 0
}

// feel comes nearer to the first oar without a stroke, to a tenth of a
// millimetre, for a match that lies close to it.
func (l *scan) feel(good, bad float64) {
	for math.Abs(bad-good) > 1e-4 && len(l.brackets()) == 0 {
		mid := good + (bad-good)/2
		if t := l.at(mid); t.stroke != nil {
			l.add(t)
			good = mid
		} else {
			bad = mid
		}
	}
}
