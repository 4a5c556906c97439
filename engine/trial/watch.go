package trial

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/profile/basetype"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/untyped/mesgnum"

	"thole/engine/table"
)

// mostPoints is a day on the water, ten records a second.
const mostPoints = 1_000_000

// readGPX gives the track points of a GPX file, all its segments in order.
func readGPX(file string, data []byte) ([]Point, error) {
	var points []Point
	var first time.Time
	untimed := 0
	decoder := xml.NewDecoder(bytes.NewReader(data))
	// points by name, in whatever namespace: version 1.0 and 1.1 differ in that
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, brokenGPX(file, decoder, err, len(points))
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "trkpt" {
			continue
		}
		var p struct {
			Lat  float64 `xml:"lat,attr"`
			Lon  float64 `xml:"lon,attr"`
			Time string  `xml:"time"`
		}
		if err := decoder.DecodeElement(&p, &start); err != nil {
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
		if err != nil {
			return nil, &table.Error{What: fmt.Sprintf("%s: %q is no time", file, p.Time),
				Why:  "a track's times are written 2026-05-12T06:30:00Z",
				Type: "the track as the watch exports it", File: file, Line: line}
		}
		if len(points) == 0 {
			first = at
		}
		points = append(points, Point{Time: at.Sub(first).Seconds(), Lat: p.Lat, Lon: p.Lon,
			Rate: math.NaN()})
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

// readFIT gives the records of a watch's file that have a place.
func readFIT(file string, data []byte) ([]Point, error) {
	dec := decoder.New(bytes.NewReader(data))
	var points []Point
	var first time.Time
	records := 0
	for dec.Next() {
		content, err := dec.Decode()
		if err != nil {
			return nil, brokenFIT(file, err)
		}
		for i := range content.Messages {
			if content.Messages[i].Num != mesgnum.Record {
				continue
			}
			records++
			r := mesgdef.NewRecord(&content.Messages[i])
			lat, lon := r.PositionLatDegrees(), r.PositionLongDegrees()
			if math.IsNaN(lat) || math.IsNaN(lon) || r.PositionLat == basetype.Sint32Invalid ||
				r.PositionLong == basetype.Sint32Invalid || r.Timestamp.IsZero() {
				continue
			}
			if len(points) == 0 {
				first = r.Timestamp
			}
			rate := math.NaN()
			if r.Cadence != basetype.Uint8Invalid {
				rate = float64(r.Cadence)
				if r.FractionalCadence != basetype.Uint8Invalid {
					rate = r.FractionalCadenceScaled() + rate
				}
			}
			points = append(points, Point{Time: r.Timestamp.Sub(first).Seconds(), Lat: lat, Lon: lon,
				Rate: rate})
			if len(points) > mostPoints {
				return nil, tooLong(file)
			}
		}
	}
	if len(points) == 0 {
		e := &table.Error{What: fmt.Sprintf("%s has no records", file),
			Why: "nothing was recorded, or the file was cut short", Type: "the outing exported once more",
			File: file}
		if records > 0 {
			e.What, e.Why = fmt.Sprintf("%s has %d records and no place in any", file, records),
				"the watch had no fix, or the outing was indoors"
		}
		return nil, e
	}
	return points, nil
}

func brokenFIT(file string, err error) error {
	e := &table.Error{What: fmt.Sprintf("%s breaks off", file), Why: "the watch's file was cut short",
		Type: "the file copied from the watch once more", File: file}
	if errors.Is(err, decoder.ErrCRCChecksumMismatch) {
		e.What, e.Why = fmt.Sprintf("%s is damaged", file), "its checksum does not fit what stands in it"
	}
	return e
}
