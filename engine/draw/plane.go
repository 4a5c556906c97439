package draw

// Plane maps centimetres of the water onto the drawing, the same both ways: x
// forward to the right, y outward upward, K units a centimetre.
type Plane struct{ LowX, LowY, K, Left, Bottom float64 }

// X places a length along the course.
func (p Plane) X(v float64) float64 { return p.Left + (v-p.LowX)*p.K }

// Y places a length outward from the pin's line.
func (p Plane) Y(v float64) float64 { return p.Bottom - (v-p.LowY)*p.K }

// Polyline gives the path through places of the water.
func (p Plane) Polyline(xs, ys []float64) string {
	mx, my := make([]float64, len(xs)), make([]float64, len(xs))
	for i := range xs {
		mx[i], my[i] = p.X(xs[i]), p.Y(ys[i])
	}
	return Polyline(mx, my)
}

// Rule draws a measured length: a level line between two places with a stroke at
// each end.
func (d *Surface) Rule(x0, x1, y float64) {
	d.Path("rule", Pathf("M%s %sV%sM%s %sH%sM%s %sV%s", x0, y-4, y+4, x0, y, x1, x1, y-4, y+4))
}
