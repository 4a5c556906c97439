package study

import (
	"fmt"
	"math"
)

// Range is an input and where it may lie: even between Low and High, a triangle between them, or a
// bell about Middle with standard deviation SD, whose ends are two of them away.
type Range struct {
	Name      string
	Unit      string
	Digits    int
	Low, High float64
	Bell      bool
	Middle    float64 // of a bell; the peak of a triangle
	SD        float64 // of a bell
	Peaked    bool    // a triangle over Low to High, highest at Middle
	Base      float64 // the function's own default; NaN: the middle stands for it
}

// Even makes a Range that may lie anywhere between low and high.
func Even(name string, low, high float64) Range {
	return Range{Name: name, Digits: -1, Low: low, High: high, Base: math.NaN()}
}

// About makes a Range that lies in a bell about value.
func About(name string, value, sd float64) Range {
	return Range{Name: name, Digits: -1, Low: value - 2*sd, High: value + 2*sd,
		Bell: true, Middle: value, SD: sd, Base: math.NaN()}
}

// Peak makes a Range that lies between low and high, most likely at peak: a triangle.
func Peak(name string, low, peak, high float64) Range {
	return Range{Name: name, Digits: -1, Low: low, High: high, Peaked: true, Middle: peak, Base: math.NaN()}
}

// base is where the input stands when it is not the one in question.
func (r Range) base() float64 {
	switch {
	case !math.IsNaN(r.Base):
		return r.Base
	case r.Bell || r.Peaked:
		return r.Middle
	}
	return r.Low + (r.High-r.Low)/2
}

// at gives the place a fraction of the way from Low to High; the ends exactly.
func (r Range) at(fraction float64) float64 {
	if fraction >= 1 {
		return r.High
	}
	return r.Low + fraction*(r.High-r.Low)
}

// checkRanges refuses ranges that no question can be asked over.
func checkRanges(ranges []Range) error {
	seen := map[string]bool{}
	for _, r := range ranges {
		switch {
		case seen[r.Name]:
			return fmt.Errorf("%s is given twice", r.Name)
		case !finite(r.Low) || !finite(r.High):
			return fmt.Errorf("%s has an end that is no number", r.Name)
		case r.Bell && !(r.SD > 0):
			return fmt.Errorf("%s needs a spread above 0", r.Name)
		case r.Low > r.High:
			return &WrongWayRound{Range: r}
		case r.Low == r.High:
			return fmt.Errorf("%s has two ends alike", r.Name)
		}
		seen[r.Name] = true
	}
	return nil
}

// Bases is the point at which every input stands at its base.
func Bases(ranges []Range) Point {
	p := make(Point, len(ranges))
	for i, r := range ranges {
		p[i] = r.base()
	}
	return p
}
