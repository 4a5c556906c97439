package draw

// Plane maps centimetres of the water onto the drawing, the same both ways.
type Plane struct{ LowX, LowY, K, Left, Bottom float64 }

func (p Plane) X(v float64) float64 { return p.Left + (v-p.LowX)*p.K }

func (p Plane) Y(v float64) float64 { return p.Bottom - (v-p.LowY)*p.K }
