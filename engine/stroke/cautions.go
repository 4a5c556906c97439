package stroke

import (
	"fmt"
)

// Beyond these a solution carries a caution (model 7).
const (
	highForce                     = 1350.0 // N, peak handle force
	lowEfficiency, highEfficiency = 0.65, 0.92
)

// cautions says what is out of the ordinary about a stroke, each once.
func cautions(s *Stroke) []string {
	var c []string
	force, effort, unloaded, perfect := 0.0, 0.0, false, true
	for i := range s.Seats {
		seat := &s.Seats[i]
		force, effort = max(force, seat.PeakForce), max(effort, seat.Effort)
		unloaded = unloaded || seat.Unloaded
		perfect = perfect && seat.Slip == 0
	}
	if force > highForce {
		c = append(c, fmt.Sprintf("the handle force peaks at %.0f N; over %.0f N is more than rowers pull",
			force, highForce))
	}
	if effort > HighEffort {
		c = append(c, fmt.Sprintf("it takes an effort of %.0f N; over %.0f N is more than rowers have",
			effort, HighEffort))
	}
	if unloaded {
		c = append(c, "the hands are faster than the rower's free speed in part of the drive: no pull is "+
			"left there")
	}
	if e := s.BladeEfficiency(); !perfect && (e < lowEfficiency || e > highEfficiency) {
		c = append(c, fmt.Sprintf("a blade efficiency of %.2f lies outside %.2f to %.2f, where measured "+
			"ones lie", e, lowEfficiency, highEfficiency))
	}
	return append(c, waterCautions(s)...)
}

// waterCautions tell where a boat in shallow water comes near the critical speed.
func waterCautions(s *Stroke) []string {
	critical := s.Problem.Critical()
	if !(s.MaxSpeed > 0.95*critical && s.MinSpeed < 1.05*critical) {
		return nil
	}
	return []string{"a stroke comes near the speed at which waves in such a depth just keep up with the " +
		"boat (5.4 m/s in 3 m, " +
		"5.9 in 3.5 m): drag rises and falls steeply there, and the model, which takes waves as steady, is " +
		"least sure"}
}
