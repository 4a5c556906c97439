package table

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"golang.org/x/text/encoding/charmap"
)

var crewColumns = []string{"crew", "boat", "mass (kg)", "power (W)"}

func TestReadCSVInEveryDress(t *testing.T) {
	for _, file := range []struct{ name, data string }{
		{"comma", "crew,boat,mass (kg),power (W)\nOtters,4x,78.5,360\nHerons,2x,,300\n"},
		{"semicolon, decimal comma", "Crew;Boat;Mass (kg);Power (W)\nOtters;4x;78,5;360\nHerons;2x;;300\n"},
		{"tab, no last line end",
			"crew\tboat\tmass (kg)\tpower (W)\nOtters\t4x\t78.5\t360\nHerons\t2x\t\t300"},
		{"byte-order mark, carriage returns",
			"\xef\xbb\xbfcrew;boat;mass [kg];POWER (w)\r\nOtters;4x;78,5;360\r\nHerons;2x;;300\r\n"},
		{"other order, further columns, blank lines",
			"remarks,power (W),crew,mass " +
				"(kg),boat\n\n\"two\nlines\",360,Otters,78.5,4x\n,,,,\n,300,Herons,,2x\n"},
		{"separator line", "sep=;\ncrew;boat;mass (kg);power (W)\nOtters;4x;78,5;360\nHerons;2x;;300\n"},
		{"quoted decimal comma", "crew,boat,mass (kg),power (W)\nOtters,4x,\"78,5\",360\nHerons,2x,,300\n"},
		{"UTF-16", "\xff\xfe" +
			utf16le("crew\tboat\tmass (kg)\tpower (W)\nOtters\t4x\t78,5\t360\nHerons\t2x\t\t300\n")},
		{"other units", "crew,boat,mass (g),power (kW)\nOtters,4x,78500,0.36\nHerons,2x,,0.3\n"},
	} {
		t.Run(file.name, func(t *testing.T) {
			got, _, err := ReadCSV("crews.csv", []byte(file.data), crewColumns, nil, "")
			if err != nil {
				t.Fatal(err)
			}
			var lines []string
			for i := range got.Len() {
				var cells []string
				for _, c := range got.Columns {
					cells = append(cells, cellWords(c.At(i)))
				}
				lines = append(lines, strings.Join(cells, " "))
			}
			if diff := cmp.Diff([]string{`"Otters" "4x" 78.5 360`, `"Herons" "2x" None 300`},
				lines); diff != "" {
				t.Error(diff)
			}
			if diff := cmp.Diff([]string{"crew", "boat", "mass", "power"}, got.Names()); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func utf16le(s string) string {
	var b strings.Builder
	for _, c := range s {
		b.WriteByte(byte(c))
		b.WriteByte(byte(c >> 8))
	}
	return b.String()
}

func TestReadCSVWindows1252(t *testing.T) {
	got, _, err := ReadCSV("a.csv", []byte("crew;area (cm\xb2)\nM\xf6wen;820\n"),
		[]string{"crew", "area (cm²)"}, nil, "")
	if err != nil {
		t.Fatal(err)
	}
	if got.Columns[0].Texts[0] != "Möwen" || got.Columns[1].Nums[0] != 820 {
		t.Errorf("read %v %v", got.Columns[0].Texts, got.Columns[1].Nums)
	}
}

func TestReadCSVNotes(t *testing.T) {
	for _, c := range []struct {
		data    string
		columns []string
		want    []string
	}{
		{"Crew;Seats;Mass (kg)\nOtters;4;78,5\n", []string{"crew", "mass (kg)"},
			[]string{"read with ; between columns and decimal commas (78,5 is 78.5)", "left out: Seats"}},
		{"set,count,length,inboard,area,blade length,span or spread,remarks\nA,2,289,87.5,820,46,158,new\n",
			[]string{"set", "count (-)", "length (cm)", "inboard (cm)", "area (cm²)", "blade length (cm)",
				"span or spread (cm)"},
			[]string{"units not written, so taken as the study asks: length, inboard, blade length, span or " +
				"spread in cm, area in cm²", "left out: remarks"}},
		{"length (m)\n2.89\n", []string{"length (cm)"}, []string{"length: 2.89 m is 289 cm"}},
		{"crew,mass (kg)\nA,80\n", []string{"crew", "mass (kg)"}, nil},
	} {
		_, notes, err := ReadCSV("x.csv", []byte(c.data), c.columns, nil, "")
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.want, notes); diff != "" {
			t.Errorf("%q: %s", c.data, diff)
		}
	}
}

func TestReadCSVOptional(t *testing.T) {
	got, _, err := ReadCSV("x.csv", []byte("piece,time\n1,1:52.6\n2,0:01:51.4\n3,112.7\n"),
		[]string{"piece (-)", "time (s)"}, []string{"wind (m/s)"}, "")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]float64{112.6, 111.4, 112.7}, got.Column("time").Nums); diff != "" {
		t.Error(diff)
	}
	if got.Column("wind") != nil {
		t.Error("a column that is not there is in the table")
	}
	if diff := cmp.Diff([]int{2, 3, 4}, got.FileLines); diff != "" {
		t.Error(diff)
	}
}

func TestReadCSVErrors(t *testing.T) {
	for _, c := range []struct {
		name, data string
		line, col  int
		caret      int
		what, why  string
		type_      string
	}{
		{"missing, same unit", "Crew;Boat;Kind;Seats;Weight (kg);Power (W);Rate (1/min)\n", 1, 22, 11,
			`no column "mass"`, `d_season.star:4 asks for "mass (kg)"; this one has the same unit`,
			"in crews.csv: Mass (kg)"},
		{"missing, near name", "crew,boat,mas (kg),power (W)\n", 1, 11, 8,
			`no column "mass"`, `d_season.star:4 asks for "mass (kg)"; this one is nearest`,
			"in crews.csv: Mass (kg)"},
		{"missing, nothing like it", "crew,boat,power (W)\n", 1, 1, 19,
			`no column "mass"`,
			`d_season.star:4 asks for "mass (kg)"; the first line of crews.csv has crew, boat, power (W)`,
			"in crews.csv a column: Mass (kg)"},
		{"text for number", "crew,boat,mass (kg),power (W)\nOtters,4x,heavy,360\n", 2, 11, 5,
			`mass "heavy" is no number`, "d_season.star:4 asks for a number in kg; nothing at all is a blank",
			"a number, or leave the cell empty"},
		{"two decimal marks", "crew;boat;mass (kg);power (W)\nOtters;4x;78,5;360\nHerons;2x;71.5;300\n", 3,
			11, 4,
			`mass "71.5" is no number`, "line 2 has its decimals behind a comma, this one behind a point",
			"one of the two in the whole file"},
		{"thousands", "crew;boat;mass (kg);power (W)\nOtters;4x;1.078,5;360\n", 2, 11, 7,
			`mass "1.078,5" is no number`, "a mark for thousands and one for decimals look alike",
			"the number without marks for thousands"},
		{"unit of another quantity in a cell", "crew,boat,mass (kg),power (W)\nOtters,4x,78.5 cm,360\n", 2,
			11, 7,
			`mass "78.5 cm" is no number`, "cm is not kg", "the number in kg"},
		{"unquoted decimal comma", "crew,boat,mass (kg),power (W)\nOtters,4x,78,5,360\n", 2, 16, 3,
			"the line has 5 cells, the first line 4 names",
			"a comma inside a cell, or a decimal comma, looks like the next cell",
			"decimals behind a point, 1.5; or save the file with ; between the columns"},
		{"wrong unit", "crew,boat,mass (cm),power (W)\n", 1, 11, 9,
			"cm is not kg", `d_season.star:4 asks for "mass (kg)"`, "in crews.csv: mass (kg)"},
		{"twice", "crew,boat,mass (kg),power (W),Mass (kg)\n", 1, 31, 9,
			`two columns are called "Mass (kg)"`, "then nobody knows which of them is meant",
			"another name for one of them"},
		{"open quote", "crew,boat,mass (kg),power (W)\n\"Otters,4x,78,360\n", 2, 1, 1,
			"a cell opens with a quote that is never closed",
			`a cell in quotes has one at each end, and writes a quote inside as ""`,
			`"5 ""new"" handles", or no quotes at all`},
		{"empty", " \n", 0, 0, 0, "the file is empty",
			`d_season.star:4 asks for "crew", "boat", "mass (kg)", "power (W)"`,
			"crew,boat,mass (kg),power (W) as the first line, then a line each"},
		{"not a text", "PK\x03\x04\x00\x00", 0, 0, 0, "this is not a text file",
			"a CSV file is text: lines, with a comma, ; or tab between the cells",
			"in the spreadsheet: save as, CSV (UTF-8)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := ReadCSV("crews.csv", []byte(c.data), crewColumns, nil, "d_season.star:4")
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("error %v", err)
			}
			got := Error{What: e.What, Why: e.Why, Type: e.Type, File: e.File, Line: e.Line, Col: e.Col,
				CaretLength: e.CaretLength}
			want := Error{What: c.what, Why: c.why, Type: c.type_, File: "crews.csv", Line: c.line,
				Col: c.col, CaretLength: c.caret}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestReadCSVLimits(t *testing.T) {
	long := "crew,mass (kg)\n" + strings.Repeat("a", MaxField+1) + ",70\n"
	if _, _, err := ReadCSV("x.csv", []byte(long), []string{"crew", "mass (kg)"}, nil, ""); err == nil {
		t.Error("a cell over the limit was read")
	}
	many := "crew\n" + strings.Repeat("a\n", MaxLines+1)
	if _, _, err := ReadCSV("x.csv", []byte(many), []string{"crew"}, nil, ""); err == nil {
		t.Error("more lines than the limit were read")
	}
	if _, _, err := ReadCSV("x.csv", make([]byte, MaxBytes+1), []string{"crew"}, nil, ""); err == nil {
		t.Error("a file over the limit was read")
	}
}

func TestWriteCSV(t *testing.T) {
	change := NewColumn("change", "cm", Measured)
	change.Estimates = []*Estimate{{Value: -6.6, Low: -7.2, High: -6.2, Verdict: "holds: less"}, nil}
	tab := &Table{Columns: []*Column{
		{Name: "set", Kind: Text, Texts: []string{"=SUM(A1)", "B, \"new\""}},
		{Name: "length", Unit: "cm", Nums: []float64{-289.123456789, math.NaN()}},
		change,
	}}
	var b bytes.Buffer
	if err := WriteCSV(&b, tab); err != nil {
		t.Fatal(err)
	}
	want := "set,length (cm),change (cm),change_low (cm),change_high (cm),change_verdict\n" +
		"'=SUM(A1),-289.123456789,-6.6,-7.2,-6.2,holds: less\n" +
		"\"B, \"\"new\"\"\",,,,,\n"
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

// What was written is read again to the last bit.
func TestCSVRoundTrip(t *testing.T) {
	tab := &Table{Columns: []*Column{{Name: "x", Unit: "m/s", Nums: []float64{0.1 + 0.2, 1e-12, -1.0 / 3}}}}
	var b bytes.Buffer
	if err := WriteCSV(&b, tab); err != nil {
		t.Fatal(err)
	}
	got, _, err := ReadCSV("x.csv", b.Bytes(), []string{"x (m/s)"}, nil, "")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(tab.Columns[0].Nums, got.Columns[0].Nums); diff != "" {
		t.Error(diff)
	}
}

func FuzzReadCSV(f *testing.F) {
	for _, seed := range []string{
		"crew;mass (kg)\nOtters;78,5\n", "sep=;\n\"a\nb\";1", "\xff\xfec\x00", "\xef\xbb\xbfcrew,mass\n\",",
		"crew\tmass (kg)\n\t\t\t1", "crew,mass (lb)\na,\"1,5\"\n", "crew,mass (kg)\na,1e999\n",
		"crew,mass (kg),,\nä\xb2,−4,,5\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, _, err := ReadCSV("x.csv", data, []string{"crew", "mass (kg)"}, []string{"time (s)"}, "")
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.What == "" {
				t.Fatalf("an error without parts: %#v", err)
			}
			if e.Line > 0 && (e.Col < 1 || e.CaretLength < 1) {
				t.Fatalf("no place for the caret: %+v", e)
			}
			return
		}
		for _, c := range got.Columns {
			if c.Len() != got.Len() || len(got.FileLines) != got.Len() {
				t.Fatal("columns of unlike length")
			}
			for i := range c.Len() {
				if x, ok := c.At(i).(float64); ok && math.IsInf(x, 0) {
					t.Fatal("a number without end was read")
				}
			}
		}
	})
}

// Every separator, decimal mark, encoding and line end gives the same table.
func TestCSVMatrix(t *testing.T) {
	lines := [][]string{{"Crew", "Area (cm²)", "Note", "Mass [kg]"},
		{"Möwen", "820.5", "two\nlines", "78.25"}, {"Otters", "", "a \"new\" set; with , and \t too", "71"}}
	encodings := map[string]func(string) []byte{
		"UTF-8":           func(s string) []byte { return []byte(s) },
		"byte-order mark": func(s string) []byte { return append([]byte("\xef\xbb\xbf"), s...) },
		"Windows-1252": func(s string) []byte {
			out, err := charmap.Windows1252.NewEncoder().String(s)
			if err != nil {
				t.Fatal(err)
			}
			return []byte(out)
		},
	}
	for _, comma := range []string{",", ";", "\t"} {
		for _, decimal := range []string{".", ","} {
			for encoding, encode := range encodings {
				for _, end := range []string{"\n", "\r\n", "\r"} {
					var b strings.Builder
					for _, cells := range lines {
						for j, cell := range cells {
							if j > 0 {
								b.WriteString(comma)
							}
							if j%2 == 1 {
								cell = strings.Replace(cell, ".", decimal, 1)
							}
							if strings.ContainsAny(cell, ",;\t\n\"") {
								cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
							}
							b.WriteString(strings.ReplaceAll(cell, "\n", end))
						}
						b.WriteString(end)
					}
					got, _, err := ReadCSV("x.csv", encode(b.String()),
						[]string{"crew", "mass (kg)", "area (cm²)", "note"}, nil, "")
					if err != nil {
						t.Fatalf("%q %q %s %q: %v", comma, decimal, encoding, end, err)
					}
					want := &Table{Columns: []*Column{
						{Name: "crew", Kind: Text, Texts: []string{"Möwen", "Otters"}},
						{Name: "mass", Nums: []float64{78.25, 71}},
						{Name: "area", Nums: []float64{820.5, math.NaN()}},
						{Name: "note", Kind: Text, Texts: []string{"two\nlines",
							"a \"new\" set; with , and \t too"}},
					}}
					for j, c := range want.Columns {
						g := got.Columns[j]
						if diff := cmp.Diff([]any{c.Name, c.Texts, c.Nums}, []any{g.Name, g.Texts, g.Nums},
							cmpopts.EquateNaNs()); diff != "" {
							t.Errorf("%q %q %s %q: %s", comma, decimal, encoding, end, diff)
						}
					}
				}
			}
		}
	}
}

// What a spreadsheet would run, or take for an order of its own, comes out as text;
// what another sign than the comma would part stays one cell.
func TestCSVForSpreadsheets(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"=1+1", "'=1+1"}, {"＝1", "'＝1"}, {"＋1", "'＋1"}, {"－1", "'－1"}, {"＠a", "'＠a"}, {" =1", "' =1"},
		{"sep=;", "\"'sep=;\""}, {"SEP=|", "'SEP=|"}, {"\x1ba", "'\x1ba"}, {"a;b", "\"a;b\""},
		{"a\tb", "\"a\tb\""},
		{"Teal", "Teal"}, {"a=b", "a=b"}, {"say \"so\"", "\"say \"\"so\"\"\""},
	} {
		col := &Column{Name: "n", Kind: Text, Texts: []string{c.text}}
		var b strings.Builder
		if err := WriteCSV(&b, &Table{Columns: []*Column{col}}); err != nil {
			t.Fatal(err)
		}
		if got := strings.TrimSuffix(strings.TrimPrefix(b.String(), "n\n"), "\n"); got != c.want {
			t.Errorf("%q is written %s, want %s", c.text, got, c.want)
		}
		b.Reset()
		if err := WriteCSV(&b, &Table{Columns: []*Column{{Name: c.text, Kind: Text}}}); err != nil {
			t.Fatal(err)
		}
		if got := strings.TrimSuffix(b.String(), "\n"); got != c.want {
			t.Errorf("the head %q is written %s, want %s", c.text, got, c.want)
		}
	}
}

