package fast

import (
	"math"

	"thole/engine/num"
)

// unknowns is how many a step by collocation has: every state at every point. The bend follows from the
// two ends of the shaft and is eliminated beforehand, which leaves solved ones.
const (
	unknowns = num.RadauPoints * bentStates
	solved   = num.RadauPoints * 3
)

// solvedStates are the states that are solved for.
var solvedStates = [3]int{stateV, stateOmega, stateBlade}

// factors are lower and upper triangle of the matrix of a step's equations, 1 − h A⊗J without the bends,
// rows exchanged.
type factors struct {
	row  [solved][solved]float64 // the diagonal as its reciprocal
	from [solved]int8

	h              float64
	byBend         [3][num.RadauPoints]float64 // slopes of the states solved for in the bend
	byOmega, byTip [num.RadauPoints]float64    // slope of the bend in the handle's ω and the blade's
}

// make fills and factors the matrix of a step of width h with these Jacobians at its points; false where it
// is singular.
func (f *factors) make(jacobian *[num.RadauPoints][bentStates]bentState, h float64) bool {
	f.h = h
	for j := range jacobian {
		for a, k := range solvedStates {
			f.byBend[a][j] = jacobian[j][k][stateBend]
		}
		f.byOmega[j], f.byTip[j] = jacobian[j][stateBend][stateOmega], jacobian[j][stateBend][stateBlade]
	}
	for i := range num.RadauPoints {
		within := &num.Radau.Within[i]
		for a, k := range solvedStates {
			row := &f.row[3*i+a]
			for m := range num.RadauPoints {
				// what the ends of the shaft at point m do by way of the bends
				bends := 0.0
				for j := range num.RadauPoints {
					bends += float64(within[j] * f.byBend[a][j] * num.Radau.Within[j][m])
				}
				bends *= h * h
				from, w := &jacobian[m][k], h*within[m]
				row[3*m] = -w * from[stateV]
				row[3*m+1] = float64(-w*from[stateOmega]) - float64(bends*f.byOmega[m])
				row[3*m+2] = float64(-w*from[stateBlade]) - float64(bends*f.byTip[m])
			}
		}
	}
	for i := range solved {
		f.row[i][i]++
	}
	return f.eliminate()
}

func (f *factors) eliminate() bool {
	for k := range solved {
		best := k
		for i := k + 1; i < solved; i++ {
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
		for i := k + 1; i < solved; i++ {
			row := &f.row[i]
			m := row[k] * pivot[k]
			row[k] = m
			for j := k + 1; j < solved; j++ {
				row[j] -= float64(m * pivot[j])
			}
		}
	}
	return true
}

// solve puts the solution of the factored equations in the place of their right-hand side.
func (f *factors) solve(z *[num.RadauPoints]bentState) {
	var x [solved]float64
	for i := range num.RadauPoints {
		for a, k := range solvedStates {
			sum := 0.0
			for j := range num.RadauPoints {
				sum += float64(num.Radau.Within[i][j] * f.byBend[a][j] * z[j][stateBend])
			}
			x[3*i+a] = z[i][k] + float64(f.h*sum)
		}
	}
	f.substitute(&x)
	for i := range num.RadauPoints {
		sum := 0.0
		for m := range num.RadauPoints {
			sum += float64(num.Radau.Within[i][m] * (float64(f.byOmega[m]*x[3*m+1]) +
				float64(f.byTip[m]*x[3*m+2])))
		}
		z[i] = bentState{x[3*i], x[3*i+1], z[i][stateBend] + float64(f.h*sum), x[3*i+2]}
	}
}

func (f *factors) substitute(x *[solved]float64) {
	for k := range solved {
		if from := f.from[k]; int(from) != k {
			x[k], x[from] = x[from], x[k]
		}
	}
	for i := 1; i < solved; i++ {
		row, sum := &f.row[i], x[i]
		for j := range i {
			sum -= float64(row[j] * x[j])
		}
		x[i] = sum
	}
	for i := solved - 1; i >= 0; i-- {
		row, sum := &f.row[i], x[i]
		for j := i + 1; j < solved; j++ {
			sum -= float64(row[j] * x[j])
		}
		x[i] = sum * row[i]
	}
}
