package report

import (
	"math"
	"os"
	"testing"

	"thole/engine/blade"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/oar"
	"thole/engine/rigging"
)

// boatsToDraw are a usual rig of every boat, at an invented club.
func riggedBoat(boat string) document.Rigged {
	scull := boat[1] == 'x'
	length, inboard, shape := 2.88, 0.88, "scull hatchet"
	catch, finish := 62., 43.
	rig := rigging.New()
	rig.Span, rig.Height = 1.59, 0.16
	if !scull {
		length, inboard, shape = 3.74, 1.15, "sweep hatchet"
		catch, finish = 56, 34
		rig.Span, rig.Spread, rig.Height = math.NaN(), 0.85, 0.17
	}
	rig.Pitch, rig.Outward, rig.WorkThrough, rig.Stretcher = 4*math.Pi/180, 1*math.Pi/180, 0.08, 0.46
	b, _ := blade.New(shape)
	o := oar.New(length, inboard, b)
	return riggedOf(boat, &o, &rig, catch, finish, 0.12)
}

func riggedOf(name string, o *oar.Oar, r *rigging.Rig, catch, finish, seatOverWater float64) document.Rigged {
	h := rigging.HeightsOf(o, r.Height, seatOverWater, 0, 0.05)
	const cm = 100
	return document.Rigged{
		Name: name, Sculling: o.Kind() == blade.Scull, Boat: name,
		PinLine: r.PinLine(o.Kind()) * cm, Inboard: o.Inboard * cm, Outboard: o.Outboard() * cm, Gate: o.Gate * cm, Pull: o.Hand * cm,
		BladeLength: o.Blade.Length * cm, BladeWidth: rigging.BladeWidth(o) * cm, Catch: catch, Finish: finish,
		Overlap: rigging.Overlap(o, r, true) * cm, Apart: rigging.HandlesApart(o, r, finish*math.Pi/180) * cm,
		WorkThrough: r.WorkThrough * cm, Stretcher: r.Stretcher * cm,
		Height: r.Height * cm, Higher: r.Apart * cm, SeatOverWater: seatOverWater * cm, Clear: 5,
		Slope: h.Slope * 180 / math.Pi, Drive: h.Drive * cm, Recovery: h.Recovery * cm, Pitch: r.Pitch * 180 / math.Pi, Outward: r.Outward * 180 / math.Pi,
	}
}

var eightBoats = []string{"1x", "2x", "2-", "2+", "4x", "4-", "4+", "8+"}

func TestWriteLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	write := func(name string, rigs ...[]document.Rigged) {
		doc := &document.Document{Title: "Rigs"}
		for _, r := range rigs {
			doc.Blocks = append(doc.Blocks, &document.Figure{Kind: figure.Rig, Name: "rig", Rigs: r})
		}
		w, _ := os.Create(dir + "/" + name + ".html")
		defer w.Close()
		if err := WritePage(w, doc); err != nil {
			t.Fatal(err)
		}
	}
	one := func(boat string) []document.Rigged { return []document.Rigged{riggedBoat(boat)} }
	write("a", one("1x"), one("2-"))
	write("b", one("4x"), one("8+"))
	a, z := riggedBoat("1x"), riggedBoat("1x")
	z.Name, z.PinLine, z.Inboard, z.Outboard, z.Stretcher, z.Catch, z.Finish = "new", 80.5, 89, 199, 48, 64.3, 40.9
	z.Height, z.Drive, z.Recovery = 17, 35.1, 28
	c, y := riggedBoat("8+"), riggedBoat("8+")
	y.Name, y.PinLine, y.Inboard, y.Outboard, y.Stretcher, y.Catch, y.Finish = "new", 86, 116, 258, 48, 58.3, 32.9
	write("c", []document.Rigged{a, z}, []document.Rigged{c, y})
}
