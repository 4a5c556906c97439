package report

import (
	"math"
	"os"
	"testing"

	"thole/engine/blade"
	"thole/engine/oar"
	"thole/engine/rigging"
)

// boatsToDraw are a usual rig of every boat, at an invented club.
func riggedBoat(boat string) Rigged {
	scull := boat[1] == 'x'
	seats := int(boat[0] - '0')
	length, inboard, shape := 2.88, 0.88, "scull hatchet"
	catch, finish := 62., 43.
	rig := rigging.New()
	rig.Span, rig.Height = 1.59, 0.16
	if !scull {
		length, inboard, shape = 3.74, 1.15, "sweep hatchet"
		catch, finish = 56, 34
		rig.Span, rig.Spread, rig.Height = math.NaN(), 0.85, 0.17
	}
	rig.Pitch, rig.Outward, rig.WorkThrough, rig.Stretcher = 4*rad1, 1*rad1, 0.08, 0.46
	b, _ := blade.New(shape)
	o := oar.New(length, inboard, b)
	return riggedOf(boat, seats, &o, &rig, catch, finish, 0.12)
}

func riggedOf(name string, seats int, o *oar.Oar, r *rigging.Rig, catch, finish, seatOverWater float64) Rigged {
	h := rigging.HeightsOf(o, r.Height, seatOverWater, 0, 0.05)
	const cm = 100
	return Rigged{
		Name: name, Sculling: o.Kind() == blade.Scull, Seats: seats,
		PinLine: r.PinLine(o.Kind()) * cm, Inboard: o.Inboard * cm, Outboard: o.Outboard() * cm, Gate: o.Gate * cm, Pull: o.Hand * cm,
		BladeLength: o.Blade.Length * cm, BladeWidth: rigging.BladeWidth(o) * cm, Catch: catch, Finish: finish,
		Overlap: rigging.Overlap(o, r, true) * cm, Apart: rigging.HandlesApart(o, r, finish*rad1) * cm,
		WorkThrough: r.WorkThrough * cm, Stretcher: r.Stretcher * cm,
		Height: r.Height * cm, Higher: r.Apart * cm, SeatOverWater: seatOverWater * cm, Clear: 5,
		Slope: h.Slope / rad1, Drive: h.Drive * cm, Recovery: h.Recovery * cm, Pitch: r.Pitch / rad1, Outward: r.Outward / rad1,
	}
}

var eightBoats = []string{"1x", "2x", "2-", "2+", "4x", "4-", "4+", "8+"}

func TestWriteLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	write := func(name string, rigs ...[]Rigged) {
		doc := &Document{Title: "Rigs"}
		for _, r := range rigs {
			doc.Blocks = append(doc.Blocks, &Figure{Kind: RigView, Name: "rig", Rigs: r})
		}
		w, _ := os.Create(dir + "/" + name + ".html")
		defer w.Close()
		if err := WritePage(w, doc); err != nil {
			t.Fatal(err)
		}
	}
	one := func(boat string) []Rigged { return []Rigged{riggedBoat(boat)} }
	write("a", one("1x"), one("2-"))
	write("b", one("4x"), one("8+"))
	a, z := riggedBoat("1x"), riggedBoat("1x")
	z.Name, z.PinLine, z.Inboard, z.Outboard, z.Stretcher, z.Catch, z.Finish = "new", 80.5, 89, 199, 48, 64.3, 40.9
	z.Height, z.Drive, z.Recovery = 17, 35.1, 28
	c, y := riggedBoat("8+"), riggedBoat("8+")
	y.Name, y.PinLine, y.Inboard, y.Outboard, y.Stretcher, y.Catch, y.Finish = "new", 86, 116, 258, 48, 58.3, 32.9
	write("c", []Rigged{a, z}, []Rigged{c, y})
}
