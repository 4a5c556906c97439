package equalload

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"thole/engine/blade"
	"thole/engine/crew"
	"thole/engine/oar"
	"thole/engine/stroke"
	"thole/engine/stroke/problem/problemtest"
)

func rowed(t testing.TB, p stroke.Problem) *stroke.Stroke {
	t.Helper()
	s, err := stroke.Row(p, stroke.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// area makes the oar's blade larger by a share.
func area(o oar.Oar, share float64) oar.Oar {
	o.Blade.Area *= 1 + share
	return o
}

// The lengths computed when the model was made (derived): same speed, angles and drive time, to
// be met to 0.05 cm.
func TestEqualLoadLengthsOfTheFacts(t *testing.T) {
	changes := []struct {
		name string
		make func(o oar.Oar) oar.Oar
	}{
		{"area +10 %", func(o oar.Oar) oar.Oar { return area(o, 0.10) }},
		{"10 cm shorter, area +13 %", func(o oar.Oar) oar.Oar {
			o.Blade.Length -= 0.10
			return area(o, 0.13)
		}},
		{"6 cm shorter, area +5 %, grip 1.1", func(o oar.Oar) oar.Oar {
			o.Blade.Length -= 0.06
			o.Blade.Grip = 1.1
			return area(o, 0.05)
		}},
	}
	boats := []struct {
		p    stroke.Problem
		want [3]float64 // cm of outboard
	}{
		{problemtest.FactsSingle(t), [3]float64{-2.11, -7.26, -5.83}},
		{problemtest.Loaded(t, "2-", "sweep hatchet", 3.73, 1.165, 5.1, 36, 55, 34), [3]float64{-2.68, -7.86, -6.61}},
		{problemtest.Loaded(t, "8+", "sweep hatchet", 3.76, 1.145, 5.9, 38, 55, 34), [3]float64{-2.15, -7.15, -5.86}},
	}
	for _, b := range boats {
		s := rowed(t, b.p)
		old := b.p.Seats[0].Oar
		for i, c := range changes {
			got, err := Find(s, Question{Oars: []oar.Oar{c.make(old)}, At: stroke.Speed}, stroke.Settings{})
			if err != nil {
				t.Errorf("%s, %s: %v", b.p.Hull.Boat, c.name, err)
				continue
			}
			diff := 100 * (got.Seats[0].Oar.Outboard() - old.Outboard())
			t.Logf("%s, %s: %+.3f cm (facts %+.2f), %d strokes", b.p.Hull.Boat, c.name, diff, b.want[i], got.Strokes)
			if math.Abs(diff-b.want[i]) > 0.05 {
				t.Errorf("%s, %s: %+.3f cm, the facts say %+.2f", b.p.Hull.Boat, c.name, diff, b.want[i])
			}
		}
	}
}

// An oar matched against itself comes back to 0.01 mm, put back into Row it
// gives the matched quantity to 1e-6, whatever is matched, held and adjusted.
func TestEqualLoadAgainstItselfAndPutBack(t *testing.T) {
	for _, law := range []string{"plate", "crossflow", "drag 1.2"} {
		p := problemtest.FactsSingle(t)
		setLaw(&p, law)
		s := rowed(t, p)
		old := p.Seats[0].Oar
		for _, pair := range offered {
			for _, adjust := range []Adjust{Outboard, Inboard, Length} {
				what := fmt.Sprintf("%s: %s at %s by %s", law, pair.match, pair.at, adjust)
				e := Question{Oars: []oar.Oar{old}, Adjust: adjust, Match: pair.match, At: pair.at}
				same, err := Find(s, e, stroke.Settings{})
				if err != nil {
					t.Errorf("%s, itself: %v", what, err)
					continue
				}
				if d := adjust.Of(&same.Seats[0].Oar) - adjust.Of(&old); math.Abs(d) > 1e-5 {
					t.Errorf("%s: against itself it moved %.4f mm", what, 1000*d)
				}
				e.Oars = []oar.Oar{area(old, 0.10)}
				got, err := Find(s, e, stroke.Settings{})
				if err != nil {
					t.Errorf("%s: %v", what, err)
					continue
				}
				q := p
				q.Seats = append([]stroke.Seat(nil), p.Seats...)
				q.Seats[0].Oar = got.Seats[0].Oar
				q.Hold, q.Target = pair.at, heldIn(s, pair.at)
				back := rowed(t, q)
				if rel := pair.match.of(back, 0)/pair.match.of(s, 0) - 1; math.Abs(rel) > 1e-6 {
					t.Errorf("%s: put back, it misses by %.1e", what, rel)
				}
			}
		}
	}
}

// offered are the pairs that have an answer (model 8).
var offered = []struct {
	match Match
	at    stroke.Hold
}{
	{MatchDriveTime, stroke.Speed}, {MatchDriveTime, stroke.Power}, {MatchDriveTime, stroke.Effort},
	{MatchTravel, stroke.Speed}, {MatchTravel, stroke.Power}, {MatchTravel, stroke.Effort},
	{MatchHeaviness, stroke.Power}, {MatchHeaviness, stroke.Effort},
	{MatchEarlyLoad, stroke.Effort}, {MatchPeakForce, stroke.Effort},
}

func setLaw(p *stroke.Problem, law string) {
	p.Seats = append([]stroke.Seat(nil), p.Seats...)
	b := &p.Seats[0].Oar.Blade
	b.Law, b.Drag = blade.Plate, 2.07
	switch law {
	case "crossflow":
		b.Law = blade.Crossflow
	case "drag 1.2":
		b.Drag = 1.2
	}
}

func heldIn(s *stroke.Stroke, at stroke.Hold) float64 {
	for _, f := range stroke.Fields {
		if f.Name == at.String() {
			return f.Of(s)
		}
	}
	panic("no field " + at.String())
}

// A bigger blade takes a shorter oar, by every way that is offered, under every
// law (model 8, ranges of area +10 %); none is the window's edge.
func TestABiggerBladeTakesAShorterOar(t *testing.T) {
	sizes := map[Match]map[stroke.Hold][2]float64{ // cm of outboard (D)
		MatchDriveTime: {stroke.Speed: {-3.7, -1.9}, stroke.Power: {-2.1, -1.0}, stroke.Effort: {-2.1, -1.0}},
		MatchTravel:    {stroke.Speed: {-3.7, -1.9}, stroke.Power: {-3.4, -1.8}, stroke.Effort: {-3.4, -1.8}},
		MatchHeaviness: {stroke.Power: {-2.2, -1.2}, stroke.Effort: {-2.2, -1.2}},
		MatchEarlyLoad: {stroke.Effort: {-4.5, -2.1}},
		MatchPeakForce: {stroke.Effort: {-4.5, -2.1}},
	}
	for _, p := range factsBoats(t) {
		for _, law := range []string{"plate", "crossflow", "drag 1.2"} {
			setLaw(&p, law)
			s := rowed(t, p)
			old := p.Seats[0].Oar
			for _, pair := range offered {
				what := fmt.Sprintf("%s %s: %s at %s", p.Hull.Boat, law, pair.match, pair.at)
				got, err := Find(s, Question{Oars: []oar.Oar{area(old, 0.10)}, Match: pair.match, At: pair.at}, stroke.Settings{})
				if err != nil {
					t.Errorf("%s: %v", what, err)
					continue
				}
				if got.Strokes > 12 {
					t.Errorf("%s: %d strokes, under 12 is the aim", what, got.Strokes)
				}
				diff := 100 * (got.Seats[0].Oar.Outboard() - old.Outboard())
				want := sizes[pair.match][pair.at]
				t.Logf("%s: %+.2f cm, %d strokes", what, diff, got.Strokes)
				// the ranges are printed to 0.1 cm
				if diff < want[0]-0.05 || diff > want[1]+0.05 {
					t.Errorf("%s: %+.2f cm lies outside %+.1f to %+.1f", what, diff, want[0], want[1])
				}
			}
		}
	}
}

func TestEqualLoadRefusals(t *testing.T) {
	p := problemtest.FactsSingle(t)
	s := rowed(t, p)
	old := p.Seats[0].Oar
	for _, e := range []Question{
		{Match: MatchHeaviness, At: stroke.Speed}, {Match: MatchEarlyLoad, At: stroke.Speed}, {Match: MatchPeakForce, At: stroke.Speed},
		{Match: MatchEarlyLoad, At: stroke.Power}, {Match: MatchPeakForce, At: stroke.Power}, {At: stroke.Force}, {At: stroke.HandlePower},
	} {
		e.Oars = []oar.Oar{area(old, 0.1)}
		_, err := Find(s, e, stroke.Settings{})
		var f *stroke.Failure
		if !errors.As(err, &f) || f.Why == "" || f.Type == "" {
			t.Errorf("%s at %s: %v", e.Match, e.At, err)
		}
	}
	if _, err := Find(s, Question{At: stroke.Speed, Oars: []oar.Oar{old, old}}, stroke.Settings{}); err == nil {
		t.Error("two oars for one seat were taken")
	}
}

// A blade so large that no oar of the window is light enough: the message says
// what the window reaches.
func TestNoEqualOarInTheWindow(t *testing.T) {
	p := problemtest.FactsSingle(t)
	s := rowed(t, p)
	tiny := area(p.Seats[0].Oar, -0.75)
	_, err := Find(s, Question{Oars: []oar.Oar{tiny}, Adjust: Inboard, At: stroke.Speed}, stroke.Settings{})
	var f *stroke.Failure
	if !errors.As(err, &f) {
		t.Fatalf("got %v", err)
	}
	t.Logf("%s | %s | %s", f.What, f.Why, f.Type)
	if f.Cause != stroke.OutOfReach || !strings.Contains(f.What, "50 to 150 cm") || !strings.Contains(f.Why, "misses by") {
		t.Errorf("%s | %s", f.What, f.Why)
	}
}

// A crew so weak that its drive takes nearly all it may: with a bigger blade the
// old length has no stroke. The search begins nearby.
func TestTheOldLengthHasNoStroke(t *testing.T) {
	p := problemtest.FactsSingle(t)
	p.Hold, p.Rate = stroke.Power, 36
	big := area(p.Seats[0].Oar, 0.20)
	for p.Target = 500; p.Target > 50; p.Target -= 2 {
		q := p
		q.Seats = append([]stroke.Seat(nil), p.Seats...)
		q.Seats[0].Oar = big
		if _, err := stroke.Row(q, stroke.Settings{}); err != nil {
			break
		}
	}
	s := rowed(t, p)
	got, err := Find(s, Question{Oars: []oar.Oar{big}, At: stroke.Power}, stroke.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	m := got.Seats[0]
	t.Logf("%g W: drive %.3f of %.3f s; %+.2f cm", p.Target, s.Seats[0].DriveTime, p.Period(), 100*(m.Oar.Outboard()-big.Outboard()))
	if math.Abs(m.Got/m.Wanted-1) > 1e-6 || m.Oar.Outboard() >= big.Outboard() {
		t.Errorf("outboard %.1f cm, off by %.1e", 100*m.Oar.Outboard(), m.Got/m.Wanted-1)
	}
}

// Seat by seat: each keeps its own load at the shared speed; old oars come back.
func TestEqualLoadSeatBySeat(t *testing.T) {
	p := problemtest.Loaded(t, "4-", "sweep hatchet", 3.75, 1.155, 5.3, 36, 55, 34)
	p.Hold, p.Target = stroke.Power, math.NaN() // each their own
	one := p.Seats[0]
	p.Seats = nil
	for i, power := range []float64{400, 430, 460, 440} {
		seat := one
		seat.Count = 1
		seat.Rower = crew.New(84+3*float64(i), power)
		seat.Catch += 0.01 * float64(i)
		p.Seats = append(p.Seats, seat)
	}
	s := rowed(t, p)
	for _, at := range []stroke.Hold{stroke.Speed, stroke.Power, stroke.Effort} {
		same, err := Find(s, Question{Oars: []oar.Oar{one.Oar}, At: at}, stroke.Settings{})
		if err != nil {
			t.Fatalf("at %s: %v", at, err)
		}
		for i, m := range same.Seats {
			if d := m.Oar.Outboard() - one.Oar.Outboard(); math.Abs(d) > 1e-5 {
				t.Errorf("at %s: seat %d against itself moved %.4f mm", at, i+1, 1000*d)
			}
		}
		fresh := []oar.Oar{one.Oar, area(one.Oar, 0.1), area(one.Oar, 0.1), area(one.Oar, 0.05)}
		got, err := Find(s, Question{Oars: fresh, At: at}, stroke.Settings{})
		if err != nil {
			t.Fatalf("at %s: %v", at, err)
		}
		for i, m := range got.Seats {
			t.Logf("at %s: seat %d %+.2f cm (%d strokes)", at, i+1, 100*(m.Oar.Outboard()-one.Oar.Outboard()), got.Strokes)
			if rel := m.Got/m.Wanted - 1; math.Abs(rel) > 1e-6 {
				t.Errorf("at %s: seat %d misses by %.1e", at, i+1, rel)
			}
		}
		if a, b := got.Seats[1].Oar.Outboard(), got.Seats[3].Oar.Outboard(); a >= b || b >= one.Oar.Outboard() {
			t.Errorf("at %s: the bigger blade's oar should be the shortest: %.3f, %.3f", at, a, b)
		}
		if at == stroke.Power { // each their own power again: Row itself gives the matched loads
			q := p
			q.Seats = append([]stroke.Seat(nil), p.Seats...)
			for i := range q.Seats {
				q.Seats[i].Oar = got.Seats[i].Oar
			}
			back := rowed(t, q)
			for i := range q.Seats {
				if rel := back.Seats[i].DriveTime/s.Seats[i].DriveTime - 1; math.Abs(rel) > 1e-6 {
					t.Errorf("put back, seat %d misses by %.1e", i+1, rel)
				}
			}
		}
	}
}

// Where the hands keep their reach, a longer inboard shortens the arc.
func TestEqualLoadKeepsTheReach(t *testing.T) {
	p := problemtest.FactsSingle(t)
	s := rowed(t, p)
	old := p.Seats[0]
	for _, keep := range []bool{false, true} {
		got, err := Find(s, Question{Oars: []oar.Oar{area(old.Oar, 0.1)}, Adjust: Inboard, At: stroke.Speed, KeepReach: keep}, stroke.Settings{})
		if err != nil {
			t.Fatalf("keep %v: %v", keep, err)
		}
		seat := got.Stroke.Problem.Seats[0]
		t.Logf("keep %v: inboard %+.2f cm", keep, 100*(seat.Oar.Inboard-old.Oar.Inboard))
		reach := seat.Oar.Lever() * math.Sin(seat.Catch)
		was := old.Oar.Lever() * math.Sin(old.Catch)
		if keep && math.Abs(reach-was) > 1e-12 {
			t.Errorf("the reach went from %.6f to %.6f m", was, reach)
		}
		if !keep && seat.Catch != old.Catch {
			t.Error("the angles moved though nobody measured them on an oar")
		}
	}
}

// At a held effort the drive gets shorter as the collar goes out, until at an
// inboard of 135 cm it gets longer again: two oars match a drive time just above
// the least, and both are told.
func TestTwoOarsThatMatchAreBothTold(t *testing.T) {
	p := problemtest.FactsSingle(t)
	s := rowed(t, p)
	at := func(inboard float64) *stroke.Stroke {
		q := p
		q.Seats = append([]stroke.Seat(nil), p.Seats...)
		q.Seats[0].Oar.Inboard = inboard
		q.Hold, q.Target = stroke.Effort, heldIn(s, stroke.Effort)
		return rowed(t, q)
	}
	long := at(1.39)
	got, err := Find(long, Question{Oars: []oar.Oar{p.Seats[0].Oar}, Adjust: Inboard, At: stroke.Effort}, stroke.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if d := got.Seats[0].Oar.Inboard - 1.39; math.Abs(d) > 1e-5 {
		t.Errorf("the nearer one is the oar itself, not %.2f cm off", 100*d)
	}
	other := got.Seats[0].Other
	if other == nil {
		t.Fatal("the second oar was not told")
	}
	t.Logf("both %.3f s: inboard 139.0 and %.2f cm, %d strokes", got.Seats[0].Got, 100*other.Inboard, got.Strokes)
	if rel := at(other.Inboard).Seats[0].DriveTime/long.Seats[0].DriveTime - 1; math.Abs(rel) > 1e-6 || other.Inboard > 1.36 {
		t.Errorf("the second, inboard %.2f cm, misses by %.1e", 100*other.Inboard, rel)
	}
}

func BenchmarkEqualLoad(b *testing.B) {
	p := problemtest.FactsSingle(b)
	s := rowed(b, p)
	fresh := []oar.Oar{area(p.Seats[0].Oar, 0.1)}
	strokes := 0
	for b.Loop() {
		got, err := Find(s, Question{Oars: fresh, At: stroke.Speed}, stroke.Settings{})
		if err != nil {
			b.Fatal(err)
		}
		strokes += got.Strokes
	}
	b.ReportMetric(float64(strokes)/float64(b.N), "strokes/op")
	b.ReportMetric(float64(strokes)/b.Elapsed().Seconds(), "strokes/s")
}
