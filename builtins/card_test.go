package builtins_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/document"
)

// What stands on a rigging card: seat by seat where the seats are set unlike
// each other, each convention with its name, and what must be seen before
// anybody turns a nut.
func TestCardSaysWhatToSet(t *testing.T) {
	const study = `us = crew(rowers=[rower(mass=70, power=250, category="junior"), rower(mass=84, power=300, catch=60, finish=44, category="senior")], rate=30, name="Coots")
card(row(hull("2x"), us, [oar(length=284, inboard=87, blade="scull hatchet", name="K"), oar(length=288, inboard=88, blade="scull hatchet", name="L")],
    rig=[rig(span=157, height=15, pitch=4), rig(span=159, height=16)]), note="after the paint")
card(row(hull("1x"), crew(mass=60, power=200, rate=28, category="senior"), oar(length=300, inboard=88, blade="scull hatchet"), rig=rig(span=160, height=15, pitch=4)))
`
	out := builtins.Run(context.Background(), "card.star", []byte(study), session.Config{})
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].Head())
	}
	var cards []*document.RigCard
	for _, b := range out.Document.Blocks {
		cards = append(cards, b.(*document.RigCard))
	}
	if len(cards) != 2 {
		t.Fatalf("%d cards", len(cards))
	}
	words := func(c *document.RigCard) string {
		text := c.Title + " | " + c.Side
		for _, r := range append(slices.Clip(c.Rows), c.Computed...) {
			text += " | " + r.Label + " " + r.Value
		}
		for i, line := range c.Known {
			text += " | " + c.Seats[i] + ": " + strings.Join(line, " ")
		}
		text += " | " + strings.Join(c.Cautions, " | ") + " | " + strings.Join(c.Foot, " | ")
		return strings.Join(strings.Fields(text), " ")
	}
	for i, wants := range [][]string{
		{"Coots, 2x, set K and L", "seats not set alike", "1 bow: 157.0 87.0 284.0 15.0 15.0 4.0", "2 stroke: 159.0 88.0 288.0 16.0 16.0",
			"Load: with juniors lighter first", "overlap 21.0 with gates, 17.0 pin to pin", "lever 2.26 spread 2.51 survey 2.58 effective 2.07",
			"after the paint", "Re-measured by", "Checked: bolts"},
		{"height 15.0 cm pitch 4.0 deg", "Length 300.0 cm lies outside the usual 281 to 293.", "usual for sculls, not measured", "Set by"},
	} {
		for _, want := range wants {
			if !strings.Contains(words(cards[i]), want) {
				t.Errorf("card %d lacks %q:\n%s", i+1, want, words(cards[i]))
			}
		}
	}
	if strings.Contains(words(cards[1]), "Load:") {
		t.Error("a senior's card warns of a junior's load")
	}
}
