package trial

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
)

// rowed is an outing northward at 4 m/s for ten minutes, a record a second, then at
// the speeds of after, m/s.
func rowed(after ...float64) (points []Point, truth float64) {
	const deg = 1 / 111_250.0 // near latitude 52; the truth is reckoned on the ellipsoid
	lat := 52.0
	for s := range 601 + len(after) {
		points = append(points, Point{Time: float64(s), Lat: lat, Lon: 11})
		if s < 600 {
			lat += 4 * deg
		} else if s-600 < len(after) {
			lat += after[s-600] * deg
		}
	}
	truth, _ = geodesic(52, 11, points[600].Lat, 11)
	return points, truth
}

// car is a drive: standing still, off to 25 m/s, a red light, on again.
func car() (speeds []float64) {
	for range 60 {
		speeds = append(speeds, 0)
	}
	for range 2 {
		for v := 2.5; v < 25; v += 2.5 {
			speeds = append(speeds, v)
		}
		for range 120 {
			speeds = append(speeds, 25)
		}
		for v := 25.0; v > 0; v -= 2.5 {
			speeds = append(speeds, v)
		}
	}
	return speeds
}

// backwards turns an outing round: what came last comes first.
func backwards(points []Point) (turned []Point) {
	end := points[len(points)-1].Time
	for i := range points {
		p := points[len(points)-1-i]
		p.Time = end - p.Time
		turned = append(turned, p)
	}
	return turned
}

func asGPX(points []Point) []byte {
	var b strings.Builder
	b.WriteString("<gpx><trk><trkseg>\n")
	start := time.Date(2026, 5, 3, 7, 0, 0, 0, time.UTC)
	for _, p := range points {
		fmt.Fprintf(&b, "<trkpt lat=\"%.9f\" lon=\"%.9f\"><time>%s</time></trkpt>\n", p.Lat, p.Lon,
			start.Add(time.Duration(p.Time*1000)*time.Millisecond).Format(time.RFC3339Nano))
	}
	b.WriteString("</trkseg></trk></gpx>\n")
	return []byte(b.String())
}

// Outings with a planted defect each: distance and time are those that were rowed, to
// 1 %, and what was done about it is told.
func TestPlantedDefects(t *testing.T) {
	plain, truth := rowed()
	home, _ := rowed(car()...)
	set := func(by float64) []Point {
		points, _ := rowed()
		for i := 300; i < len(points); i++ {
			points[i].Time += by
		}
		return points
	}
	for _, c := range []struct {
		name   string
		points []Point
		told   string // "" where nothing is wrong
	}{
		{"nothing", plain, ""},
		{"a drive home", home, "as in a car"},
		{"a drive there", backwards(home), "as in a car"},
		{"clock an hour ahead", set(3600), "set ahead by 1:00:00"},
		{"clock an hour back", set(-3600), "set back by 1:00:00"},
		{"clock a minute back", set(-60), "set back by 1:00"},
	} {
		track, err := ReadTrack("outing.gpx", asGPX(c.points))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		ways, times := track.Table.Column("distance").Nums, track.Table.Column("time").Nums
		n := len(ways) - 1
		if way := ways[n] - ways[0]; math.Abs(way/truth-1) > .01 {
			t.Errorf("%s: %.0f m, in truth %.0f", c.name, way, truth)
		}
		// a boat that stood still behind its last stroke may have its minute counted
		if took := times[n] - times[0]; took < 594 || took > 670 {
			t.Errorf("%s: %.0f s, in truth 600", c.name, took)
		}
		told := strings.Join(track.Cautions, " ")
		if !strings.Contains(told, c.told) || c.told == "" && told != "" {
			t.Errorf("%s is told as %q", c.name, told)
		}
	}
}

// A record alone out of its order, and a way recorded twice, set no clock.
func TestNoClockWasSet(t *testing.T) {
	alone, _ := rowed()
	alone[300].Time -= 2.5
	twice, _ := rowed()
	twice = append(twice, twice[100:400]...)
	for name, points := range map[string][]Point{"alone": alone, "twice": twice} {
		track, err := ReadTrack("outing.gpx", asGPX(points))
		if err != nil || has(track.Cautions, "clock") || !has(track.Cautions, "had been before") {
			t.Errorf("%s: %v, %q", name, err, track.Cautions)
		}
	}
}

// The watch's own distance stands beside the one by its places; over 2 % apart is a
// caution.
func TestOwnDistance(t *testing.T) {
	points, truth := rowed()
	start := time.Date(2026, 5, 12, 6, 30, 0, 0, time.UTC)
	for _, off := range []float64{1.01, 1.03, 0.9} {
		activity := filedef.NewActivity()
		activity.FileId = *mesgdef.NewFileId(nil).SetType(typedef.FileActivity).SetTimeCreated(start)
		for _, p := range points {
			activity.Records = append(activity.Records, mesgdef.NewRecord(nil).
				SetTimestamp(start.Add(time.Duration(p.Time)*time.Second)).
				SetPositionLatDegrees(p.Lat).SetPositionLongDegrees(p.Lon).
				SetDistanceScaled(off*4*p.Time))
		}
		content := activity.ToFIT(nil)
		var b bytes.Buffer
		if err := encoder.New(&b).Encode(&content); err != nil {
			t.Fatal(err)
		}
		track, err := ReadTrack("outing.fit", b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		said := fmt.Sprintf("the watch's own distance is %.0f m, by its places it is %.0f m", off*2400, truth)
		if off == 1.01 && (!has(track.Notes, said) || len(track.Cautions) > 0) ||
			off != 1.01 && (!has(track.Cautions, said) || has(track.Notes, said)) {
			t.Errorf("own distance %g: %q, %q (want %q)", off, track.Notes, track.Cautions, said)
		}
	}
}
