package study

import (
	"math"

	"gonum.org/v1/gonum/optimize"
)

// model holds quadratics in the offsets from a sample, in units of the box.
type model struct {
	l       *objective
	centre  []float64
	size    float64
	low     []float64 // ends of the box in units of size; the ranges cut it
	high    []float64
	height  quadratic
	limited []quadratic
	inward  bool
}

type quadratic struct {
	at    float64
	slope []float64
	curve [][]float64
}

// quadratics asks the points about a sample and fits; nil when one of them failed.
func (l *objective) quadratics(s *sample, size float64) (*model, error) {
	n := len(s.place)
	m := &model{l: l, centre: s.place, size: size}
	// two places along each input: both sides, or one side twice at an edge
	near, far := make([]float64, n), make([]float64, n)
	for i, x := range s.place {
		m.low = append(m.low, max(-1, -x/size))
		m.high = append(m.high, min(1, (1-x)/size))
		near[i], far[i] = 1, -1
		if m.high[i] < 1 {
			near[i], far[i] = -1, 1
		}
		if m.low[i] > -1 || m.high[i] < 1 {
			far[i] = near[i] / 2
		}
	}
	move := func(offset []float64) []float64 {
		p := make([]float64, n)
		for i := range p {
			p[i] = min(max(s.place[i]+size*offset[i], 0), 1)
		}
		return p
	}
	unit := func(i int, d float64, j int, e float64) []float64 {
		o := make([]float64, n)
		o[i] = d
		if j >= 0 {
			o[j] = e
		}
		return o
	}
	var places [][]float64
	for i := range n {
		places = append(places, move(unit(i, near[i], -1, 0)), move(unit(i, far[i], -1, 0)))
	}
	for i := range n {
		for j := range i {
			places = append(places, move(unit(i, near[i], j, near[j])))
		}
	}
	samples, err := l.ask(places)
	if err != nil {
		return nil, err
	}
	for _, t := range samples {
		if t == nil {
			return nil, nil
		}
	}
	fit := func(of func(*sample) float64) quadratic {
		q := quadratic{at: of(s), slope: make([]float64, n), curve: make([][]float64, n)}
		for i := range n {
			q.curve[i] = make([]float64, n)
			// through 0, near and far: y = slope d + curve d²/2
			a, b := (of(samples[2*i])-q.at)/near[i], (of(samples[2*i+1])-q.at)/far[i]
			q.curve[i][i] = 2 * (a - b) / (near[i] - far[i])
			q.slope[i] = a - q.curve[i][i]*near[i]/2
		}
		k := 2 * n
		for i := range n {
			for j := range i {
				c := (of(samples[k]) - of(samples[2*i]) - of(samples[2*j]) + q.at) / (near[i] * near[j])
				q.curve[i][j], q.curve[j][i] = c, c
				k++
			}
		}
		return q
	}
	m.height = fit(func(t *sample) float64 { return t.height })
	for k := range l.goal.Limits {
		m.limited = append(m.limited, fit(func(t *sample) float64 { return t.limited[k] }))
	}
	return m, nil
}

// kinked says whether a limited output bends so much in a small box that it must have a kink there.
func (m *model) kinked() bool {
	for k, q := range m.limited {
		for i := range q.slope {
			if bend := math.Abs(q.curve[i][i]); bend > 0.2*math.Abs(q.slope[i]) && bend > 1e-6*m.l.scales[k] {
				return true
			}
		}
	}
	return false
}

func (q quadratic) value(d []float64) float64 {
	y := q.at
	for i := range d {
		y += q.slope[i] * d[i]
		for j := range d {
			y += q.curve[i][j] * d[i] * d[j] / 2
		}
	}
	return y
}

func (q quadratic) gradient(d []float64, i int) float64 {
	g := q.slope[i]
	for j := range d {
		g += q.curve[i][j] * d[j]
	}
	return g
}

