package stroke

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/fluid"
	"thole/engine/hull"
	"thole/engine/oar"
)

// The cases of testdata/cases were computed by an independent implementation of
// the model (two of them agree to 6e-6 on every field).

type caseFile struct {
	Cases []struct {
		Input    caseInput      `json:"input"`
		Expected map[string]any `json:"expected"`
	} `json:"cases"`
}

type caseInput struct {
	Name string `json:"name"`
	Hull struct {
		Boat       string   `json:"boat"`
		Mass       float64  `json:"mass"`
		Waterline  float64  `json:"waterline"`
		FormFactor float64  `json:"form_factor"`
		WaveFactor float64  `json:"wave_factor"`
		AirArea    float64  `json:"air_area"`
		DragFactor float64  `json:"drag_factor"`
		WettedArea *float64 `json:"wetted_area"`
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
	b := blade.Blade{Law: blade.Perfect, Kind: blade.Scull, Length: o.Blade.Length * cm, Area: 0.08, Strips: 1, Grip: 1, Lift: math.NaN()}
	if !o.Blade.Perfect {
		b = blade.Blade{Area: o.Blade.Area * 1e-4, Length: o.Blade.Length * cm, Grip: 1, Drag: o.Blade.Drag, Lift: orNaN(o.Blade.Lift, 1),
			AddedMass: o.Blade.AddedMass, Bury: rad(o.Blade.Bury), Release: rad(o.Blade.Release), Strips: o.Blade.Strips}
		if o.Blade.Law == "crossflow" {
			b.Law = blade.Crossflow
		}
	}
	out := oar.Oar{Length: o.Length * cm, Inboard: o.Inboard * cm, Mass: o.Mass, Balance: orNaN(o.Balance, cm), SwingWeight: orNaN(o.SwingWeight, 1),
		Hand: o.Hand * cm, Gate: 2 * o.Gate * cm, Blade: b}
	return out.WithStiffness(orNaN(o.Stiffness, 0.001))
}

func (c caseInput) problem(t testing.TB) Problem {
	p := Problem{
		Hull: hull.Hull{Boat: c.Hull.Boat, Mass: c.Hull.Mass, Waterline: c.Hull.Waterline, FormFactor: c.Hull.FormFactor, WaveFactor: c.Hull.WaveFactor,
			DragFactor: c.Hull.DragFactor, AirArea: c.Hull.AirArea, WettedArea: orNaN(c.Hull.WettedArea, 1)},
		OarsPerRower: c.OarsPerRower, CoxMass: c.Cox, Rate: c.Rate, Water: fluid.Water{Density: c.Water.Rho, Viscosity: c.Water.Nu},
		Air: fluid.Air{Density: c.AirRho}, Wind: c.Wind, Target: orNaN(c.Target, 1),
	}
	for h, name := range Holds {
		if name == c.Hold {
			p.Hold = Hold(h)
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
		seat := Seat{Count: s.Count, Oar: s.Oar.oar(), Catch: rad(s.Catch), Finish: rad(s.Finish),
			Rower: crew.Rower{Mass: s.Mass, Power: s.Power, Style: style, FreeSpeed: free, BodyTravel: s.BodyTravel}}
		if c.MeasuredOn != nil {
			was := c.MeasuredOn.oar()
			var err error
			if seat.Catch, seat.Finish, err = oar.KeepReach(&was, &seat.Oar, rad(c.Measured[0]), rad(c.Measured[1])); err != nil {
				t.Fatal(err)
			}
		}
		p.Seats = append(p.Seats, seat)
	}
	return p
}

func openCases(t testing.TB) caseFile {
	text, err := os.ReadFile("../../testdata/cases/open.json")
	if err != nil {
		t.Fatal(err)
	}
	var f caseFile
	if err := json.Unmarshal(text, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// TestOpenCases holds every expected number of every case to 1e-6, by the general route
// and by whatever Row takes by itself: the step tolerance of 1e-8 leaves about 1e-7 in
// the works, and the two implementations behind the file agree to 6e-6 at worst.
func TestOpenCases(t *testing.T) {
	for _, c := range openCases(t).Cases {
		for _, route := range []Route{General, Auto} {
			t.Run(c.Input.Name+" "+route.String(), func(t *testing.T) {
				s, err := Row(c.Input.problem(t), Settings{Route: route})
				if err != nil {
					t.Fatal(err)
				}
				holdsExpected(t, s, c.Expected)
			})
		}
	}
}

// holdsExpected compares a stroke with a case's expected numbers.
func holdsExpected(t *testing.T, s *Stroke, expected map[string]any) {
	worstName, worstMiss := "", 0.0
	near := func(name string, got, want float64) {
		miss := math.Abs(got-want) / math.Max(math.Abs(want), 1e-3)
		if miss > worstMiss {
			worstName, worstMiss = name, miss
		}
		if !(miss <= 1e-6) {
			t.Errorf("%s: %.9g, expected %.9g (off by %.1e)", name, got, want, miss)
		}
	}
	for i := range Fields {
		f := &Fields[i]
		if want, ok := expected[f.Name].(float64); ok {
			near(f.Name, f.Of(s), want)
		}
	}
	near("start_speed", s.StartSpeed, expected["start_speed"].(float64))
	energy := expected["energy"].(map[string]any)
	for _, e := range EnergyFields {
		name := e.Name
		if e.In {
			name += "_work"
		}
		near("energy."+name, e.Of(&s.Energy), energy[name].(float64))
	}
	if seats, ok := expected["seats"].([]any); ok {
		for j, seat := range seats {
			for name, want := range seat.(map[string]any) {
				if f, ok := FieldNamed(name); ok {
					near(name, f.Seat(s, j), want.(float64))
				}
			}
		}
	}
	t.Logf("%v route: worst %s %.1e, closure %.1e, residual %.1e, %d right-hand sides", s.Route, worstName, worstMiss, s.Energy.Closure(), s.Residual, s.Evaluations)
}
