package num

import "math"

// Plane is a right-hand side of two states v, w over a grid laid out before: the
// slopes dv/dx, dw/dx at stage number stage (0 to 15) of the step at hand, whose
// place x + EighthNodes[stage] h the caller knows and may have tabulated for.
type Plane interface {
	Slope(stage int, v, w float64) (dv, dw float64)
}

// EighthNodes are the stages' places within a step, as shares of it. Stages 12 to
// 15 serve dense output alone.
var EighthNodes = [16]float64{0, c1, c2, c3, c4, c5, c6, c7, c8, c9, c10, 1, 1, c13, c14, c15}

// EighthWeights weigh the stages of a step: h Σ b_i q(stage i) is the integral of
// q over the step, to the order of the method. Stages 1 to 4 weigh nothing.
var EighthWeights = [12]float64{0: b0, 5: b5, 6: b6, 7: b7, 8: b8, 9: b9, 10: b10, 11: b11}

// PlaneStep is one step of the eighth-order pair for two states. Set H, V0, W0,
// call Advance, and the new states stand in V1, W1. It allocates nothing.
type PlaneStep struct {
	H      float64
	V0, W0 float64 // at the step's start
	V1, W1 float64 // at its end
	KV, KW [16]float64
}

// Advance takes the step: twelve slopes, error of order H⁹.
func (s *PlaneStep) Advance(f Plane) {
	h, v, w := s.H, s.V0, s.W0
	kv, kw := &s.KV, &s.KW
	kv[0], kw[0] = f.Slope(0, v, w)
	kv[1], kw[1] = f.Slope(1,
		v+float64(h*(a1_0*kv[0])),
		w+float64(h*(a1_0*kw[0])))
	kv[2], kw[2] = f.Slope(2,
		v+float64(h*(float64(a2_0*kv[0])+float64(a2_1*kv[1]))),
		w+float64(h*(float64(a2_0*kw[0])+float64(a2_1*kw[1]))))
	kv[3], kw[3] = f.Slope(3,
		v+float64(h*(float64(a3_0*kv[0])+float64(a3_2*kv[2]))),
		w+float64(h*(float64(a3_0*kw[0])+float64(a3_2*kw[2]))))
	kv[4], kw[4] = f.Slope(4,
		v+float64(h*(float64(a4_0*kv[0])+float64(a4_2*kv[2])+float64(a4_3*kv[3]))),
		w+float64(h*(float64(a4_0*kw[0])+float64(a4_2*kw[2])+float64(a4_3*kw[3]))))
	kv[5], kw[5] = f.Slope(5,
		v+float64(h*(float64(a5_0*kv[0])+float64(a5_3*kv[3])+float64(a5_4*kv[4]))),
		w+float64(h*(float64(a5_0*kw[0])+float64(a5_3*kw[3])+float64(a5_4*kw[4]))))
	kv[6], kw[6] = f.Slope(6,
		v+float64(h*(float64(a6_0*kv[0])+float64(a6_3*kv[3])+float64(a6_4*kv[4])+float64(a6_5*kv[5]))),
		w+float64(h*(float64(a6_0*kw[0])+float64(a6_3*kw[3])+float64(a6_4*kw[4])+float64(a6_5*kw[5]))))
	kv[7], kw[7] = f.Slope(7,
		v+float64(h*(float64(a7_0*kv[0])+float64(a7_3*kv[3])+float64(a7_4*kv[4])+float64(a7_5*kv[5])+
			float64(a7_6*kv[6]))),
		w+float64(h*(float64(a7_0*kw[0])+float64(a7_3*kw[3])+float64(a7_4*kw[4])+float64(a7_5*kw[5])+
			float64(a7_6*kw[6]))))
	kv[8], kw[8] = f.Slope(8,
		v+float64(h*(float64(a8_0*kv[0])+float64(a8_3*kv[3])+float64(a8_4*kv[4])+float64(a8_5*kv[5])+
			float64(a8_6*kv[6])+float64(a8_7*kv[7]))),
		w+float64(h*(float64(a8_0*kw[0])+float64(a8_3*kw[3])+float64(a8_4*kw[4])+float64(a8_5*kw[5])+
			float64(a8_6*kw[6])+float64(a8_7*kw[7]))))
	kv[9], kw[9] = f.Slope(9,
		v+float64(h*(float64(a9_0*kv[0])+float64(a9_3*kv[3])+float64(a9_4*kv[4])+float64(a9_5*kv[5])+
			float64(a9_6*kv[6])+float64(a9_7*kv[7])+float64(a9_8*kv[8]))),
		w+float64(h*(float64(a9_0*kw[0])+float64(a9_3*kw[3])+float64(a9_4*kw[4])+float64(a9_5*kw[5])+
			float64(a9_6*kw[6])+float64(a9_7*kw[7])+float64(a9_8*kw[8]))))
	kv[10], kw[10] = f.Slope(10,
		v+float64(h*(float64(a10_0*kv[0])+float64(a10_3*kv[3])+float64(a10_4*kv[4])+float64(a10_5*kv[5])+
			float64(a10_6*kv[6])+float64(a10_7*kv[7])+float64(a10_8*kv[8])+float64(a10_9*kv[9]))),
		w+float64(h*(float64(a10_0*kw[0])+float64(a10_3*kw[3])+float64(a10_4*kw[4])+float64(a10_5*kw[5])+
			float64(a10_6*kw[6])+float64(a10_7*kw[7])+float64(a10_8*kw[8])+float64(a10_9*kw[9]))))
	kv[11], kw[11] = f.Slope(11,
		v+float64(h*(float64(a11_0*kv[0])+float64(a11_3*kv[3])+float64(a11_4*kv[4])+float64(a11_5*kv[5])+
			float64(a11_6*kv[6])+float64(a11_7*kv[7])+float64(a11_8*kv[8])+float64(a11_9*kv[9])+
			float64(a11_10*kv[10]))),
		w+float64(h*(float64(a11_0*kw[0])+float64(a11_3*kw[3])+float64(a11_4*kw[4])+float64(a11_5*kw[5])+
			float64(a11_6*kw[6])+float64(a11_7*kw[7])+float64(a11_8*kw[8])+float64(a11_9*kw[9])+
			float64(a11_10*kw[10]))))
	s.V1 = v + float64(h*(float64(b0*kv[0])+float64(b5*kv[5])+float64(b6*kv[6])+float64(b7*kv[7])+
		float64(b8*kv[8])+float64(b9*kv[9])+float64(b10*kv[10])+float64(b11*kv[11])))
	s.W1 = w + float64(h*(float64(b0*kw[0])+float64(b5*kw[5])+float64(b6*kw[6])+float64(b7*kw[7])+
		float64(b8*kw[8])+float64(b9*kw[9])+float64(b10*kw[10])+float64(b11*kw[11])))
}

