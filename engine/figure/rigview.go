package figure

import (
	"math"
	"slices"
	"strings"

	"thole/engine/document"
	"thole/engine/draw"
	"thole/engine/table"
	"thole/engine/typeset"
	"thole/engine/words"
)

// Rig is one seat's rig from above and from the stern, to scale: Rigs, one or
// two, the second the proposed one.
const Rig document.Kind = "rig"

var rigKind = &Kind{
	Name: Rig,
	Lacks: func(f *document.Figure) string {
		if len(f.Rigs) == 0 {
			return "it has no rig"
		}
		return ""
	},
	Title:    func(f *document.Figure) string { return named(f, "Figure") },
	Describe: func(f *document.Figure) string { return describeRigs(f.Rigs) },
	Reading:  func(f *document.Figure) string { return rigCaption(f.Rigs) },
	Draw:     drawRig,
}

// A rig is drawn to scale from above and, where its height is known, from the stern.
// One list of dimensions feeds drawing, table, sentence and the terminal's list.

// rigDimension is one measure of a rig.
type rigDimension struct {
	name, unit string
	drawn      string // how the drawing calls it, where that is shorter
	of         func(r *document.Rigged) float64
}

var rigDimensions = []rigDimension{
	{"span", "cm", "", func(r *document.Rigged) float64 { return when(r.Sculling, 2*r.PinLine) }},
	{"spread", "cm", "", func(r *document.Rigged) float64 { return when(!r.Sculling, r.PinLine) }},
	{"inboard", "cm", "", func(r *document.Rigged) float64 { return r.Inboard }},
	{"outboard", "cm", "", func(r *document.Rigged) float64 { return r.Outboard }},
	{"length", "cm", "", func(r *document.Rigged) float64 { return r.Inboard + r.Outboard }},
	{"overlap", "cm", "", func(r *document.Rigged) float64 { return r.Overlap }},
	{"catch", "deg", "", func(r *document.Rigged) float64 { return r.Catch }},
	{"finish", "deg", "", func(r *document.Rigged) float64 { return r.Finish }},
	{"handles apart at the finish", "cm", "handles apart",
		func(r *document.Rigged) float64 { return when(r.Sculling, r.Apart) }},
	{"work-through", "cm", "", func(r *document.Rigged) float64 { return r.WorkThrough }},
	{"stretcher from the front stop", "cm", "stretcher",
		func(r *document.Rigged) float64 { return r.Stretcher }},
	{"stretcher from the pins", "cm", "stretcher to pins",
		func(r *document.Rigged) float64 { return r.Stretcher + r.WorkThrough }},
	{"height over the seat", "cm", "height", func(r *document.Rigged) float64 { return r.Height }},
	{"seat over water", "cm", "",
		func(r *document.Rigged) float64 { return whenKnown(r.Height, r.SeatOverWater) }},
	{"gate over water", "cm", "", func(r *document.Rigged) float64 { return r.Height + r.SeatOverWater }},
	{"slope of the shaft", "deg", "slope",
		func(r *document.Rigged) float64 { return whenKnown(r.Height, r.Slope) }},
	{"hands over seat in the drive", "cm", "hands, drive",
		func(r *document.Rigged) float64 { return whenKnown(r.Height, r.Drive) }},
	{"hands over seat on the recovery", "cm", "hands, recovery",
		func(r *document.Rigged) float64 { return whenKnown(r.Height, r.Recovery) }},
	{"stern pitch", "deg", "", func(r *document.Rigged) float64 { return r.Pitch }},
	{"outward pitch", "deg", "", func(r *document.Rigged) float64 { return r.Outward }},
}

func when(holds bool, x float64) float64 {
	if holds {
		return x
	}
	return math.NaN()
}

func whenKnown(other, x float64) float64 { return when(!math.IsNaN(other), x) }

// dimensionsOf are the dimensions by which rigs are listed: where gates are unlike, each
// that hangs on a gate is told of both.
func dimensionsOf(rigs ...document.Rigged) []rigDimension {
	if !uneven(rigs) {
		return rigDimensions
	}
	var out []rigDimension
	for _, q := range rigDimensions {
		port, differs := q.onPort(), false
		for i := range rigs {
			a, b := q.of(&rigs[i]), port.of(&rigs[i])
			differs = differs || a != b && !math.IsNaN(a)
		}
		if !differs {
			out = append(out, q)
			continue
		}
		starboard := q
		starboard.name, port.name = q.name+" (starboard)", q.name+" (port)"
		out = append(out, starboard, port)
	}
	return out
}

func uneven(rigs []document.Rigged) bool {
	return slices.ContainsFunc(rigs, func(r document.Rigged) bool { return r.Port != nil })
}

