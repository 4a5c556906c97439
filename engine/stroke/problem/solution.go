package problem

// Energy is the energy book of one stroke of the whole boat, J:
// Handle + Body = BladeLoss + WaterDrag + AirDrag + OarAir + OarSwing + ShaftDamping + SpringLeft.
type Energy struct {
	Handle       float64 // Σ∮ F_h L_in ω dt, and what the hands do against the air on the way back
	Body         float64 // Σ∮ m V' ξ' dt
	BladeLoss    float64 // Σ∮ (f_n s_n + f_t s_t + F_a s_n) dt
	WaterDrag    float64 // ∮ D_w V dt
	AirDrag      float64 // ∮ D_a V dt, the oars' part with it
	OarPush      float64 // of AirDrag, the oars' part where it is computed
	OarAir       float64 // −Σ∮ (air's moment on the oars) ω dt: work of the hands against it
	OarSwing     float64 // Σ ½ I ω_f², for a perfect grip less ½ I ω_0²
	ShaftDamping float64 // lost in flexible shafts
	SpringLeft   float64 // left in flexible shafts at the finish
}

// Work is what the crew puts in, J.
func (e *Energy) Work() float64 { return e.Handle + e.Body }

// Closure is what the book misses, as a share of the work put in; 0 where it closes.
// Equation 8.1.
func (e *Energy) Closure() float64 {
	return (e.Work() - e.BladeLoss - e.WaterDrag - e.AirDrag - e.OarAir - e.OarSwing - e.ShaftDamping -
		e.SpringLeft) / e.Work()
}

// SeatSolution is what the steady stroke is for one rower of a seat. Both routes
// fill it; everything else about a seat follows from it and the problem.
type SeatSolution struct {
	Effort       float64 // E, N
	DriveTime    float64 // s
	HandleWork   float64 // ∮ F_h L_in ω dt over the drive, per rower, J
	BackWork     float64 // of the hands against the air on the oars on the way back, per rower, J
	BodyWork     float64 // ∮ m V' ξ' dt, per rower, J
	PeakForce    float64 // largest F_h, N
	EarlyWork    float64 // handle work over the first third of the arc, J
	PeakPinForce float64 // largest pin force of one oar, N
	Slip         float64 // ∮ |s_n| dt at the blade's centre, m
	Travel       float64 // hull's way in the drive, m
	Unloaded     bool    // the hands were faster than v_0 somewhere
}

// Solution is the steady stroke: what Row finds. Both routes fill it whole.
type Solution struct {
	Route       Route
	StartSpeed  float64 // V(0), at the catch, m/s
	Speed       float64 // mean V, m/s
	MinSpeed    float64 // m/s, continuous extremes
	MaxSpeed    float64
	Energy      Energy
	Seats       []SeatSolution // one for each seat of the problem
	Residual    float64        // largest relative residual of the steady stroke
	Evaluations int            // right-hand sides it took
}

// HighEffort is the effort beyond which a stroke carries a caution, N; no easy stroke is
// looked for beyond it either.
const HighEffort = 2500.0
