package record

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"thole/engine/document"
	"thole/engine/table"
)

func allocation(sets ...string) *table.Table {
	return &table.Table{Name: "allocation", Columns: []*table.Column{
		{Name: "crew", Kind: table.Text, Texts: []string{"Otters", "Herons", "Teal", "Grebes"}},
		{Name: "set", Kind: table.Text, Texts: sets},
		{Name: "off", Unit: "N·s/m", Digits: 1, Nums: []float64{1.25, math.NaN(), 1.0 / 3, -0.1}},
	}}
}

func oars(length float64) *table.Table {
	return &table.Table{Name: "oars.csv", FileLines: []int{2, 3, 5}, Columns: []*table.Column{
		{Name: "set", Kind: table.Text, Texts: []string{"A", "B", "C"}},
		{Name: "kind", Kind: table.Text, Texts: []string{"scull", "scull", "sweep"}},
		{Name: "length", Unit: "cm", Digits: 1, Nums: []float64{289, length, 374}},
	}}
}

// season makes a run's record with four heavinesses.
func season(version string, length float64, heaviness []float64, sets ...string) *Run {
	doc := &document.Document{Study: "d_season.star", Version: version, Title: "Which oars?",
		Answer: "Those."}
	for i, name := range []string{"Otters", "Herons", "Teal", "Grebes"} {
		doc.Results = append(doc.Results, document.Result{Name: name + " heaviness", Unit: "N·s/m", Digits: 1,
			Value: heaviness[i]})
	}
	doc.Blocks = append(doc.Blocks, &document.Shown{Name: "allocation", Table: allocation(sets...)})
	var params Ordered[*Param]
	params.Add("oars", &Param{Value: "oars.csv"})
	in := NewFile("oars.csv", Input, []byte("set,kind,length\n"+table.Fixed(length, 1)))
	in.Tables = []*TableIn{AsRead(oars(length))}
	r := Of(doc, params, []File{NewFile("d_season.star", Study, []byte("title(\"Which oars?\")\n")), in})
	r.Engine = version
	return r
}

var (
	lastYear = []float64{176.8, 175.4, 225.4, 187.9}
	thisYear = []float64{176.8, 169.6, 230.3, 187.9}
)

func TestARecordComesBackAsItWas(t *testing.T) {
	r := season("1.0", 288, lastYear, "A", "B", "", "C")
	r.Results.Add("gain", &Result{Value: 0.039, Unit: "m/s", Low: ptr(0.038), High: ptr(0.042),
		Verdict: "holds: more", Digits: 3})
	r.Results.Add("set", &Result{Value: "A <new> & \"good\"", Digits: -1})
	r.Results.Add("none", &Result{Value: number(math.NaN()), Unit: "cm"})
	r.Files = append(r.Files, NewFile("watch.fit", Input, []byte{0xff, 0, 0x80}))
	r.Tables = append(r.Tables, FromTable("compared", &table.Table{Columns: []*table.Column{
		{Name: "change", Kind: table.Measured, Units: []string{"cm", "s"}, Places: []int{1, 2},
			Estimates: []*table.Estimate{
				{Value: -6.6, Low: -7.2, High: -6.2, AsSet: math.NaN(), Unit: "cm", Digits: 1, Signed: true,
					Verdict: "holds: less"}, nil}}}}))
	data, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	back, err := Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	again, err := back.Encode()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, again) {
		t.Errorf("written again it differs:\n%s", cmp.Diff(string(data), string(again)))
	}
	for i, want := range []*table.Table{allocation("A", "B", "", "C")} {
		got, err := back.Tables[i].ToTable()
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateNaNs()); diff != "" {
			t.Error(diff)
		}
	}
	if got := back.Files[2].Content(); !bytes.Equal(got, []byte{0xff, 0, 0x80}) {
		t.Errorf("bytes that are no text came back as %v", got)
	}
	if strings.Contains(string(data), "\\u003c") {
		t.Error("plain < is escaped in a record meant for people")
	}
	if got := back.Results.Names(); got[len(got)-1] != "none" {
		t.Errorf("results lost their order: %v", got)
	}
}

func ptr(x float64) *float64 { return &x }

func TestBadRecordsSayWhatIsWrong(t *testing.T) {
	good, _ := season("1.0", 288, lastYear, "A", "B", "", "C").Encode()
	for _, c := range []struct{ name, data, want string }{
		{"empty", " \n", "empty"},
		{"cut short", string(good[:len(good)/2]), "cut short"},
		{"something else", `{"name": "package"}`, "no record"},
		{"no JSON", "set,kind\n", "damaged"},
		{"later", strings.Replace(string(good), `"format": 1`, `"format": 2`, 1), "later thole"},
		{"a table with a hole", strings.Replace(string(good), `"Otters",`, `"Otters", 1,`, 1), "damaged"},
		{"null results", strings.Replace(string(good), `"Otters heaviness": {`,
			`"x": null, "Otters heaviness": {`, 1), "damaged"},
	} {
		_, err := Decode([]byte(c.data))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q in it", c.name, err, c.want)
		}
	}
	_, err := Decode([]byte(`{"format": 99}`))
	if !errors.Is(err, ErrLater) {
		t.Errorf("a later format gives %v", err)
	}
}

