package document

import (
	"math"
	"thole/engine/table"
)

// FigureKind names how a figure is drawn.
type Kind string

// Figure is a drawing made from a table. Sentence is made from the data and
// serves as the caption's end, the SVG's description and the terminal's text.
type Figure struct {
	Kind     Kind
	Name     string
	Caption  string
	Sentence string
	Held     string // what all strokes in it were rowed at: "at the same power"
	Table    *table.Table
	X        string
	Y        []string
	Z        string
	By       string
	Panel    string
	Guides   []Guide
	Paths    []Path
	Every    float64 // s between the moments marked on paths and moving oars; 0: as many as they have
	Motion   []Motion
	Rigs     []Rigged

	// References names the lines that nobody can own (perfect grip): drawn in
	// ink, never as a series.
	References []string

	Worthwhile float64 // Whisker: smallest change of speed that matters, %; 0 draws none
}

// Guide is a dotted level or place with a name: "equal load", "square".
type Guide struct {
	Axis  string // "x", or the y column it belongs to
	At    float64
	Label string
}

// Path is one oar's way through the water, at its moments; every slice has one
// value a moment. cm, x forward from the pin's place at the catch, y outward.
type Path struct {
	Name      string
	Reference bool // perfect grip: drawn in ink, never as a series
	Time      []float64
	Angle     []float64 // deg, negative toward the bow
	TipX      []float64
	TipY      []float64
	CentreX   []float64
	CentreY   []float64
	NeckX     []float64
	NeckY     []float64
	HandleX   []float64
	HandleY   []float64
	PinX      []float64
	FineX     []float64 // the centre's path, finely sampled, for the line itself
	FineY     []float64
	FineAngle []float64 // deg, at the same places; nil: the shading goes by the moments
}

// Motion is one stroke as computed frames, equal times apart, drive and
// recovery. Lengths in cm, x forward in the water's frame.
type Motion struct {
	Name        string
	Step        float64 // s between frames
	Drive       float64 // s
	Hull        []float64
	HullSpeed   []float64 // m/s
	Angle       []float64 // deg
	HandleForce []float64 // N
	HandleSpeed []float64 // m/s
	Slip        []float64 // m/s, blade's slip across itself; nil where unknown
	Reference   bool      // perfect grip: drawn in ink, never as a series
	InBoard     float64   // cm, pin to the centre of the pull
	ToCentre    float64   // cm, pin to blade centre
	BladeLength float64   // cm
}

// Rigged is one seat with its oar as it is set, for a drawing to scale: cm and degrees,
// NaN where the rig does not say.
type Rigged struct {
	Name     string
	Sculling bool
	Boat     string // "4x"; "" draws no whole boat
	Sides    string // of its seats from bow, p port and s starboard; "" where not said

	PinLine                 float64 // hull's midline to pin: spread, or half the span
	Inboard, Outboard       float64 // from the collar's face
	Gate                    float64 // width of the gate along the shaft
	Pull                    float64 // handle end to the centre of the pull
	BladeLength, BladeWidth float64
	Catch, Finish           float64 // magnitudes
	Overlap                 float64 // gates counted
	Apart                   float64 // between the handles at the finish

	WorkThrough float64 // seat's front stop sternward of the pins
	Stretcher   float64 // heels sternward of the front stop

	GateHeights                // of two unlike gates the starboard one's
	Port          *GateHeights // the port gate's where the two are unlike, else nil
	SeatOverWater float64
	Clear         float64 // feathered blade over the water on the recovery

	Pitch, Outward float64
}

// GateHeights is a gate and what follows from how high it stands: cm and degrees.
type GateHeights struct {
	Height          float64 // gate over the seat
	Slope           float64 // of the shaft, the blade covered
	Drive, Recovery float64 // hands over the seat
}

// OnPort is the rig as its port gate has it.
func (r Rigged) OnPort() Rigged {
	if r.Port != nil {
		r.GateHeights = *r.Port
	}
	return r
}

// Frames is how many frames are whole.
func (m *Motion) Frames() int {
	n := len(m.Angle)
	for _, vs := range [][]float64{m.Hull, m.HullSpeed, m.HandleForce, m.HandleSpeed} {
		n = min(n, len(vs))
	}
	return n
}

// DriveFrame is the frame nearest to the end of the drive.
func (m *Motion) DriveFrame() int { return int(math.Round(m.Drive / m.Step)) }
