package oar

import (
	"math"
	"testing"

	"thole/engine/fluid"
)

// The closed forms of the shaft against the same integral piece by piece, whatever way the air
// crosses: from one side all along, from the other, or turning somewhere on the shaft.
// Equation 11.3.
func TestShaftInAirPieceByPiece(t *testing.T) {
	for _, o := range []Oar{made(t, 288, 88, "scull hatchet"), made(t, 374, 115, "sweep hatchet")} {
		a := o.InAir(fluid.StandardAir())
		for _, across := range []float64{-7, -2, -1e-3, 0, 0.3, 2.5, 4.7, 11} {
			for _, omega := range []float64{-5, -1.3, -1e-4, 0, 1e-4, 0.9, 2.2, 4} {
				force, moment := 0.0, 0.0
				const pieces = 40000
				width := (a.far - a.near) / pieces
				for i := range pieces {
					r := a.near + (float64(i)+0.5)*width
					u := across - r*omega
					f := 0.5 * 1.225 * 1.1 * o.Diameter * math.Abs(u) * u * width
					force += f
					moment += r * f
				}
				gotForce, gotMoment := a.Shaft(across, omega)
				// the midpoint rule leaves a piece's width squared of the largest speed squared
				near(t, "force", gotForce, force, 1e-7*(1+math.Abs(force)))
				near(t, "moment", gotMoment, moment, 1e-7*(1+math.Abs(moment)))
			}
		}
	}
}

// A shaft that moves with the boat alone is a plain cylinder: ½ρ C_D d l V² across, and its moment
// acts at the middle. A squared blade has 24 times the air of a feathered one.
// Equation 11.4.
func TestStillOarInAir(t *testing.T) {
	o := made(t, 288, 88, "scull hatchet")
	a := o.InAir(fluid.Air{Density: 1.2})
	// from 5 cm outside the pin to the blade; the collar's face is 2 cm inside it
	length := 1.98 - 0.46 - 0.05
	middle := 0.05 + length/2
	force, moment := a.Shaft(5, 0)
	near(t, "force", force, 0.5*1.2*1.1*0.040*length*25, 1e-12)
	near(t, "moment", moment, force*middle, 1e-12)
	feathered, _ := a.Back(5, 0, false)
	squared, _ := a.Back(5, 0, true)
	near(t, "blade", (squared-force)/(feathered-force), 24, 1e-9)
	near(t, "blade squared", squared-force, 0.5*1.2*1.2*0.0820*25, 1e-12)
}

// What the air takes is never given: force and moment together brake the shaft in still air.
func TestAirOnlyBrakes(t *testing.T) {
	o := made(t, 374, 115, "sweep hatchet")
	a := o.InAir(fluid.StandardAir())
	for across := 0.0; across < 7; across += 0.37 {
		for omega := -4.0; omega < 4; omega += 0.19 {
			if f, m := a.Shaft(across, omega); f*across-m*omega < 0 {
				t.Errorf("at %.2f m/s and %.2f rad/s the air drives the oar by %g W", across, omega,
					m*omega-f*across)
			}
		}
	}
}
