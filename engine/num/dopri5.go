package num

// Dopri5 integrates y' = f(t, y) by the adaptive Dormand-Prince pair 5(4)
// (Dormand & Prince 1980; coefficients and dense output as in Hairer, Nørsett &
// Wanner, Solving ODEs I, II.5-6), one accepted step a call. A step can be read
// anywhere inside (Dense) and taken again with another length (Retake), which is
// how events are met. Nothing is allocated after NewDopri5.
type Dopri5 struct {
	F    func(t float64, y, dy []float64)
	Rtol float64
	Atol []float64 // one for each state, already times what it is to be

	T float64   // where it is
	Y []float64 // state there
}
