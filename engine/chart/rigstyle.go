package chart

import "image/color"

// What the roles of a rig's drawing look like; "rs2" is the rig laid over the first, in
// the second series' ink, "pale" the oar where it is drawn once more.
var rigLooks = map[string]look{
	"wash":     {fill: wash, stroke: edge, width: 1, opacity: 1},
	"midline":  {stroke: hair, width: 1, dash: []float64{12, 4, 2, 4}, opacity: 1},
	"rigger":   {stroke: edge, width: 1.6, opacity: 1},
	"surface":  {stroke: series[0], width: 1.2, opacity: 1},
	"dim":      {stroke: ink2, width: 1, opacity: 1},
	"loom":     {stroke: ink, width: 2.6, opacity: 1},
	"spoon":    {fill: series[0], opacity: 1},
	"way":      {stroke: edge, width: 1, dash: []float64{1.5, 3}, opacity: 1},
	"pin":      {fill: paper, stroke: ink, width: 1.8, opacity: 1},
	"pinline":  {stroke: ink, width: 2, opacity: 1},
	"seat":     {stroke: ink2, width: 1.2, opacity: 1},
	"plate":    {stroke: ink2, width: 5, opacity: 1},
	"oarlet":   {stroke: ink, width: 1, opacity: 1},
	"spoonlet": {stroke: series[0], width: 3, opacity: 1},
	"seatlet":  {fill: ink2, opacity: 1},
}

var wash = color.NRGBA{0xf4, 0xf4, 0xf4, 0xff}

// over gives a look as the rig laid over the first has it.
func over(l look, role string) look {
	l.stroke = series[1]
	switch role {
	case "loom":
		l.width, l.dash = 2, dashes[1]
	case "spoon":
		l.fill, l.width = paper, 1.6
	case "seat":
		l.dash = []float64{4, 2}
	case "plate":
		l.width = 3
	}
	return l
}
