package trial

import (
	"fmt"
	"math"
	"slices"

	"thole/engine/rounding"
	"thole/engine/table"
)

// The pieces are judged by one linear model of 100·ln(speed): a level for each
// setting, drift in the order rowed, blocks where there are three or more, and
// the conditions that varied.

const (
	// inflated is the variance inflation 1/(1−R²) above which a condition counts
	// as not to be told from the others: the usual rule of thumb (Marquardt 1970,
	// Technometrics 12:591–612).
	inflated = 10
	// fewestDegrees are kept for the scatter before a condition gets one.
	fewestDegrees = 2
	// mostBlank is the share of missing readings up to which their mean stands in.
	mostBlank = 1.0 / 3
)

// condition is something beside the setting that may move speed.
type condition struct {
	name, unit string
	step       float64 // the effect is told for this much of it
	values     []float64
	own        *own // nil: the model has none
}

// design is the linear model, ready to be fitted.
type design struct {
	rows     []row
	settings []string // in the order first rowed; the first is the base level
	columns  [][]float64
	names    []string  // "", setting names, "drift", "", conditions
	y        []float64 // 100·ln(speed), less what the model's own effects explain
	used     []condition
	stoodIn  []condition
	leftOut  []string
	says     []string
	blocks   int
	mixed    string // a way that cannot be told from the settings; "" none
}

// degreesOf is the number of degrees of freedom that so many pieces of so many
// settings leave when drift, wind and blocks are allowed for. The plan counts
// by it and design follows it.
func degreesOf(pieces, settings int) int {
	degrees := pieces - settings - 1
	if b := pieces / (2 * settings); b >= 3 {
		degrees -= b - 1
	}
	if degrees-1 < fewestDegrees { // the model's own wind stands in
		return degrees
	}
	return degrees - 1
}

// blockOf gives the block of each piece: as many pieces as two of every setting,
// four with one rig alone.
// One or two blocks are left to the drift: only with three or more is there a
// scatter between blocks to speak of. Taking it out keeps the interval honest
// where neighbouring pieces are alike (see the coverage table).
func blockOf(rows []row, settings int) (block []int, count int) {
	size := max(4, 2*settings)
	block = make([]int, len(rows))
	whole := len(rows) / size
	if whole < 3 {
		return block, 1
	}
	for i := range rows {
		block[i] = min(i/size, whole-1) // a rest joins the last
	}
	return block, whole
}

// newDesign lays out the columns and decides which conditions get one.
func newDesign(rows []row) *design {
	d := &design{rows: rows}
	n := len(rows)
	for _, r := range rows {
		if !slices.Contains(d.settings, r.setting) {
			d.settings = append(d.settings, r.setting)
		}
	}

	// speed through the water: a stream that was measured is taken off exactly
	stream := reading(rows, func(r row) float64 { return r.stream })
	measured := d.fill("stream", stream)
	for i, r := range rows {
		v := r.distance / r.time
		if measured {
			v -= stream[i]
		}
		d.y = append(d.y, 100*math.Log(v))
	}
	if measured {
		d.says = append(d.says, "the stream was taken off each piece's speed")
	}

	// level, settings, drift, blocks
	d.add("", ones(n))
	for _, s := range d.settings[1:] {
		d.add(s, marks(rows, func(r row) bool { return r.setting == s }))
	}
	numbers := make([]float64, n)
	for i, r := range rows {
		numbers[i] = r.number
	}
	d.add("drift", centred(numbers))
	block, count := blockOf(rows, len(d.settings))
	d.blocks = count
	for b := 1; b < count; b++ {
		column := make([]float64, n)
		for i := range column {
			if block[i] == b {
				column[i] = 1
			}
		}
		d.add("", column)
	}

	for _, c := range d.conditions() {
		d.place(c)
	}
	return d
}

func (d *design) add(name string, column []float64) {
	d.columns = append(d.columns, column)
	d.names = append(d.names, name)
}

// conditions lists what was written down and varied, wind first: a condition
// further down gets what degrees of freedom are left.
func (d *design) conditions() []condition {
	speed := math.Exp(average(d.y) / 100)
	var list []condition
	consider := func(name, unit string, step float64, of func(row) float64, model func([]float64) own) {
		values := reading(d.rows, of)
		if !d.fill(name, values) {
			return
		}
		if low, high := span(values); high-low < 1e-9 {
			d.leftOut = append(d.leftOut, fmt.Sprintf("%s was %s throughout: left out", name,
				table.WithUnit(short(low), unit)))
			return
		}
		c := condition{name: name, unit: unit, step: step, values: values}
		if model != nil {
			o := model(values)
			c.own = &o
		}
		list = append(list, c)
	}
	consider("wind", "m/s", 1, func(r row) float64 { return r.wind },
		func(w []float64) own { return windOwn(w, speed) })
	consider("way", "", 1, wayOf, nil)
	consider("rate", "1/min", 1, func(r row) float64 { return r.rate }, nil)
	consider("power", "W", 10, func(r row) float64 { return r.power }, powerOwn)
	consider("water", "°C", 1, func(r row) float64 { return r.water }, waterOwn)
	return list
}

