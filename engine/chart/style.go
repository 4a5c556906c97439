package chart

import (
	"image/color"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
)

// The one style layer: what the page's roles look like on white paper. Colours
// are the Okabe-Ito set in the page's order, its light purple darkened; each
// series has its dashes and mark besides, so that grey paper tells them apart.

var (
	paper = color.NRGBA{0xff, 0xff, 0xff, 0xff}
	ink   = color.NRGBA{0x1a, 0x21, 0x26, 0xff}
	ink2  = color.NRGBA{0x4b, 0x56, 0x5e, 0xff}
	edge  = color.NRGBA{0x7d, 0x88, 0x8f, 0xff}
	hair  = color.NRGBA{0xc8, 0xce, 0xd1, 0xff}

	series = []color.NRGBA{
		{0x00, 0x72, 0xb2, 0xff}, {0xd5, 0x5e, 0x00, 0xff}, {0x00, 0x9e, 0x73, 0xff},
		{0xb5, 0x63, 0x8f, 0xff}, {0x00, 0x00, 0x00, 0xff},
	}
	dashes = [][]float64{nil, {8, 4}, {2, 3.5}, {12, 4, 2, 4}, {1, 3}}
)

// look is how one shape is drawn: lengths in the drawing's units.
type look struct {
	fill    color.Color // nil: none
	stroke  color.Color // nil: none
	width   float64
	dash    []float64
	opacity float64
	hatch   int // series whose pattern fills it, from 1; 0: none
}

// lookOf reads the roles of a shape in order; later ones add to earlier ones.
func lookOf(class string) look {
	l := look{opacity: 1, width: 1}
	rig := ""
	for _, role := range strings.Fields(class) {
		k := 0
		if n := len(role); n > 1 && role[n-1] >= '1' && role[n-1] <= '5' {
			k = int(role[n-1] - '0')
		}
		if drawn, ok := rigLooks[role]; ok {
			l, rig = drawn, role
			continue
		}
		switch {
		case role == "rs2":
			l = over(l, rig)
		case role == "pale":
			l.opacity = .6
		case role == "hair":
			l.stroke = hair
		case role == "axis":
			l.stroke = edge
		case role == "rule", role == "contour":
			l.stroke = ink
		case role == "lead-line":
			l.stroke, l.width = edge, .8
		case role == "guide":
			l.stroke, l.dash = ink2, []float64{2, 3}
		case role == "ln":
			l.width = 2.4
		case role == "thin":
			l.width = 1.7
		case role == "ref":
			l.stroke, l.width, l.dash = ink, 1.9, []float64{9, 3.5, 2, 3.5}
		case role == "sref":
			l.stroke = ink
		case role == "blade":
			l.width, l.opacity = 4.5, .26
		case role == "shaft":
			l.width, l.opacity = 1.3, .75
		case role == "worth":
			l.fill, l.opacity = ink2, .2
		case role == "shade":
			l.fill, l.opacity = series[0], .13
		case role == "heat":
			l.fill = series[0]
		case role == "inkfill":
			l.fill = ink
		case role == "ink":
			l.stroke, l.width = ink, 1.6
		case role == "fref":
			l.fill, l.stroke, l.width = paper, ink, 1.8
		case role == "f2":
			l.fill, l.stroke, l.width = paper, series[1], 2.4
		case role == "f5":
			l.stroke, l.width = series[4], 2
		case role == "bar":
			l.width = 1.4
		case role == "band":
			l.opacity = .17
		case role == "f1", role == "f3", role == "f4":
			l.fill, l.stroke, l.width = series[k-1], paper, 1.5
		case k > 0 && role[:len(role)-1] == "s":
			l.stroke, l.dash = series[k-1], dashes[k-1]
		case k > 0 && role[:len(role)-1] == "c":
			l.stroke = series[k-1]
		case k > 0 && role[:len(role)-1] == "b":
			l.fill = series[k-1]
		case k > 0 && role[:len(role)-1] == "o":
			l.stroke, l.hatch = series[k-1], k
		}
	}
	return l
}

// lettering is how a text is set.
type lettering struct {
	font   font.Font
	size   float64
	colour color.Color
	anchor float64 // of its width to the left of its place
	halo   bool
}

func letteringOf(class string) lettering {
	l := lettering{font: font.Font{Typeface: "Liberation", Variant: "Sans"}, size: 13.5, colour: ink}
	for _, role := range strings.Fields(class) {
		switch role {
		case "sm":
			l.size = 12.5
		case "b":
			l.font.Weight = xfont.WeightBold
		case "it":
			l.font.Variant, l.font.Style, l.size = "Serif", xfont.StyleItalic, 14.5
		case "t2":
			l.colour = ink2
		case "mid":
			l.anchor = .5
		case "end":
			l.anchor = 1
		case "halo":
			l.halo = true
		}
	}
	return l
}
