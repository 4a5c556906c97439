package trial

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"

	"thole/engine/table"
)

// Flinders Peak to Buninyong, the worked example of the technical manual of the
// datum of Australia for Vincenty's inverse formula (GRS 80, whose
// flattening differs from WGS 84's in the ninth figure): 54 972.271 m, course
// 306° 52' 05.37".
func TestGeodesicPublished(t *testing.T) {
	dms := func(d, m, s float64) float64 { return math.Copysign(math.Abs(d)+m/60+s/3600, d) }
	way, course := geodesic(dms(-37, 57, 3.72030), dms(144, 25, 29.52440), dms(-37, 39, 10.15610), dms(143, 55, 35.38390))
	near(t, "way", way, 54972.271, 0.0006) // printed to the millimetre
	near(t, "course", course, dms(306, 52, 5.37), 0.01/3600)
}

// A degree along the equator is aπ/180; a quarter meridian of WGS 84 is
// 10 001 965.729 m (series of the meridian arc); no way is no way.
func TestGeodesicClosedForms(t *testing.T) {
	way, course := geodesic(0, 10, 0, 11)
	near(t, "equator", way, earthAxis*math.Pi/180, 1e-4)
	near(t, "east", course, 90, 1e-9)
	way, course = geodesic(0, 5, 90, 5)
	near(t, "meridian", way, 10001965.729, 1e-3)
	near(t, "north", course, 0, 1e-9)
	if way, _ := geodesic(47, 8, 47, 8); way != 0 {
		t.Errorf("no way: %v", way)
	}
	across, _ := geodesic(10, 179.999, 10, -179.999)
	inside, _ := geodesic(10, 0.001, 10, -0.001)
	near(t, "over the date line", across, inside, 1e-6)
}

// The plane of smoothing keeps geodesic distances over an outing.
func TestPlaneAgainstGeodesic(t *testing.T) {
	points := []Point{{Lat: 45.00, Lon: 8.00}, {Lat: 45.02, Lon: 8.03}, {Lat: 45.05, Lon: 8.06}}
	east, north := plane(points)
	for i := range points {
		for k := range i {
			way, _ := geodesic(points[i].Lat, points[i].Lon, points[k].Lat, points[k].Lon)
			near(t, "way", math.Hypot(east[i]-east[k], north[i]-north[k])/way, 1, 2e-4) // a fiftieth of a per cent over 7 km
		}
	}
}

// course of a boat that is set out by hand: metres east and north of a place.
func laid(metres [][2]float64, step, jitter float64, luck *rand.Rand) []Point {
	var points []Point
	for i, m := range metres {
		x, y := m[0]+jitter*luck.NormFloat64(), m[1]+jitter*luck.NormFloat64()
		// 45° north: 111 131.78 m a degree of latitude, 78 846.81 of longitude (WGS 84)
		points = append(points, Point{Time: float64(i) * step, Lat: 45 + y/111131.78, Lon: 8 + x/78846.81, Rate: nan, Way: nan})
	}
	return points
}

func read(points []Point) *Track {
	t := &Track{}
	points = t.clean(points)
	t.smooth(points)
	t.findPieces(points)
	t.findStream()
	return t
}

// The watch's jitter alone adds a quarter of a per cent and more when records
// are summed; the smoothed track does not count it.
func TestJitterIsNoWay(t *testing.T) {
	luck := rand.New(rand.NewPCG(4, 4))
	var path [][2]float64
	for i := range 301 {
		path = append(path, [2]float64{0, 4.5 * float64(i)})
	}
	points := laid(path, 1, 0.25, luck)
	summed := 0.0
	for i := 1; i < len(points); i++ {
		way, _ := geodesic(points[i-1].Lat, points[i-1].Lon, points[i].Lat, points[i].Lon)
		summed += way
	}
	if excess := summed/1350 - 1; excess < 0.0025 {
		t.Errorf("summing the records adds %.4f: the case shows nothing", excess)
	}
	table := read(points).Table
	near(t, "way", table.Column("distance").Nums[300], 1350, 1350*5e-4)
	for _, v := range table.Column("speed").Nums[10:290] {
		near(t, "speed", v, 4.5, 0.15)
	}
}