// A point that may be a mark for thousands, and an encoding that was guessed, are said;
// what is plain is not.
func TestReadCSVSaysWhatItGuesses(t *testing.T) {
	thousands := "1.250 is read as 1.25; if 1250 is meant, write it without the point"
	for _, c := range []struct{ name, data, says, doesNot string }{
		{"thousands?", "crew;load (N)\nTeal;1.250\nHeron;1.310\n", thousands, ""},
		{"decimals, seen by another", "crew;load (N)\nTeal;1.250\nHeron;1.31\n", "", "is read as"},
		{"below one", "crew;load (N)\nTeal;0.250\n", "", "is read as"},
		{"commas between", "crew,load (N)\nTeal,1.250\n", "", "is read as"},
		{"guessed", "crew;load (N)\nM\xf6wen;820\n", "read as Windows-1252, a guess", ""},
		{"known", "crew;load (N)\nMöwen;820\n", "", "Windows"},
	} {
		got, notes, err := ReadCSV("a.csv", []byte(c.data), []string{"crew", "load (N)"}, nil, "")
		if err != nil || got.Len() == 0 {
			t.Errorf("%s: %v", c.name, err)
		}
		all := strings.Join(notes, "\n")
		if !strings.Contains(all, c.says) || c.doesNot != "" && strings.Contains(all, c.doesNot) {
			t.Errorf("%s: %q", c.name, all)
		}
	}
}
