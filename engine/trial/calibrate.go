package trial

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"thole/engine/rounding"
	"thole/engine/table"
)

// Input is a named number of the model that is to be found.
type Input struct {
	Name, Unit string
	Digits     int     // decimals shown, or table.AutoDigits
	Low, High  float64 // bounds; the fit never leaves them
	Start      float64 // NaN: the middle
	Mean, SD   float64 // what is known beforehand (a bell); SD 0: nothing but the bounds
}

// Quantity is something measured: one number, or many along At.
type Quantity struct {
	Name, Unit string
	Digits     int
	Value      []float64
	SD         []float64 // of the measurement, one each; nil: 4 % of the largest |Value|
	At         []float64 // where each was measured; nil for one number
	AtName     string    // "angle"
	AtUnit     string    // "deg"
}

// usualError is the error of a measured curve as a share of its largest value,
// where nobody says.
const usualError = 0.04

// Predicted is what the model gives for one set of inputs: every quantity in
// order, every value of it in order, one flat list; or why there is none.
type Predicted struct {
	Values []float64
	Err    error
}

// Model answers many sets of inputs at once, in parallel as it likes. The error
// ends the calibration; inputs without an answer carry their own.
type Model func(ctx context.Context, points [][]float64) ([]Predicted, error)

// CalibrateProblem is a model, what was measured, and what is to be found.
type CalibrateProblem struct {
	Inputs   []Input
	Measured []Quantity
	Model    Model
}

// Fit is what the measurements say of the inputs. Names, Mean, Covariance, Low
// and High are all that is needed to draw the inputs jointly (a bell cut at the
// bounds).
type Fit struct {
	Names      []string
	Units      []string
	Mean       []float64
	Covariance [][]float64 // widened by how badly the model misses
	Low, High  []float64

	Estimates   []*table.Estimate // one an input, 95 %
	Correlation [][]float64
	Widened     float64      // factor on the measurements' errors because the model misses; 1: none
	Misfit      *table.Table // quantity, at, measured, fitted, off, error, off in errors
	Unsettled   []string     // inputs these data cannot tell, in words: "air", "grip apart from power"
	AtBound     []string     // inputs that ended at an end of their range
	Says        []string     // a sentence each
	Cautions    []string
	Rounds      int
	Status      string // how the search ended, in words
}

const (
	mostRounds = 60
	// unsettled: the measurements left more than this share of the doubt there
	// was before them.
	leftDoubt = 0.7
	// entangled: correlation above which two inputs cannot be told apart.
	entangled = 0.95
)

// Calibrate fits the inputs: Gauss–Newton on residuals in measurement errors,
// with Levenberg's damping where a full step does not pay, inside the bounds.
// What is known beforehand counts as one more measurement.
func Calibrate(ctx context.Context, p CalibrateProblem) (*Fit, error) {
	s, err := newSearch(ctx, p)
	if err != nil {
		return nil, err
	}
	if err := s.run(); err != nil {
		return nil, err
	}
	return s.fit()
}

// search is a calibration under way. Inputs are scaled: half a range, or one
// standard deviation of what is known, is 1.
type search struct {
	CalibrateProblem
	ctx       context.Context
	measured  []float64 // flat
	errors    []float64 // flat, one standard deviation each
	scale     []float64
	x         []float64 // where it stands, in the inputs' own units
	fitted    []float64
	misses    float64 // Σ (residual/error)² + what is known
	slopes    *mat.Dense
	rounds    int
	status    string
	converged bool
}

