package blade

import (
	"fmt"
	"math"

	"thole/engine/num"
)

// prepareTable makes the curves of a measured blade, × grip.
func (e *Elements) prepareTable(b *Blade) error {
	n := len(b.Coefficients)
	angle, lift, drag := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, c := range b.Coefficients {
		angle[i], lift[i], drag[i] = c.Angle, b.Grip*c.Lift, b.Grip*c.Drag
	}
	var err error
	if e.lift, err = num.NewCubic(angle, lift); err != nil {
		return fmt.Errorf("the blade's table: %w", err)
	}
	e.drag, err = num.NewCubic(angle, drag)
	return err
}

// table is the law of measured coefficients: C_N = C_L cos α + C_D sin α,
// C_T = C_D cos α − C_L sin α, with C_L and C_D read at α while the tip leads and
// at 180° − α while the neck leads. Equation 3.4.
func (e *Elements) table(v, omega, sin, cos float64) Load {
	var sumN, sumT, moment float64
	run := -v * sin
	for i := range e.N {
		slip := float64(e.R[i]*omega) - float64(v*cos)
		w := num.Hypot(slip, run)
		if w == 0 {
			continue
		}
		sinA, cosA := math.Abs(slip)/w, math.Abs(run)/w
		// tip leads: atan2(|s_n|, s_t) lies in 0..90°; neck leads (s_t < 0): in 90..180°
		angle := num.Atan2(math.Abs(slip), run)
		lift, drag := e.lift.At(angle), e.drag.At(angle)
		h := e.Half[i] * w * w
		// C_N and C_T may have either sign, so they take the flow's by a factor
		normal := float64(h * (float64(lift*cosA) + float64(drag*sinA)) * sign(slip))
		tangential := float64(h * (float64(drag*cosA) - float64(lift*sinA)) * sign(run))
		sumN += normal
		sumT += tangential
		moment += float64(e.R[i] * normal)
	}
	return e.sum(sumN, sumT, moment, v, omega, sin, cos)
}

func sign(x float64) float64 {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
