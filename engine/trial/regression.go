package trial

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// regression is a least-squares fit by QR: y = X β + scatter.
type regression struct {
	coefficient []float64
	weight      *mat.Dense // one row a coefficient: coefficient = weight · y
	left        []float64  // what was left over, one a piece
	leverage    []float64  // how far each piece draws the fit to itself, 0 to 1
	scatter     float64    // of one piece, √(Σ left²/degrees)
	degrees     int
}

// regress fits y by the columns. It needs more pieces than columns, and columns
// of which none is made of the others; see covariates for how that is ensured.
func regress(columns [][]float64, y []float64) regression {
	n, p := len(y), len(columns)
	x := mat.NewDense(n, p, nil)
	for j, c := range columns {
		x.SetCol(j, c)
	}
	var qr mat.QR
	qr.Factorize(x)
	var q, r mat.Dense
	qr.QTo(&q)
	qr.RTo(&r)

	// weight = R⁻¹ Q₁ᵀ: the pseudo-inverse, whose rows also give every variance
	triangle := mat.NewTriDense(p, mat.Upper, nil)
	for i := range p {
		for j := i; j < p; j++ {
			triangle.SetTri(i, j, r.At(i, j))
		}
	}
	weight := mat.NewDense(p, n, nil)
	// a Condition error says that the columns are nearly dependent: covariates
	// keeps such away, and the interval shows what remains of it
	_ = weight.Solve(triangle, q.Slice(0, n, 0, p).T())

	f := regression{weight: weight, degrees: n - p, left: make([]float64, n), leverage: make([]float64, n)}
	f.coefficient = make([]float64, p)
	for j := range p {
		f.coefficient[j] = dot(weight.RawRowView(j), y)
	}
	squares := 0.0
	for i := range n {
		f.left[i] = y[i]
		for j, c := range columns {
			f.left[i] -= f.coefficient[j] * c[i]
		}
		for j := range p {
			f.leverage[i] += q.At(i, j) * q.At(i, j)
		}
		squares += f.left[i] * f.left[i]
	}
	if f.degrees > 0 {
		f.scatter = math.Sqrt(squares / float64(f.degrees))
	}
	return f
}

// shared is the share of a column that the other columns make up, R², in 0 to
// 1, the columns holding one of ones.
func shared(column []float64, others [][]float64) float64 {
	total := 0.0
	m := average(column)
	for _, v := range column {
		total += (v - m) * (v - m)
	}
	if total == 0 {
		return 1
	}
	if len(others) >= len(column) {
		return 1
	}
	rest := 0.0
	for _, v := range regress(others, column).left {
		rest += v * v
	}
	return math.Max(0, 1-rest/total)
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

func average(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s / float64(len(x))
}

func span(x []float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range x {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return low, high
}