func newSearch(ctx context.Context, p CalibrateProblem) (*search, error) {
	s := &search{CalibrateProblem: p, ctx: ctx}
	for _, q := range p.Measured {
		largest := 0.0
		for _, v := range q.Value {
			largest = math.Max(largest, math.Abs(v))
		}
		for i, v := range q.Value {
			e := usualError * largest
			if q.SD != nil {
				e = q.SD[i]
			}
			if !(e > 0) || math.IsNaN(v) {
				return nil,
					&table.Error{What: fmt.Sprintf("%s: a measurement and its error are numbers, the error "+
						"above zero", q.Name),
						Why: fmt.Sprintf("value %d is %s give or take %s", i+1, short(v), short(e)),
						Type: fmt.Sprintf("about(%s, %s)", short(rounding.Decimals(v, 3)),
							short(rounding.Decimals(math.Abs(v)*0.01, 3)))}
			}
			s.measured = append(s.measured, v)
			s.errors = append(s.errors, e)
		}
	}
	if len(s.measured) == 0 {
		return nil, &table.Error{What: "nothing was measured", Why: "a model is fitted to measurements",
			Type: `{"speed": about(4.9, 0.03)}`}
	}
	if len(p.Inputs) == 0 {
		return nil, &table.Error{What: "no inputs are to be found", Why: "each takes a range by its name",
			Type: "power=(330, 430)"}
	}
	for _, in := range p.Inputs {
		if !(in.Low < in.High) {
			return nil, &table.Error{What: fmt.Sprintf("%s: the range %s to %s holds nothing", in.Name,
				short(in.Low), short(in.High)), Why: "a range runs from low to high",
				Type: fmt.Sprintf("%s=(low, high)", in.Name)}
		}
		start, scale := in.Start, (in.High-in.Low)/2
		if in.SD > 0 {
			scale = in.SD
			start = in.Mean
		}
		if math.IsNaN(start) {
			start = (in.Low + in.High) / 2
		}
		s.x = append(s.x, math.Min(math.Max(start, in.Low), in.High))
		s.scale = append(s.scale, scale)
	}
	return s, nil
}

// run searches until a round no longer pays.
func (s *search) run() error {
	start, err := s.Model(s.ctx, [][]float64{s.x})
	if err != nil {
		return err
	}
	if start[0].Err != nil {
		return start[0].Err
	}
	s.fitted, s.misses = start[0].Values, s.missesAt(s.x, start[0].Values)
	damping := 0.0
	for s.rounds = 1; s.rounds <= mostRounds; s.rounds++ {
		if err := s.slope(); err != nil {
			return err
		}
		paid, small := false, false
		for try := 0; try < 8 && !paid && !small; try++ {
			x, length := s.step(damping)
			if length < 1e-7 {
				small = true
				break
			}
			out, err := s.Model(s.ctx, [][]float64{x})
			if err != nil {
				return err
			}
			misses := math.Inf(1)
			if out[0].Err == nil {
				misses = s.missesAt(x, out[0].Values)
			}
			if misses < s.misses {
				small = s.misses-misses < 1e-9*(1+s.misses) && length < 1e-3
				s.x, s.fitted, s.misses, paid = x, out[0].Values, misses, true
				damping /= 10
				if damping < 1e-4 {
					damping = 0
				}
			} else {
				damping = math.Max(10*damping, 1e-3)
			}
		}
		if small || !paid {
			s.converged = true
			s.status = fmt.Sprintf("settled after %d rounds", s.rounds)
			return s.slope()
		}
	}
	s.status = fmt.Sprintf("not settled after %d rounds: narrower ranges or fewer inputs", mostRounds)
	return nil
}

// missesAt is the sum of squares in measurement errors.
func (s *search) missesAt(x, values []float64) float64 {
	sum := 0.0
	for i, v := range values {
		r := (s.measured[i] - v) / s.errors[i]
		sum += r * r
	}
	for j, in := range s.Inputs {
		if in.SD > 0 {
			r := (x[j] - in.Mean) / in.SD
			sum += r * r
		}
	}
	return sum
}

