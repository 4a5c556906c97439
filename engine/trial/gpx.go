package trial

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"thole/engine/table"
)

// mostPoints is a day on the water, ten records a second.
const mostPoints = 1_000_000

// readGPX gives the track points of a GPX file, all its segments in order. One
// that breaks off gives what stands before the break, and a caution.
func (t *Track) readGPX(file string, data []byte) ([]Point, error) {
	var points []Point
	var first time.Time
	untimed, zoneless, segments := 0, 0, 0
	defer func() {
		if zoneless > 0 {
			t.Notes = append(t.Notes,
				fmt.Sprintf("%d times have no zone (Z or +02:00) and are taken as they stand",
					zoneless))
		}
		if segments > 1 {
			t.Notes = append(t.Notes, fmt.Sprintf("%d stretches between pauses, read as one outing",
				segments))
		}
	}()
	decoder := xml.NewDecoder(bytes.NewReader(data))
	// points by name, in whatever namespace: version 1.0 and 1.1 differ in that
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil && t.breaksOff(err, len(points)) {
			break
		}
		if err != nil {
			return nil, brokenGPX(file, decoder, err, len(points))
		}
		start, ok := token.(xml.StartElement)
		if ok && start.Name.Local == "trkseg" {
			segments++
		}
		if !ok || start.Name.Local != "trkpt" {
			continue
		}
		var p struct {
			Lat  float64 `xml:"lat,attr"`
			Lon  float64 `xml:"lon,attr"`
			Time string  `xml:"time"`
		}
		if err := decoder.DecodeElement(&p, &start); err != nil {
			if t.breaksOff(err, len(points)) {
				break
			}
			return nil, brokenGPX(file, decoder, err, len(points))
		}
		line, _ := decoder.InputPos()
		if math.Abs(p.Lat) > 90 || math.Abs(p.Lon) > 360 || p.Lat == 0 && p.Lon == 0 {
			return nil, &table.Error{What: fmt.Sprintf("%s: a point at latitude %s, longitude %s", file,
				short(p.Lat), short(p.Lon)),
				Why:  "latitude runs from -90 to 90, and a point without both is none",
				Type: "the track as the watch exports it", File: file, Line: line}
		}
		if p.Time == "" {
			untimed++
			continue
		}
		at, err := time.Parse(time.RFC3339, p.Time)
		if err != nil { // some watches write the local time and no zone
			if at, err = time.Parse("2006-01-02T15:04:05", p.Time); err == nil {
				zoneless++
			}
		}
		if err != nil {
			return nil, &table.Error{What: fmt.Sprintf("%s: %q is no time", file, p.Time),
				Why:  "a track's times are written 2026-05-12T06:30:00Z",
				Type: "the track as the watch exports it", File: file, Line: line}
		}
		if len(points) == 0 {
			first = at
		}
		points = append(points, Point{Time: at.Sub(first).Seconds(), Lat: p.Lat, Lon: p.Lon,
			Rate: math.NaN(), Way: math.NaN()})
		if len(points) > mostPoints {
			return nil, tooLong(file)
		}
	}
	switch {
	case len(points) == 0 && untimed > 0:
		return nil, &table.Error{What: fmt.Sprintf("%s has %d points and no times", file, untimed),
			Why:  "a route drawn on a map has none; speed needs them",
			Type: "the track the watch recorded, with times", File: file}
	case len(points) == 0:
		return nil, &table.Error{What: fmt.Sprintf("%s has no track", file), Why: "no trkpt stands in it",
			Type: "the track the watch recorded", File: file}
	}
	return points, nil
}

// breaksOff says whether a file simply ends too early, behind enough points to be
// read, and tells that.
func (t *Track) breaksOff(err error, points int) bool {
	var syntax *xml.SyntaxError
	early := errors.Is(err, io.ErrUnexpectedEOF) || errors.As(err, &syntax) &&
		strings.Contains(syntax.Msg, "unexpected EOF")
	if !early || points < fewestFixes {
		return false
	}
	t.Cautions = append(t.Cautions,
		fmt.Sprintf("the file breaks off after %d records; what stands before is read.", points))
	return true
}

func brokenGPX(file string, d *xml.Decoder, err error, points int) error {
	line, _ := d.InputPos()
	e := &table.Error{What: fmt.Sprintf("%s breaks off in line %d, after %d points", file, line, points),
		Why: "the file was cut short, or changed by hand", Type: "the track exported once more", File: file,
		Line: line}
	var syntax *xml.SyntaxError
	if !errors.As(err, &syntax) && !errors.Is(err, io.ErrUnexpectedEOF) {
		e.What = fmt.Sprintf("%s: line %d cannot be read as a track point", file, line)
	}
	return e
}

func tooLong(file string) error {
	return &table.Error{What: fmt.Sprintf("%s has more than %d points", file, mostPoints),
		Why: "that is longer than a day on the water", Type: "one outing", File: file}
}