// Error estimates the step's error in v and w, each against its own scale: the
// combination of the embedded orders five and three of Hairer, Nørsett & Wanner,
// which falls like H⁸.
func (s *PlaneStep) Error(scaleV, scaleW float64) float64 {
	fv, tv := embedded(&s.KV)
	fw, tw := embedded(&s.KW)
	five := fv*fv/(scaleV*scaleV) + fw*fw/(scaleW*scaleW)
	three := tv*tv/(scaleV*scaleV) + tw*tw/(scaleW*scaleW)
	if five == 0 {
		return 0
	}
	return s.H * five / math.Sqrt(2*(five+float64(0.01*three)))
}

// embedded gives the step's distance, per unit of H, from the method of order five
// and from that of order three.
func embedded(k *[16]float64) (five, three float64) {
	five = float64(fifth0*k[0]) + float64(fifth5*k[5]) + float64(fifth6*k[6]) + float64(fifth7*k[7]) +
		float64(fifth8*k[8]) + float64(fifth9*k[9]) + float64(fifth10*k[10]) +
		float64(fifth11*k[11])
	three = float64(third0*k[0]) + float64(third8*k[8]) + float64(third11*k[11]) + float64(b5*k[5]) +
		float64(b6*k[6]) + float64(b7*k[7]) + float64(b9*k[9]) + float64(b10*k[10])
	return
}

