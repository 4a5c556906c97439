package crew

import (
	"fmt"
	"math"

	"thole/engine/defaults"
	"thole/engine/num"
)

// Style is the shape of the handle force over the arc: a named one by where its
// peak lies, or a measured table.
type Style struct {
	Name   string  // "usual"...; "measured" for a table
	Peak   float64 // p, where the force peaks, share of the arc
	Start  float64 // f_0, share of the peak at the turn
	Points []Point // a measured style: used instead of Peak and Start
}

// Point is one row of a measured style: share of the arc, relative force.
type Point struct{ Along, Force float64 }

// Styles lists the named styles as they are typed; peaks holds their p.
var (
	Styles = []string{"usual", "early", "even", "late"}
	peaks  = []float64{0.35, 0.25, 0.5, 0.6}
)

// Named gives a named style.
func Named(name string) (Style, error) {
	for i, s := range Styles {
		if s == name {
			return Style{Name: name, Peak: peaks[i], Start: defaults.Must("rower", "start_force", "")}, nil
		}
	}
	return Style{}, fmt.Errorf("no style is called %q", name)
}

// Usual is the style rowers have unless told.
func Usual() Style {
	s, err := Named("usual")
	if err != nil {
		panic(err)
	}
	return s
}

// Measured gives a style measured as relative force over shares of the arc: a
// monotone cubic, scaled so that its largest row is 1.
func Measured(points []Point) Style {
	return Style{Name: "measured", Points: append([]Point(nil), points...)}
}

// Shape is a style ready for the equations of motion: f(φ) without allocation.
type Shape struct {
	peak, start float64
	up, down    float64 // 1/p, 1/(1−p)
	exponent    float64 // (1−p)/p
	measured    *num.Cubic
}

// Shape prepares a style.
func (s *Style) Shape() (Shape, error) {
	if s.Points == nil {
		p := s.Peak
		return Shape{peak: p, start: s.Start, up: 1 / p, down: 1 / (1 - p), exponent: (1 - p) / p}, nil
	}
	x, y := make([]float64, len(s.Points)), make([]float64, len(s.Points))
	top := 0.0
	for _, p := range s.Points {
		top = math.Max(top, p.Force)
	}
	if !(top > 0) {
		return Shape{}, fmt.Errorf("a measured style needs a force above 0 somewhere")
	}
	for i, p := range s.Points {
		x[i], y[i] = p.Along, p.Force/top
	}
	c, err := num.NewCubic(x, y)
	if err != nil {
		return Shape{}, fmt.Errorf("the measured style: %w", err)
	}
	return Shape{measured: c}, nil
}

// At is f(φ), the share of the peak pull at φ of the arc, 0 at the catch and 1 at
// the finish; outside it stays what it is at the end.
// f = f_0(1−φ) + (1 − f_0(1−φ)) g(φ), g = (φ/p)(((1−φ)/(1−p))^((1−p)/p)). Equation 5.2.
func (s *Shape) At(phi float64) float64 {
	if s.measured != nil {
		return s.measured.At(phi)
	}
	if phi <= 0 {
		return s.start
	}
	if phi >= 1 {
		return 0
	}
	left := 1 - phi
	floor := float64(s.start * left)
	g := phi * s.up
	if base := left * s.down; s.exponent == 1 {
		g *= base
	} else {
		g *= num.Exp(s.exponent * num.Log(base))
	}
	return floor + float64((1-floor)*g)
}

// Knots gives the shares of the arc where a measured style's curvature jumps;
// none for a named one.
func (s *Shape) Knots() []float64 {
	if s.measured == nil {
		return nil
	}
	return s.measured.Knots()
}
