package figure

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/draw"
)

// drive is a whole drive with every place of the oar: the pin goes at a steady speed while the
// oar turns faster in the middle, as strokes do. The numbers are invented.
func drive(name string, far, lasts float64, reference bool) document.Path {
	q := document.Path{Name: name, Reference: reference}
	at := func(time float64) (pin, sin, cos float64) {
		u := time / lasts
		turned := u - .35*math.Sin(2*math.Pi*u)/(2*math.Pi)
		sin, cos = math.Sincos((63 - 106*turned) * math.Pi / 180)
		return far * u, sin, cos
	}
	for i := range 181 {
		pin, sin, cos := at(lasts * float64(i) / 180)
		q.FineX, q.FineY = append(q.FineX, pin+175*sin), append(q.FineY, 175*cos)
		q.FineAngle = append(q.FineAngle, -math.Atan2(sin, cos)*180/math.Pi)
	}
	for time := 0.; ; time += .1 {
		time = math.Min(time, lasts)
		pin, sin, cos := at(time)
		q.Time, q.PinX = append(q.Time, time), append(q.PinX, pin)
		q.Angle = append(q.Angle, -math.Atan2(sin, cos)*180/math.Pi)
		for _, place := range []struct {
			x, y *[]float64
			r    float64
		}{{&q.TipX, &q.TipY, 198}, {&q.CentreX, &q.CentreY, 175}, {&q.NeckX, &q.NeckY, 152},
			{&q.HandleX, &q.HandleY, -84}} {
			*place.x, *place.y = append(*place.x, pin+place.r*sin), append(*place.y, place.r*cos)
		}
		if time == lasts {
			return q
		}
	}
}

// drivenPaths is a stroke with its perfect grip; two strokes; and two with both grips.
func drivenPaths() map[string]*document.Figure {
	as, grip := drive("as rowed", 345, .9, false), drive("perfect grip", 395, 1.01, true)
	other := drive("292 / 88", 352, .93, false)
	of := func(paths ...document.Path) *document.Figure {
		return &document.Figure{Kind: Paths, Every: .1, Paths: paths}
	}
	return map[string]*document.Figure{"grip": of(as, grip), "two": of(as, other), "alone": of(as),
		"four": of(as, grip, other, grip)}
}

func drawnPath(f *document.Figure, width float64) *draw.Surface {
	d := &draw.Surface{W: width, ID: "g"}
	drawPath(f, d)
	return d
}

var polygon = regexp.MustCompile(`M[^MZ]*Z`)

// corners reads the places of a path of straight lines.
func corners(path string) (out [][2]float64) {
	for _, m := range corner.FindAllStringSubmatch(path, -1) {
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		out = append(out, [2]float64{x, y})
	}
	return out
}

// wound counts how often the polygons of a path run round a place: what a browser fills.
func wound(path string, x, y float64) (n int) {
	for _, ring := range polygon.FindAllString(path, -1) {
		ps := corners(ring)
		for i := range ps {
			a, b := ps[i], ps[(i+1)%len(ps)]
			side := (b[0]-a[0])*(y-a[1]) - (x-a[0])*(b[1]-a[1])
			switch {
			case a[1] <= y && b[1] > y && side > 0:
				n++
			case a[1] > y && b[1] <= y && side < 0:
				n--
			}
		}
	}
	return n
}

// What is shaded is what lies between the two blades at one oar angle, all of it and nothing
// else: the widest gap is full, the loop's inside bare. A quadrilateral an angle step.
func TestShadedIsTheTravelLost(t *testing.T) {
	for _, width := range []float64{draw.Narrow, draw.Lesson, draw.Wide} {
		f := drivenPaths()["grip"]
		d := drawnPath(f, width)
		var shade string
		var ways [][][2]float64 // the two lines as drawn, the reference first
		for _, s := range d.Shapes {
			if s.Class == "shade" {
				shade += s.Path
			}
			if (s.Class == "ln s1" || s.Class == "ln ref") && len(corners(s.Path)) > 12 {
				ways = append(ways, corners(s.Path))
			}
		}
		if len(ways) != 2 || len(polygon.FindAllString(shade, -1)) < 60 {
			t.Fatalf("at %g: %d lines, %d pieces of shade", width, len(ways),
				len(polygon.FindAllString(shade, -1)))
		}
		// the drawing's scale, from the lines' ends: the drive's first place and its highest
		a, b := &f.Paths[0], &f.Paths[1]
		first, _ := centreAt(a, a.FineAngle[0])
		last, _ := centreAt(b, b.FineAngle[len(b.FineAngle)-1])
		k := (ways[0][len(ways[0])-1][0] - ways[1][0][0]) / (last - first)
		x := func(v float64) float64 { return ways[1][0][0] + (v-first)*k }
		y := func(v float64) float64 { return ways[1][0][1] - (v-a.FineY[0])*k }
		full, bare := 0, 0
		for v := 60.; v < 178; v += 3.7 { // level lines through the water
			for along := 100.; along < 300; along += 2.9 {
				between, near := false, false
				reach := math.Acos(math.Min(1, v/175)) * 180 / math.Pi
				for _, angle := range []float64{-reach, reach} {
					if angle < -63 || angle > 43 {
						near = near || math.Abs(angle+63) < 1.5 || math.Abs(angle-43) < 1.5
						continue
					}
					p, _ := centreAt(a, angle)
					q, _ := centreAt(b, angle)
					low, high := math.Min(p, q), math.Max(p, q)
					between = between || along > low && along < high
					near = near || math.Abs(along-p) < 2 || math.Abs(along-q) < 2
				}
				if near || v > 170 { // where a step's straight sides part from the lines
					continue
				}
				filled := wound(shade, x(along), y(v)) != 0
				if filled != between {
					t.Fatalf("at %g: %g along, %g out is shaded: %v, lies between the blades: %v", width,
						along, v, filled, between)
				}
				if filled {
					full++
				} else {
					bare++
				}
			}
		}
		if full < 100 || bare < 100 {
			t.Errorf("at %g: looked at %d full and %d bare places", width, full, bare)
		}
	}
}

