package things

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/fluid"
	"thole/engine/rounding"
	"thole/engine/table"
)

// Water is what the boat moves in.
type Water struct {
	Temperature float64 // °C
	Water       fluid.Water
}

// Briefly says the water in a line.
func (w *Water) Briefly() string {
	s := "water " + table.Fixed(w.Temperature, -1) + " °C"
	if w.Water.Depth > 0 {
		s += ", " + table.Fixed(w.Water.Depth, -1) + " m deep"
	}
	if w.Water.Drift > 0 {
		s += ", drifting with " + table.Fixed(rounding.Clean(w.Water.Drift/percent), -1) + " % of the wind"
	}
	return s
}

// WaterType is water at a temperature.
var WaterType = &lang.Type[*Water]{
	Name: "water",
	Same: func(a, b *Water) bool { return *a == *b },
	Line: (*Water).Briefly,
}

var waterRecord = &lang.Record{
	Name: "water", Topic: "things",
	Summary: "fresh water: its temperature, depth and drift",
	Params: []lang.Param{
		{Name: "temperature", Unit: "°C", Is: lang.Number, Default: Fact("water", "temperature", ""), Low: 0,
			High: 30, Help: "colder water is denser and stickier"},
		{Name: "depth", Unit: "m", Is: lang.Number, ByName: true, Shown: "deep", Low: 0.1, High: 1000,
			Help: "of the course; shallow water raises the waves of a quick boat"},
		{Name: "drift", Unit: "%", Is: lang.Number, ByName: true, Default: Fact("water", "drift", ""), Low: 0,
			High: 10,
			Help: "speed of the surface, percent of the wind's, which drives it along; 2 to 3.5 on open " +
				"water"},
	},
	Gives:   "water: .temperature .depth .drift .density .viscosity",
	Example: `water(temperature=8, depth=3.5)`,
	Errors:  []string{"a depth the boat does not float in"},
	Sources: []string{"model 10",
		"depth: thin-ship waves, with a hull whose wave_factor is left out (Michell 1898; Sretensky, " +
			"finite depth)", "model 11",
		"drift: 2 to 3.5 % reported for open water, less near a bank (Wu 1975; weather-service glossary)",
		"ITTC 7.5-02-01-03 (density; viscosity at 15 °C), other viscosities from memory, high"},
}

func waterAt(celsius float64) *Water { return &Water{celsius, fluid.FreshWater(celsius)} }

// percent is a share as it is typed.
const percent = 0.01

// StandardWater is what a stroke is rowed in where none is given, fresh and 15 °C.
var StandardWater = waterAt(Fact("water", "temperature", ""))

func init() {
	waterRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		w := waterAt(c.Number("temperature"))
		if c.Given("depth") {
			w.Water.Depth = c.Number("depth")
		}
		w.Water.Drift = c.Number("drift") * percent
		return WaterType.New(w), nil
	}
	WaterType.Fields = []lang.FieldOf[*Water]{
		lang.NumberField("temperature", "°C", 1, "", func(w *Water) float64 { return w.Temperature }),
		lang.NumberField("depth", "m", 2, "None: deep", func(w *Water) float64 {
			if w.Water.Depth == 0 {
				return math.NaN()
			}
			return w.Water.Depth
		}),
		lang.NumberField("drift", "%", 1, "of the wind's speed", func(w *Water) float64 {
			return rounding.Clean(w.Water.Drift / percent)
		}),
		lang.NumberField("density", "kg/m³", 2, "", func(w *Water) float64 { return w.Water.Density }),
		lang.NumberField("viscosity", "m²/s", -1, "", func(w *Water) float64 { return w.Water.Viscosity }),
	}
}
