package trial

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// hump is a pull over the drive from -60 to 40 deg, whose peak, 700 N, stands at -10 by its
// closed form; back is the way back, without force.
func hump(n int) (angle, force []float64) {
	for i := range n {
		u := float64(i) / float64(n-1)
		angle, force = append(angle, -60+100*u), append(force, 700*math.Sin(math.Pi*u))
	}
	return angle, force
}

// A force comes out as it was pulled, whatever zero and sign the sensor had and whichever
// way its angles count.
func TestForceOverAnglePutRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zero := rapid.Float64Range(-300, 300).Draw(t, "zero")
		sign := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "sign")
		turn := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "turn")
		n := rapid.IntRange(12, 90).Draw(t, "samples")
		drive, pull := hump(n)
		var angle, force []float64
		for i := range drive {
			angle, force = append(angle, turn*drive[i]), append(force, zero+sign*pull[i])
		}
		for i := range drive {
			angle, force = append(angle, turn*drive[n-1-i]), append(force, zero)
		}
		m := ForceOverAngle(append(angle, angle...), append(force, force...))
		m.FirstDrive() // of two
		if len(m.At) < n-2 || !m.ZeroFound {
			t.Fatalf("%d of %d samples of the drive are left", len(m.At), n)
		}
		for k, i := range m.Rows {
			if i >= n || math.Abs(m.At[k]-drive[i]) > 1e-9 || math.Abs(m.Force[k]-pull[i]) > 1e-9 {
				t.Fatalf("sample %d is %g N at %g deg, pulled were %v", i, m.Force[k], m.At[k], pull)
			}
		}
		if got := m.Said[len(m.Said)-1]; got != firstWhole {
			t.Fatalf("of two strokes it says %q", got)
		}
		said := strings.Join(m.Said, "; ")
		if strings.Contains(said, "zero") != (math.Abs(zero) > 3.51) && math.Abs(math.Abs(zero)-3.5) > .1 ||
			strings.Contains(said, "below 0") != (sign < 0) || strings.Contains(said, "angles") != (turn < 0) {
			t.Fatalf("zero %g, sign %g, turn %g: said %q", zero, sign, turn, said)
		}
	})
}

// A drive alone keeps its zero, and a flat top is no way back.
func TestForceOfADriveAlone(t *testing.T) {
	angle, force := hump(40)
	m := ForceOverAngle(angle, force)
	if len(m.Force) != 40 || m.Force[20] != force[20] || len(m.Said) != 0 || m.ZeroFound {
		t.Errorf("changed to %v, said %v", m.Force, m.Said)
	}
	flat := []float64{0, 200, 500, 500, 500, 500, 500, 500, 300, 0}
	time := []float64{0, .1, .2, .3, .4, .5, .6, .7, .8, .9}
	if m := ForceOverTime(time, flat); m.Force[2] != 500 || len(m.Said) != 0 || m.ZeroFound {
		t.Errorf("a flat top became %v, said %v", m.Force, m.Said)
	}
}

// Of three strokes by time the first whole one is kept, its zero found.
func TestForceOverTimePutRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zero := rapid.Float64Range(-300, 300).Draw(t, "zero")
		sign := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "sign")
		var time, force []float64
		for i := range 600 { // 200 samples a stroke of 2 s, the drive 0.9 s of it, from 0.5 s on
			at := float64(i) * .01
			pull := 0.
			if u := (math.Mod(at, 2) - .5) / .9; u > 0 && u < 1 {
				pull = 700 * math.Sin(math.Pi*u)
			}
			time, force = append(time, at), append(force, zero+sign*pull)
		}
		m := ForceOverTime(time, force)
		peak, where := 0., 0.
		for i, f := range m.Force {
			if f > peak {
				peak, where = f, m.At[i]
			}
		}
		// a sine passes a tenth of its peak asin(0.1)/π of its length in: 0.029 s; then a
		// sample's step
		if math.Abs(peak-700) > 1e-9 || math.Abs(where-(.45-.029)) > .01 || math.Abs(float64(len(m.At)-200)) > 1 {
			t.Fatalf("peak %g N at %g s, %d samples; said %v", peak, where, len(m.At), m.Said)
		}
	})
}

// Whatever samples come, none makes it fail, and what comes out is a part of what went in.
func FuzzForce(f *testing.F) {
	f.Add([]byte{0, 1, 2, 3, 200, 100, 7, 7})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 10 {
			return
		}
		var at, force []float64
		for i := 0; i+1 < len(data); i += 2 {
			at, force = append(at, float64(int8(data[i]))), append(force, float64(int8(data[i+1])))
		}
		for _, m := range []MeasuredForce{ForceOverAngle(at, force), ForceOverTime(at, force)} {
			m.FirstDrive()
			if len(m.At) != len(m.Force) || len(m.Rows) != len(m.At) || len(m.At) > len(at) {
				t.Errorf("%d angles, %d forces, %d rows of %d", len(m.At), len(m.Force), len(m.Rows), len(at))
			}
		}
	})
}
