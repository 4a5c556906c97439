package blade

// The added-mass factor κ of a rectangular plate by length/width, from memory
// (high): DNV-RP-C205 app. D, deep water.
var (
	slenderness = [...]float64{1, 1.25, 1.5, 1.59, 2, 2.5, 3, 3.17, 4, 5, 6.25, 8, 10}
	kappa       = [...]float64{.579, .642, .690, .704, .757, .801, .830, .840, .872, .897, .917, .934, .947}
)

// AddedMassFactor gives κ [-] for a plate of this length and width (length ≥
// width; the smaller counts as width): linear in length/width between the rows,
// 1 − (1−κ_10)·10/x above the last.
func AddedMassFactor(length, width float64) float64 {
	x := length / width
	if x < 1 {
		x = 1 / x
	}
	last := len(slenderness) - 1
	if x >= slenderness[last] {
		return 1 - (1-kappa[last])*slenderness[last]/x
	}
	i := 0
	for slenderness[i+1] < x {
		i++
	}
	return kappa[i] + (kappa[i+1]-kappa[i])*(x-slenderness[i])/(slenderness[i+1]-slenderness[i])
}
