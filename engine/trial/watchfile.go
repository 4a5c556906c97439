package trial

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"time"

	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/profile/basetype"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/profile/untyped/mesgnum"
	"github.com/muktihari/fit/proto"

	"thole/engine/table"
)

// watchRecords are what a .fit file says of an outing. It hears every message
// as it is read, so that a file that breaks off gives what stands before.
type watchRecords struct {
	records         []record
	placed, wayed   int // records with a place, with a distance or speed
	sessions, stops int
	paused          bool // the timer was stopped, and not yet started again
}

type record struct {
	at          time.Time
	lat, lon    float64 // deg, NaN unknown
	way, speed  float64 // m, m/s, NaN unknown
	rate        float64 // 1/min, NaN unknown
	placed, far bool
}

// OnMesg takes one message of the file.
func (w *watchRecords) OnMesg(m proto.Message) {
	switch m.Num {
	case mesgnum.Session:
		w.sessions++
	case mesgnum.Event:
		e := mesgdef.NewEvent(&m)
		if e.Event != typedef.EventTimer {
			return
		}
		switch e.EventType {
		case typedef.EventTypeStop, typedef.EventTypeStopAll:
			w.paused = true
		case typedef.EventTypeStart:
			if w.paused {
				w.stops++
			}
			w.paused = false
		}
	case mesgnum.Record:
		w.add(mesgdef.NewRecord(&m))
	}
}

func (w *watchRecords) add(r *mesgdef.Record) {
	if r.Timestamp.IsZero() || len(w.records) > mostPoints {
		return
	}
	p := record{at: r.Timestamp, lat: r.PositionLatDegrees(), lon: r.PositionLongDegrees(), way: math.NaN(),
		speed: math.NaN(), rate: math.NaN()}
	p.placed = !math.IsNaN(p.lat) && !math.IsNaN(p.lon) && r.PositionLat != basetype.Sint32Invalid &&
		r.PositionLong != basetype.Sint32Invalid
	if r.Distance != basetype.Uint32Invalid {
		p.way = r.DistanceScaled()
	}
	switch {
	case r.EnhancedSpeed != basetype.Uint32Invalid:
		p.speed = r.EnhancedSpeedScaled()
	case r.Speed != basetype.Uint16Invalid:
		p.speed = r.SpeedScaled()
	}
	p.far = !math.IsNaN(p.way) || !math.IsNaN(p.speed)
	if r.Cadence != basetype.Uint8Invalid {
		p.rate = float64(r.Cadence)
		if r.FractionalCadence != basetype.Uint8Invalid {
			p.rate += r.FractionalCadenceScaled()
		}
	}
	if p.placed {
		w.placed++
	}
	if p.far {
		w.wayed++
	}
	w.records = append(w.records, p)
}

// points are the records with a place; where none has one, those with a distance
// or a speed.
func (w *watchRecords) points() []Point {
	var points []Point
	way, before := 0.0, record{}
	for _, r := range w.records {
		if w.placed > 0 && !r.placed || w.placed == 0 && !r.far {
			continue
		}
		if before.at.IsZero() {
			before = r
			points = append(points, Point{Lat: r.lat, Lon: r.lon, Rate: r.rate, Way: math.NaN()})
			if w.placed > 0 && !math.IsNaN(r.way) {
				points[0].Counted = r.way
			}
			if w.placed == 0 {
				points[0] = Point{Rate: r.rate, Way: 0}
			}
			continue
		}
		p := Point{Time: points[len(points)-1].Time + r.at.Sub(before.at).Seconds(), Lat: r.lat, Lon: r.lon,
			Rate: r.rate, Way: math.NaN()}
		if w.placed > 0 && !math.IsNaN(r.way) {
			p.Counted = r.way
		} else if w.placed > 0 {
			p.Counted = points[len(points)-1].Counted
		}
		if w.placed == 0 {
			if step := r.way - before.way; step >= 0 {
				way += step
			} else if step := r.speed * r.at.Sub(before.at).Seconds(); step >= 0 {
				way += step
			}
			p.Way = way
			// laid along the equator, where the way is the angle
			p.Lat, p.Lon = 0, way/(earthAxis*math.Pi/180)
		}
		points = append(points, p)
		before = r
	}
	return points
}

