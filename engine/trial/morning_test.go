package trial

import (
	"math"
	"math/rand/v2"

	"thole/engine/table"
)

// Mornings that are simulated to try Judge on. Nothing of Judge is used here:
// a boat's speed comes out of its balance of power, piece by piece, with a crew
// that tires, a wind that turns and errors that follow one another.

// morning is how a simulated morning goes.
type morning struct {
	order      []string // setting of each piece
	difference float64  // % of speed that "short" or "b" is faster
	error      float64  // of a piece, % of speed, one standard deviation
	alike      float64  // correlation of a piece's error with the one before
	drift      float64  // % of speed a piece, from tiring
	bend       float64  // % of speed over the whole morning that the drift bends
	wind       string   // "", "steady", "turns", "rises", "gusts"
	written    bool     // the wind is written down, to 0.1 m/s
	misread    float64  // m/s that it is written down wrong, one standard deviation
	spoiled    float64  // % of speed that one piece, drawn, loses; 0: none
	seed       uint64
}

// rowMorning gives the sheet as it would be filled in: times to 0.1 s.
func rowMorning(m morning) *table.Table {
	luck := rand.New(rand.NewPCG(m.seed, 20260512))
	n := len(m.order)
	wind := blow(m.wind, n, luck)
	// the air's part of the drag differs from boat to boat
	air := 0.11 * (1 + 0.3*luck.NormFloat64())
	air = math.Min(math.Max(air, 0.03), 0.25)
	spoiled := -1
	if m.spoiled != 0 {
		spoiled = luck.IntN(n)
	}
	var pieceNo, distance, seconds, blown []float64
	var settings []string
	slip := luck.NormFloat64()
	for i, s := range m.order {
		if i > 0 {
			slip = m.alike*slip + math.Sqrt(1-m.alike*m.alike)*luck.NormFloat64()
		}
		percent := m.error*slip + m.drift*float64(i)
		if n > 1 {
			u := 2*float64(i)/float64(n-1) - 1
			percent += m.bend * (u*u - 1.0/3)
		}
		if s == "short" || s == "b" {
			percent += m.difference
		}
		if i == spoiled {
			percent -= m.spoiled
		}
		v := 4.5 * math.Exp(percent/100) * inWind(wind[i]/4.5, air)
		pieceNo = append(pieceNo, float64(i+1))
		distance = append(distance, 500)
		seconds = append(seconds, math.Round(5000/v)/10)
		settings = append(settings, s)
		written := wind[i]
		if m.misread > 0 {
			written += m.misread * luck.NormFloat64()
		}
		blown = append(blown, math.Round(written*10)/10)
	}
	numbers := func(name, unit string, x []float64) *table.Column {
		return &table.Column{Name: name, Unit: unit, Kind: table.Number, Nums: x}
	}
	sheet := &table.Table{Columns: []*table.Column{numbers("piece", "", pieceNo),
		{Name: "setting", Kind: table.Text, Texts: settings}, numbers("distance", "m", distance),
		numbers("time", "s", seconds)}}
	if m.written {
		sheet.Columns = append(sheet.Columns, numbers("wind", "m/s", blown))
	}
	return sheet
}

// inWind is the speed that the same power gives in a headwind, over that in
// still air: bisection on the power.
func inWind(wind, air float64) float64 {
	low, high := 0.2, 2.0
	for range 60 {
		v := (low + high) / 2
		if (1-air)*v*v*v+air*v*(v+wind)*math.Abs(v+wind) > 1 {
			high = v
		} else {
			low = v
		}
	}
	return (low + high) / 2
}

// blow makes the headwind of each piece, m/s.
func blow(kind string, n int, luck *rand.Rand) []float64 {
	wind := make([]float64, n)
	start, phase := 1+luck.NormFloat64(), 2*math.Pi*luck.Float64()
	for i := range wind {
		t := float64(i) / math.Max(float64(n-1), 1)
		switch kind {
		case "steady":
			wind[i] = start
		case "turns": // from ahead to astern or back, half a circle in the morning
			wind[i] = 2*math.Cos(phase+math.Pi*t) + 0.2*luck.NormFloat64()
		case "rises": // hand in hand with the order rowed
			wind[i] = start + 2*t + 0.05*luck.NormFloat64()
		case "gusts":
			wind[i] = start + 0.6*luck.NormFloat64()
		}
	}
	return wind
}