// The comparison of the terminal's mock-up.
func TestCompareNamesTheCauseFirst(t *testing.T) {
	before := season("0.9", 288, lastYear, "A", "A", "B", "C")
	after := season("1.0", 286, thisYear, "A", "B", "A", "C")
	mid := season("1.0", 288, lastYear, "A", "A", "B", "C")
	c := Compare(Named{"last_year", before}, Named{"this_year", after},
		Options{Tolerance: map[string]float64{"Herons heaviness": 1}, Rerun: mid})
	want := []string{
		"oars.csv, line 3, set B: length 288 -> 286 cm",
		"thole 0.9 -> 1.0: the earlier run's data under 1.0 give the same numbers as before",
		"the same: parameters, study",
	}
	if diff := cmp.Diff(want, c.CauseLines()); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"table allocation: Herons: set A -> B; Teal: set B -> A"},
		c.EffectLines()); diff != "" {
		t.Error(diff)
	}
	if c.Verdict != "All of it comes from the data, none from the new version." {
		t.Errorf("verdict %q", c.Verdict)
	}
	if c.Count != "2 of 4 results differ beyond tolerance." || !c.Differ {
		t.Errorf("count %q, differ %v", c.Count, c.Differ)
	}
	herons := c.Effects[1]
	if math.Abs(*herons.Change+5.8) > 1e-12 || *herons.Version != 0 || !herons.Differs {
		t.Errorf("Herons: change %v, version %v, differs %v", *herons.Change, *herons.Version, herons.Differs)
	}
	if c.Effects[0].Differs {
		t.Error("Otters did not change")
	}
	tab := c.Table()
	if len(tab.Columns) != 7 {
		t.Errorf("%d columns: no part of it is the version's", len(tab.Columns))
	}
	if d := c.Document(); !strings.Contains(d.Answer, "2 of 4") {
		t.Errorf("the page's answer is %q", d.Answer)
	}
}

func TestCompareParts(t *testing.T) {
	before := season("0.9", 288, lastYear, "A", "B", "", "C")
	after := season("1.0", 286, thisYear, "A", "B", "", "C")
	mid := season("1.0", 288, []float64{176.8, 175.0, 225.4, 187.9}, "A", "B", "", "C")
	c := Compare(Named{"a", before}, Named{"b", after}, Options{Rerun: mid})
	h := c.Effects[1]
	if d := *h.Inputs + *h.Version - *h.Change; math.Abs(d) > 1e-12 {
		t.Errorf("the parts miss the change by %g", d)
	}
	if math.Abs(*h.Version+0.4) > 1e-12 {
		t.Errorf("the version's part is %g, want -0.4", *h.Version)
	}
	if !strings.Contains(c.Verdict, "partly") || !strings.Contains(c.Version,
		"move 1 of 4 results, most Herons heaviness: -0.4") {
		t.Errorf("verdict %q, version %q", c.Verdict, c.Version)
	}
	if names := c.Table().Names(); !slices.Equal(names,
		[]string{"result", "unit", "a", "b", "change", "by_data", "by_version", "verdict"}) {
		t.Errorf("columns %v", names)
	}
}

func TestCompareToleranceAndSameness(t *testing.T) {
	a, b := season("1.0", 288, lastYear, "A", "B", "", "C"), season("1.0", 288, lastYear, "A", "B", "", "C")
	c := Compare(Named{"a", a}, Named{"b", b}, Options{})
	if c.Differ || c.Count != "All 4 results are the same to the last digit." || len(c.Causes) != 0 ||
		c.Verdict != "" {
		t.Errorf("two equal runs: %+v", c)
	}
	moved := append([]float64(nil), lastYear...)
	moved[0] += 0.1
	b = season("1.0", 288, moved, "A", "B", "", "C")
	for _, c := range []struct {
		tolerance float64
		differ    bool
	}{{0, true}, {0.05, true}, {0.1, false}, {1, false}} {
		got := Compare(Named{"a", a}, Named{"b", b},
			Options{Tolerance: map[string]float64{"Otters heaviness": c.tolerance}})
		if got.Differ != c.differ {
			t.Errorf("a change of 0.1 under tolerance %g: differ %v", c.tolerance, got.Differ)
		}
	}
}

// Lines that no single column names are named by the leading ones together.
func TestChangesOfLinesWithTwoNames(t *testing.T) {
	riggers := func(spans ...float64) *table.Table {
		return &table.Table{Columns: []*table.Column{
			{Name: "boat", Kind: table.Text, Texts: []string{"Kingcup", "Kingcup", "Sedge"}[:len(spans)]},
			{Name: "seat", Nums: []float64{1, 2, 1}[:len(spans)]},
			{Name: "span_or_spread", Unit: "cm", Digits: 1, Nums: spans},
		}}
	}
	var got []string
	for _, c := range changes(riggers(158, 158, 158), riggers(158, 159.2), nil) {
		got = append(got, c.phrase())
	}
	if diff := cmp.Diff([]string{"Kingcup, seat 2: span or spread 158 -> 159.2 cm", "Sedge, seat 1 is gone"},
		got); diff != "" {
		t.Error(diff)
	}
}

