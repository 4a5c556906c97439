package rigging

import (
	"math"
	"testing"
)

// The heights as a straight line in space: through the blade's centre, half its width and
// the depth under the water, and the gate; the hands lie on it the other side of the pin.
// Equation 12.7.
func TestHeightsLieOnOneLine(t *testing.T) {
	s := made(t, 288, 88, "scull hatchet")
	h := HeightsOf(&s, 0.16, 0.11, 0.02, 0.05)
	near(t, "gate over water", h.Gate, 0.27, 1e-12)
	width := s.Blade.Area / s.Blade.Length
	rise := h.Gate + width/2 + 0.02 // from the blade's centre up to the gate
	along := math.Sqrt(s.Centre()*s.Centre() - rise*rise)
	slope := rise / along
	hands := 0.16 + slope*s.Lever()*along/s.Centre() // L_in along the shaft has L_in cos φ level
	near(t, "slope", math.Tan(h.Slope), slope, 1e-12)
	near(t, "hands in the drive", h.Drive, hands, 1e-12)
	near(t, "hands on the recovery", h.Recovery, 0.16+0.84*(0.27-0.05)/1.75, 1e-12)
}

// A centimetre of height moves the hands 1 + L_in/L in the drive, exactly, and as much on
// the recovery; a centimetre clear of the water takes L_in/L.
func TestACentimetreOfHeight(t *testing.T) {
	for _, shape := range []struct {
		length, inboard float64
		shape           string
	}{{288, 88, "scull hatchet"}, {376, 115, "sweep hatchet"}} {
		o := made(t, shape.length, shape.inboard, shape.shape)
		at := func(height, clear float64) Heights { return HeightsOf(&o, height, 0.12, 0, clear) }
		one, two := at(0.16, 0.05), at(0.17, 0.05)
		near(t, "drive", (two.Drive-one.Drive)/0.01, 1+o.Lever()/o.Centre(), 1e-12)
		near(t, "recovery", (two.Recovery-one.Recovery)/0.01, one.PerGate, 1e-12)
		near(t, "clear", (at(0.16, 0.06).Recovery-one.Recovery)/0.01, -o.Lever()/o.Centre(), 1e-12)
	}
	o := made(t, 288, 88, "scull hatchet")
	if h := HeightsOf(&o, 2, 0.12, 0, 0); !math.IsNaN(h.Drive) {
		t.Error("a gate over the oar's reach has hands")
	}
}

// Gates unlike each other lie half their difference either side of the height.
func TestGates(t *testing.T) {
	r := New()
	r.Height = 0.16
	port, starboard := r.Gates()
	near(t, "alike", starboard-port, 0, 0)
	r.Apart = 0.01
	port, starboard = r.Gates()
	near(t, "port", port, 0.155, 1e-12)
	near(t, "starboard", starboard, 0.165, 1e-12)
}
