package reference

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
	"math"

	"thole/engine/equalload"
	"thole/engine/oar"
	"thole/engine/stroke"
	"thole/engine/table"
)

// Digest rows the cases and gives sixteen characters made from every number of theirs,
// to the last bit. Where a case has no stroke, its error's text counts.
func Digest(cases []Case) string {
	h := sha256.New()
	for i := range cases {
		c := &cases[i]
		s, err := stroke.Row(c.Problem, stroke.Settings{Route: c.Route})
		if err != nil {
			h.Write([]byte(c.Name + err.Error()))
			continue
		}
		numbers(h, s)
		if i < 4 || c.Name == "soft shaft" || c.Name == "perfect" {
			views(h, s)
		}
		if i == 0 {
			equal(h, s)
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

func write(h hash.Hash, x ...float64) {
	var b [8]byte
	for _, v := range x {
		binary.LittleEndian.PutUint64(b[:], math.Float64bits(v+0)) // −0 counts as 0
		h.Write(b[:])
	}
}

// numbers enters a stroke's result fields, seat by seat too, and its energy book.
func numbers(h hash.Hash, s *stroke.Stroke) {
	write(h, s.StartSpeed)
	for i := range stroke.Fields {
		f := &stroke.Fields[i]
		write(h, f.Of(s))
		if f.Seat == nil {
			continue
		}
		for seat := range s.Seats {
			write(h, f.Seat(s, seat))
		}
	}
	for i := range stroke.EnergyFields {
		write(h, stroke.EnergyFields[i].Of(&s.Energy))
	}
}

// views enters what is read out of a stroke: a trace, paths, the turning moment.
func views(h hash.Hash, s *stroke.Stroke) {
	enter := func(t *table.Table, err error) {
		if err != nil {
			h.Write([]byte(err.Error()))
			return
		}
		for _, c := range t.Columns {
			write(h, c.Nums...)
		}
	}
	enter(s.Trace([]float64{-60, -30, 0, 20}))
	enter(s.BladePath(0, stroke.Moments{Points: 12}))
	enter(s.PerfectPath(0, stroke.Moments{Points: 12}))
	enter(s.SlipMap(0))
	if s.Problem.OarsPerRower == 1 {
		m, err := s.YawMoment("ps", stroke.Places{})
		write(h, m)
		if err != nil {
			h.Write([]byte(err.Error()))
		}
	}
}

// equal enters the oar that loads a crew as the stroke does with a tenth more area.
func equal(h hash.Hash, s *stroke.Stroke) {
	o := s.Problem.Seats[0].Oar
	o.Blade.Area *= 1.1
	e, err := equalload.Find(s, equalload.Question{Oars: []oar.Oar{o}, At: stroke.Speed}, stroke.Settings{})
	if err != nil {
		h.Write([]byte(fmt.Sprint(err)))
		return
	}
	write(h, e.Seats[0].Oar.Length)
}