// readFIT gives the records of a watch's file: of all files in it, where several
// are joined to one, as the protocol allows.
func (t *Track) readFIT(file string, data []byte) ([]Point, error) {
	w := &watchRecords{}
	files := 0
	for rest := data; len(rest) > 0; files++ {
		one, whole, sound := oneFIT(rest)
		if whole && !sound {
			return nil, &table.Error{What: fmt.Sprintf("%s is damaged", file),
				Why:  "its checksum does not fit what stands in it",
				Type: "the file copied from the watch once more",
				File: file}
		}
		// the checksum was looked at; the library counts it without the head
		_, err := decoder.New(bytes.NewReader(one), decoder.WithIgnoreChecksum(), decoder.WithBroadcastOnly(),
			decoder.WithMesgListener(w)).Decode()
		if err != nil || !whole {
			if max(w.placed, w.wayed) < fewestFixes {
				return nil, brokenFIT(file)
			}
			t.Cautions = append(t.Cautions, fmt.Sprintf(
				"the file breaks off after %d records; what stands before is read.", len(w.records)))
			break
		}
		rest = rest[len(one):]
	}
	if len(w.records) > mostPoints {
		return nil, tooLong(file)
	}
	points := w.points()
	if len(points) == 0 {
		e := &table.Error{What: fmt.Sprintf("%s has no records", file),
			Why: "nothing was recorded, or the file was cut short", Type: "the outing exported once more",
			File: file}
		if n := len(w.records); n > 0 {
			e.What, e.Why = fmt.Sprintf("%s has %d records and no place in any, nor a distance or speed",
				file, n),
				"the watch had no fix, or the outing was indoors"
		}
		return nil, e
	}
	t.tellWatch(w, files, len(points))
	return points, nil
}

// tellWatch says how a watch's file was read, where that was not plain.
func (t *Track) tellWatch(w *watchRecords, files, used int) {
	note := func(format string, args ...any) { t.Notes = append(t.Notes, fmt.Sprintf(format, args...)) }
	if files > 1 {
		note("%d files stand in this one, read as one outing", files)
	}
	if w.sessions > 1 {
		note("%d sessions, read as one outing", w.sessions)
	}
	if w.stops > 0 {
		note("pauses: %d; the watch was stopped, and started again", w.stops)
	}
	if w.placed == 0 {
		note("no record has a place: distance and speed are the watch's own, and there is no course")
	} else if left := len(w.records) - used; left > 0 {
		note("%d records without a place were left out", left)
	}
}

// oneFIT cuts the first file out of a chain: whole says whether all of it is
// there, sound whether its checksum fits. The head has 12 or 14 bytes, its own
// checksum may be nought, and the checksum at the end covers head and records
// (FIT protocol, file header and CRC; from memory).
func oneFIT(data []byte) (one []byte, whole, sound bool) {
	if len(data) < 12 || int(data[0]) > len(data) {
		return data, false, false
	}
	head := int(data[0])
	end := uint64(head) + uint64(binary.LittleEndian.Uint32(data[4:8]))
	if end+2 > uint64(len(data)) {
		return data, false, false
	}
	one = data[:end+2]
	sum := binary.LittleEndian.Uint16(data[end:])
	return one, true, sum == crc16(0, data[:end]) || sum == crc16(0, data[head:end])
}

// crc16 is the checksum of watch files: polynomial 0x8005, reflected, from
// nought (CRC-16/ARC).
func crc16(sum uint16, data []byte) uint16 {
	for _, b := range data {
		sum ^= uint16(b)
		for range 8 {
			low := sum & 1
			sum >>= 1
			if low == 1 {
				sum ^= 0xa001
			}
		}
	}
	return sum
}

func brokenFIT(file string) error {
	return &table.Error{What: fmt.Sprintf("%s breaks off", file), Why: "the watch's file was cut short",
		Type: "the file copied from the watch once more", File: file}
}