func TestCompareOtherCauses(t *testing.T) {
	base := func() *Run { return season("1.0", 288, lastYear, "A", "B", "", "C") }
	for _, c := range []struct {
		name   string
		change func(*Run)
		want   string
	}{
		{"a parameter", func(r *Run) { r.Params.Add("oars", &Param{Value: "", Set: true}) },
			"parameter oars: oars.csv -> nothing"},
		{"a parameter that names a file", func(r *Run) {
			r.Params.Add("oars", &Param{Value: "new.csv", Set: true})
			r.Files[1].Path, r.Files[1].SHA256 = "new.csv", "x"
			r.Files[1].Tables[0].Lines[1][2] = 284.5
		}, "oars.csv -> new.csv, line 3, set B: length 288 -> 284.5 cm\nthe same: study, thole 1.0"},
		{"a new parameter", func(r *Run) { r.Params.Add("rate", &Param{Value: 34.0, Unit: "1/min"}) },
			"parameter rate: new, 34 1/min"},
		{"a line of the study", func(r *Run) {
			r.Files[0] = NewFile("d_season.star", Study,
				[]byte("title(\"Which?\")\n"))
		},
			`d_season.star, line 1: title("Which oars?") -> title("Which?")`},
		{"remarks only", func(r *Run) {
			r.Files[0] = NewFile("d_season.star", Study, []byte("# new\n\ntitle(\"Which oars?\")  \r\n"))
		},
			"the same: oars.csv, parameters, d_season.star (only remarks and layout differ), thole 1.0"},
		{"another file for the same question", func(r *Run) {
			r.Files[1].Path, r.Files[1].SHA256 = "new.csv", "x"
			r.Files[1].Tables[0].Lines[1][2] = 284.5
		},
			"oars.csv -> new.csv, line 3, set B: length 288 -> 284.5 cm"},
		{"a line more", func(r *Run) {
			r.Files[1].SHA256 = "x"
			r.Files[1].Tables[0].Lines = append(r.Files[1].Tables[0].Lines, []any{"D", "scull", 285.0})
			r.Files[1].Tables[0].At = []int{2, 3, 5, 6}
		}, "oars.csv, line 6, set D: new"},
		{"another writing of the same numbers", func(r *Run) { r.Files[1].SHA256 = "x" },
			"the same: oars.csv (written otherwise, read as the same), parameters, study, thole 1.0"},
		{"a mark of the former kind", func(r *Run) { r.Engine = "n0123456789abcdef" },
			"thole 1.0, another build (1.0 -> n0123456); one of the two marks is of the former kind, made from the engine's text: " +
				"whether its numbers differ, the marks do not tell"},
		{"another build", func(r *Run) { r.Engine = "ffff0000ffff" },
			"thole 1.0, another build (1.0 -> ffff0000): what the version did by itself is not known: not " +
				"tried"},
	} {
		b := base()
		c.change(b)
		got := Compare(Named{"a", base()}, Named{"b", b}, Options{WhyNot: "not tried"}).CauseLines()
		if !strings.Contains(strings.Join(got, "\n"), c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A record changed by hand is not explained away.
func TestCompareUnexplained(t *testing.T) {
	b := season("1.0", 288, thisYear, "A", "B", "", "C")
	c := Compare(Named{"a", season("1.0", 288, lastYear, "A", "B", "", "C")}, Named{"b", b}, Options{})
	if !strings.Contains(c.Verdict, "by hand") {
		t.Errorf("verdict %q", c.Verdict)
	}
}

func FuzzDecode(f *testing.F) {
	good, _ := season("1.0", 288, lastYear, "A", "B", "", "C").Encode()
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte(`{"format":1,"tables":[{"columns":[{"kind":"estimate"}],"lines":[[{"value":1}]]}]}`))
	f.Add([]byte(`{"format":1,"tables":[null],"results":{"a":null},"params":{"b":null},"files":[{"tables":[null]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Decode(data)
		if err != nil {
			if r != nil {
				t.Fatal("an error and a record")
			}
			return
		}
		out, err := r.Encode()
		if err != nil {
			t.Fatalf("read but not written: %v", err)
		}
		again, err := Decode(out)
		if err != nil {
			t.Fatalf("written but not read: %v", err)
		}
		// whatever a record holds, comparing it ends, and with itself in sameness
		if c := Compare(Named{"a", r}, Named{"b", again}, Options{}); c.Differ {
			t.Fatalf("a record differs from itself: %+v", c)
		}
		Compare(Named{"a", r}, Named{"good", season("1.0", 288, lastYear, "A", "B", "", "C")},
			Options{}).Document()
	})
}
