package weighing

import (
	"math"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/equalload"
	"thole/engine/fluid"
	"thole/engine/forms"
	"thole/engine/hull"
	"thole/engine/oar"
	"thole/engine/stroke"
)

// plainSingle is the boat that the sizes were computed on by an independent program: a
// single under the plain law, 84 kg, 380 W, 32/min, 288/88.
func plainSingle(t testing.TB) stroke.Problem {
	t.Helper()
	h, err := hull.New("1x")
	if err != nil {
		t.Fatal(err)
	}
	h.AirArea, h.WaveFactor = 0.62, 0.065
	b, err := blade.New("scull hatchet")
	if err != nil {
		t.Fatal(err)
	}
	return stroke.Problem{Hull: h, OarsPerRower: 2, Rate: 32, Water: fluid.FreshWater(15), Air: fluid.StandardAir(),
		Target: math.NaN(), Seats: []stroke.Seat{{Count: 1, Rower: crew.New(84, 380), Oar: oar.New(2.88, 0.88, b),
			Catch: 62 * math.Pi / 180, Finish: 43 * math.Pi / 180}}}
}

func row(p stroke.Problem) (*stroke.Stroke, error) { return stroke.Row(p, stroke.Settings{}) }

func rowed(t testing.TB, p stroke.Problem) *stroke.Stroke {
	t.Helper()
	s, err := row(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// cut is the question of the sizes: blades of 900 cm² that hold 3 % more, on the oar of
// equal drive time at the same speed. It gives the cut too, cm.
func cut(t testing.TB, set forms.Set, change func(*stroke.Problem)) (Pair, float64) {
	t.Helper()
	p := plainSingle(t)
	change(&p)
	before := rowed(t, set.Apply(p))
	p.Seats = append([]stroke.Seat(nil), p.Seats...)
	o := &p.Seats[0].Oar
	o.Blade.Area, o.Blade.Grip = 0.09, 1.03
	inForce := set.Apply(p).Seats[0].Oar
	got, err := equalload.Find(before, equalload.Question{Oars: []oar.Oar{inForce}, At: stroke.Speed}, stroke.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	was := o.Length
	o.Length = got.Seats[0].Oar.Length
	return Pair{before, rowed(t, set.Apply(p))}, 100 * (o.Length - was)
}

func percent(p Pair) float64 { return 100 * (p.After.Speed/p.Before.Speed - 1) }

// The sizes of the equal-load cut by an independent program, to the digit it printed
// (half of the last one: 0.005 of the speed, 0.005 cm, and what rounding leaves).
func TestSizesOfTheCut(t *testing.T) {
	as := func(*stroke.Problem) {}
	travel := func(x float64) func(*stroke.Problem) {
		return func(p *stroke.Problem) { p.Seats[0].Rower.BodyTravel = x }
	}
	sizes := []struct {
		form   string
		change func(*stroke.Problem)
		speed  float64 // % at the same power
		cut    float64 // cm, NaN: not told
	}{
		{"", as, 0.431, -2.51},
		{"force across the shaft alone (crossflow)", as, 0.452, -2.75},
		{"no water carried along", as, 0.426, math.NaN()},
		{"all of the deep water carried along", as, 0.442, math.NaN()},
		{"a blade's drag without a surface", as, 0.636, -3.42},
		{"hands that tire early", as, 0.436, math.NaN()},
		{"hands that keep their pull", as, 0.425, math.NaN()},
		{"a pull that no speed lessens", as, 0.420, math.NaN()},
		{"", travel(0.45), 0.428, math.NaN()},
		{"", travel(0.65), 0.435, math.NaN()},
		{"a pull that peaks early", as, 0.522, math.NaN()},
		{"an even pull", as, 0.375, math.NaN()},
		{"a pull that peaks late", as, 0.370, math.NaN()},
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range sizes {
		var set forms.Set
		if s.form != "" {
			f, ok := forms.Find(s.form)
			if !ok {
				t.Fatalf("no form is called %q", s.form)
			}
			set = forms.Set{f}
		}
		p, by := cut(t, set, s.change)
		if got := percent(p); math.Abs(got-s.speed) > 0.005 {
			t.Errorf("%s: speed %+.3f %%, expected %+.3f", set.Name(), got, s.speed)
		}
		if !math.IsNaN(s.cut) && math.Abs(by-s.cut) > 0.0051 {
			t.Errorf("%s: %+.3f cm, expected %+.2f", set.Name(), by, s.cut)
		}
		held, err := p.At(stroke.Effort, row)
		if err != nil {
			t.Fatal(err)
		}
		low, high = min(low, percent(held)), max(high, percent(held))
	}
	if math.Abs(low-0.356) > 0.005 || math.Abs(high-0.608) > 0.005 {
		t.Errorf("at the same effort %+.3f to %+.3f %%, expected +0.356 to +0.608", low, high)
	}
}

// weighed weighs two problems under every form and hold.
func weighed(t testing.TB, before, after stroke.Problem) *Weighed {
	t.Helper()
	q := &Question{Row: row, Worthwhile: 0.3, Forms: true, Holds: true}
	w := q.Begin(Pair{rowed(t, before), rowed(t, after)}, [2]string{"before", "after"})
	for _, f := range forms.All() {
		set := forms.Set{f}
		if Leaves(set, before, after) {
			continue
		}
		if AsksAway(set, before, after) {
			w.Add(FormOf, f.Name, set, Pair{}, ErrAskedAway)
			continue
		}
		a, err := row(set.Apply(before))
		if err != nil {
			w.Add(FormOf, f.Name, set, Pair{}, err)
			continue
		}
		b, err := row(set.Apply(after))
		w.Add(FormOf, f.Name, set, Pair{a, b}, err)
		if err == nil {
			q.AddByHold(w, set, Pair{a, b})
		}
	}
	q.AddHolds(w)
	return w
}

// Two centimetres of length: too small at the same power, +0.024 to +0.307 % at the same
// effort over the forms by the independent program; so it depends on the hold.
func TestTwoCentimetresDependOnTheHold(t *testing.T) {
	before := plainSingle(t)
	after := plainSingle(t)
	after.Seats[0].Oar.Length += 0.02
	w := weighed(t, before, after)
	k := w.Index("speed")
	if x := w.Tries[0].Change[k]; math.Abs(x-0.075) > 0.005 {
		t.Errorf("at the same power %+.3f %%, expected +0.075", x)
	}
	low, high := w.FormsAt(k, "effort")
	if math.Abs(low-0.024) > 0.005 || math.Abs(high-0.307) > 0.005 {
		t.Errorf("at the same effort %+.3f to %+.3f %%, expected +0.024 to +0.307", low, high)
	}
	if v := w.Verdict(k); len(v) < 19 || v[:19] != "depends on the hold" {
		t.Errorf("the verdict is %q", v)
	}
}

// Seconds over 2000 m by the independent program at the same power, handle power and
// effort, to its last digit.
func TestSecondsAtEveryHold(t *testing.T) {
	rows := []struct {
		name                  string
		change                func(*stroke.Problem)
		power, handle, effort float64
	}{
		{"two centimetres of outboard", func(p *stroke.Problem) { p.Seats[0].Oar.Length += 0.02 }, -0.35, -0.13, -1.14},
		{"catch 3 deg further", func(p *stroke.Problem) { p.Seats[0].Catch += 3 * math.Pi / 180 }, -0.70, 0.24, -4.50},
		{"rate 36", func(p *stroke.Problem) { p.Rate = 36 }, -0.80, -1.99, -17.6},
		{"55 mm shaft", func(p *stroke.Problem) { p.Seats[0].Oar = p.Seats[0].Oar.WithStiffness(0.055) }, 0.11, 0.51, -2.53},
		{"area 10 % larger", func(p *stroke.Problem) { p.Seats[0].Oar.Blade.Area *= 1.1 }, -1.94, -1.93, -2.75},
		{"five kilograms more", func(p *stroke.Problem) {
			p.Seats[0].Rower = crew.New(89, 380)
		}, 4.20, 3.25, 2.36},
	}
	seconds := func(p Pair) float64 { return p.After.Over(2000) - p.Before.Over(2000) }
	for _, r := range rows {
		before, after := plainSingle(t), plainSingle(t)
		r.change(&after)
		p := Pair{rowed(t, before), rowed(t, after)}
		for i, h := range []stroke.Hold{stroke.Power, stroke.HandlePower, stroke.Effort} {
			want := []float64{r.power, r.handle, r.effort}[i]
			held, err := p.At(h, row)
			if err != nil {
				t.Fatal(err)
			}
			digit := 0.01
			if math.Abs(want) > 10 {
				digit = 0.1
			}
			if got := seconds(held); math.Abs(got-want) > digit*0.51 {
				t.Errorf("%s %s: %+.3f s, expected %+.2f", r.name, HoldWords(h), got, want)
			}
		}
	}
}

// A question of style cannot be asked with a form of style, nor a question of power at
// the same power: both are told.
func TestWhatAsksAway(t *testing.T) {
	before, after := plainSingle(t), plainSingle(t)
	late, err := crew.Named("late")
	if err != nil {
		t.Fatal(err)
	}
	after.Seats[0].Rower.Style = late
	w := weighed(t, before, after)
	told := 0
	for _, x := range w.Tries {
		if x.Set != nil && x.Set[0].Axis == forms.Style && x.Why != "" {
			told++
		}
	}
	if told != 3 {
		t.Errorf("%d of 3 styles are told to ask the style away", told)
	}
	after = plainSingle(t)
	after.Seats[0].Rower.Power = 400
	p := Pair{rowed(t, before), rowed(t, after)}
	if _, err := p.At(stroke.Power, row); err == nil {
		t.Error("more power was weighed at the same power")
	}
}