// slope works out how every fitted value moves with every input, per scale and
// in measurement errors: both ways by 0.3 % of the scale, one way at a
// bound or where one side has no answer.
func (s *search) slope() error {
	const share = 0.003
	n := len(s.Inputs)
	var points [][]float64
	for j, in := range s.Inputs {
		for _, way := range []float64{-1, 1} {
			x := append([]float64(nil), s.x...)
			x[j] = math.Min(math.Max(x[j]+way*share*s.scale[j], in.Low), in.High)
			points = append(points, x)
		}
	}
	out, err := s.Model(s.ctx, points)
	if err != nil {
		return err
	}
	s.slopes = mat.NewDense(len(s.measured), n, nil)
	for j, in := range s.Inputs {
		below, above := out[2*j], out[2*j+1]
		xb, xa := points[2*j][j], points[2*j+1][j]
		if below.Err != nil {
			below, xb = Predicted{Values: s.fitted}, s.x[j]
		}
		if above.Err != nil {
			above, xa = Predicted{Values: s.fitted}, s.x[j]
		}
		if xa <= xb {
			return &table.Error{What: fmt.Sprintf("%s: the model has no answer on either side of %s", in.Name,
				short(rounding.Decimals(s.x[j], 4))),
				Why:  "how it moves what was measured cannot be seen there",
				Type: fmt.Sprintf("another range for %s", in.Name)}
		}
		for i := range s.measured {
			s.slopes.Set(i, j, (above.Values[i]-below.Values[i])/(xa-xb)*s.scale[j]/s.errors[i])
		}
	}
	return nil
}

// information is JᵀJ of the measurements, in scaled inputs, with their errors
// widened; with what is known beforehand on its diagonal.
func (s *search) information(widened float64) *mat.SymDense {
	n := len(s.Inputs)
	info := mat.NewSymDense(n, nil)
	for a := range n {
		for b := a; b < n; b++ {
			info.SetSym(a, b, mat.Dot(s.slopes.ColView(a), s.slopes.ColView(b))/(widened*widened))
		}
		if in := s.Inputs[a]; in.SD > 0 {
			k := s.scale[a] / in.SD
			info.SetSym(a, a, info.At(a, a)+k*k)
		}
	}
	return info
}

// step gives the next point and its largest move in scales. An input at a bound
// that would move outward stands still while the others move.
func (s *search) step(damping float64) ([]float64, float64) {
	n := len(s.Inputs)
	info := s.information(1)
	down := make([]float64, n) // half the gradient, downhill
	for j, in := range s.Inputs {
		for i := range s.measured {
			down[j] += s.slopes.At(i, j) * (s.measured[i] - s.fitted[i]) / s.errors[i]
		}
		if in.SD > 0 {
			down[j] -= (s.x[j] - in.Mean) / in.SD * s.scale[j] / in.SD
		}
	}
	free := make([]bool, n)
	for j, in := range s.Inputs {
		free[j] = !(s.x[j] <= in.Low && down[j] < 0 || s.x[j] >= in.High && down[j] > 0)
	}
	for {
		move := solveFree(info, down, free, damping)
		x := append([]float64(nil), s.x...)
		length, stopped := 0.0, -1
		for j, in := range s.Inputs {
			x[j] += move[j] * s.scale[j]
			if at := math.Min(math.Max(x[j], in.Low), in.High); at != x[j] {
				x[j] = at
				// already there and pushed on by the others: hold it and solve again
				if at == s.x[j] && free[j] {
					stopped = j
				}
			}
			length = math.Max(length, math.Abs(x[j]-s.x[j])/s.scale[j])
		}
		if stopped < 0 {
			return x, length
		}
		free[stopped] = false
	}
}

// solveFree solves for the inputs that are free; the others do not move.
func solveFree(info *mat.SymDense, down []float64, free []bool, damping float64) []float64 {
	var at []int
	for j, f := range free {
		if f {
			at = append(at, j)
		}
	}
	move := make([]float64, len(down))
	if len(at) == 0 {
		return move
	}
	m := mat.NewSymDense(len(at), nil)
	b := mat.NewVecDense(len(at), nil)
	for p, i := range at {
		b.SetVec(p, down[i])
		for q := p; q < len(at); q++ {
			m.SetSym(p, q, info.At(i, at[q]))
		}
	}
	// Marquardt's damping, a share of each input's own entry; the last term keeps
	// an input without any effect from running away
	largest := 0.0
	for p := range at {
		largest = math.Max(largest, m.At(p, p))
	}
	for p := range at {
		m.SetSym(p, p, m.At(p, p)*(1+damping)+largest*1e-12+1e-300)
	}
	var c mat.Cholesky
	var v mat.VecDense
	if !c.Factorize(m) || c.SolveVecTo(&v, b) != nil && v.Len() == 0 {
		return move
	}
	for p, i := range at {
		move[i] = v.AtVec(p)
	}
	return move
}
