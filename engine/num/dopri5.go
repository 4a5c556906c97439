package num

import (
	"errors"
	"math"
)

// Dopri5 integrates y' = f(t, y) by the adaptive Dormand-Prince pair 5(4)
// (Dormand & Prince 1980; step control and dense output as in Hairer, Nørsett &
// Wanner, Solving Ordinary Differential Equations I, II.4-6), one accepted step a
// call. A step can be read anywhere inside (Dense) and taken again with another
// length (Retake), which is how events are met. Nothing is allocated after
// NewDopri5. The error of a step is the largest over all states of
// |estimate|/(Atol + Rtol·|y|).
type Dopri5 struct {
	F    func(t float64, y, dy []float64)
	Rtol float64
	Atol []float64 // one for each state

	T float64   // where it is, after the last step
	Y []float64 // state there

	T0, H float64   // the last step began at T0 and was H long
	Y0    []float64 // state at T0
	Evals int       // right-hand sides so far

	k     [7][]float64
	trial []float64
	next  float64 // length the next step should have
	old   float64 // error of the last accepted step, for the controller
	fresh bool    // k[6] is the slope at (T, Y)
}

// ErrStep says that the steps became too small to go on.
var ErrStep = errors.New("the steps of the integration became too small")

// NewDopri5 makes an integrator for n states.
func NewDopri5(n int, f func(t float64, y, dy []float64)) *Dopri5 {
	d := &Dopri5{F: f}
	all := make([]float64, 11*n)
	cut := func() []float64 {
		s := all[:n:n]
		all = all[n:]
		return s
	}
	d.Atol, d.Y, d.Y0, d.trial = cut(), cut(), cut(), cut()
	for i := range d.k {
		d.k[i] = cut()
	}
	return d
}

// Start puts the integrator at time t, with d.Y already set by the caller, and
// proposes a first step.
func (d *Dopri5) Start(t, step float64) {
	d.T, d.next, d.old, d.fresh, d.Evals = t, step, 1e-4, false, 0
}

// Turn says that the right-hand side has changed at T (an event).
func (d *Dopri5) Turn() { d.fresh = false }

// The tableau of the pair.
const (
	dpc2, dpc3, dpc4, dpc5 = 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9

	dpa21                             = 1.0 / 5
	dpa31, dpa32                      = 3.0 / 40, 9.0 / 40
	dpa41, dpa42, dpa43               = 44.0 / 45, -56.0 / 15, 32.0 / 9
	dpa51, dpa52, dpa53, dpa54        = 19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729
	dpa61, dpa62, dpa63, dpa64, dpa65 = 9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176,
		-5103.0 / 18656

	dpb1, dpb3, dpb4, dpb5, dpb6 = 35.0 / 384, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84

	dpe1, dpe3, dpe4, dpe5, dpe6, dpe7 = 71.0 / 57600, -71.0 / 16695, 71.0 / 1920, -17253.0 / 339200,
		22.0 / 525, -1.0 / 40

	dpd1, dpd3, dpd4 = -12715105075.0 / 11282082432, 87487479700.0 / 32700410799, -10690763975.0 / 1880347072
	dpd5, dpd6, dpd7 = 701980252875.0 / 199316789632, -1453857185.0 / 822651844, 69997945.0 / 29380423
)

// Step takes one accepted step, not past limit. d.F may be asked beyond the step's
// end only as far as limit.
func (d *Dopri5) Step(limit float64) error {
	if !d.fresh {
		d.F(d.T, d.Y, d.k[6])
		d.Evals++
	}
	d.k[0], d.k[6] = d.k[6], d.k[0]
	d.Y, d.Y0 = d.Y0, d.Y
	d.T0 = d.T
	h, rejected := d.next, false
	for {
		last := d.T0+float64(1.01*h) >= limit
		if last {
			h = limit - d.T0
		}
		if !(h > 1e-14*math.Max(1, math.Abs(d.T0))) {
			d.Y, d.Y0 = d.Y0, d.Y
			d.fresh = false
			return ErrStep
		}
		d.stages(h)
		err := d.error(h)
		if math.IsNaN(err) {
			h, rejected = h/5, true
			continue
		}
		// PI control (Hairer, II.4): err^(1/5 − 0.75β) over old^β, β = 0.04
		now := Exp(0.17 * Ln(err))
		if err > 1 {
			h /= math.Min(5, now/0.9)
			rejected = true
			continue
		}
		shrink := now / Exp(0.04*Ln(d.old)) / 0.9
		shrink = math.Max(0.1, math.Min(5, shrink))
		if rejected {
			shrink = math.Max(1, shrink)
		}
		d.old = math.Max(err, 1e-4)
		d.next = h / shrink
		d.H, d.T = h, d.T0+h
		if last {
			d.T = limit
		}
		d.fresh = true
		return nil
	}
}

