package trial

import "math"

// own is what the model itself says of a condition, for when a morning cannot:
// per cent of speed at each piece, and a doubt as a share of it (one standard
// deviation).
type own struct {
	curve []float64
	doubt float64
	slope float64 // % of speed for each unit, at the mean of the morning
	says  string
}

// airShare is the part of the drag that is air, in still air: 9–12 % of the
// water's in the model's own boats, 12–13 % in a tunnel (wind tunnel of the 1970s). Its
// doubt of 30 % takes in the published effects of wind, which are half as large
// again as a plain drag area gives.
const (
	airShare = 0.11
	airDoubt = 0.30
)

// windOwn is what headwinds (m/s) do to a boat of this speed (m/s) in still air
// at the same power: the speed v that solves
// (1−a) v³ + a v (v+w)|v+w| = V³, a the air's share.
func windOwn(wind []float64, speed float64) own {
	o := own{doubt: airDoubt, says: "the model's own effect of wind"}
	m := average(wind)
	at := func(w float64) float64 { return 100 * math.Log(windFactor(w/speed)) }
	for _, w := range wind {
		o.curve = append(o.curve, at(w)-at(m))
	}
	o.slope = (at(m+0.05) - at(m-0.05)) / 0.1
	return o
}

// windFactor is the speed in a headwind over that in still air, the headwind in
// boat speeds, by Newton.
func windFactor(wind float64) float64 {
	v := 1.0
	for range 60 {
		air := v + wind
		f := (1-airShare)*v*v*v + airShare*v*air*math.Abs(air) - 1
		slope := 3*(1-airShare)*v*v + airShare*(air*math.Abs(air)+2*v*math.Abs(air))
		step := f / slope
		v = math.Max(v-step, 0.05)
		if math.Abs(step) < 1e-13 {
			break
		}
	}
	return v
}

// waterOwn is what the water's temperature (°C) does: 0.12 % a degree. The model
// says 0.15, a printed table 0.09 between 5 and 20 °C.
func waterOwn(temperature []float64) own {
	const perDegree = 0.12
	return linearOwn(temperature, perDegree, 0.33, "the model's own effect of the water's temperature")
}

// powerOwn is what power (W) does at a rate: speed goes with its cube root; the
// boat's uneven run and the wind make that 0.28 to 0.36.
func powerOwn(power []float64) own {
	o := own{doubt: 0.12, says: "the cube root of power"}
	m := average(power)
	for _, p := range power {
		o.curve = append(o.curve, 100.0/3*math.Log(p/m))
	}
	o.slope = 100.0 / 3 / m
	return o
}

func linearOwn(x []float64, slope, doubt float64, says string) own {
	o := own{doubt: doubt, slope: slope, says: says}
	m := average(x)
	for _, v := range x {
		o.curve = append(o.curve, slope*(v-m))
	}
	return o
}
