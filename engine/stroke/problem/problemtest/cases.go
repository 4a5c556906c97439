package problemtest

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/num"
	"thole/engine/oar"
	"thole/engine/stroke/problem"
)

// CaseFile is testdata/cases: problems with what an independent implementation of the
// model computed for them (two of them agree to 6e-6 on every field).
type CaseFile struct {
	Cases []struct {
		Input    CaseInput      `json:"input"`
		Expected map[string]any `json:"expected"`
	} `json:"cases"`
}

// CaseInput is a problem as the file writes it, in cm, deg and the trade's other units.
type CaseInput struct {
	Name string `json:"name"`
	Hull struct {
		Boat        string   `json:"boat"`
		Mass        float64  `json:"mass"`
		Waterline   float64  `json:"waterline"`
		FormFactor  float64  `json:"form_factor"`
		WaveFactor  float64  `json:"wave_factor"`
		AirArea     float64  `json:"air_area"`
		ClassFactor float64  `json:"class_factor"`
		WettedArea  *float64 `json:"wetted_area"`
	} `json:"hull"`
	OarsPerRower int     `json:"oars_per_rower"`
	Cox          float64 `json:"cox"`
	Rate         float64 `json:"rate"`
	Water        struct {
		Rho float64 `json:"rho"`
		Nu  float64 `json:"nu"`
	} `json:"water"`
	AirRho     float64    `json:"air_rho"`
	Wind       float64    `json:"wind"`
	Hold       string     `json:"hold"`
	Target     *float64   `json:"target"`
	Seats      []caseSeat `json:"seats"`
	MeasuredOn *caseOar   `json:"measured_on"`
	Measured   []float64  `json:"measured_angles"`
}

type caseSeat struct {
	Count      int      `json:"count"`
	Mass       float64  `json:"mass"`
	Power      float64  `json:"power"`
	Catch      float64  `json:"catch"`
	Finish     float64  `json:"finish"`
	Style      string   `json:"style"`
	FreeSpeed  *float64 `json:"free_speed"`
	BodyTravel float64  `json:"body_travel"`
	Oar        caseOar  `json:"oar"`
}

type caseOar struct {
	Length      float64   `json:"length"`
	Inboard     float64   `json:"inboard"`
	Mass        float64   `json:"mass"`
	Balance     *float64  `json:"balance"`
	SwingWeight *float64  `json:"swing_weight"`
	Stiffness   *float64  `json:"stiffness"`
	Gate        float64   `json:"gate_half_width"`
	Hand        float64   `json:"hand_offset"`
	Blade       caseBlade `json:"blade"`
}

type caseBlade struct {
	Perfect   bool     `json:"perfect"`
	Law       string   `json:"law"`
	Area      float64  `json:"area"`
	Length    float64  `json:"length"`
	Lift      *float64 `json:"lift"`
	Drag      float64  `json:"drag"`
	AddedMass float64  `json:"added_mass"`
	Bury      float64  `json:"bury"`
	Release   float64  `json:"release"`
	Strips    int      `json:"strips"`
}

func orNaN(x *float64, scale float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x * scale
}

func (o caseOar) oar() oar.Oar {
	const cm = 0.01
	b := blade.Blade{Law: blade.Perfect, Kind: blade.Scull, Length: o.Blade.Length * cm, Area: 0.08,
		Strips: 1, Grip: 1, Lift: math.NaN()}
	if !o.Blade.Perfect {
		b = blade.Blade{Area: o.Blade.Area * 1e-4, Length: o.Blade.Length * cm, Grip: 1, Drag: o.Blade.Drag,
			Lift:      orNaN(o.Blade.Lift, 1),
			AddedMass: o.Blade.AddedMass, Bury: num.Radians(o.Blade.Bury),
			Release: num.Radians(o.Blade.Release), Strips: o.Blade.Strips}
		if o.Blade.Law == "crossflow" {
			b.Law = blade.Crossflow
		}
	}
	out := oar.Oar{Length: o.Length * cm, Inboard: o.Inboard * cm, Mass: o.Mass,
		Balance: orNaN(o.Balance, cm), SwingWeight: orNaN(o.SwingWeight, 1),
		Hand: o.Hand * cm, Gate: 2 * o.Gate * cm, Blade: b}
	return out.WithStiffness(orNaN(o.Stiffness, 0.001))
}

func (c CaseInput) Problem(t testing.TB) problem.Problem {
	p := problem.Problem{
		Hull: hull.Hull{Boat: c.Hull.Boat, Mass: c.Hull.Mass, Waterline: c.Hull.Waterline,
			FormFactor: c.Hull.FormFactor, WaveFactor: c.Hull.WaveFactor,
			ClassFactor: c.Hull.ClassFactor, AirArea: c.Hull.AirArea,
			WettedArea: orNaN(c.Hull.WettedArea, 1)},
		OarsPerRower: c.OarsPerRower, CoxMass: c.Cox, Rate: c.Rate,
		Water: fluid.Water{Density: c.Water.Rho, Viscosity: c.Water.Nu},
		Air:   fluid.Air{Density: c.AirRho}, Wind: c.Wind, Target: orNaN(c.Target, 1),
	}
	for h, name := range problem.Holds {
		if name == c.Hold {
			p.Hold = problem.Hold(h)
		}
	}
	for _, s := range c.Seats {
		style, err := crew.Named(s.Style)
		if err != nil {
			t.Fatal(err)
		}
		free := math.Inf(1)
		if s.FreeSpeed != nil {
			free = *s.FreeSpeed
		}
		seat := problem.Seat{Count: s.Count, Oar: s.Oar.oar(), Catch: num.Radians(s.Catch),
			Finish: num.Radians(s.Finish),
			Rower: crew.Rower{Mass: s.Mass, Power: s.Power, Style: style, FreeSpeed: free,
				BodyTravel: s.BodyTravel}}
		if c.MeasuredOn != nil {
			was := c.MeasuredOn.oar()
			var err error
			if seat.Catch, seat.Finish, err = oar.KeepReach(&was, &seat.Oar, num.Radians(c.Measured[0]),
				num.Radians(c.Measured[1])); err != nil {
				t.Fatal(err)
			}
		}
		p.Seats = append(p.Seats, seat)
	}
	return p
}

// Testdata is the path of a file below the project's testdata, whatever room the test
// runs in.
func Testdata(t testing.TB, file string) string {
	t.Helper()
	for up := ".."; len(up) < 20; up += "/.." {
		if path := up + "/testdata/" + file; exists(path) {
			return path
		}
	}
	t.Fatalf("no testdata/%s above this room", file)
	return ""
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// OpenCases reads the open cases.
func OpenCases(t testing.TB) CaseFile {
	t.Helper()
	text, err := os.ReadFile(Testdata(t, "cases/open.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f CaseFile
	if err := json.Unmarshal(text, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// OpenCase gives the open case of this name.
func OpenCase(t testing.TB, name string) problem.Problem {
	for _, c := range OpenCases(t).Cases {
		if c.Input.Name == name {
			return c.Input.Problem(t)
		}
	}
	t.Fatal("no case ", name)
	return problem.Problem{}
}

// Single is the open case 1x_rigid_plate_power, the usual start of a test.
func Single(t testing.TB) problem.Problem { return OpenCases(t).Cases[0].Input.Problem(t) }

// With gives a copy of a problem with its seats changed.
func With(p problem.Problem, change func(s *problem.Seat)) problem.Problem {
	p.Seats = append([]problem.Seat(nil), p.Seats...)
	for i := range p.Seats {
		change(&p.Seats[i])
	}
	return p
}
