package trial

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
)

// The check value of CRC-16/ARC, as catalogues of checksums print it (from memory).
func TestChecksum(t *testing.T) {
	if got := crc16(0, []byte("123456789")); got != 0xbb3d {
		t.Errorf("crc %04x", got)
	}
}

// signed puts the checksum over head and records, as the protocol says.
func signed(head, records []byte) []byte {
	all := append(slices.Clone(head), records...)
	return binary.LittleEndian.AppendUint16(all, crc16(0, all))
}

// Heads of 12 bytes, and of 14 with a checksum of nought, are sound.
func TestHeadsOfWatchFiles(t *testing.T) {
	watch := fitFile(t, straight(120), true)
	records := watch[14 : len(watch)-2]
	short := slices.Clone(watch[:12])
	short[0] = 12
	unsigned := slices.Clone(watch[:14])
	unsigned[12], unsigned[13] = 0, 0
	for name, data := range map[string][]byte{"14 bytes": watch, "12 bytes": signed(short, records), "checksum nought": signed(unsigned, records)} {
		got, err := ReadTrack("may.fit", data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		near(t, name, got.Table.Column("distance").Nums[119], 595, 0.1)
		if len(got.Cautions) > 0 {
			t.Errorf("%s: %q", name, got.Cautions)
		}
		data = slices.Clone(data)
		data[len(data)-40] ^= 1
		if _, err := ReadTrack("may.fit", data); err == nil {
			t.Errorf("%s: a changed byte is not seen", name)
		}
	}
}

func has(texts []string, part string) bool {
	return slices.ContainsFunc(texts, func(s string) bool { return strings.Contains(s, part) })
}

func TestFilesThatBreakOff(t *testing.T) {
	watch, map_ := fitFile(t, straight(120), true), gpx(straight(120), true)
	for name, data := range map[string][]byte{"may.fit": watch[:len(watch)*2/3], "may.gpx": map_[:len(map_)*2/3]} {
		got, err := ReadTrack(name, data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		n := got.Table.Len()
		if n < 70 || n > 82 || !has(got.Cautions, fmt.Sprintf("breaks off after %d records", n)) {
			t.Errorf("%s: %d records, %q", name, n, got.Cautions)
		}
		near(t, name, got.Table.Column("distance").Nums[n-1], 5*float64(n-1), 0.1)
	}
}

func TestTwoFilesInOne(t *testing.T) {
	later := straight(240)
	watch := append(fitFile(t, later[:120], true), fitFile(t, later[120:], true)...)
	got, err := ReadTrack("may.fit", watch)
	if err != nil {
		t.Fatal(err)
	}
	if !has(got.Notes, "2 files stand in this one") || got.Table.Len() != 240 {
		t.Errorf("%d records, %q", got.Table.Len(), got.Notes)
	}
	near(t, "way", got.Table.Column("distance").Nums[239], 1195, 0.2)
}

// withoutPlace makes the file of a watch that knew distance and speed only, or
// one of the two, with a pause and two sessions.
func withoutPlace(t *testing.T, distance, speed bool) []byte {
	t.Helper()
	start := time.Date(2026, 5, 12, 6, 30, 0, 0, time.UTC)
	activity := filedef.NewActivity()
	activity.FileId = *mesgdef.NewFileId(nil).SetType(typedef.FileActivity).SetTimeCreated(start)
	for i := range 120 {
		r := mesgdef.NewRecord(nil).SetTimestamp(start.Add(time.Duration(i) * time.Second))
		if distance {
			r.SetDistanceScaled(4.5 * float64(i))
		}
		if speed {
			r.SetSpeedScaled(4.5)
		}
		activity.Records = append(activity.Records, r)
	}
	for _, k := range []typedef.EventType{typedef.EventTypeStart, typedef.EventTypeStopAll, typedef.EventTypeStart, typedef.EventTypeStopAll} {
		activity.Events = append(activity.Events, mesgdef.NewEvent(nil).SetTimestamp(start).SetEvent(typedef.EventTimer).SetEventType(k))
	}
	activity.Sessions = append(activity.Sessions, mesgdef.NewSession(nil).SetTimestamp(start), mesgdef.NewSession(nil).SetTimestamp(start))
	content := activity.ToFIT(nil)
	var b bytes.Buffer
	if err := encoder.New(&b).Encode(&content); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestRecordsWithoutPlace(t *testing.T) {
	for _, c := range []struct{ distance, speed bool }{{true, true}, {true, false}, {false, true}} {
		got, err := ReadTrack("may.fit", withoutPlace(t, c.distance, c.speed))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "way", got.Table.Column("distance").Nums[119], 4.5*119, 0.2) // the watch's distances are centimetres
		near(t, "speed", got.Table.Column("speed").Nums[60], 4.5, 0.01)
		for _, want := range []string{"no record has a place", "2 sessions", "pauses: 1"} {
			if !has(got.Notes, want) {
				t.Errorf("no note %q in %q", want, got.Notes)
			}
		}
		if len(got.Pieces) != 1 || strings.Contains(got.Pieces[0].String(), "course") {
			t.Errorf("pieces %v", got.Pieces)
		}
	}
}

// A watch that saves a record every ten seconds, or fewer: the speed is distance
// over time, or blank, never nought.
func TestRecordsFarApart(t *testing.T) {
	var sparse []Point
	for i, p := range straight(600) {
		if i%10 == 0 {
			sparse = append(sparse, p)
		}
	}
	sparse[30].Time += 2000
	for i := 31; i < len(sparse); i++ {
		sparse[i].Time += 4000
	}
	got := read(sparse)
	for i, v := range got.Table.Column("speed").Nums {
		if i == 30 {
			if !math.IsNaN(v) {
				t.Errorf("a record alone between gaps has the speed %v", v)
			}
			continue
		}
		near(t, "speed", v, 5, 0.01)
	}
	if !has(got.Cautions, "speed is left blank") {
		t.Errorf("said %q", got.Cautions)
	}
}

func TestLocalTimes(t *testing.T) {
	data := bytes.ReplaceAll(gpx(straight(120), true), []byte("Z</time>"), []byte("</time>"))
	got, err := ReadTrack("may.gpx", data)
	if err != nil {
		t.Fatal(err)
	}
	if !has(got.Notes, "120 times have no zone") {
		t.Errorf("notes %q", got.Notes)
	}
	near(t, "way", got.Table.Column("distance").Nums[119], 595, 0.05)
}
