package things

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/fluid"
	"thole/engine/table"
)

// Water is what the boat moves in.
type Water struct {
	Temperature float64 // °C
	Water       fluid.Water
}

// WaterType is water at a temperature.
var WaterType = &lang.Type[*Water]{
	Name: "water",
	Same: func(a, b *Water) bool { return a.Temperature == b.Temperature },
	Line: func(w *Water) string { return "water " + table.Fixed(w.Temperature, 1) + " °C" },
}

var waterRecord = &lang.Record{
	Name: "water", Topic: "things",
	Summary: "fresh water at a temperature",
	Params: []lang.Param{
		{Name: "temperature", Unit: "°C", Is: lang.Number, Default: Fact("water", "temperature", ""), Low: 0, High: 30, Help: "colder water is denser and stickier"},
	},
	Gives:   "water: .temperature .density .viscosity",
	Example: `water(temperature=8)`,
	Sources: []string{"model 10", "ITTC 7.5-02-01-03 (density; viscosity at 15 °C), other viscosities from memory, high"},
}

func waterAt(celsius float64) *Water { return &Water{celsius, fluid.FreshWater(celsius)} }

// StandardWater is what a stroke is rowed in where none is given, fresh and 15 °C.
var StandardWater = waterAt(Fact("water", "temperature", ""))

func init() {
	waterRecord.Do = func(c *lang.Call) (starlark.Value, error) {
		return WaterType.New(waterAt(c.Number("temperature"))), nil
	}
	WaterType.Fields = []lang.FieldOf[*Water]{
		lang.NumberField("temperature", "°C", 1, "", func(w *Water) float64 { return w.Temperature }),
		lang.NumberField("density", "kg/m³", 2, "", func(w *Water) float64 { return w.Water.Density }),
		lang.NumberField("viscosity", "m²/s", -1, "", func(w *Water) float64 { return w.Water.Viscosity }),
	}
}
