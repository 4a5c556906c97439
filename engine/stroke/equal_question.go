package stroke

import (
	"math"

	"thole/engine/oar"
)

// group is seats that row alike and get the same new oar: one unknown.
type group struct {
	seats  []int
	fresh  oar.Oar // the new oar before it is adjusted
	start  float64 // the measure on the stroke's own oar
	wanted float64
}

// question is an EqualLoad made ready: what stays, and what is looked for.
type question struct {
	EqualLoad
	base     *Stroke
	settings Settings
	problem  Problem // with At as hold; the oars are still the old ones
	groups   []group
	strokes  int
}

// equalQuestion holds the stroke's own value of At and groups the seats.
func (s *Stroke) equalQuestion(e EqualLoad, settings Settings) (*question, error) {
	q := &question{EqualLoad: e, base: s, settings: settings, problem: s.Problem}
	q.problem.Hold = e.At
	switch e.At {
	case Speed:
		q.problem.Target = s.Speed
	case Effort:
		q.problem.Target = s.mean(func(_ *Seat, sol *SeatSolution) float64 { return sol.Effort })
	case Power:
		if !s.Problem.OwnPower() {
			q.problem.Target = s.mean(func(_ *Seat, sol *SeatSolution) float64 {
				return (sol.HandleWork + sol.BodyWork) / s.Problem.Period()
			})
		}
	}
	if s.Problem.OwnPower() && e.At != Power {
		q.problem.ShareAs(s)
	}

next:
	for i := range s.Problem.Seats {
		fresh := e.Oars[min(i, len(e.Oars)-1)]
		for k := range q.groups {
			g := &q.groups[k]
			if s.Problem.Seats[g.seats[0]].alike(&s.Problem.Seats[i]) && g.fresh.Equal(&fresh) {
				g.seats = append(g.seats, i)
				continue next
			}
		}
		q.groups = append(q.groups, group{seats: []int{i}, fresh: fresh,
			start: e.Adjust.Of(&s.Problem.Seats[i].Oar), wanted: e.Match.of(s, i)})
	}
	return q, nil
}

// ShareAs makes the efforts of a problem keep the proportion they have in a
// stroke of the same seats. Row shares by the rowers' own powers where one number
// is held for all; a stroke in which each rower met their own power shares a
// little otherwise, and the same oars put back must give the same stroke. Where
// the two agree, or the seats do not, the problem stays as it is. The seats are
// made anew, those of another problem stay untouched.
func (p *Problem) ShareAs(s *Stroke) {
	if len(p.Seats) != len(s.Problem.Seats) {
		return
	}
	efforts, powers := 0.0, 0.0
	for i := range p.Seats {
		n := p.Seats[i].Rowers()
		efforts += n * s.Seats[i].Effort
		powers += n * p.Seats[i].Rower.Power
	}
	seats := append([]Seat(nil), p.Seats...)
	unlike := false
	for i := range seats {
		own := &seats[i].Rower.Power
		share := s.Seats[i].Effort / efforts * powers
		unlike = unlike || math.Abs(share / *own - 1) > 1e-9
		*own = share
	}
	if unlike {
		p.Seats = seats
	}
}

// row solves the stroke with the measure of each group at x, m.
func (q *question) row(x []float64) (*Stroke, error) {
	p := q.problem
	p.Seats = append([]Seat(nil), q.problem.Seats...)
	for k, g := range q.groups {
		o := q.Adjust.set(g.fresh, x[k])
		if err := o.Check(); err != nil {
			return nil, &Failure{Cause: BadProblem, What: err.Error()}
		}
		for _, i := range g.seats {
			seat := &p.Seats[i]
			if q.KeepReach {
				old := q.base.Problem.Seats[i]
				c, f, err := oar.KeepReach(&old.Oar, &o, old.Catch, old.Finish)
				if err != nil {
					return nil, &Failure{Cause: BadProblem, What: err.Error()}
				}
				seat.Catch, seat.Finish = c, f
			}
			seat.Oar = o
		}
	}
	q.strokes++
	return Row(p, q.settings)
}

// off is how far group k is from its load in a stroke, as a natural logarithm.
func (q *question) off(s *Stroke, k int) float64 {
	g := &q.groups[k]
	return math.Log(q.Match.of(s, g.seats[0]) / g.wanted)
}

// answer lays the new oars out over the seats.
func (q *question) answer(s *Stroke, x, other []float64) *Equal {
	a := &Equal{Stroke: s, Strokes: q.strokes, Seats: make([]Matched, len(q.problem.Seats))}
	for k, g := range q.groups {
		for _, i := range g.seats {
			m := &a.Seats[i]
			m.Oar, m.Wanted, m.Got = q.Adjust.set(g.fresh, x[k]), g.wanted, q.Match.of(s, i)
			if other != nil {
				o := q.Adjust.set(g.fresh, other[k])
				m.Other = &o
			}
		}
	}
	return a
}
