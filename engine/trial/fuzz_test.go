package trial

import (
	"os"
	"testing"
)

// Whatever bytes come, a reader gives a table or a sentence, never a panic.
func FuzzReaders(f *testing.F) {
	for _, name := range []string{"may12.gpx", "saturday.csv"} {
		data, err := os.ReadFile("../../testdata/studies/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data[:min(len(data), 2000)])
	}
	f.Add(fitFile(f, straight(12), true))
	f.Add([]byte("\x0e\x10\x00\x00\x00\x00\x00\x00.FIT\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if track, err := ReadTrack("x", data); err == nil && track.Table.Len() == 0 {
			t.Error("an empty track without a word")
		}
		if pieces, _, err := ReadTrial("x", data); err == nil {
			if _, err := Judge(pieces, JudgeSettings{A: "long", B: "short"}); err != nil &&
				err.Error() == "" {
				t.Error("a mistake without a word")
			}
		}
	})
}
