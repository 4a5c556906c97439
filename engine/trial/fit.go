package trial

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"thole/engine/table"
)

// fit makes the answer out of a search that has ended.
func (s *search) fit() (*Fit, error) {
	f := &Fit{Rounds: s.rounds, Status: s.status, Mean: append([]float64(nil), s.x...), Widened: s.widened()}
	for _, in := range s.Inputs {
		f.Names, f.Units = append(f.Names, in.Name), append(f.Units, in.Unit)
		f.Low, f.High = append(f.Low, in.Low), append(f.High, in.High)
	}
	f.spread(s)
	f.Misfit = s.misfit()
	f.settle(s)
	if !s.converged {
		f.Cautions = append(f.Cautions, "the fit has "+s.status+".")
	}
	return f, nil
}

// widened is how much larger than stated the measurements' errors must be for
// the model's misses to be chance: √(Σ r²/degrees), at least 1.
func (s *search) widened() float64 {
	degrees := float64(len(s.measured) - len(s.Inputs))
	for _, in := range s.Inputs {
		if in.SD > 0 {
			degrees++
		}
	}
	if degrees < 1 {
		return 1
	}
	return math.Max(1, math.Sqrt(s.misses/degrees))
}

// spread works out covariance, correlation and estimates. A range counts, in
// the errors alone, as a bell of the same spread: an input that the data leave
// open gets about its range back instead of an error without end.
func (f *Fit) spread(s *search) {
	n := len(s.Inputs)
	info := s.information(f.Widened)
	for j, in := range s.Inputs {
		if in.SD == 0 {
			k := s.scale[j] / (in.High - in.Low)
			info.SetSym(j, j, info.At(j, j)+12*k*k)
		}
	}
	var c mat.Cholesky
	var inverse mat.SymDense
	if !c.Factorize(info) || c.InverseTo(&inverse) != nil {
		inverse = *mat.NewSymDense(n, nil) // cannot be: the diagonal is above zero
	}
	f.Covariance, f.Correlation = make([][]float64, n), make([][]float64, n)
	for a := range n {
		f.Covariance[a], f.Correlation[a] = make([]float64, n), make([]float64, n)
		for b := range n {
			f.Covariance[a][b] = inverse.At(a, b) * s.scale[a] * s.scale[b]
			f.Correlation[a][b] = inverse.At(a, b) / math.Sqrt(inverse.At(a, a)*inverse.At(b, b))
		}
	}
	for j, in := range s.Inputs {
		half := 1.959964 * math.Sqrt(f.Covariance[j][j])
		if in.Digits < 0 { // as many decimals as the error leaves a meaning
			in.Digits = min(max(1-int(math.Floor(math.Log10(half))), 0), 6)
		}
		f.Estimates = append(f.Estimates, &table.Estimate{Value: f.Mean[j],
			Low: math.Max(in.Low, f.Mean[j]-half), High: math.Min(in.High, f.Mean[j]+half),
			AsSet: math.NaN(), Unit: in.Unit, Digits: in.Digits})
	}
}

// settle says which inputs the data leave open, which cannot be told apart, and
// which ended at a bound.
func (f *Fit) settle(s *search) {
	open := make([]bool, len(s.Inputs))
	for j, in := range s.Inputs {
		before := in.SD
		if before == 0 {
			before = (in.High - in.Low) / math.Sqrt(12)
		}
		if left := math.Sqrt(f.Covariance[j][j]) / before; left > leftDoubt {
			open[j] = true
			f.Unsettled = append(f.Unsettled, in.Name)
			f.Says = append(f.Says,
				fmt.Sprintf("%s stays nearly as open as it was: the measurements leave %.0f %% of its doubt",
					in.Name, math.Min(100*left, 100)))
		}
		if f.Mean[j] <= in.Low || f.Mean[j] >= in.High {
			f.AtBound = append(f.AtBound, in.Name)
			end := "upper"
			if f.Mean[j] <= in.Low {
				end = "lower"
			}
			f.Cautions = append(f.Cautions,
				fmt.Sprintf("%s ended at the %s end of its range, %s: widen the range if it may lie beyond.",
					in.Name, end, table.WithUnit(short(f.Mean[j]), in.Unit)))
		}
	}
	for a := range s.Inputs {
		for b := a + 1; b < len(s.Inputs); b++ {
			if r := f.Correlation[a][b]; math.Abs(r) > entangled && !open[a] && !open[b] {
				f.Unsettled = append(f.Unsettled, s.Inputs[a].Name+" apart from "+s.Inputs[b].Name)
				f.Says = append(f.Says,
					fmt.Sprintf("%s and %s cannot be told apart by these measurements (correlation %s)",
						s.Inputs[a].Name, s.Inputs[b].Name, table.Signed(r, 2)))
			}
		}
	}
	if f.Widened > 1.2 {
		f.Cautions = append(f.Cautions,
			fmt.Sprintf("the model misses by %s times the measurements' errors: all estimates are widened "+
				"by as much.", table.Fixed(f.Widened, 1)))
	}
}

// misfit sets measured and fitted beside each other, value by value.
func (s *search) misfit() *table.Table {
	quantity := table.NewColumn("quantity", "", table.Text)
	at := table.NewColumn("at", "", table.Number)
	unit := table.NewColumn("unit", "", table.Text)
	measured, fitted := table.NewColumn("measured", "", table.Number),
		table.NewColumn("fitted", "", table.Number)
	off, share := table.NewColumn("off", "", table.Number), table.NewColumn("in_errors", "", table.Number)
	off.Signed, share.Signed, share.Digits = true, true, 1
	k := 0
	for _, q := range s.Measured {
		for i, v := range q.Value {
			quantity.Texts = append(quantity.Texts, q.Name)
			unit.Texts = append(unit.Texts, q.Unit)
			place := math.NaN()
			if q.At != nil {
				place = q.At[i]
				at.Unit = q.AtUnit
			}
			at.Nums = append(at.Nums, place)
			for _, c := range []*table.Column{measured, fitted, off} {
				c.Places = append(c.Places, q.Digits)
			}
			measured.Nums = append(measured.Nums, v)
			fitted.Nums = append(fitted.Nums, s.fitted[k])
			off.Nums = append(off.Nums, v-s.fitted[k])
			share.Nums = append(share.Nums, (v-s.fitted[k])/s.errors[k])
			k++
		}
	}
	t := &table.Table{Name: "measured and fitted", Columns: []*table.Column{quantity, at, measured, fitted,
		off, unit, share}}
	t.Foot = []string{fmt.Sprintf("off in measurement errors: on average %s", table.Fixed(s.meanMiss(), 1))}
	return t
}

// meanMiss is the root mean square of the residuals in their errors.
func (s *search) meanMiss() float64 {
	sum := 0.0
	for i, v := range s.fitted {
		r := (s.measured[i] - v) / s.errors[i]
		sum += r * r
	}
	return math.Sqrt(sum / float64(len(s.fitted)))
}
