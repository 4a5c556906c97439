package trial

import (
	"math"
	"testing"
)

// Longley 1967, Journal of the American Statistical Association 62:819–841: 16
// years, six predictors that nearly depend on one another. Certified values:
// NIST Statistical Reference Datasets, linear regression, Longley.
func TestLongley(t *testing.T) {
	y := []float64{60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655,
		69564, 69331, 70551}
	columns := [][]float64{ones(16),
		{83, 88.5, 88.2, 89.5, 96.2, 98.1, 99, 100, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9},
		{234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546,
			482704, 502601, 518173, 554894},
		{2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007},
		{1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827},
		{107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950,
			123366, 125368, 127852, 130081},
		{1947, 1948, 1949, 1950, 1951, 1952, 1953, 1954, 1955, 1956, 1957, 1958, 1959, 1960, 1961, 1962}}
	want := []float64{-3482258.63459582, 15.0618722713733, -0.0358191792925910, -2.02022980381683,
		-1.03322686717359, -0.0511041056535807, 1829.15146461355}
	errors := []float64{890420.383607373, 84.9149257747669, 0.0334910077722432, 0.488399681651699,
		0.214274163161675, 0.226073200069370, 455.478499142212}
	f := regress(columns, y)
	// condition number 5e9: QR keeps six or seven figures of the sixteen
	const figures = 1e-6
	for j := range want {
		near(t, "coefficient", f.coefficient[j]/want[j], 1, figures)
		e := f.scatter * math.Sqrt(dot(f.weight.RawRowView(j), f.weight.RawRowView(j)))
		near(t, "standard error", e/errors[j], 1, figures)
	}
	near(t, "scatter", f.scatter, 304.854073561965, 304.854*figures)
	if f.degrees != 9 {
		t.Errorf("degrees %d", f.degrees)
	}
}

// Student 1908, Biometrika 6:1–25: hours of sleep gained with one drug over
// another, ten patients: mean 1.58, t 4.06, two-sided chance 0.0028 with nine
// degrees; 95 % interval 0.70 to 2.46 (texts print t 4.0621).
func TestStudentsSleep(t *testing.T) {
	gain := []float64{1.2, 2.4, 1.3, 1.3, 0, 1.0, 1.8, 0.8, 4.6, 1.4}
	f := regress([][]float64{ones(10)}, gain)
	e := f.scatter * math.Sqrt(dot(f.weight.RawRowView(0), f.weight.RawRowView(0)))
	c := contrast{value: f.coefficient[0], error: e, degrees: 9}
	near(t, "mean", c.value, 1.58, 1e-12)
	near(t, "t", c.value/e, 4.0621, 5e-5)
	near(t, "chance", 2*c.below(0), 0.00283, 5e-6)
	near(t, "low", c.estimate().Low, 0.70, 0.005)
	near(t, "high", c.estimate().High, 2.46, 0.005)
}

// A t and a normal doubt added up, at limits that are known: without error a
// bell, without doubt a t, with many degrees one bell of both.
func TestContrastLimits(t *testing.T) {
	near(t, "bell", contrast{fixed: 2}.halfWidth(0.975), 2*1.959964, 1e-5)
	near(t, "t", contrast{error: 2, degrees: 4}.halfWidth(0.975), 2*2.776445, 1e-5)
	near(t, "both", contrast{error: 3, fixed: 4, degrees: 1e7}.halfWidth(0.975), 5*1.959964, 1e-4)
	c := contrast{value: 1, error: 0.5, fixed: 0.7, degrees: 3}
	near(t, "round trip", c.below(1+c.halfWidth(0.9)), 0.9, 1e-8)
	near(t, "sides", c.above(1.3)+c.below(1.3), 1, 1e-12)
	near(t, "middle", c.below(1), 0.5, 1e-9)
	// Cauchy (one degree) and a bell: the Voigt profile. Its distribution at x
	// against a plain sum over a fine grid
	v := contrast{error: 1, fixed: 1, degrees: 1}
	sum := 0.0
	for z := -8.0; z <= 8; z += 1e-3 {
		sum += 1e-3 * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * (0.5 + math.Atan(2-z)/math.Pi)
	}
	near(t, "Voigt", v.below(2), sum, 1e-6)
}