// StepBy takes one step of length h without looking at its error, not past limit:
// the way of an earlier run over again, so that the end varies smoothly with the
// start.
func (d *Dopri5) StepBy(h, limit float64) {
	if !d.fresh {
		d.F(d.T, d.Y, d.k[6])
		d.Evals++
	}
	d.k[0], d.k[6] = d.k[6], d.k[0]
	d.Y, d.Y0 = d.Y0, d.Y
	d.T0 = d.T
	last := d.T0+float64(1.01*h) >= limit
	if last {
		h = limit - d.T0
	}
	d.stages(h)
	d.H, d.T, d.fresh = h, d.T0+h, true
	if last {
		d.T = limit
	}
}

// Retake takes the last step again with the length h, without looking at its
// error; the next step goes on from there.
func (d *Dopri5) Retake(h float64) {
	d.stages(h)
	d.H, d.T = h, d.T0+float64(h)
	d.fresh = true
}

// stages works the seven stages of a step of length h from (T0, Y0), k[0] known.
func (d *Dopri5) stages(h float64) {
	n := len(d.Y)
	y0, y := d.Y0[:n], d.trial[:n]
	k1, k2, k3, k4 := d.k[0][:n], d.k[1][:n], d.k[2][:n], d.k[3][:n]
	k5, k6 := d.k[4][:n], d.k[5][:n]
	for i := range y {
		y[i] = y0[i] + float64(h*dpa21*k1[i])
	}
	d.F(d.T0+float64(dpc2*h), y, k2)
	for i := range y {
		y[i] = y0[i] + float64(h*(float64(dpa31*k1[i])+float64(dpa32*k2[i])))
	}
	d.F(d.T0+float64(dpc3*h), y, k3)
	for i := range y {
		y[i] = y0[i] + float64(h*(float64(dpa41*k1[i])+float64(dpa42*k2[i])+float64(dpa43*k3[i])))
	}
	d.F(d.T0+float64(dpc4*h), y, k4)
	for i := range y {
		y[i] = y0[i] + float64(h*(float64(dpa51*k1[i])+float64(dpa52*k2[i])+float64(dpa53*k3[i])+
			float64(dpa54*k4[i])))
	}
	d.F(d.T0+float64(dpc5*h), y, k5)
	for i := range y {
		y[i] = y0[i] + float64(h*(float64(dpa61*k1[i])+float64(dpa62*k2[i])+float64(dpa63*k3[i])+
			float64(dpa64*k4[i])+float64(dpa65*k5[i])))
	}
	d.F(d.T0+h, y, k6)
	y = d.Y[:n]
	for i := range y {
		y[i] = y0[i] + float64(h*(float64(dpb1*k1[i])+float64(dpb3*k3[i])+float64(dpb4*k4[i])+
			float64(dpb5*k5[i])+float64(dpb6*k6[i])))
	}
	d.F(d.T0+h, d.Y, d.k[6])
	d.Evals += 6
}

// error gives the step's error over its tolerance, the largest over all states.
// Equation 13.1.
func (d *Dopri5) error(h float64) float64 {
	n := len(d.Y)
	y0, y, atol := d.Y0[:n], d.Y[:n], d.Atol[:n]
	k1, k3, k4, k5, k6, k7 := d.k[0][:n], d.k[2][:n], d.k[3][:n], d.k[4][:n], d.k[5][:n], d.k[6][:n]
	worst := 0.0
	for i := range y {
		e := h * (float64(dpe1*k1[i]) + float64(dpe3*k3[i]) + float64(dpe4*k4[i]) + float64(dpe5*k5[i]) +
			float64(dpe6*k6[i]) + float64(dpe7*k7[i]))
		r := math.Abs(e) / (atol[i] + float64(d.Rtol*math.Max(math.Abs(y0[i]), math.Abs(y[i]))))
		if math.IsNaN(r) {
			return r
		}
		worst = math.Max(worst, r)
	}
	return worst
}

// Dense gives state i at the share u (0 to 1) of the last step: the continuous
// extension of order 4.
func (d *Dopri5) Dense(i int, u float64) float64 {
	c := d.coefficients(i)
	return c.at(u)
}

// Quartic is one state over one step: c0 + u(dpc1 + (1−u)(dpc2 + u(dpc3 + (1−u)dpc4))).
type Quartic [5]float64

func (c *Quartic) at(u float64) float64 {
	v := 1 - u
	return c[0] + float64(u*(c[1]+float64(v*(c[2]+float64(u*(c[3]+float64(v*c[4])))))))
}

// At gives the state at the share u of the step.
func (c *Quartic) At(u float64) float64 { return c.at(u) }

// Quartics writes the last step's dense output, one quartic a state, to dst.
func (d *Dopri5) Quartics(dst []Quartic) {
	for i := range dst {
		dst[i] = d.coefficients(i)
	}
}

func (d *Dopri5) coefficients(i int) Quartic {
	h := d.H
	k1, k7 := d.k[0][i], d.k[6][i]
	change := d.Y[i] - d.Y0[i]
	bend := float64(h*k1) - change
	return Quartic{d.Y0[i], change, bend, change - float64(h*k7) - bend,
		h * (float64(dpd1*k1) + float64(dpd3*d.k[2][i]) + float64(dpd4*d.k[3][i]) + float64(dpd5*d.k[4][i]) +
			float64(dpd6*d.k[5][i]) + float64(dpd7*k7))}
}
