package fast

import (
	"math"

	"thole/engine/num"
)

// unknowns is how many a step by collocation has: every state at every point.
const unknowns = num.RadauPoints * bentStates

// factors are lower and upper triangle of the matrix of a step's equations, 1 − h A⊗J, rows exchanged.
type factors struct {
	row  [unknowns][unknowns]float64 // the diagonal as its reciprocal
	from [unknowns]int8
}

// make fills and factors the matrix of a step of width h with these Jacobians at its points; false where it
// is singular.
func (f *factors) make(jacobian *[num.RadauPoints][bentStates]bentState, h float64) bool {
	for i := range num.RadauPoints {
		for j := range num.RadauPoints {
			w := -h * num.Radau.Within[i][j]
			for k := range bentStates {
				row, from := &f.row[i*bentStates+k], &jacobian[j][k]
				at := j * bentStates
				row[at], row[at+1], row[at+2], row[at+3] = w*from[0], w*from[1], w*from[2], w*from[3]
			}
		}
	}
	for i := range unknowns {
		f.row[i][i]++
	}
	for k := range unknowns {
		best := k
		for i := k + 1; i < unknowns; i++ {
			if math.Abs(f.row[i][k]) > math.Abs(f.row[best][k]) {
				best = i
			}
		}
		f.from[k] = int8(best)
		if best != k {
			f.row[k], f.row[best] = f.row[best], f.row[k]
		}
		pivot := &f.row[k]
		if !(math.Abs(pivot[k]) > 1e-200) {
			return false
		}
		pivot[k] = 1 / pivot[k]
		for i := k + 1; i < unknowns; i++ {
			row := &f.row[i]
			if row[k] == 0 {
				continue
			}
			m := row[k] * pivot[k]
			row[k] = m
			for j := k + 1; j < unknowns; j++ {
				row[j] -= float64(m * pivot[j])
			}
		}
	}
	return true
}

// solve puts the solution of the factored equations in the place of their right-hand side.
func (f *factors) solve(x *[unknowns]float64) {
	for k := range unknowns {
		if from := f.from[k]; int(from) != k {
			x[k], x[from] = x[from], x[k]
		}
	}
	for i := 1; i < unknowns; i++ {
		row, sum := &f.row[i], x[i]
		for j := range i {
			sum -= float64(row[j] * x[j])
		}
		x[i] = sum
	}
	for i := unknowns - 1; i >= 0; i-- {
		row, sum := &f.row[i], x[i]
		for j := i + 1; j < unknowns; j++ {
			sum -= float64(row[j] * x[j])
		}
		x[i] = sum * row[i]
	}
}