// onPort is the same dimension of the port gate.
func (q rigDimension) onPort() rigDimension {
	of := q.of
	q.of = func(r *document.Rigged) float64 {
		port := r.OnPort()
		return of(&port)
	}
	return q
}

// dimensionNamed gives a dimension of the list.
func dimensionNamed(name string) rigDimension {
	for _, q := range rigDimensions {
		if q.name == name {
			return q
		}
	}
	panic("no dimension " + name)
}

// RigTable lists the dimensions of one or two rigs, with the change between them.
func RigTable(rigs []document.Rigged) *table.Table {
	what := &table.Column{Name: "dimension", Kind: table.Text}
	unit := &table.Column{Name: "unit", Kind: table.Text}
	t := &table.Table{Columns: []*table.Column{what, unit}}
	for i := range rigs {
		t.Columns = append(t.Columns, &table.Column{Name: rigs[i].Name, Digits: 1, Change: 1,
			Kind: table.Number})
	}
	if len(rigs) == 2 {
		t.Columns = append(t.Columns, &table.Column{Name: "change", Digits: 1, Change: 1,
			Kind: table.Number, Signed: true})
	}
	for _, q := range dimensionsOf(rigs...) {
		values, known := make([]float64, len(rigs)), false
		for i := range rigs {
			values[i] = q.of(&rigs[i])
			known = known || !math.IsNaN(values[i])
		}
		if !known {
			continue
		}
		what.Texts, unit.Texts = append(what.Texts, q.name), append(unit.Texts, q.unit)
		for i, v := range values {
			t.Columns[2+i].Nums = append(t.Columns[2+i].Nums, v)
		}
		if len(rigs) == 2 {
			t.Columns[4].Nums = append(t.Columns[4].Nums, values[1]-values[0])
		}
	}
	return t
}

// describeRigs says a drawing in words: one rig by its measures, two by what changes.
func describeRigs(rigs []document.Rigged) string {
	if len(rigs) == 2 {
		return changedRig(&rigs[0], &rigs[1])
	}
	var said []string
	names := []string{"span", "spread", "inboard", "outboard", "overlap", "catch", "finish",
		"work-through", "height over the seat", "hands over seat in the drive", "stern pitch"}
	for _, q := range dimensionsOf(rigs...) {
		name, _, _ := strings.Cut(q.name, " (")
		if v := q.of(&rigs[0]); slices.Contains(names, name) && !math.IsNaN(v) {
			said = append(said, q.name+" "+typeset.Quantity(v, 1, q.unit))
		}
	}
	return rigs[0].Name + ": " + words.List(said) + "."
}

// changedRig tells every measure that differs: a change by its size, one that
// only one of the two rigs gives by its value, and the order of the sides.
func changedRig(was, now *document.Rigged) string {
	var changed []string
	for _, q := range dimensionsOf(*was, *now) {
		a, b := q.of(was), q.of(now)
		switch before, after := math.IsNaN(a), math.IsNaN(b); {
		case before && after:
		case before:
			changed = append(changed, q.name+" "+typeset.Quantity(b, 1, q.unit)+", where none was given")
		case after:
			changed = append(changed, q.name+" not given, before "+typeset.Quantity(a, 1, q.unit))
		case typeset.Number(a, 1) != typeset.Number(b, 1):
			changed = append(changed, q.name+" "+typeset.Signed(b-a, 1)+typeset.UnitAfter(q.unit))
		}
	}
	if was.Sides != now.Sides {
		changed = append(changed, "sides from bow "+sidesSaid(was.Sides)+" to "+sidesSaid(now.Sides))
	}
	if len(changed) == 0 {
		return now.Name + " is set as " + was.Name + "."
	}
	return now.Name + " against " + was.Name + ": " + words.List(changed) + "."
}

func sidesSaid(sides string) string {
	if sides == "" {
		return "not given"
	}
	return sides
}

// rigCaption says how to read the drawing.
func rigCaption(rigs []document.Rigged) string {
	s := "To scale, in centimetres: from above with the oar at the catch, square and at the finish"
	if !math.IsNaN(rigs[0].Height) {
		s += ", and from the stern with the blade just covered; dotted there the shaft on the recovery"
	} else {
		s += "; without a height there is no view from the stern"
	}
	if uneven(rigs) {
		s += ", of two unlike gates the starboard one"
	}
	s += ". The hull is drawn to find one's way, not to measure."
	if !rigs[0].Sculling && rigs[0].Sides == "" && rigs[0].Boat != "" {
		s += " The sides were not given: stroke is drawn on port."
	}
	return s
}

// rigSheet is a drawing of one or two rigs in the making.
type rigSheet struct {
	placer
	rigs []document.Rigged
	k    float64 // units a centimetre
}