// Extend takes the four slopes that dense output needs beyond those of the step.
func (s *PlaneStep) Extend(f Plane) {
	h, v, w := s.H, s.V0, s.W0
	kv, kw := &s.KV, &s.KW
	kv[12], kw[12] = f.Slope(12, s.V1, s.W1)
	kv[13], kw[13] = f.Slope(13,
		v+float64(h*(float64(a13_0*kv[0])+float64(a13_6*kv[6])+float64(a13_7*kv[7])+float64(a13_8*kv[8])+
			float64(a13_9*kv[9])+float64(a13_10*kv[10])+float64(a13_11*kv[11])+float64(a13_12*kv[12]))),
		w+float64(h*(float64(a13_0*kw[0])+float64(a13_6*kw[6])+float64(a13_7*kw[7])+float64(a13_8*kw[8])+
			float64(a13_9*kw[9])+float64(a13_10*kw[10])+float64(a13_11*kw[11])+float64(a13_12*kw[12]))))
	kv[14], kw[14] = f.Slope(14,
		v+float64(h*(float64(a14_0*kv[0])+float64(a14_5*kv[5])+float64(a14_6*kv[6])+float64(a14_7*kv[7])+
			float64(a14_10*kv[10])+float64(a14_11*kv[11])+float64(a14_12*kv[12])+float64(a14_13*kv[13]))),
		w+float64(h*(float64(a14_0*kw[0])+float64(a14_5*kw[5])+float64(a14_6*kw[6])+float64(a14_7*kw[7])+
			float64(a14_10*kw[10])+float64(a14_11*kw[11])+float64(a14_12*kw[12])+float64(a14_13*kw[13]))))
	kv[15], kw[15] = f.Slope(15,
		v+float64(h*(float64(a15_0*kv[0])+float64(a15_5*kv[5])+float64(a15_6*kv[6])+float64(a15_7*kv[7])+
			float64(a15_8*kv[8])+float64(a15_12*kv[12])+float64(a15_13*kv[13])+float64(a15_14*kv[14]))),
		w+float64(h*(float64(a15_0*kw[0])+float64(a15_5*kw[5])+float64(a15_6*kw[6])+float64(a15_7*kw[7])+
			float64(a15_8*kw[8])+float64(a15_12*kw[12])+float64(a15_13*kw[13])+float64(a15_14*kw[14]))))
}

// Curves gives v and w over the step, after Extend.
func (s *PlaneStep) Curves() (v, w Curve) {
	return EighthCurve(s.V0, s.V1, s.H, &s.KV), EighthCurve(s.W0, s.W1, s.H, &s.KW)
}

// Curve is a polynomial in the share u of a step, lowest power first.
type Curve [8]float64

// At gives the curve's value at share u of the step.
func (c *Curve) At(u float64) float64 {
	return c[0] + float64(u*(c[1]+float64(u*(c[2]+float64(u*(c[3]+
		float64(u*(c[4]+float64(u*(c[5]+float64(u*(c[6]+float64(u*c[7])))))))))))))
}

// EighthCurve is the dense output of one state that goes from y0 to y1 over a step
// h with slopes k (all sixteen): of order seven. With y0 = 0 and y1 = h Σ b_i k_i
// it is the running integral of whatever k holds.
func EighthCurve(y0, y1, h float64, k *[16]float64) Curve {
	rise := y1 - y0
	f1 := float64(h*k[0]) - rise
	f2 := float64(2*rise) - float64(h*(k[0]+k[12]))
	f3 := float64(h * (float64(d0_0*k[0]) + float64(d0_5*k[5]) + float64(d0_6*k[6]) + float64(d0_7*k[7]) +
		float64(d0_8*k[8]) + float64(d0_9*k[9]) + float64(d0_10*k[10]) +
		float64(d0_11*k[11]) + float64(d0_12*k[12]) + float64(d0_13*k[13]) + float64(d0_14*k[14]) +
		float64(d0_15*k[15])))
	f4 := float64(h * (float64(d1_0*k[0]) + float64(d1_5*k[5]) + float64(d1_6*k[6]) + float64(d1_7*k[7]) +
		float64(d1_8*k[8]) + float64(d1_9*k[9]) + float64(d1_10*k[10]) +
		float64(d1_11*k[11]) + float64(d1_12*k[12]) + float64(d1_13*k[13]) + float64(d1_14*k[14]) +
		float64(d1_15*k[15])))
	f5 := float64(h * (float64(d2_0*k[0]) + float64(d2_5*k[5]) + float64(d2_6*k[6]) + float64(d2_7*k[7]) +
		float64(d2_8*k[8]) + float64(d2_9*k[9]) + float64(d2_10*k[10]) +
		float64(d2_11*k[11]) + float64(d2_12*k[12]) + float64(d2_13*k[13]) + float64(d2_14*k[14]) +
		float64(d2_15*k[15])))
	f6 := float64(h * (float64(d3_0*k[0]) + float64(d3_5*k[5]) + float64(d3_6*k[6]) + float64(d3_7*k[7]) +
		float64(d3_8*k[8]) + float64(d3_9*k[9]) + float64(d3_10*k[10]) +
		float64(d3_11*k[11]) + float64(d3_12*k[12]) + float64(d3_13*k[13]) + float64(d3_14*k[14]) +
		float64(d3_15*k[15])))
	// y0 + u(rise + v(f1 + u(f2 + v(f3 + u(f4 + v(f5 + u f6)))))), v = 1 − u, multiplied out
	return Curve{
		y0,
		rise + f1,
		f2 + f3 - f1,
		f4 + f5 - f2 - float64(2*f3),
		f3 + f6 - float64(2*f4) - float64(3*f5),
		f4 + float64(3*f5) - float64(3*f6),
		float64(3*f6) - f5,
		-f6,
	}
}
