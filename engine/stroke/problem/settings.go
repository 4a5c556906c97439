package problem

// Route is the way a stroke is solved.
type Route uint8

// Auto takes the fast route where it applies and trusts itself, else the general
// one. The two agree to 2e-7.
const (
	Auto Route = iota
	General
	Fast
)

func (r Route) String() string { return [...]string{"auto", "general", "fast"}[r] }

// Settings are how a problem is solved. The zero value is the default; Row never
// writes to it.
type Settings struct {
	Route      Route
	Rtol       float64 // relative tolerance of the general route's steps; 0 = 1e-8
	Residual   float64 // relative residual of the steady stroke; 0 = 1e-9
	SeatBySeat bool    // simulate seats that are alike each for itself (a check)
}

func (s Settings) RtolOrDefault() float64 {
	if s.Rtol == 0 {
		return 1e-8
	}
	return s.Rtol
}

func (s Settings) ResidualOrDefault() float64 {
	if s.Residual == 0 {
		return 1e-9
	}
	return s.Residual
}