// known says whether any of the rigs has the dimension.
func (s *rigSheet) known(q rigDimension) bool {
	for i := range s.rigs {
		if !math.IsNaN(q.of(&s.rigs[i])) {
			return true
		}
	}
	return false
}

// said is a dimension's name and its value, of two rigs that differ both values: on
// one line, or on two where there is little room.
func (s *rigSheet) said(q rigDimension) []string {
	name := q.drawn
	if name == "" {
		name = q.name
	}
	value := s.values(q)
	switch {
	case s.d.Narrow() && q.unit == "cm":
		return []string{name, value}
	case strings.Contains(value, " → ") && q.unit == "deg":
		first, second, _ := strings.Cut(value, " → ")
		return []string{name + " " + first, "→ " + second}
	}
	return []string{name + " " + value}
}

// values are a dimension's numbers, of two rigs that differ "16.0 → 17.0".
func (s *rigSheet) values(q rigDimension) (value string) {
	for i := range s.rigs {
		v := q.of(&s.rigs[i])
		said := "?"
		if !math.IsNaN(v) {
			said = typeset.Number(v, 1)
		}
		if q.unit == "deg" {
			said += "°"
		}
		switch {
		case i == 0:
			value = said
		case said != value:
			value += " → " + said
		}
	}
	return value
}

// ink is the class of what belongs to the first or the second rig.
func ink(i int) string { return []string{"rs1", "rs2"}[i] }

// drawRig draws the plan and, beside it on a wide sheet and beneath it on a narrow one,
// the view from the stern, with the whole boat small.
func drawRig(f *document.Figure, d *draw.Surface) {
	s := &rigSheet{placer: placer{d: d}, rigs: f.Rigs}
	plan, stern, low := s.planSize(), s.sternSize(), sternMargin
	if !s.stern() {
		stern, low = extentCM{}, 0
	}
	beside := d.W >= 600 && s.stern()
	room := d.W - 2*planSide
	// the largest scale at which drawing and words fit: words beside the pins need their
	// room whatever the scale
	planUnits := func(k float64) float64 {
		return math.Max(plan.x1*k, s.bowwardAt(k)) + math.Max(-plan.x0*k, s.sternward())
	}
	fits := func(k float64) bool {
		if d.W > draw.Narrow && plan.high()*k > 410 {
			return false
		}
		if beside {
			return planUnits(k)+math.Max(stern.wide()*k, s.rowsWide(0)) <= room-low-besideGap
		}
		return planUnits(k) <= room && stern.wide()*k <= room-low
	}
	s.k = largest(fits, 0.1, 4)
	plan.x1 = math.Max(plan.x1, s.bowwardAt(s.k)/s.k)
	plan.x0 = math.Min(plan.x0, -s.sternward()/s.k)
	left, top := planSide, 8.
	if spare := room - plan.wide()*s.k; !beside && spare > 0 {
		left += spare / 2
	}
	if !beside {
		top = s.boatStrip(planSide, 4, room, 84) + 8
	}
	s.right = d.W
	if beside {
		s.right = left + plan.wide()*s.k + besideGap - 4
	}
	s.plan(plan, left, top)
	end := s.bottom()
	s.right = 0
	switch {
	case beside:
		x := left + plan.wide()*s.k + besideGap
		rows, pitch := s.sternTop(x + low)
		y := math.Max(end-stern.high()*s.k-rows-pitch, 70)
		s.boatStrip(x+8, 6, d.W-x-8, y-14)
		s.sternView(stern, x+low, y)
	case s.stern():
		s.sternView(stern, planSide+low, end+10)
	}
	s.foot(s.bottom() + 14)
	d.H = s.bottom() + 2
}

// largest gives the largest number that fits, by halving the interval.
func largest(fits func(float64) bool, low, high float64) float64 {
	for range 40 {
		if mid := (low + high) / 2; fits(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

const besideGap = 24. // units between the two views

// foot draws half a metre and, of two rigs, which is which.
func (s *rigSheet) foot(y float64) {
	x := planSide
	s.measure("scale", "dim", x, y, x+50*s.k, y)
	text := []string{"50 cm"}
	s.set("t2", text, berth{x + 50*s.k + 8, y, ""})
	x += 50*s.k + 8 + draw.TextWidth(text[0], s.size()) + 24
	if len(s.rigs) < 2 {
		return
	}
	for i := range s.rigs {
		name := []string{draw.Cut(s.rigs[i].Name, s.size(), (s.d.W-x)/float64(2-i)-40)}
		s.d.Line("loom "+ink(i), x, y, x+26, y)
		s.set("", name, berth{x + 32, y, ""})
		x += 32 + draw.TextWidth(name[0], s.size()) + 20
	}
}
