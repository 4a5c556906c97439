package reference

import (
	"flag"
	"os"
	"testing"

	"thole/engine"
	"thole/engine/stroke"
)

var update = flag.Bool("update", false, "write the engine's mark anew")

func cases(t *testing.T) []Case {
	t.Helper()
	c, err := Cases()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The engine's mark is the digest of what it rows. It is the same on every machine:
// .ci/bits runs this test on three.
func TestFingerprint(t *testing.T) {
	got := "n" + Digest(cases(t))
	if *update {
		if err := os.WriteFile("../fingerprint.txt", []byte(got+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got != engine.Fingerprint() {
		t.Errorf("the reference strokes give %s, the engine says %s.\n"+
			"If numbers were meant to change: go generate ./engine. If not, they did.", got, engine.Fingerprint())
	}
	if !engine.OfNumbers(got) || engine.OfNumbers("3f0a9c41d27be865") {
		t.Errorf("%s, told from the former kind", got)
	}
}

// There are about sixty, each has a stroke, and every hold, law and kind is among them.
func TestCasesAreWhole(t *testing.T) {
	all := cases(t)
	holds, laws, boats, flexible, unlike := map[stroke.Hold]bool{}, map[string]bool{}, map[string]bool{}, false, false
	for _, c := range all {
		if _, err := stroke.Row(c.Problem, stroke.Settings{Route: c.Route}); err != nil {
			t.Errorf("%s: %v", c.Name, err)
		}
		holds[c.Problem.Hold], boats[c.Problem.Hull.Boat] = true, true
		laws[c.Problem.Seats[0].Oar.Blade.Law.String()] = true
		flexible = flexible || c.Problem.Seats[0].Oar.Flexible()
		unlike = unlike || len(c.Problem.Seats) > 1
	}
	if len(all) < 55 || len(holds) != 5 || len(laws) != 4 || len(boats) != 8 || !flexible || !unlike {
		t.Errorf("%d strokes, %d holds, %d laws, %d boats, bent %v, unlike %v", len(all), len(holds), len(laws), len(boats), flexible, unlike)
	}
}

// A coefficient changed by a billionth moves the digest, each of them by itself.
func TestABillionthMovesTheDigest(t *testing.T) {
	const more = 1 + 1e-9
	whole := cases(t)
	few := whole[:2] // the single by both routes: what moves it moves the whole
	before := Digest(few)
	if again := Digest(few); again != before {
		t.Fatal("the digest of the same strokes is another the second time")
	}
	for name, change := range map[string]func(p *stroke.Problem, s *stroke.Seat){
		"form factor":    func(p *stroke.Problem, _ *stroke.Seat) { p.Hull.FormFactor *= more },
		"class factor":   func(p *stroke.Problem, _ *stroke.Seat) { p.Hull.ClassFactor *= more },
		"waterline":      func(p *stroke.Problem, _ *stroke.Seat) { p.Hull.Waterline *= more },
		"density":        func(p *stroke.Problem, _ *stroke.Seat) { p.Water.Density *= more },
		"viscosity":      func(p *stroke.Problem, _ *stroke.Seat) { p.Water.Viscosity *= more },
		"air":            func(p *stroke.Problem, _ *stroke.Seat) { p.Air.Density *= more },
		"blade's area":   func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Blade.Area *= more },
		"blade's drag":   func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Blade.Drag *= more },
		"added mass":     func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Blade.AddedMass *= more },
		"bury":           func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Blade.Bury *= more },
		"release":        func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Blade.Release *= more },
		"oar's mass":     func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Mass *= more },
		"hand":           func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Hand *= more },
		"gate":           func(_ *stroke.Problem, s *stroke.Seat) { s.Oar.Gate *= more },
		"body travel":    func(_ *stroke.Problem, s *stroke.Seat) { s.Rower.BodyTravel *= more },
		"free speed":     func(_ *stroke.Problem, s *stroke.Seat) { s.Rower.FreeSpeed *= more },
		"start of pull":  func(_ *stroke.Problem, s *stroke.Seat) { s.Rower.Style.Start *= more },
		"place of peak":  func(_ *stroke.Problem, s *stroke.Seat) { s.Rower.Style.Peak *= more },
		"catch":          func(_ *stroke.Problem, s *stroke.Seat) { s.Catch *= more },
		"target":         func(p *stroke.Problem, _ *stroke.Seat) { p.Target *= more },
		"rate":           func(p *stroke.Problem, _ *stroke.Seat) { p.Rate *= more },
		"rower's weight": func(_ *stroke.Problem, s *stroke.Seat) { s.Rower.Mass *= more },
	} {
		changed := append([]Case(nil), few...)
		for i := range changed {
			p := &changed[i].Problem
			p.Seats = append([]stroke.Seat(nil), p.Seats...)
			change(p, &p.Seats[0])
		}
		if Digest(changed) == before {
			t.Errorf("%s by a billionth does not move the digest", name)
		}
	}
}
