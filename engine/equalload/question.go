package equalload

import (
	"thole/engine/num"
	"thole/engine/oar"
	"thole/engine/stroke"
)

// group is seats that row alike and get the same new oar: one unknown.
type group struct {
	seats  []int
	fresh  oar.Oar // the new oar before it is adjusted
	start  float64 // the measure on the stroke's own oar
	wanted float64
}

// task is an EqualLoad made ready: what stays, and what is looked for.
type task struct {
	Question
	base     *stroke.Stroke
	settings stroke.Settings
	problem  stroke.Problem // with At as hold; the oars are still the old ones
	groups   []group
	strokes  int
}

// ready holds the stroke's own value of At and groups the seats.
func ready(s *stroke.Stroke, e Question, settings stroke.Settings) *task {
	own := s.Problem.OwnPower() && s.Problem.Hold == e.At // each one goes on meeting their own
	q := &task{Question: e, base: s, settings: settings, problem: s.Problem}
	q.problem.Hold = e.At
	switch e.At {
	case stroke.Speed:
		q.problem.Target = s.Speed
	case stroke.Effort:
		q.problem.Target = s.OverRowers(func(i int) float64 { return s.Seats[i].Effort })
	case stroke.Power:
		if !own {
			power, _ := stroke.FieldNamed("power")
			q.problem.Target = power.Of(s)
		}
	}
	if s.Problem.OwnPower() && !own {
		q.problem.ShareAs(s.Seats)
	}

next:
	for i := range s.Problem.Seats {
		fresh := e.Oars[min(i, len(e.Oars)-1)]
		for k := range q.groups {
			g := &q.groups[k]
			if s.Problem.Seats[g.seats[0]].Alike(&s.Problem.Seats[i]) && g.fresh.Equal(&fresh) {
				g.seats = append(g.seats, i)
				continue next
			}
		}
		q.groups = append(q.groups, group{seats: []int{i}, fresh: fresh,
			start: e.Adjust.Of(&s.Problem.Seats[i].Oar), wanted: e.Match.of(s, i)})
	}
	return q
}

// row solves the stroke with the measure of each group at x, m.
func (q *task) row(x []float64) (*stroke.Stroke, error) {
	p := q.problem
	p.Seats = append([]stroke.Seat(nil), q.problem.Seats...)
	for k, g := range q.groups {
		o := q.Adjust.set(g.fresh, x[k])
		if err := o.Check(); err != nil {
			return nil, &stroke.Failure{Cause: stroke.BadProblem, What: err.Error()}
		}
		for _, i := range g.seats {
			seat := &p.Seats[i]
			if q.KeepReach {
				old := q.base.Problem.Seats[i]
				c, f, err := oar.KeepReach(&old.Oar, &o, old.Catch, old.Finish)
				if err != nil {
					return nil, &stroke.Failure{Cause: stroke.BadProblem, What: err.Error()}
				}
				seat.Catch, seat.Finish = c, f
			}
			seat.Oar = o
		}
	}
	q.strokes++
	return stroke.Row(p, q.settings)
}

// off is how far group k is from its load in a stroke, as a natural logarithm.
func (q *task) off(s *stroke.Stroke, k int) float64 {
	g := &q.groups[k]
	return num.Ln(q.Match.of(s, g.seats[0]) / g.wanted)
}

// answer lays the new oars out over the seats.
func (q *task) answer(s *stroke.Stroke, x, other []float64) *Answer {
	a := &Answer{Stroke: s, Strokes: q.strokes, Seats: make([]Matched, len(q.problem.Seats))}
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

// Way is a definition of equal load: what stays the same, and at the same what.
type Way struct {
	Match Match
	At    stroke.Hold
}

// Definitions are the ways that Find allows, in the order of the constants.
func Definitions() []Way {
	var out []Way
	for m := range Match(len(Matches)) {
		for _, at := range []stroke.Hold{stroke.Speed, stroke.Power, stroke.Effort} {
			if (&Question{Oars: make([]oar.Oar, 1), Match: m, At: at}).check(&stroke.Stroke{}) == nil {
				out = append(out, Way{m, at})
			}
		}
	}
	return out
}

// Words say a definition: "same drive time at the same speed".
func (w Way) Words() string {
	return "same " + w.Match.words() + " at the same " + w.At.String()
}
