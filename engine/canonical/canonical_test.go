package canonical

import (
	"bytes"
	"math"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

type inner struct {
	Name  string
	Sizes []float64
}

type outer struct {
	A     float64
	N     int
	Small uint8
	Yes   bool
	In    inner
	List  []inner
	Pair  [2]float64
	Ptr   *float64
}

func sample() outer {
	x := 0.1
	return outer{A: math.Pi, N: -3, Small: 7, Yes: true, In: inner{"a", []float64{1, math.Inf(1)}},
		List: []inner{{"b", nil}, {"", []float64{-0.5}}}, Pair: [2]float64{1e-300, 2}, Ptr: &x}
}

func TestValuesComeBack(t *testing.T) {
	want := sample()
	var got outer
	if err := Read(Bytes(nil, want), &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
	nan := []float64{math.NaN()}
	var back []float64
	if err := Read(Bytes(nil, nan), &back); err != nil || !math.IsNaN(back[0]) {
		t.Errorf("a blank came back as %v, %v", back, err)
	}
}

// Whatever field is changed, by its least bit, the bytes change.
func TestEveryFieldCounts(t *testing.T) {
	base := Bytes(nil, sample())
	changes := map[string]func(*outer){
		"A":          func(o *outer) { o.A = math.Nextafter(o.A, 4) },
		"N":          func(o *outer) { o.N++ },
		"Small":      func(o *outer) { o.Small++ },
		"Yes":        func(o *outer) { o.Yes = false },
		"In.Name":    func(o *outer) { o.In.Name = "b" },
		"In.Sizes":   func(o *outer) { o.In.Sizes = o.In.Sizes[:1] },
		"List":       func(o *outer) { o.List = o.List[1:] },
		"List moved": func(o *outer) { o.List[0].Name, o.List[1].Name = "", "b" },
		"Pair":       func(o *outer) { o.Pair[1] = -2 },
		"Ptr":        func(o *outer) { o.Ptr = nil },
		"Ptr value":  func(o *outer) { y := 0.2; o.Ptr = &y },
	}
	for name, change := range changes {
		o := sample()
		change(&o)
		if bytes.Equal(base, Bytes(nil, o)) {
			t.Errorf("%s does not count", name)
		}
	}
	if n := reflect.TypeFor[outer]().NumField(); n != 8 {
		t.Errorf("outer has %d fields; this test changes 8", n)
	}
	other := math.Float64frombits(0x7ff8000000000005)
	if !bytes.Equal(Bytes(nil, math.NaN()), Bytes(nil, other)) {
		t.Error("two ways to write no number have two keys")
	}
}

func TestUnplainPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a function went through as plain data")
		}
	}()
	Bytes(nil, struct{ F func() }{})
}

func FuzzRead(f *testing.F) {
	f.Add(Bytes(nil, sample()))
	f.Add([]byte{1, 2, 3})
	f.Fuzz(func(t *testing.T, data []byte) {
		var o outer
		if Read(data, &o) != nil {
			return
		}
		var again outer
		if err := Read(Bytes(nil, o), &again); err != nil {
			t.Fatalf("read once, not twice: %v", err)
		}
	})
}

func BenchmarkBytes(b *testing.B) {
	v := sample()
	var buf []byte
	for b.Loop() {
		buf = Bytes(buf[:0], v)
	}
}