// Two ordinary strokes differ; neither is the other's loss: no shade, no such words.
func TestOnlyAPerfectGripShowsALoss(t *testing.T) {
	for name, f := range drivenPaths() {
		grip := name == "grip" || name == "four"
		text := Caption(f) + Describe(f) + string(drawnPath(f, draw.Wide).Inside())
		for _, word := range []string{"lost", "slip costs", `class="shade"`} {
			if strings.Contains(text, word) != grip {
				t.Errorf("%s: %q is told: %v", name, word, !grip)
			}
		}
	}
}

// Marks are told as what they are: by time, the same number the same moment on every path;
// by count, not so.
func TestMarksAreToldByTheirTime(t *testing.T) {
	f := drivenPaths()["grip"]
	if said := Caption(f); !strings.Contains(said, "every tenth of a second") ||
		!strings.Contains(said, "the same number at the same moment") {
		t.Errorf("every tenth of a second: %q", said)
	}
	f.Every = 0
	if said := Caption(f); !strings.Contains(said, "not the same moment") {
		t.Errorf("by count: %q", said)
	}
	// the picture tells one story: travel and time of the drive, and what lies between
	story := string(drawnPath(drivenPaths()["grip"], draw.Wide).Inside())
	for _, want := range []string{"as rowed: 3.45\u202fm in 0.90\u202fs",
		"perfect grip: 3.95\u202fm in 1.01\u202fs", "slip costs 0.50\u202fm",
		"0.11\u202fs shorter", "catch 63°", "finish 43°", "square", "the hull", "it goes this way"} {
		if !strings.Contains(story, want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
	if strings.Contains(story, "square:") || strings.Contains(story, "finish:") {
		t.Error("the picture tells a second and a third loss")
	}
}

// No words lie on a path, on a mark or on other words, at any width.
func TestWordsKeepOffThePath(t *testing.T) {
	for name, f := range drivenPaths() {
		for _, width := range []float64{draw.Narrow, draw.Lesson, draw.Wide} {
			d := drawnPath(f, width)
			p := &placer{d: d}
			var words []box
			var texts []string
			for _, s := range d.Shapes {
				if s.Kind == draw.Words {
					b := p.boxOf([]string{s.Text}, berth{s.X, s.Y - .4*p.size(), anchorOf(s.Class)})
					b.y0, b.y1 = s.Y-.75*p.size(), s.Y // capitals; digits have no more
					words, texts = append(words, b), append(texts, s.Text)
				}
			}
			numbers := 0
			for i, b := range words {
				if len(texts[i]) < 3 {
					numbers++
				}
				if b.x0 < -1 || b.x1 > d.W+1 || b.y0 < -1 || b.y1 > d.H+1 {
					t.Errorf("%s at %g: %q leaves the sheet", name, width, texts[i])
				}
				for j := range i {
					if b.meets(words[j]) {
						t.Errorf("%s at %g: %q lies on %q", name, width, texts[i], texts[j])
					}
				}
				for _, s := range d.Shapes {
					line := strings.HasPrefix(s.Class, "ln ") && len(corners(s.Path)) > 12
					ps := corners(s.Path)
					for k := 1; line && k < len(ps); k++ {
						if b.crossed(segment{ps[k-1][0], ps[k-1][1], ps[k][0], ps[k][1]}) {
							t.Fatalf("%s at %g: %q lies on the path", name, width, texts[i])
						}
					}
				}
			}
			if least := 9; numbers < least {
				t.Errorf("%s at %g: only %d marks have their number", name, width, numbers)
			}
		}
	}
}

// Seen from the boat, the pin stands still and every mark of both has its oar.
func TestSeenFromTheBoat(t *testing.T) {
	f := drivenPaths()["grip"]
	for _, width := range []float64{draw.Narrow, draw.Lesson, draw.Wide} {
		d := &draw.Surface{W: width, ID: "g"}
		drawAboard(f, d)
		oars, pins := 0, 0
		for _, s := range d.Shapes {
			if strings.HasPrefix(s.Class, "shaft ") {
				oars++
			}
			if s.Class == "pin" {
				pins++
			}
		}
		if want := len(f.Paths[0].Time) + len(f.Paths[1].Time); oars != want || pins != 2 {
			t.Errorf("at %g: %d oars on %d pins, want %d on 2", width, oars, pins, want)
		}
	}
	if parts := Drawings(f); len(parts) != 2 || parts[0].Stays != "water" || parts[1].Stays != "boat" {
		t.Errorf("%d drawings to turn between", len(parts))
	}
}
