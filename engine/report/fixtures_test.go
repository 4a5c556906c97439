package report

import (
	"math"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

// Documents made by hand for the tests of the page. Their numbers are invented
// or drawn by simple curves; they stand for shapes of data, never for rowing.

func texts(name string, cells ...string) *table.Column {
	return &table.Column{Name: name, Kind: table.Text, Texts: cells}
}

func numbers(name, unit string, cells ...float64) *table.Column {
	c := table.NewColumn(name, unit, table.Number)
	c.Nums = cells
	return c
}

func tableOf(columns ...*table.Column) *table.Table { return &table.Table{Columns: columns} }

// comparisonTable is a comparison of many quantities, drawn or of one run.
func comparisonTable(drawn bool) *table.Table {
	type line struct {
		name, unit    string
		before, after float64
		low, high     float64
		verdict       string
	}
	lines := []line{
		{"outboard", "cm", 200, 193.4, -7.2, -6.2, "holds: less"},
		{"speed", "m/s", 4.237, 4.277, .038, .042, "holds: more"},
		{"time_2000", "s", 472.0, 467.6, -4.77, -4.08, "holds: less"},
		{"heaviness", "N·s/m", 220.2, 217.1, -3.4, -3.0, "holds: less"},
		{"drive_time", "s", .883, .873, -.011, -.009, "holds: less"},
		{"mean_force", "N", 389, 387, -1.5, -1.2, "too small to matter"},
		{"blade_efficiency", "", .739, .762, .022, .023, "holds: more"},
		{"slip", "cm", 64.7, 60.0, -5.5, -4.0, "holds: less"},
		{"peak_force", "N", 686, 689, -1.2, 3.3, "cannot be told apart"},
	}
	quantity, unit, verdict := texts("quantity"), texts("unit"), texts("verdict")
	before, after := &table.Column{Name: "before"}, &table.Column{Name: "after"}
	change := &table.Column{Name: "change", Kind: table.Measured, Signed: true}
	percent := &table.Column{Name: "percent", Unit: "%", Digits: 1, Signed: true}
	plain := &table.Column{Name: "change", Signed: true}
	for _, l := range lines {
		d, c := table.DigitsFor(l.name, l.unit)
		quantity.Texts = append(quantity.Texts, l.name)
		unit.Texts = append(unit.Texts, l.unit)
		before.Nums, after.Nums = append(before.Nums, l.before), append(after.Nums, l.after)
		before.Places, after.Places = append(before.Places, d), append(after.Places, d)
		before.Units, after.Units = append(before.Units, l.unit), append(after.Units, l.unit)
		change.Estimates = append(change.Estimates, &table.Estimate{Value: (l.low + l.high) / 2, Low: l.low, High: l.high, Unit: l.unit, Digits: c, Signed: true, Verdict: l.verdict})
		plain.Nums = append(plain.Nums, l.after-l.before)
		plain.Places, plain.Units = append(plain.Places, c), append(plain.Units, l.unit)
		percent.Nums = append(percent.Nums, (l.after/l.before-1)*100)
		if drawn {
			verdict.Texts = append(verdict.Texts, l.verdict)
		} else {
			verdict.Texts = append(verdict.Texts, "one run")
		}
	}
	if drawn {
		return tableOf(quantity, unit, before, after, change, percent, verdict)
	}
	return tableOf(quantity, unit, before, after, plain, percent, verdict)
}

func assumptions() []document.Assumption {
	return []document.Assumption{
		{What: "water", Value: "fresh, 15", Unit: "°C", Source: "ITTC 7.5-02-01-03"},
		{What: "air", Value: "1.225", Unit: "kg/m³", Source: "ISO 2533 standard atmosphere"},
		{What: "blade law", Value: "plate, 90°", Unit: "", Source: "Ortiz, Rival & Wood 2015"},
		{What: "drag coefficient", Value: "2.07", Unit: "", Source: "from memory, medium: flume, Caplan & Gardner 2007"},
		{What: "bury, release", Value: "6, 10", Unit: "deg", Source: "from memory, medium"},
		{What: "added_mass", Value: "0.5 of the deep-water value", Unit: "", Source: "derived here"},
		{What: "oar mass", Value: "1.45", Unit: "kg", Source: "from memory, medium"},
		{What: "hull", Value: "52 kg, 12.0 m waterline", Unit: "", Source: "minimum mass; Lazauskas 1997"},
		{What: "free_speed", Value: "4.5", Unit: "m/s", Source: "derived here, low"},
	}
}

const sweepSource = `# Which outboard, and on which blade?
title("How long an outboard for the Otter quad, and on which blade?")
t = vary(rowed, outboard=steps(192, 206, 1), area=[780, 820, 860])
`

// sweepDoc is a sweep over outboard, area and blade length, with a map.
func sweepDoc() *document.Document {
	t := tableOf(numbers("outboard", "cm"), numbers("area", "cm²"), numbers("blade_length", "cm"), numbers("speed", "m/s"), numbers("heaviness", "N·s/m"))
	best := tableOf(numbers("blade_length", "cm"), numbers("area", "cm²"), numbers("outboard", "cm"), numbers("speed", "m/s"), numbers("drive_time", "s"))
	for _, length := range []float64{42, 46} {
		for _, area := range []float64{780, 820, 860} {
			for o := 192.; o <= 206; o++ {
				speed := 4.995 + .0019*(o-192) + .0002*(area-780)/2 + .004*(46-length)
				if length == 42 && area == 780 && o == 199 {
					speed = math.NaN() // a failed point: a gap
				}
				for k, v := range []float64{o, area, length, speed, 166 + 1.1*(o-192) + .012*(area-780) - .4*(46-length)} {
					t.Columns[k].Nums = append(t.Columns[k].Nums, v)
				}
			}
			for k, v := range []float64{length, area, 199 + (46-length)/2 - (area-780)/40, 5.01 + (area-780)*.0002, .80612 + (area-780)*1e-5} {
				best.Columns[k].Nums = append(best.Columns[k].Nums, v)
			}
		}
	}
	heat := tableOf(numbers("outboard", "cm"), numbers("wind", "m/s"), numbers("heaviness", "N·s/m"))
	for o := 192.; o <= 206; o++ {
		for w := -4.; w <= 6; w += 2 {
			v := 166 + 1.2*(o-192) + 4.2*w + .18*w*w
			if o > 204 && w > 4 {
				v = math.NaN()
			}
			for k, x := range []float64{o, w, v} {
				heat.Columns[k].Nums = append(heat.Columns[k].Nums, x)
			}
		}
	}
	return &document.Document{
		Study: "a_outboard.star", Run: "a_outboard-d0b2", Command: "thole run a_outboard.star --set area_now=800", Version: "0.1", Source: sweepSource,
		Subject: "Otters, 4x (invented)",
		Title:   "How long an outboard for the Otter quad, and on which blade?",
		Answer:  "An outboard of 199 cm on the 42 cm by 860 cm² blade: 5.037 m/s against 5.018 m/s today, and no heavier.",
		Params:  []document.Param{{Name: "area_now", Unit: "cm²", Value: "800", Written: "820", Set: true, Help: "blade the crew rows today"}},
		Blocks: []document.Block{
			&document.Figure{Kind: figure.Lines, Name: "outboard", Table: t, X: "outboard", Y: []string{"speed", "heaviness"}, By: "area", Panel: "blade_length",
				Guides:   []document.Guide{{Axis: "x", At: 201.5, Label: "today"}, {Axis: "heaviness", At: 177, Label: "today's load"}},
				Sentence: "Speed from 4.995 m/s (outboard 192, blade_length 46, area 780) to 5.047 m/s (206, 42, 860); heaviness from 166 to 183 N·s/m. Both rise with outboard all the way."},
			&document.Shown{Name: "best outboard for each blade", Table: best},
			&document.Note{Markdown: "## What it costs in the hands\nFrom the lightest to the heaviest oar of the table the drive takes from 0.77 s to 0.84 s; today 0.81 s, a change of -0.03 s.\n\n- first *one* thing\n- then the **other**\n\n| blade | note |\n|---|---|\n| 42 cm | short |"},
			&document.Figure{Kind: figure.Heat, Name: "load", Table: heat, X: "outboard", Y: []string{"wind"}, Z: "heaviness", Caption: "Load over outboard and wind"},
			&document.Shown{Name: "race", Line: "6:58.3"},
		},
		Cautions:    []document.Caution{{Text: "Outboards 192, 193, 206 make sculls outside the usual 281 to 293 cm."}, {Text: "Speeds nearer than 0.5 % (here 0.025 m/s) lie within what the model may be wrong by."}},
		Assumptions: assumptions(),
		Computed:    "Each point is a steady stroke of the model at 360 W and 36 a minute.",
	}
}

// comparisonDoc has the tape, key numbers, whiskers, swings, energy and curves.
func comparisonDoc() *document.Document {
	swing := tableOf(texts("input", "new_grip", "drag", "bury", "power"),
		&table.Column{Name: "low", Nums: []float64{.9, 1.2, 3, 364}, Places: []int{2, 2, 0, 0}, Units: []string{"", "", "deg", "W"}},
		&table.Column{Name: "high", Nums: []float64{1.1, 2.1, 10, 396}, Places: []int{2, 2, 0, 0}, Units: []string{"", "", "deg", "W"}},
		numbers("at_low", "cm", 2.9, 5.8, 6.3, 6.55), numbers("at_high", "cm", 8.7, 6.7, 6.9, 6.62), numbers("swing", "cm", 5.8, .9, .6, .07),
		&table.Column{Name: "flips_at", Nums: []float64{.76, math.NaN(), math.NaN(), math.NaN()}, Places: []int{2, 2, 0, 0}})
	curves := tableOf(texts("case"), numbers("angle", "deg"), numbers("handle_force", "N"), numbers("handle_speed", "m/s"))
	for k, name := range []string{"now", "broad", "early style"} {
		for a := -63.; a <= 43; a += .5 {
			u := (a + 63) / 106
			force := 690 * math.Pow(math.Sin(math.Pi*math.Pow(u, .8)), .9) * (1 + .01*float64(k))
			speed := 2.4 * math.Pow(math.Sin(math.Pi*(.1+.83*u)), .7) * (1 + .008*float64(k)*math.Sin(4*u))
			curves.Columns[0].Texts = append(curves.Columns[0].Texts, name)
			for c, v := range []float64{a, force, speed} {
				curves.Columns[c+1].Nums = append(curves.Columns[c+1].Nums, v)
			}
		}
	}
	energy := tableOf(texts("item", "handle", "moving the body", "hull in the water", "hull and crew in the air", "lost at the blade", "swing of the oar"),
		texts("side", "what the rower puts in", "what the rower puts in", "where it goes", "where it goes", "where it goes", "where it goes"),
		numbers("now", "J", 604.1, 109.1, 460.2, 59.1, 157.1, 5.9), numbers("broad", "J", 602.3, 110.2, 468.2, 59.2, 145.1, 5.8))
	bands := tableOf(numbers("outboard", "cm"), &table.Column{Name: "speed", Unit: "m/s", Digits: 3, Kind: table.Measured})
	for o := 190.; o <= 202; o += 2 {
		v := 4.2 + .004*(o-190)
		bands.Columns[0].Nums = append(bands.Columns[0].Nums, o)
		bands.Columns[1].Estimates = append(bands.Columns[1].Estimates, &table.Estimate{Value: v, Low: v - .02 - .001*(o-190), High: v + .015, Unit: "m/s", Digits: 3})
	}
	five := tableOf(numbers("rate", "1/min"), texts("crew"), numbers("speed", "m/s"))
	for k, crew := range []string{"Otters", "Herons", "Teal", "Grebes", "Coots"} {
		for r := 24.; r <= 36; r += 2 {
			five.Columns[0].Nums = append(five.Columns[0].Nums, r)
			five.Columns[1].Texts = append(five.Columns[1].Texts, crew)
			five.Columns[2].Nums = append(five.Columns[2].Nums, 4+.03*(r-24)+.12*float64(k)+.01*float64(k*k))
		}
	}
	return &document.Document{
		Study: "b_equal_load.star", Run: "b_equal_load-7c1e", Command: "thole run b_equal_load.star", Version: "0.1",
		Source:  "title(\"How much shorter with the short, broad blade?\")\nnow = oar(length=288, inboard=88, blade=\"scull hatchet\")\n",
		Subject: "single “Teal” (invented)",
		Title:   "How much shorter with the short, broad blade?",
		Answer:  "For the same load the outboard changes by -6.6 cm (95 % -7.2 to -6.2): holds: less; the speed by +0.039 m/s: holds: more.",
		Blocks: []document.Block{
			&document.Shown{Name: "now and broad", Table: comparisonTable(true), Head: "now -> broad", Side: "middle of 200 draws; changes pair by pair, 95 %", Foot: []string{"unchanged: rate 32.0 1/min, catch 63.0, finish 43.0 deg, power 380 W"}},
			&document.Figure{Kind: figure.Curves, Name: "curves", Table: curves, X: "angle", Y: []string{"handle_force", "handle_speed"}, Caption: "The two oars of equal load move the hands alike"},
			&document.Figure{Kind: figure.Bars, Name: "energy", Table: energy, Caption: "The energy of one stroke"},
			&document.Figure{Kind: figure.Lines, Name: "band", Table: bands, X: "outboard", Y: []string{"speed"}},
			&document.Figure{Kind: figure.Lines, Name: "crews", Table: five, X: "rate", Y: []string{"speed"}, By: "crew"},
			&document.Figure{Kind: figure.Whisker, Name: "how sure", Table: comparisonTable(true), Worthwhile: .3},
			&document.Figure{Kind: figure.Swing, Name: "what moves the answer", Table: swing, Y: []string{"shorter"}, Guides: []document.Guide{{Axis: "x", At: 6.6, Label: "base 6.6"}}},
			&document.Figure{Kind: figure.Pieces, Name: "pairs", Table: piecesTable(), Guides: []document.Guide{{Axis: "change", At: 0, Label: "no difference"}, {Axis: "change", At: .3, Label: "worth it"}, {Axis: "change", At: -.3, Label: "worth it"}}},
		},
		Assumptions: assumptions(),
	}
}

func piecesTable() *table.Table {
	change := numbers("change", "%", .54, .8, .8, -.62, .67)
	change.Signed, change.Digits = true, 2
	return tableOf(texts("what", "pair 1", "pair 2", "pair 3", "pair 4", "difference"), change,
		&table.Column{Name: "interval", Kind: table.Measured, Estimates: []*table.Estimate{nil, nil, nil, nil, {Value: .67, Low: .5, High: .83, Unit: "%", Digits: 2, Signed: true}}},
		texts("odd", "", "", "", "odd", ""))
}

// strokeFrames swings an oar by a smooth curve: frames with the right shape.
func strokeFrames(name string, outboard, finish float64, ref bool) document.Motion {
	m := document.Motion{Name: name, Step: .0125, Drive: .9, InBoard: 84, ToCentre: outboard - 23, BladeLength: 46, Reference: ref}
	n := int(math.Round(1.875/m.Step)) + 1
	x := 0.
	for i := range n {
		t := float64(i) * m.Step
		speed := 3.9 + .9*math.Sin(math.Pi*math.Min(t/.9, 1))
		a, hands, force := 0., 0., 0.
		if t <= .9 {
			u := t / .9
			a = -63 + (63+finish)*(u-math.Sin(2*math.Pi*u)/(2*math.Pi)*.6)
			hands = 2.4 * math.Sin(math.Pi*math.Pow(u, .9))
			force = 640 * math.Sin(math.Pi*math.Pow(u, .75))
		} else {
			u := (t - .9) / (1.875 - .9)
			a = finish - (63+finish)*(u-math.Sin(2*math.Pi*u)/(2*math.Pi))
			hands = -1.5 * math.Sin(math.Pi*u)
		}
		m.Hull, m.HullSpeed = append(m.Hull, x), append(m.HullSpeed, speed)
		m.Angle, m.HandleForce, m.HandleSpeed = append(m.Angle, a), append(m.HandleForce, math.Max(0, force)), append(m.HandleSpeed, hands)
		m.Slip = append(m.Slip, .6*math.Sin(math.Pi*t/.9))
		x += speed * m.Step * 100
	}
	return m
}

// oarPlaces are an oar's places in the water's frame, cm: handle, pin, neck, centre
// and tip.
type oarPlaces struct{ hx, hy, px, nx, ny, cx, cy, tx, ty, sin, cos float64 }

func oarAt(m *document.Motion, i int) (o oarPlaces) {
	o.sin, o.cos = math.Sincos(m.Angle[i] * math.Pi / 180)
	on := func(r float64) (float64, float64) { return m.Hull[i] - r*o.sin, r * o.cos }
	o.px = m.Hull[i]
	o.hx, o.hy = on(-m.InBoard)
	o.nx, o.ny = on(m.ToCentre - m.BladeLength/2)
	o.cx, o.cy = on(m.ToCentre)
	o.tx, o.ty = on(m.ToCentre + m.BladeLength/2)
	return o
}

func pathOf(m document.Motion, ref bool) document.Path {
	q := document.Path{Name: m.Name, Reference: ref}
	steps := m.DriveFrame()
	for i := 0; i <= steps; i++ {
		o := oarAt(&m, i)
		q.FineX, q.FineY, q.FineAngle = append(q.FineX, o.cx), append(q.FineY, o.cy), append(q.FineAngle, m.Angle[i])
	}
	for k := range 12 {
		i := int(math.Round(float64(k) * float64(steps) / 11))
		o := oarAt(&m, i)
		q.Time, q.Angle = append(q.Time, float64(i)*m.Step), append(q.Angle, m.Angle[i])
		q.TipX, q.TipY, q.CentreX, q.CentreY = append(q.TipX, o.tx), append(q.TipY, o.ty), append(q.CentreX, o.cx), append(q.CentreY, o.cy)
		q.NeckX, q.NeckY, q.HandleX, q.HandleY, q.PinX = append(q.NeckX, o.nx), append(q.NeckY, o.ny), append(q.HandleX, o.hx), append(q.HandleY, o.hy), append(q.PinX, o.px)
	}
	return q
}

// pathDoc is the page of a blade's path, with the moving picture.
func pathDoc() *document.Document {
	real, perfect := strokeFrames("as rowed", 200, 43, false), strokeFrames("perfect grip", 178, 40, true)
	further := perfect
	further.Hull = append([]float64(nil), perfect.Hull...)
	for i := range further.Hull {
		further.Hull[i] *= 1.14
	}
	further.ToCentre = real.ToCentre
	return &document.Document{
		Study: "c_perfect_path.md", Run: "c_perfect_path-11aa", Command: "thole run c_perfect_path.md", Source: "# How far is a blade from a perfect grip?\n",
		Title:  "How far is a blade from a perfect grip?",
		Answer: "The blade slips 55 cm in a drive; one that did not would be rowed 22.0 cm shorter for the same load.",
		Blocks: []document.Block{
			&document.Note{Markdown: "# How far is a blade from a perfect grip?\n\nA blade that does not slip would follow one fixed curve, whatever the boat's speed.\nA real one is pushed sternward while it is loaded.\n\n## Twelve moments, equally far apart\n\nThe marks below are equally far apart in time. The real oar needs 0.90 s."},
			&document.Figure{Kind: figure.Paths, Name: "paths", Paths: []document.Path{pathOf(real, false), pathOf(further, true)}, Caption: "The middle of the blade in the water, standing still while the boat passes"},
			&document.Note{Markdown: "## The same load, without slip"},
			&document.Figure{Kind: figure.Moving, Name: "moving", Motion: []document.Motion{real, perfect}},
		},
		Cautions:    []document.Caution{{Text: "A yardstick, not a blade: no blade grips perfectly."}},
		Assumptions: assumptions(),
	}
}

func exploreBlock() *document.Explore {
	e := &document.Explore{
		Axes:   []document.Axis{{Name: "length", Unit: "cm", Digits: 1, Values: []float64{278, 280, 282, 284, 286, 288, 290, 292, 294}}, {Name: "inboard", Unit: "cm", Digits: 1, Values: []float64{86, 87, 88, 89, 90}}, {Name: "wind", Unit: "m/s", Digits: 1, Values: []float64{-4, -2, 0, 2, 4}}},
		Fields: []document.Field{{Name: "speed", Unit: "m/s", Digits: 3, Change: 3, Clock: false}, {Name: "heaviness", Unit: "N·s/m", Digits: 0, Change: 1, Clock: false}, {Name: "split", Unit: "s/500 m", Digits: 1, Change: 2, Clock: true}, {Name: "catch", Unit: "deg", Digits: 1, Change: 1, Clock: false}, {Name: "rhythm", Unit: "", Digits: 2, Change: 3, Clock: false}},
		Base:   []int{4, 2, 2},
	}
	for _, l := range e.Axes[0].Values {
		for _, in := range e.Axes[1].Values {
			for _, w := range e.Axes[2].Values {
				speed := 3.68 + .0006*(l-286) - .008*(in-88) - .09*w - .01*w*w
				s := []float64{speed, 203 + 1.2*(l-286) - 4.6*(in-88) + 5*w, 500 / speed, 60 - 1.2*(in-88), .95 + .004*(l-286)}
				why := ""
				if l > 292 && w > 2 {
					s = []float64{math.NaN(), math.NaN(), math.NaN(), math.NaN(), math.NaN()}
					why = "at this length into this wind the drive would outlast the stroke"
				}
				e.States, e.Reasons = append(e.States, s), append(e.Reasons, why)
			}
		}
	}
	return e
}

// rigFigure is an oar on its pin as the picture beside a question takes it.
func rigFigure(length, inboard float64) *document.Figure {
	return &document.Figure{Kind: figure.Rig, Rigs: []document.Rigged{{Inboard: inboard, Outboard: length - inboard, BladeLength: 46, Catch: 60, Finish: 42}}}
}

// lessonDoc is a lesson: questions, figures that wait, sliders, moving picture.
func lessonDoc() *document.Document {
	curves := tableOf(texts("case"), numbers("angle", "deg"), numbers("handle_speed", "m/s"))
	for k, name := range []string{"286 / 88", "292 / 88", "286 / 90"} {
		for a := -60.; a <= 42; a++ {
			curves.Columns[0].Texts = append(curves.Columns[0].Texts, name)
			curves.Columns[1].Nums = append(curves.Columns[1].Nums, a)
			curves.Columns[2].Nums = append(curves.Columns[2].Nums, 2*math.Sin(math.Pi*(a+62)/106)*(1-.02*float64(k)))
		}
	}
	few, _ := comparisonTable(false).Where(func(i int) (bool, error) { return i < 5, nil })
	return &document.Document{
		Study: "e_lesson.star", Run: "e_lesson-33f0", Command: "thole run e_lesson.star", Source: "title(\"What does a longer oar change, and what not?\")\n",
		Title:  "What does a longer oar change, and what not?",
		Answer: "A longer oar is heavier and leaves the arc alone; a longer inboard is lighter and shortens the arc.",
		Blocks: []document.Block{
			&document.Note{Markdown: "## The lever\nThe blade's end is 2.25 times as long as the hand's end. Now the oar gets six centimetres longer."},
			&document.Ask{Question: "How does the arc change?", Choices: []string{"longer", "the same", "shorter"}, Answer: "the same", Because: "The hands set the arc: 102.0 deg before, 102.0 deg after. The outboard has no say.",
				Before: rigFigure(286, 88), After: rigFigure(292, 88), About: "arc"},
			&document.Shown{Table: few, Head: "286 / 88 -> 292 / 88"},
			&document.Note{Markdown: "## Heavy and light"},
			&document.Ask{Question: "At the same handle power and rate: does the mean force on the handle rise?", Choices: []string{"yes", "no"}, Answer: "no", Because: "The same work over the same arc is the same mean force: 315 N and 316 N. The hands move slower against it."},
			&document.Ask{Question: "By how many per cent is the longer oar heavier, as force for each m/s of the hands?", Number: 3.8, Answer: "3.8", Tolerance: 1, Unit: "%", Because: "From 203 N·s/m to 210 N·s/m."},
			&document.Figure{Kind: figure.Curves, Name: "hands", Table: curves, X: "angle", Y: []string{"handle_speed"}},
			&document.Note{Markdown: "## Try it"},
			exploreBlock(),
			&document.Figure{Kind: figure.Moving, Motion: []document.Motion{strokeFrames("286 / 88", 198, 42, false), strokeFrames("292 / 88", 204, 42, false)}},
			&document.Note{Markdown: "## For the teacher\nAsk for hands first. Let them guess before anybody reveals.\n\n1. Screen 1: two minutes.\n2. Screen 2: five minutes."},
		},
		Cautions:    []document.Caution{{Text: "Heavier means slower and more load held for longer: 0.98 s against 0.96 s a stroke. With novices, lighter first."}},
		Assumptions: assumptions(),
	}
}

func cardDoc() *document.Document {
	d := &document.Document{Study: "d_season.star", Run: "d_season-9c02", Title: "Which oars go to which crew this season?", Answer: "3 crews have oars. Without oars: Coots.", Command: "thole run d_season.star"}
	d.Blocks = append(d.Blocks, &document.Shown{Name: "allocation", Table: tableOf(texts("crew", "Otters", "Herons", "Teal"), texts("set", "A", "C", "B"), numbers("off", "N·s/m", 1, 3, 2), texts("reason", "", "", ""))}, &document.Note{Markdown: "## Cards for the trailer"})
	for k, crew := range []string{"Otters", "Herons", "Teal"} {
		seats := []string{"1 bow", "2", "3", "4 stroke"}
		if k == 2 {
			seats = []string{"1 bow", "2 stroke"}
		}
		d.Blocks = append(d.Blocks, &document.RigCard{Title: crew + ", 4x, set " + string(rune('A'+k)), Side: "Rigging card",
			Rows: []document.Item{{Label: "oar", Value: "length 289.0   inboard 87.5   outboard 201.5", Unit: "cm"}, {Label: "blade", Value: "scull hatchet, 820 cm², 46 cm long"}, {Label: "rig", Value: "span 158.0 cm, overlap 21.0 with gates, 17.0 pin to pin"},
				{Label: "ratios", Value: "lever 2.30, spread 2.55, survey 2.62, effective 2.11"}, {Label: "angles", Value: "catch 62, finish 43, arc 105 deg", Remark: "usual for sculls, not measured"}, {Label: "rowed", Value: "36/min, 360 W each: 5.013 m/s, 1:39.7 /500 m, drive 0.81 s"}, {Label: "note", Value: "Set A. Heaviness 177 N·s/m, last year 176 N·s/m."}},
			Seats: seats, Columns: []document.Item{{Label: "span", Value: "158.0", Unit: "cm"}, {Label: "inboard", Value: "87.5", Unit: "cm"}, {Label: "length", Value: "289.0", Unit: "cm"}, {Label: "height"}, {Label: "pitch"}, {Label: "through"}, {Label: "by"}},
			Foot: []string{"Write in what you find; height and pitch were not given.", "One change at a time; then overlap, height and pitch once more. Bolts, gates."}})
	}
	return d
}

// hostileDoc tries to break out of every place a text can stand in.
func hostileDoc() *document.Document {
	bad := `</script><script>alert(1)</script><img src=x onerror="alert(2)">` + "\x00\x07" + `"'><svg onload=alert(3)>`
	t := tableOf(texts(bad, bad, "=1+1"), numbers("x", bad, 1, 2), numbers("y", "m", 3, 4))
	return &document.Document{
		Study: bad, Run: bad, Command: bad, Version: bad, Source: bad + "\n</code></pre></details>", Subject: bad, Title: bad, Answer: bad + " 5 cm",
		Params: []document.Param{{Name: bad, Value: bad, Written: bad + "1", Set: true, Unit: bad}},
		Blocks: []document.Block{
			&document.Note{Markdown: bad + "\n\n[go](javascript:alert(4)) <javascript:alert(5)> ![p](http://example.com/p.png) [x](http://example.com \"t\")\n\n<div onclick=alert(6)>block</div>\n\n## " + bad},
			&document.Ask{Question: bad, Choices: []string{bad, "b"}, Answer: bad, Because: bad},
			&document.Ask{Question: bad, Number: 2, Unit: bad, Because: bad},
			&document.Shown{Name: bad, Table: t, Head: bad, Side: bad, Foot: []string{bad}},
			&document.Shown{Card: &document.Card{Title: bad, Side: bad, Items: []document.Item{{Label: bad, Value: bad, Unit: bad, Remark: bad}}, Foot: []string{bad}}},
			&document.Shown{Name: bad, Line: bad},
			&document.Figure{Kind: figure.Lines, Name: bad, Caption: bad, Sentence: bad, Table: t, X: "x", Y: []string{"y"}, By: bad, Guides: []document.Guide{{Axis: "x", At: 1.5, Label: bad}}},
			&document.Figure{Kind: figure.Moving, Caption: bad, Motion: []document.Motion{strokeFrames(bad, 200, 43, false)}},
			&document.Explore{Axes: []document.Axis{{Name: bad, Unit: bad, Texts: []string{bad, "b"}}}, Fields: []document.Field{{Name: bad, Unit: bad, Digits: 1, Change: 1}}, States: [][]float64{{1}, {math.NaN()}}, Reasons: []string{"", bad}, Base: []int{0}},
			&document.RigCard{Title: bad, Side: bad, Rows: []document.Item{{Label: bad, Value: bad, Unit: bad, Remark: bad}}, Seats: []string{bad}, Columns: []document.Item{{Label: bad, Value: bad}}, Foot: []string{bad}},
		},
		Cautions:    []document.Caution{{Text: bad}},
		Assumptions: []document.Assumption{{What: bad, Value: bad, Unit: bad, Source: bad}},
	}
}

// emptyDoc has figures and tables with nothing in them.
func emptyDoc() *document.Document {
	none := tableOf(numbers("outboard", "cm"), numbers("speed", "m/s"))
	blank := tableOf(numbers("outboard", "cm", 1, 2), numbers("speed", "m/s", math.NaN(), math.NaN()))
	return &document.Document{Title: "What is left when nothing is left?", Blocks: []document.Block{
		&document.Shown{Name: "left over", Table: none},
		&document.Figure{Kind: figure.Lines, Name: "none", Table: none, X: "outboard", Y: []string{"speed"}},
		&document.Figure{Kind: figure.Lines, Name: "blank", Table: blank, X: "outboard", Y: []string{"speed"}},
		&document.Figure{Kind: figure.Lines, Name: "lost", Table: blank, X: "inboard", Y: []string{"speed"}},
		&document.Figure{Kind: figure.Paths, Name: "no path"}, &document.Figure{Kind: figure.Moving, Name: "still"}, &document.Explore{},
	}}
}

func allDocs() map[string]*document.Document {
	return map[string]*document.Document{"sweep": sweepDoc(), "comparison": comparisonDoc(), "path": pathDoc(), "lesson": lessonDoc(), "card": cardDoc(), "hostile": hostileDoc(), "empty": emptyDoc(), "explore": exploreDoc()}
}

// exploreDoc has sliders on a sheet that is no lesson, one axis of names.
func exploreDoc() *document.Document {
	e := &document.Explore{Axes: []document.Axis{{Name: "blade", Texts: []string{"hatchet", "tulip", "perfect"}}, {Name: "wind", Unit: "m/s", Values: []float64{0, 2, 5}}}, Fields: []document.Field{{Name: "speed", Unit: "m/s", Digits: 3, Change: 3, Clock: false}}, Base: []int{0, 0}}
	for k := range 9 {
		e.States, e.Reasons = append(e.States, []float64{5 - .1*float64(k)}), append(e.Reasons, "")
	}
	return &document.Document{Study: "try.star", Title: "Which blade into the wind?", Answer: "That depends.", Blocks: []document.Block{e, &document.Note{Markdown: "Words."}, exploreBlock()}, Assumptions: assumptions(), Command: "thole run try.star"}
}
