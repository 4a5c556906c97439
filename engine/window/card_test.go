package window

import (
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/term"
	"thole/engine/term/termtest"
)

func strokeCard() *document.Card {
	c := &document.Card{Title: "calm", Side: "1x, 84 kg, 32/min, no wind, water 15 °C",
		Foot: []string{"work 712 J a stroke: water 71 %, blade 20 %, air 8 %, oar 1 %",
			"oar 288 / 88 cm, scull hatchet 820 cm² x 46 cm; usual style; power held"}}
	for _, f := range []string{"speed 4.288 m/s", "split 1:56.6 /500_m", "time_2000 7:46.4", "rate 32.0 1/min",
		"drive_time 0.90 s", "recovery_time 0.97 s", "rhythm 1.08", "distance_per_stroke 8.04 m", "travel 3.45 m", "power 380 W", "handle_power 322 W", "effort 1159 N", "heaviness 225 N·s/m", "peak_force 689 N", "mean_force 389 N", "early_load 525 N", "peak_pin_force 503 N", "slip 55 cm", "blade_efficiency 0.767", "hull_efficiency 0.950", "min_speed 3.319 m/s", "max_speed 5.124 m/s", "catch 63.0 deg", "finish 43.0 deg", "arc 106.0 deg", "outboard 200.0 cm", "inboard 88.0 cm"} {
		parts := append(strings.Fields(f), "")
		c.Items = append(c.Items, document.Item{Label: parts[0], Value: parts[1],
			Unit: strings.ReplaceAll(parts[2], "_", " ")})
	}
	return c
}

func TestCards(t *testing.T) {
	oar := &document.Card{Title: "oar", Side: "288 / 88 cm, scull", Items: []document.Item{
		{Label: "outboard", Value: "200", Unit: "cm", Remark: "pin to blade centre 175.0, pin to hands 84.0"},
		{Label: "hand_weight", Value: "9.1", Unit: "N", Remark: "swing_weight 1.43 kg·m², from 1.45 kg (usual)"},
		{Label: "lever ratio", Value: "2.27", Remark: "outboard / inboard"},
		{Label: "effective ratio", Value: "2.08", Remark: "pin to blade centre / pin to hands; at 60 deg 4.17"},
		{Label: "overlap", Value: "21.0", Unit: "cm", Remark: "gates counted (+4); pin to pin 17.0"},
	}}
	judged := &document.Card{Title: "short faster", Side: "8 pieces of 500 m, 4 a setting",
		Items: []document.Item{
			{Label: "difference", Remark: "+0.67 % of speed (95 % +0.50 to +0.83), short against long"},
			{Label: "worth it", Remark: "more than 0.3 %: chance over 0.99"},
			{Label: "wind", Remark: "+0.19 % for each m/s (-0.68 to +1.06): cannot be told apart"},
		}}
	for _, c := range []struct {
		name string
		w    term.Window
		card *document.Card
	}{
		{"card_judge_80", term.Window{Width: 80}, judged},
		{"card_100", term.Window{Width: 100}, strokeCard()},
		{"card_80", term.Window{Width: 80}, strokeCard()},
		{"card_50", term.Window{Width: 50}, strokeCard()},
		{"card_80_plain", term.Window{Width: 80, ASCII: true}, strokeCard()},
		{"card_oar_80", term.Window{Width: 80}, oar},
		{"card_oar_60", term.Window{Width: 60}, oar},
	} {
		lines := card(c.w, c.card)
		termtest.Fits(t, c.w, lines)
		termtest.Golden(t, c.name, lines)
	}
}
