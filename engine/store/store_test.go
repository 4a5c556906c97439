package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

func key(i int) Key { return KeyOf("test", "point", binary.BigEndian.AppendUint64(nil, uint64(i))) }

// value is what point i must read as: a function of i, so that a wrong point shows.
func value(i int) []byte {
	r := rand.New(rand.NewPCG(uint64(i), 7))
	v := make([]byte, 240)
	for j := range v {
		v[j] = byte(r.Uint32())
	}
	return v
}

// holds counts the points 0..n-1 that a store gives, and fails on a wrong one.
func holds(t *testing.T, s *Store, n int) int {
	t.Helper()
	got := 0
	for i := range n {
		if v, ok := s.Get(key(i)); ok {
			got++
			if !bytes.Equal(v, value(i)) {
				t.Fatalf("point %d came back changed", i)
			}
		}
	}
	return got
}

func fill(s *Store, from, to int) {
	for i := from; i < to; i++ {
		s.Put(key(i), value(i))
	}
}

func TestPointsComeBack(t *testing.T) {
	dir := t.TempDir()
	s := Open(dir, Options{})
	fill(s, 0, 5000)
	if got := holds(t, s, 5000); got != 5000 {
		t.Errorf("%d of 5000 points in the run that put them", got)
	}
	s.Close()
	s = Open(dir, Options{})
	defer s.Close()
	if got := holds(t, s, 6000); got != 5000 {
		t.Errorf("%d of 5000 points in the next run", got)
	}
	if found, put := s.Counts(); found != 5000 || put != 0 {
		t.Errorf("counts say %d found, %d put", found, put)
	}
	if notes := s.Notes(); len(notes) > 0 {
		t.Errorf("notes without trouble: %q", notes)
	}
}

func TestAKeyIsItsMeaning(t *testing.T) {
	base := KeyOf("engine 1", "row", []byte{1, 2, 3})
	for what, other := range map[string]Key{
		"another engine": KeyOf("engine 2", "row", []byte{1, 2, 3}),
		"another kind":   KeyOf("engine 1", "equal_load", []byte{1, 2, 3}),
		"other inputs":   KeyOf("engine 1", "row", []byte{1, 2, 4}),
		"a letter moved": KeyOf("engine 1r", "ow", []byte{1, 2, 3}),
	} {
		if other == base {
			t.Errorf("%s has the same key", what)
		}
	}
	if KeyOf("engine 1", "row", []byte{1, 2, 3}) != base {
		t.Error("the same inputs have two keys")
	}
}

func TestNilStoreHoldsNothing(t *testing.T) {
	var s *Store
	s.Put(key(1), value(1))
	if _, ok := s.Get(key(1)); ok {
		t.Error("a nil store gave a point")
	}
	s.Flush()
	s.Close()
}

// Two runs at once: neither waits, each keeps its points, a third reads all.
func TestTwoRunsAtOnce(t *testing.T) {
	dir := t.TempDir()
	a, b := Open(dir, Options{}), Open(dir, Options{})
	fill(a, 0, 1000)
	fill(b, 1000, 2000)
	a.Flush()
	b.Flush()
	c := Open(dir, Options{})
	// one file for both would have waited here for ever for its lock
	if got := holds(t, c, 2000); got != 0 {
		t.Errorf("a third run read %d points out of files being written", got)
	}
	c.Close()
	a.Close()
	b.Close()
	d := Open(dir, Options{})
	defer d.Close()
	if got := holds(t, d, 2000); got != 2000 {
		t.Errorf("%d of 2000 points of two runs", got)
	}
	for _, s := range []*Store{a, b, c, d} {
		if n := s.Notes(); len(n) > 0 {
			t.Errorf("notes without trouble: %q", n)
		}
	}
}

// Many small runs: the files are joined, no point is lost.
func TestSmallFilesAreJoined(t *testing.T) {
	dir := t.TempDir()
	for run := range 20 {
		s := Open(dir, Options{})
		fill(s, run*50, run*50+50)
		s.Close()
	}
	paths, _ := list(dir)
	if len(paths) > many {
		t.Errorf("%d files after 20 runs", len(paths))
	}
	s := Open(dir, Options{})
	defer s.Close()
	if got := holds(t, s, 1000); got != 1000 {
		t.Errorf("%d of 1000 points after joining", got)
	}
}

