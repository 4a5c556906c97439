package checkpoint

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

func in(dir string) func(bool) (*os.Root, error) {
	return func(make bool) (*os.Root, error) {
		if make {
			os.MkdirAll(dir, 0o755)
		}
		return os.OpenRoot(dir)
	}
}

func key(i int) Key { return KeyOf("engine", []byte(fmt.Sprint(i))) }

func value(i int) []byte { return bytes.Repeat([]byte{byte(i)}, 40+i%7) }

// kept writes n points as a run that was stopped does.
func kept(t *testing.T, dir, base string, from, n int) {
	t.Helper()
	p := Open(in(dir), base, 0)
	for i := from; i < from+n; i++ {
		p.Put(key(i), value(i))
	}
	p.Close(false)
	if len(p.Notes()) > 0 {
		t.Fatal(p.Notes())
	}
}

func files(dir string) string {
	all, _ := filepath.Glob(filepath.Join(dir, "*"))
	for i := range all {
		all[i] = filepath.Base(all[i])
	}
	return strings.Join(all, " ")
}

// holds says how many of n points are there as they were put, and fails on one that is not.
func holds(t *testing.T, p *Points, n int) (found int) {
	t.Helper()
	for i := range n {
		got, ok := p.Get(key(i))
		if ok && !bytes.Equal(got, value(i)) {
			t.Fatalf("point %d came back as %v", i, got)
		}
		if ok {
			found++
		}
	}
	return found
}

func TestARunGoesOn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "runs")
	kept(t, dir, "sweep", 0, 50)
	kept(t, dir, "sweep", 50, 50) // stopped once more
	kept(t, dir, "sweeps", 0, 1)  // of another study
	if got := files(dir); got != "sweep.2.points sweep.points sweeps.points" {
		t.Fatal(got)
	}
	p := Open(in(dir), "sweep", time.Hour)
	if !p.Awake() || holds(t, p, 120) != 100 {
		t.Errorf("of 100 points %d are there", holds(t, p, 120))
	}
	p.Put(key(200), value(200)) // before its hour: not kept
	p.Close(true)
	if got := files(dir); got != "sweeps.points" {
		t.Errorf("a whole run leaves %s", got)
	}
}

func TestShortRunsKeepNothing(t *testing.T) {
	dir := t.TempDir()
	p := Open(in(dir), "short", time.Hour)
	if p.Awake() {
		t.Error("a run without points before makes keys before its time")
	}
	p.Put(key(1), value(1))
	p.Close(false)
	if got := files(dir); got != "" {
		t.Errorf("it left %s", got)
	}
}

// A file of a run still going is read and left alone.
func TestARunStillGoingKeepsItsFile(t *testing.T) {
	dir := t.TempDir()
	going := Open(in(dir), "sweep", 0)
	going.Put(key(0), value(0)) // the first is written at once
	other := Open(in(dir), "sweep", 0)
	if holds(t, other, 1) != 1 {
		t.Error("a point of the run still going is not taken")
	}
	going.Put(key(1), value(1))
	going.Close(false)
	other.Close(true)
	if got := files(dir); got != "sweep.points" {
		t.Errorf("left: %q", got)
	}
}

// Cut anywhere, a file gives the points that are whole; with a byte turned anywhere, never a
// wrong one.
func TestDamage(t *testing.T) {
	dir := t.TempDir()
	kept(t, dir, "sweep", 0, 5)
	path := filepath.Join(dir, "sweep.points")
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	ends := []int{len(first)}
	for i := range 5 {
		ends = append(ends, ends[i]+headSize+len(value(i)))
	}
	for n := range len(whole) + 1 {
		os.WriteFile(path, whole[:n], 0o644)
		p := Open(in(dir), "sweep", time.Hour)
		want := 0
		for want < 5 && ends[want+1] <= n {
			want++
		}
		if got := holds(t, p, 5); got != want || len(p.Notes()) > 0 {
			t.Fatalf("cut at %d: %d points, want %d; %q", n, got, want, p.Notes())
		}
		p.Close(false)
	}
	for n := range whole {
		turned := slices.Clone(whole)
		turned[n] ^= 0x40
		os.WriteFile(path, turned, 0o644)
		p := Open(in(dir), "sweep", time.Hour)
		if got := holds(t, p, 5); got == 5 {
			t.Fatalf("byte %d turned: nothing is lost", n)
		}
		p.Close(false)
	}
	os.WriteFile(path, []byte("thole points 2\nwhatever a later one writes"), 0o644)
	p := Open(in(dir), "sweep", 0)
	if notes := p.Notes(); len(notes) != 1 || !strings.Contains(notes[0], "left alone") {
		t.Errorf("of a later file it says %q", notes)
	}
	p.Put(key(1), value(1))
	p.Close(true)
	if got := files(dir); got != "sweep.points" {
		t.Errorf("the later file did not stay: %q", got)
	}
}

// What cannot be kept is said once, and the run goes on.
func TestNowhereToKeep(t *testing.T) {
	full := errors.New("no space left on device")
	p := Open(func(make bool) (*os.Root, error) { return nil, full }, "sweep", 0)
	for i := range 3 {
		p.Put(key(i), value(i))
	}
	p.Close(false)
	if notes := p.Notes(); len(notes) != 1 || !strings.Contains(notes[0], "no space left") || p.Awake() {
		t.Errorf("it says %q", notes)
	}
}

func TestManyAtOnce(t *testing.T) {
	dir := t.TempDir()
	p := Open(in(dir), "sweep", 0)
	var wg sync.WaitGroup
	for w := range 8 {
		wg.Go(func() {
			for i := w; i < 8000; i += 8 {
				p.Put(key(i), value(i))
				p.Get(key(i - 1))
			}
		})
	}
	wg.Wait()
	p.Close(false)
	again := Open(in(dir), "sweep", 0)
	defer again.Close(false)
	if got := holds(t, again, 8000); got != 8000 {
		t.Errorf("%d of 8000 points", got)
	}
}

// The key is the meaning: any other input, kind or engine is another point.
func TestKeys(t *testing.T) {
	seen := map[Key]bool{}
	for _, k := range []Key{KeyOf("a", []byte("bc")), KeyOf("ab", []byte("c")), KeyOf("a", []byte("bd")), KeyOf("a", nil)} {
		if seen[k] {
			t.Error("two meanings, one key")
		}
		seen[k] = true
	}
}

func FuzzScan(f *testing.F) {
	f.Add([]byte(first))
	f.Add(appendPoint([]byte(first), key(1), value(1)))
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		os.WriteFile(filepath.Join(dir, "x.points"), data, 0o644)
		p := Open(in(dir), "x", time.Hour)
		holds(t, p, 3)
		p.Close(true)
	})
}

func BenchmarkPut(b *testing.B) {
	p := Open(in(b.TempDir()), "sweep", 0)
	v := make([]byte, 700)
	for i := 0; b.Loop(); i++ {
		p.Put(key(i), v)
	}
	p.Close(true)
}