// Two pieces, out against a stream and back with it, paddling between; a lost
// record, a leap and a gap are said.
func TestPiecesOutAndBack(t *testing.T) {
	luck := rand.New(rand.NewPCG(8, 8))
	const stream = 0.2 // northward
	var path [][2]float64
	y := 0.0
	row := func(seconds int, speed float64) {
		for range seconds {
			path = append(path, [2]float64{0, y})
			y += speed + stream
		}
	}
	row(60, 1.8)
	row(120, 4.5)
	row(60, 1.8)
	row(20, -1.0)
	row(60, -1.8)
	row(120, -4.5)
	row(60, -1.8)
	points := laid(path, 1, 0.3, luck)
	points[150].Lat += 0.01 // a leap of 1.1 km
	points = append(points[:210], points[225:]...)
	got := read(points)
	if len(got.Pieces) != 2 {
		t.Fatalf("%d pieces: %q", len(got.Pieces), got.Notes)
	}
	for i, want := range []struct{ speed, course float64 }{{4.7, 0}, {4.3, 180}} {
		p := got.Pieces[i]
		near(t, "speed", p.Speed, want.speed, 0.01*want.speed) // jitter of 0.3 m at both ends of 500 m, and the build cut off
		near(t, "course", math.Remainder(p.Course-want.course, 360), 0, 1)
		near(t, "duration", p.End-p.Start, 119, 12) // smoothing reaches 6 s in from each end
	}
	water, along := Stream(got.Pieces[0], got.Pieces[1])
	near(t, "stream", along, stream, 0.03)
	near(t, "water", water, 4.5, 0.03)
	said := strings.Join(got.Cautions, "\n")
	if !strings.Contains(said, "jump") || !strings.Contains(said, "gap of 16 s at 3:29") {
		t.Errorf("cautions: %q", got.Cautions)
	}
	if last := got.Notes[len(got.Notes)-1]; !strings.Contains(last, "out and back") {
		t.Errorf("notes: %q", got.Notes)
	}
	if pieces := got.Table.Column("piece").Nums; !math.IsNaN(pieces[0]) || pieces[130] != 1 {
		t.Errorf("piece column: %v %v", pieces[0], pieces[130])
	}
}

// Derived: 0.1 m/s of stream shifts a split at 4.5 m/s by 2.2 %; the mean
// of the times out and back is off by −0.05 % at 0.1 m/s, −1.2 % at 0.5, while
// Stream is exact. Equation 14.2.
func TestStreamArithmetic(t *testing.T) {
	near(t, "one way", 100*(4.6/4.5-1), 2.2, 0.03)
	for stream, bias := range map[float64]float64{0.1: -0.05, 0.5: -1.2} {
		harmonic := 2 / (1/(4.5+stream) + 1/(4.5-stream))
		near(t, "harmonic mean", 100*(harmonic/4.5-1), bias, 0.04)
		water, along := Stream(Stretch{Speed: 4.5 + stream}, Stretch{Speed: 4.5 - stream})
		near(t, "water", water, 4.5, 1e-12)
		near(t, "along", along, stream, 1e-12)
	}
}

func gpx(points []Point, times bool) []byte {
	var b bytes.Buffer
	b.WriteString(`<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>` + "\n")
	start := time.Date(2026, 5, 12, 6, 30, 0, 0, time.UTC)
	for _, p := range points {
		fmt.Fprintf(&b, `<trkpt lat="%.7f" lon="%.7f">`, p.Lat, p.Lon)
		if times {
			fmt.Fprintf(&b, "<time>%s</time>", start.Add(time.Duration(p.Time*1e9)).Format(time.RFC3339))
		}
		b.WriteString("</trkpt>\n")
	}
	b.WriteString("</trkseg></trk></gpx>\n")
	return b.Bytes()
}

func straight(n int) []Point {
	var path [][2]float64
	for i := range n {
		path = append(path, [2]float64{3 * float64(i), 4 * float64(i)}) // 5 m/s
	}
	return laid(path, 1, 0, rand.New(rand.NewPCG(1, 1)))
}