// Beyond the limit the oldest go first and the newest stay.
func TestOldestGoFirst(t *testing.T) {
	dir := t.TempDir()
	const limit = 4 << 20
	for run := range 30 {
		s := Open(dir, Options{Limit: limit})
		fill(s, run*1000, run*1000+1000)
		s.Close()
	}
	c, err := See(dir)
	if err != nil {
		t.Fatal(err)
	}
	if c.Bytes > limit {
		t.Errorf("%d bytes in a store limited to %d", c.Bytes, limit)
	}
	s := Open(dir, Options{Limit: limit})
	defer s.Close()
	first, last := -1, -1
	for run := range 30 {
		if _, ok := s.Get(key(run * 1000)); ok {
			if first < 0 {
				first = run
			}
			last = run
		} else if first >= 0 {
			t.Errorf("run %d is gone though the older run %d is there", run, first)
		}
	}
	if first <= 0 || last != 29 {
		t.Errorf("runs %d to %d are left of 0 to 29", first, last)
	}
	// an eighth of the limit may stand empty: no more is thrown out at once
	if c.Bytes < limit/2 {
		t.Errorf("only %d bytes are left of %d", c.Bytes, limit)
	}
}

func oneFile(t *testing.T, dir string) string {
	t.Helper()
	paths, err := list(dir)
	if err != nil || len(paths) != 1 {
		t.Fatalf("%d files, %v; one expected", len(paths), err)
	}
	return paths[0]
}

// A file cut short at any length is spoken of, its points are rowed again, and
// what is put later is kept.
func TestTruncatedFile(t *testing.T) {
	whole := t.TempDir()
	s := Open(whole, Options{})
	fill(s, 0, 300)
	s.Close()
	content, err := os.ReadFile(oneFile(t, whole))
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []int{1, 100, 4095, 4096, 9000, 20000, len(content) / 2, len(content) - 4096} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "000001-aaaaaa.points"), content[:size],
			0o644); err != nil {
			t.Fatal(err)
		}
		s := Open(dir, Options{})
		got := holds(t, s, 300)
		// the file's end may be pages that nobody uses: then all is there
		if n := s.Notes(); got != 300 && (len(n) != 1 || !strings.Contains(n[0], "damaged")) {
			t.Errorf("cut to %d of %d bytes: %d points, notes %q", size, len(content), got, n)
		}
		fill(s, 0, 300)
		s.Close()
		s = Open(dir, Options{})
		if got := holds(t, s, 300); got != 300 || len(s.Notes()) != 0 {
			t.Errorf("cut to %d bytes: then %d of 300 points, notes %q", size, got, s.Notes())
		}
		s.Close()
	}
}

// Flipped bytes anywhere: no panic, no wrong point, no lost run.
func TestDamagedPages(t *testing.T) {
	whole := t.TempDir()
	s := Open(whole, Options{})
	fill(s, 0, 300)
	s.Close()
	content, _ := os.ReadFile(oneFile(t, whole))
	r := rand.New(rand.NewPCG(1, 2))
	missing := 0
	for n := range 120 {
		dir := t.TempDir()
		bad := append([]byte(nil), content...)
		page := r.IntN(len(bad)/4096) * 4096
		for range 20 {
			at := page + r.IntN(64) // the page's own head
			if n%2 == 1 {
				at = page + r.IntN(4096) // its keys and points
			}
			bad[at] = byte(r.Uint32())
		}
		os.WriteFile(filepath.Join(dir, "000001-aaaaaa.points"), bad, 0o644)
		s := Open(dir, Options{})
		missing += 300 - holds(t, s, 300) // and each that is there is right
		fill(s, 300, 310)
		s.Close()
		s = Open(dir, Options{})
		for i := 300; i < 310; i++ {
			if _, ok := s.Get(key(i)); !ok {
				t.Fatalf("a point put beside a damaged file was lost")
			}
		}
		s.Close()
	}
	if missing == 0 {
		t.Error("no damage was ever noticed: the test shows nothing")
	}
}

func TestLaterVersionIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "000001-aaaaaa.points")
	db, err := bbolt.Open(path, 0o644, nil)
	if err != nil {
		t.Fatal(err)
	}
	db.Update(func(tx *bbolt.Tx) error {
		b, _ := tx.CreateBucket(aboutBucket)
		return b.Put(formatKey, binary.BigEndian.AppendUint32(nil, format+1))
	})
	db.Close()
	before, _ := os.ReadFile(path)
	s := Open(dir, Options{})
	fill(s, 0, 10)
	s.Close()
	if n := s.Notes(); len(n) != 1 || !strings.Contains(n[0], "later thole") {
		t.Errorf("notes %q", n)
	}
	after, _ := os.ReadFile(path)
	if !bytes.Equal(before, after) {
		t.Error("a later version's file was changed")
	}
	s = Open(dir, Options{})
	defer s.Close()
	if got := holds(t, s, 10); got != 10 {
		t.Errorf("%d of 10 points beside a later version's file", got)
	}
}

func TestFolderThatCannotBeWritten(t *testing.T) {
	if os.Geteuid() == 0 && runtime.GOOS == "linux" {
		// root writes everywhere: a file in the folder's place serves as well
		dir := filepath.Join(t.TempDir(), "file")
		os.WriteFile(dir, nil, 0o644)
		s := Open(dir, Options{})
		fill(s, 0, 10)
		s.Close()
		if n := s.Notes(); len(n) == 0 {
			t.Error("nothing is said of a store that cannot be")
		}
		return
	}
	dir := t.TempDir()
	s := Open(dir, Options{})
	fill(s, 0, 10)
	s.Close()
	os.Chmod(dir, 0o555)
	defer os.Chmod(dir, 0o755)
	s = Open(dir, Options{})
	if got := holds(t, s, 10); got != 10 {
		t.Errorf("%d of 10 points read out of a folder that cannot be written", got)
	}
	fill(s, 10, 20)
	s.Close()
	if n := s.Notes(); len(n) != 1 || !strings.Contains(n[0], "not kept") {
		t.Errorf("notes %q", n)
	}
}

// A part writes a file of its name, goes on in it, and is read by the gathering.
func TestParts(t *testing.T) {
	parts, cache := t.TempDir(), t.TempDir()
	for range 2 { // the second time it goes on in its own file
		a := Open(parts, Options{File: "part-1-of-2", Alone: true})
		fill(a, 0, 10)
		a.Close()
	}
	b := Open(parts, Options{File: "part-2-of-2", Alone: true})
	fill(b, 10, 20)
	busy := Open(parts, Options{File: "part-2-of-2", Alone: true})
	if n := busy.Notes(); len(n) != 1 || !strings.Contains(n[0], "another run") {
		t.Errorf("the same part twice at once: notes %q", n)
	}
	busy.Close()
	b.Close()
	g := Open(cache, Options{Also: []string{parts}})
	defer g.Close()
	if got := holds(t, g, 20); got != 20 {
		t.Errorf("gathered %d of 20 points", got)
	}
}

func TestSeeAndEmpty(t *testing.T) {
	dir := t.TempDir()
	s := Open(dir, Options{})
	fill(s, 0, 100)
	s.Close()
	live := Open(dir, Options{})
	fill(live, 100, 110)
	live.Flush()
	c, err := See(dir)
	if err != nil || c.Points != 100 || c.Files != 2 || c.Busy != 1 {
		t.Errorf("see: %+v, %v", c, err)
	}
	gone, kept, err := Empty(dir)
	if err != nil || gone.Points != 100 || kept.Files != 1 {
		t.Errorf("empty: gone %+v, kept %+v, %v", gone, kept, err)
	}
	live.Close()
	if c, _ := See(filepath.Join(dir, "missing")); c.Files != 0 {
		t.Errorf("a missing store holds %+v", c)
	}
}