// merit foretells what objective.merit would be.
func (m *model) merit(place []float64, penalty float64) float64 {
	d := make([]float64, len(place))
	for i := range d {
		d[i] = (place[i] - m.centre[i]) / m.size
	}
	s := &sample{height: m.height.value(d)}
	for _, q := range m.limited {
		s.limited = append(s.limited, q.value(d))
	}
	return m.l.merit(s, penalty, m.inward)
}

// bound is one end of a limit as overstep(d) <= 0, in box units.
type bound struct {
	q    quadratic
	sign float64 // +1: at most end, -1: at least end
	end  float64
	unit float64
}

// top gives the best place of the model in its box by an augmented Lagrangian
// (Nocedal & Wright 2006, algorithm 17.4), and the largest weight of a limit.
func (m *model) top() (place []float64, weight float64) {
	var bounds []bound
	for k, limit := range m.l.goal.Limits {
		unit := m.l.scales[k] * m.size
		if !math.IsNaN(limit.Low) {
			bounds = append(bounds, bound{m.limited[k], -1, limit.Low, unit})
		}
		if !math.IsNaN(limit.High) {
			bounds = append(bounds, bound{m.limited[k], 1, limit.High, unit})
		}
	}
	n := len(m.centre)
	tall := m.l.scale * m.size
	weights, stiff := make([]float64, len(bounds)), 10.0

	// d = middle + half sin(u) keeps every step inside the box
	inBox := func(u []float64) (d, dd []float64) {
		d, dd = make([]float64, n), make([]float64, n)
		for i := range u {
			half := (m.high[i] - m.low[i]) / 2
			d[i] = m.low[i] + half*(1+math.Sin(u[i]))
			dd[i] = half * math.Cos(u[i])
		}
		return d, dd
	}
	lagrangian := optimize.Problem{
		Func: func(u []float64) float64 {
			d, _ := inBox(u)
			y := 0.0
			if !m.inward {
				y = -(m.height.value(d) - m.height.at) / tall
			}
			for k, b := range bounds {
				over := b.sign * (b.q.value(d) - b.end) / b.unit
				if t := over + weights[k]/stiff; t > 0 {
					y += stiff / 2 * t * t
				}
			}
			return y
		},
		Grad: func(grad, u []float64) {
			d, dd := inBox(u)
			for i := range grad {
				g := 0.0
				if !m.inward {
					g = -m.height.gradient(d, i) / tall
				}
				for k, b := range bounds {
					over := b.sign * (b.q.value(d) - b.end) / b.unit
					if t := over + weights[k]/stiff; t > 0 {
						g += stiff * t * b.sign * b.q.gradient(d, i) / b.unit
					}
				}
				grad[i] = g * dd[i]
			}
		},
	}

	u := make([]float64, n)
	for i := range u {
		// start where the sample stands, but off the faces, where the sine is flat
		half := (m.high[i] - m.low[i]) / 2
		u[i] = math.Asin(min(max(-m.low[i]/half-1, -0.9), 0.9))
	}
	settings := &optimize.Settings{GradientThreshold: 1e-11, MajorIterations: 200,
		Converger: &optimize.FunctionConverge{Absolute: 1e-14, Iterations: 20}}
	for range 25 {
		// a line search that can do no better says so as an error; its best point stands
		if r, _ := optimize.Minimize(lagrangian, u, settings, &optimize.BFGS{}); r != nil {
			u = r.X
		}
		d, _ := inBox(u)
		worst := 0.0
		for k, b := range bounds {
			over := b.sign * (b.q.value(d) - b.end) / b.unit
			worst = max(worst, math.Abs(max(over, -weights[k]/stiff)))
			weights[k] = max(0, weights[k]+stiff*over)
		}
		if worst < 1e-10 {
			break
		}
		stiff = min(stiff*3, 1e6)
	}

	d, _ := inBox(u)
	place = make([]float64, n)
	for i := range place {
		place[i] = m.centre[i] + m.size*d[i]
		// an end of the range is meant exactly
		if reach := 1e-6 * m.size; place[i] < reach {
			place[i] = 0
		} else if place[i] > 1-reach {
			place[i] = 1
		}
	}
	for _, w := range weights {
		weight = max(weight, w)
	}
	return place, weight
}
