package study

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// defaultDraws keeps both ends of a 95 % interval ten draws away from the last one.
const defaultDraws = 400

// mostRefused is how many joint draws in a row may lie outside their bounds
// before the bounds are called a contradiction of the fit.
const mostRefused = 100

// drawn gives the points of d: a scrambled Halton sequence, so that few draws
// fill the inputs evenly, every one carried to its own distribution. The first
// n draws of a longer run are the draws of a run of n.
func (d Doubt) drawn() ([]Point, error) {
	n := d.Draws
	joint := 0
	var root *mat.Dense
	if d.Joint != nil {
		joint = len(d.Joint.Names)
		var err error
		if root, err = d.Joint.root(); err != nil {
			return nil, err
		}
	}
	// Joint draws outside their bounds are passed over, so more are made.
	var points []Point
	for made := n; ; made *= 2 {
		points = points[:0]
		for _, u := range cube(made, len(d.Ranges)+joint, d.Seed) {
			p := make(Point, 0, len(u))
			for i, r := range d.Ranges {
				p = append(p, r.quantile(u[i]))
			}
			if d.Joint != nil {
				x := d.Joint.place(root, u[len(d.Ranges):])
				if !d.Joint.within(x) {
					continue
				}
				p = append(p, x...)
			}
			points = append(points, p)
			if len(points) == n {
				return points, nil
			}
		}
		if made > mostRefused*n {
			return nil, fmt.Errorf("hardly a draw of the fit lies inside its own ranges: %d of %d",
				len(points), made)
		}
	}
}

// cube gives n points of the unit cube, none on its faces.
func cube(n, dim int, seed uint64) [][]float64 {
	if dim == 0 {
		return make([][]float64, n)
	}
	batch := mat.NewDense(n, dim, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(dim, nil),
		Src: rand.NewPCG(seed, 0x7468_6f6c_65)}.Sample(batch)
	points := make([][]float64, n)
	for i := range points {
		points[i] = batch.RawRowView(i)
		for j, u := range points[i] {
			points[i][j] = min(max(u, 1e-12), 1-1e-12) // a bell has no end
		}
	}
	return points
}

// quantile carries an even number to the input's own distribution.
func (r Range) quantile(u float64) float64 {
	if r.Bell {
		return r.Middle + r.SD*distuv.UnitNormal.Quantile(u)
	}
	if r.Peaked {
		return distuv.NewTriangle(r.Low, r.High, r.Middle, nil).Quantile(u)
	}
	return r.at(u)
}

// root gives a matrix R with R Rᵀ = Cov. The eigenvalues are used, not
// Cholesky, because an input held at a bound has variance 0.
func (j *Joint) root() (*mat.Dense, error) {
	n := len(j.Names)
	if len(j.Mean) != n || len(j.Cov) != n {
		panic("study: joint draw with unlike lengths")
	}
	cov := mat.NewSymDense(n, nil)
	for i := range n {
		for k := i; k < n; k++ {
			cov.SetSym(i, k, (j.Cov[i][k]+j.Cov[k][i])/2)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(cov, true) {
		return nil, fmt.Errorf("the spread of the fit is no number")
	}
	values := eigen.Values(nil)
	var root mat.Dense
	eigen.VectorsTo(&root)
	for k, v := range values {
		scale := math.Sqrt(max(v, 0))
		for i := range n {
			root.Set(i, k, root.At(i, k)*scale)
		}
	}
	return &root, nil
}

func (j *Joint) place(root *mat.Dense, u []float64) []float64 {
	x := append([]float64(nil), j.Mean...)
	for i := range x {
		for k := range u {
			x[i] += root.At(i, k) * distuv.UnitNormal.Quantile(u[k])
		}
	}
	return x
}

func (j *Joint) within(x []float64) bool {
	for i, v := range x {
		if j.Low != nil && v < j.Low[i] || j.High != nil && v > j.High[i] {
			return false
		}
	}
	return true
}