// TestKilled is the child of TestKillAtAnyMoment: it puts points for ever and
// says after each flush how many are safe.
func TestKilled(t *testing.T) {
	dir := os.Getenv("THOLE_STORE_TEST_DIR")
	if dir == "" {
		t.Skip("runs as a child only")
	}
	s := Open(dir, Options{})
	from := 0
	for {
		if _, ok := s.Get(key(from)); !ok {
			break
		}
		from++
	}
	for n := from; ; n += 40 {
		fill(s, n, n+40)
		s.Flush()
		fmt.Printf("safe %d\n", n+40)
	}
}

// kill -9 at a random moment, many times over one store: each point that was
// flushed is there the next time, and none is wrong.
func TestKillAtAnyMoment(t *testing.T) {
	kills := 20
	if testing.Short() {
		kills = 3
	}
	dir := t.TempDir()
	safe := 0
	for i := range kills {
		cmd := exec.Command(os.Args[0], "-test.run", "^TestKilled$")
		cmd.Env = append(os.Environ(), "THOLE_STORE_TEST_DIR="+dir)
		var out bytes.Buffer
		cmd.Stdout = &out
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(20+rand.IntN(180)) * time.Millisecond)
		cmd.Process.Signal(syscall.SIGKILL)
		cmd.Wait()
		for line := range strings.Lines(out.String()) {
			n := 0
			if strings.HasSuffix(line, "\n") {
				if _, err := fmt.Sscanf(line, "safe %d", &n); err == nil {
					safe = max(safe, n)
				}
			}
		}
		s := Open(dir, Options{})
		if got := holds(t, s, safe); got != safe {
			t.Fatalf("kill %d: %d of %d flushed points", i, got, safe)
		}
		if n := s.Notes(); len(n) > 0 {
			t.Errorf("kill %d: notes %q", i, n)
		}
		s.Close()
	}
	if safe == 0 {
		t.Fatal("no run lived long enough to flush: the test shows nothing")
	}
	t.Logf("%d kills, %d points safe", kills, safe)
}

func BenchmarkGet(b *testing.B) {
	for _, files := range []int{1, 6} {
		dir := b.TempDir()
		for f := range files {
			w, err := openWriter(newPath(dir))
			if err != nil {
				b.Fatal(err)
			}
			batch := map[Key][]byte{}
			for i := range 20000 {
				batch[key(f*20000+i)] = value(i)
			}
			w.write(batch)
			w.close()
		}
		s := Open(dir, Options{ReadOnly: true})
		b.Run(fmt.Sprintf("found/%d files", files), func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				s.Get(key(i % (files * 20000)))
			}
		})
		b.Run(fmt.Sprintf("missing/%d files", files), func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				s.Get(key(1<<40 + i))
			}
		})
		s.Close()
	}
}

func BenchmarkPut(b *testing.B) {
	s := Open(b.TempDir(), Options{})
	v := value(1)
	for i := 0; b.Loop(); i++ {
		s.Put(key(i), v)
	}
	s.Close()
}

func BenchmarkOpenClose(b *testing.B) {
	dir := b.TempDir()
	s := Open(dir, Options{})
	fill(s, 0, 20000)
	s.Close()
	for b.Loop() {
		Open(dir, Options{}).Close()
	}
}

// A run killed between making its file and its first words leaves a whole but
// blank file: the next run takes it away without a word.
func TestBlankFileGoesQuietly(t *testing.T) {
	dir := t.TempDir()
	s := Open(dir, Options{})
	fill(s, 0, 10)
	s.Close()
	blank := filepath.Join(dir, "000099-0000ff"+ending)
	db, err := bbolt.Open(blank, 0o644, nil)
	if err != nil {
		t.Fatal(err)
	}
	db.Close()
	s = Open(dir, Options{})
	defer s.Close()
	if n := s.Notes(); len(n) > 0 {
		t.Errorf("notes %q", n)
	}
	if got := holds(t, s, 10); got != 10 {
		t.Errorf("%d of 10 points", got)
	}
	if _, err := os.Stat(blank); err == nil {
		t.Error("the blank file is still there")
	}
}