func TestReadGPX(t *testing.T) {
	got, err := ReadTrack("may.gpx", gpx(straight(120), true))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "way", got.Table.Column("distance").Nums[119], 595, 0.05) // seven decimals of a degree are a centimetre
	near(t, "speed", got.Table.Column("speed").Nums[60], 5, 0.01)
}

// fitFile makes a watch's file with the library's own encoder.
func fitFile(t testing.TB, points []Point, place bool) []byte {
	t.Helper()
	start := time.Date(2026, 5, 12, 6, 30, 0, 0, time.UTC)
	activity := filedef.NewActivity()
	activity.FileId = *mesgdef.NewFileId(nil).SetType(typedef.FileActivity).SetTimeCreated(start)
	for _, p := range points {
		r := mesgdef.NewRecord(nil).SetTimestamp(start.Add(time.Duration(p.Time) * time.Second)).SetCadence(31)
		if place {
			r.SetPositionLatDegrees(p.Lat).SetPositionLongDegrees(p.Lon)
		}
		activity.Records = append(activity.Records, r)
	}
	content := activity.ToFIT(nil)
	var b bytes.Buffer
	if err := encoder.New(&b).Encode(&content); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestReadFIT(t *testing.T) {
	got, err := ReadTrack("may.fit", fitFile(t, straight(120), true))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "way", got.Table.Column("distance").Nums[119], 595, 0.1) // a semicircle unit is a centimetre
	if len(got.Pieces) != 1 || got.Pieces[0].Rate != 31 {
		t.Errorf("pieces %+v", got.Pieces)
	}
}

func TestTracksThatAreNone(t *testing.T) {
	good, watch := gpx(straight(120), true), fitFile(t, straight(120), true)
	damaged := bytes.Clone(watch)
	damaged[len(damaged)/2] ^= 0xff
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"no time":     {gpx(straight(50), false), "no times"},
		"cut short":   {good[:600], "breaks off"}, // a few points only
		"watch cut":   {watch[:150], "breaks off"},
		"watch head":  {watch[:20], "breaks off"},
		"damaged":     {damaged, "may"}, // breaks off or is damaged, by where the byte lay
		"no place":    {fitFile(t, straight(50), false), "no place"},
		"a photo":     {[]byte("\xff\xd8\xff\xe0 not a track at all"), "no track"},
		"empty":       {nil, "no track"},
		"three fixes": {gpx(straight(3), true), "usable records"},
		"pole":        {[]byte(`<gpx><trk><trkseg><trkpt lat="145" lon="2"><time>2026-05-12T06:30:00Z</time></trkpt></trkseg></trk></gpx>`), "latitude"},
		"clock":       {[]byte(`<gpx><trk><trkseg><trkpt lat="45" lon="2"><time>half past six</time></trkpt></trkseg></trk></gpx>`), "no time"},
	} {
		_, err := ReadTrack("may", c.data)
		var e *table.Error
		if !errors.As(err, &e) || e.Why == "" || e.Type == "" || !strings.Contains(e.What, c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The shared single of 12 May: from a standstill, 420 s.
func TestSharedTrack(t *testing.T) {
	data, err := os.ReadFile("../../testdata/studies/may12.gpx")
	if err != nil {
		t.Fatal(err)
	}
	got, err := ReadTrack("may12.gpx", data)
	if err != nil {
		t.Fatal(err)
	}
	// straight north: what was rowed between two records is the net way between
	// them, and the mean of the smoothed speeds says the same
	time, speed, way := got.Table.Column("time").Nums, got.Table.Column("speed").Nums, got.Table.Column("distance").Nums
	sum, n := 0.0, 0.0
	for i := range time {
		if time[i] >= 120 && time[i] <= 360 {
			sum += speed[i]
			n++
		}
	}
	net := way[360] - way[120]
	near(t, "mean speed", sum/n, net/240, 0.002*net/240) // the ends count fully among speeds, half in the way
	if len(got.Pieces) != 1 || len(got.Cautions) != 0 || len(time) != 421 {
		t.Errorf("pieces %v, cautions %q, %d records", got.Pieces, got.Cautions, len(time))
	}
}