// place gives a condition its column, or lets the model's own effect stand in,
// or leaves it out, and says which.
func (d *design) place(c condition) {
	column := centred(c.values)
	share := shared(column, d.columns)
	tangled := share > 1-1.0/inflated
	short := len(d.rows)-len(d.columns)-1 < fewestDegrees
	if !tangled && !short {
		d.used = append(d.used, c)
		d.add(c.name, column)
		return
	}
	why := fmt.Sprintf("there are too few pieces to find the effect of %s", c.name)
	if tangled {
		why = fmt.Sprintf("%s changed hand in hand with %s", c.name, d.partner(column))
	}
	switch {
	case c.own != nil:
		for i := range d.y {
			d.y[i] -= c.own.curve[i]
		}
		d.stoodIn = append(d.stoodIn, c)
		d.says = append(d.says, fmt.Sprintf("%s: %s stands in, %s %% for each %s give or take %.0f %%",
			why, c.own.says, table.Signed(c.own.slope*c.step, 2), per(c), 100*c.own.doubt))
	default:
		d.leftOut = append(d.leftOut, why+": left out")
		if tangled && c.name == "way" && d.partner(column) == "the setting" {
			d.mixed = c.name
		}
	}
}

// partner says in words with what a column goes hand in hand: the drift where
// that alone nearly does it, the settings, or all together.
func (d *design) partner(column []float64) string {
	level := d.columns[0]
	most, name := 0.0, ""
	try := func(words string, columns ...[]float64) {
		if s := shared(column, append([][]float64{level}, columns...)); s > most+1e-12 {
			most, name = s, words
		}
	}
	var settings [][]float64
	for j, n := range d.names {
		switch {
		case j > 0 && j < len(d.settings):
			settings = append(settings, d.columns[j])
		case n == "drift":
			try("the order rowed (drift)", d.columns[j])
		case n != "":
			try(n, d.columns[j])
		}
	}
	try("the setting", settings...)
	if most > 0.8 {
		return name
	}
	return "the rest"
}

// fill puts the mean of the others where a reading is missing. False: there is
// no such reading, or too few, which is said.
func (d *design) fill(name string, values []float64) bool {
	var there []float64
	for _, v := range values {
		if !math.IsNaN(v) {
			there = append(there, v)
		}
	}
	switch missing := len(values) - len(there); {
	case len(there) == 0:
		return false
	case missing == 0:
		return true
	case float64(missing) > mostBlank*float64(len(values)):
		d.leftOut = append(d.leftOut, fmt.Sprintf("%s is missing for %d of %d pieces: left out", name,
			missing, len(values)))
		return false
	default:
		m := average(there)
		for i, v := range values {
			if math.IsNaN(v) {
				values[i] = m
				d.says = append(d.says,
					fmt.Sprintf("piece %s has no %s: the mean of the others, %s, stands in",
						short(d.rows[i].number), name, short(rounding.Decimals(m, 2))))
			}
		}
		return true
	}
}

// wayOf turns out and back into numbers.
func wayOf(r row) float64 {
	switch r.way {
	case "out":
		return 0.5
	case "back":
		return -0.5
	}
	return math.NaN()
}

// per names the step a condition's effect is told for.
func per(c condition) string {
	if c.name == "way" {
		return "way, out against back"
	}
	if c.step == 1 {
		return c.unit
	}
	return fmt.Sprintf("%g %s", c.step, c.unit)
}

func reading(rows []row, of func(row) float64) []float64 {
	values := make([]float64, len(rows))
	for i, r := range rows {
		values[i] = of(r)
	}
	return values
}

func ones(n int) []float64 {
	column := make([]float64, n)
	for i := range column {
		column[i] = 1
	}
	return column
}

func marks(rows []row, is func(row) bool) []float64 {
	column := make([]float64, len(rows))
	for i, r := range rows {
		if is(r) {
			column[i] = 1
		}
	}
	return column
}

func centred(values []float64) []float64 {
	m := average(values)
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v - m
	}
	return out
}

// short writes a number without needless decimals.
func short(x float64) string { return fmt.Sprintf("%g", x) }
