package trial

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// outing is a track northward at 4 m/s for ten minutes, a record a second, with its
// defect planted by bad, which may move a record.
func outing(bad func(second int, lat float64) float64) (gpx []byte, truth float64) {
	const perSecond = 4 / 111_250.0 // deg; the truth is reckoned on the ellipsoid below
	var b strings.Builder
	b.WriteString("<gpx><trk><trkseg>\n")
	start := time.Date(2026, 5, 3, 7, 0, 0, 0, time.UTC)
	for s := range 601 {
		lat := 52 + float64(s)*perSecond
		fmt.Fprintf(&b, "<trkpt lat=\"%.9f\" lon=\"11\"><time>%s</time></trkpt>\n", bad(s, lat),
			start.Add(time.Duration(s)*time.Second).Format(time.RFC3339))
	}
	b.WriteString("</trkseg></trk></gpx>\n")
	truth, _ = geodesic(52, 11, 52+600*perSecond, 11)
	return []byte(b.String()), truth
}

// The majority settles where the boat was: each planted defect leaves the distance
// within 1 % of the truth, and is told.
func TestJumpsByMajority(t *testing.T) {
	away := 0.02 // deg: 2.2 km
	for name, bad := range map[string]func(int, float64) float64{
		"a stale first fix":        func(s int, lat float64) float64 { return lat + away*step(s == 0) },
		"five stale first fixes":   func(s int, lat float64) float64 { return lat + away*step(s < 5) },
		"one jump":                 func(s int, lat float64) float64 { return lat + away*step(s == 300) },
		"twenty seconds elsewhere": func(s int, lat float64) float64 { return lat + away*step(s >= 300 && s < 320) },
		"fifty seconds elsewhere":  func(s int, lat float64) float64 { return lat + away*step(s >= 300 && s < 350) },
	} {
		gpx, truth := outing(bad)
		track, err := ReadTrack("outing.gpx", gpx)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		ways := track.Table.Column("distance").Nums
		if way := ways[len(ways)-1]; math.Abs(way/truth-1) > .01 { // the longest stale start is 5 of 600 s
			t.Errorf("%s: %.0f m, in truth %.0f", name, way, truth)
		}
		if !strings.Contains(strings.Join(track.Cautions, " "), "jump") {
			t.Errorf("%s is not told: %q", name, track.Cautions)
		}
	}
}

func step(is bool) float64 {
	if is {
		return 1
	}
	return 0
}
