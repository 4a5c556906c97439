package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"io/fs"
	"strings"
	"testing"

	"thole/engine/document"
	"thole/engine/record"
)

func sampleRecord() *record.Run {
	doc := &document.Document{Study: "quad.star", Version: "1.0", Answer: "An outboard of 199 cm.",
		Results: []document.Result{{Name: "outboard", Unit: "cm", Digits: 1, Value: 199}}}
	var params record.Ordered[*record.Param]
	return record.Of(doc, params, []record.File{
		record.NewFile("quad.star", record.Study, []byte("answer(\"An outboard of 199 cm.\")\n")),
		record.NewFile("club.star", record.Loaded, []byte("our_quad = 1\n")),
		record.NewFile("data/oars.csv", record.Input, []byte("set\nA\n")),
		record.NewFile("may.fit", record.Input, []byte{0xff, 0xfe, 0}),
	})
}

func TestPackComesBack(t *testing.T) {
	data, err := writePack(sampleRecord())
	if err != nil {
		t.Fatal(err)
	}
	again, _ := writePack(sampleRecord())
	if !bytes.Equal(data, again) {
		t.Error("the same record packs to other bytes")
	}
	p, err := readPack("quad.zip", data)
	if err != nil {
		t.Fatal(err)
	}
	if p.study != "quad.star" || !strings.HasPrefix(string(p.text), "answer") || len(p.files.files) != 3 {
		t.Errorf("came back as %q with %d files", p.study, len(p.files.files))
	}
	if got := p.files.files["may.fit"]; !bytes.Equal(got, []byte{0xff, 0xfe, 0}) {
		t.Errorf("bytes came back as %v", got)
	}
	if same, c := givesRecorded(p.record, sampleRecord()); !same {
		t.Errorf("the record in the pack differs from itself: %+v", c)
	}
}

func TestPackHoldsNothingOfTheMachine(t *testing.T) {
	r := sampleRecord()
	r.Files = append(r.Files, record.NewFile("/home/somebody/last_year/record.json", record.Input,
		[]byte("{}")))
	if _, err := writePack(r); err == nil {
		t.Error("a path of this machine went into a pack")
	}
}

// entry is one file of a zip made by hand.
type entry struct {
	name    string
	mode    fs.FileMode
	content []byte
}

func zipOf(entries ...entry) []byte {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate}
		h.SetMode(e.mode | 0o644)
		w, err := z.CreateHeader(h)
		if err != nil {
			panic(err)
		}
		w.Write(e.content)
	}
	z.Close()
	return out.Bytes()
}

var plainStudy = entry{"a.star", 0, []byte(`answer("well")`)}

func TestHostilePacks(t *testing.T) {
	zeros := make([]byte, mostFile+1) // packs to 64 kB
	many := []entry{plainStudy}
	for i := range mostEntries {
		many = append(many, entry{strings.Repeat("d", i+1), 0, nil})
	}
	bombs := []entry{plainStudy}
	for i := range 5 {
		bombs = append(bombs, entry{strings.Repeat("b", i+1), 0, zeros[:mostFile]})
	}
	recorded, _ := sampleRecord().Encode()
	later := bytes.Replace(recorded, []byte(`"format": 1`), []byte(`"format": 9`), 1)

	for _, c := range []struct {
		name, want string
		data       []byte
	}{
		{"not a zip", "no zip", []byte("hello")},
		{"empty", "no zip", nil},
		{"up", "outside", zipOf(plainStudy, entry{"../evil.sh", 0, nil})},
		{"up later", "outside", zipOf(plainStudy, entry{"a/../../evil.sh", 0, nil})},
		{"absolute", "outside", zipOf(plainStudy, entry{"/etc/cron.d/evil", 0, nil})},
		{"drive", "outside", zipOf(plainStudy, entry{"C:/evil.bat", 0, nil})},
		{"backslash", "outside", zipOf(plainStudy, entry{`..\evil.bat`, 0, nil})},
		{"nul", "outside", zipOf(plainStudy, entry{"a\x00b", 0, nil})},
		{"unclean", "outside", zipOf(plainStudy, entry{"a//b", 0, nil})},
		{"link", "link", zipOf(plainStudy, entry{"link", fs.ModeSymlink, []byte("/etc/passwd")})},
		{"device", "device", zipOf(plainStudy, entry{"dev", fs.ModeDevice, nil})},
		{"twice", "twice", zipOf(plainStudy, entry{"b.csv", 0, []byte("1")}, entry{"b.csv", 0, []byte("2")})},
		{"one long file", "a file of its kind may have 64 MB", zipOf(plainStudy, entry{"zeros", 0, zeros})},
		{"many long files", "all files of a zip may have 256 MB, and those before it leave", zipOf(bombs...)},
		{"many files", "files", zipOf(many...)},
		{"no study", "0 studies", zipOf(entry{"a.txt", 0, nil})},
		{"two studies", "2 studies", zipOf(plainStudy, entry{"b.star", 0, nil})},
		{"a record of another study", "not in it", zipOf(plainStudy, entry{record.FileName, 0, recorded})},
		{"a record cut short", "cut short",
			zipOf(plainStudy, entry{record.FileName, 0, recorded[:len(recorded)/2]})},
		{"a later record", "later", zipOf(plainStudy, entry{record.FileName, 0, later})},
		{"a lying size", "", lyingSize()},
	} {
		p, err := readPack("evil.zip", c.data)
		if err == nil {
			t.Errorf("%s: read, with %d files", c.name, len(p.files.files))
			continue
		}
		var m *Message
		if !asMessage(err, &m) || m.Why == "" || m.Type == "" || !strings.Contains(m.Why, c.want) {
			t.Errorf("%s: %v (why %q), want %q in it", c.name, err, m.Why, c.want)
		}
	}
}

func asMessage(err error, m **Message) bool {
	got, ok := err.(*Message)
	*m = got
	return ok
}

// lyingSize is a zip whose entry says it is four bytes long and is a megabyte.
func lyingSize() []byte {
	data := zipOf(plainStudy, entry{"b.csv", 0, make([]byte, 1<<20)})
	// the central directory holds the size that counts, 24 bytes behind its mark
	for at := 0; ; {
		i := bytes.Index(data[at:], []byte("PK\x01\x02"))
		if i < 0 {
			return data
		}
		at += i
		if binary.LittleEndian.Uint32(data[at+24:]) == 1<<20 {
			binary.LittleEndian.PutUint32(data[at+24:], 4)
		}
		at += 4
	}
}

// Whatever a zip holds, reading it ends, within the limits, and what comes out
// lies within the study's folder.
func FuzzReadPack(f *testing.F) {
	good, _ := writePack(sampleRecord())
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add(zipOf(plainStudy))
	f.Add(zipOf(plainStudy, entry{"../evil", 0, []byte("x")}))
	f.Add(lyingSize())
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := readPack("x.zip", data)
		if err != nil {
			return
		}
		total := 0
		for name, content := range p.files.files {
			total += len(content)
			if strings.HasPrefix(name, "/") || strings.Contains("/"+name+"/", "/../") {
				t.Fatalf("%q came out of a pack", name)
			}
		}
		if total > mostUnpacked {
			t.Fatalf("%d bytes came out of a pack", total)
		}
	})
}
