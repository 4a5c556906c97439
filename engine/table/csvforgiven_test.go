package table

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// What people and spreadsheets write into registers is read, and told.
func TestForgivenAndTold(t *testing.T) {
	file := "Sallow Reach, crews 2026;;\n\ncrew;mass (kg);power (W)\nOtters;78,5 kg;#NV\nHerons;-;0,3 kW\n" +
		"\"Teal {x}, \"\"a\"\"\";71000 g;n/a\nWrens;?;#N/A\n"
	got, notes, err := ReadCSV("crews.csv", []byte(file), []string{"crew", "mass (kg)", "power (W)"}, nil, "")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]float64{78.5, math.NaN(), 71, math.NaN()}, got.Column("mass").Nums,
		cmpopts.EquateNaNs()); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]float64{math.NaN(), 300, math.NaN(), math.NaN()}, got.Column("power").Nums,
		cmpopts.EquateNaNs(), cmpopts.EquateApprox(0, 1e-9)); diff != "" {
		t.Error(diff)
	}
	if name := got.Column("crew").Texts[2]; name != `Teal {x}, "a"` {
		t.Errorf("the name is read as %s", name)
	}
	want := []string{
		"read with ; between columns and decimal commas (78,5 kg is 78.5 kg)",
		"skipped above the names: Sallow Reach, crews 2026",
		`taken as blank: "#NV" under power, line 4; "-" under mass, line 5; "n/a" under power, line 6; ` +
			`"?" under mass, line 7; and 1 more`,
		`read with the unit in the cell: "78,5 kg" under mass, line 4; "0,3 kW" is 300 W under power, line 5; ` +
			`"71000 g" is 71 kg under mass, line 6`,
	}
	if diff := cmp.Diff(want, notes); diff != "" {
		t.Error(diff)
	}
}

// A file is read to its end: all that is wrong comes at once, each with its place,
// and what is right is there.
func TestAllFaultsOfAFile(t *testing.T) {
	file := "crew,mass (kg),power (W)\nOtters,x,360\nHerons,71,#REF!\nTeal,70,1,2,3\nWrens,60,3OO\n"
	got, _, err := ReadCSV("crews.csv", []byte(file), []string{"crew", "weight (kg)", "mass (kg)", "power (W)"},
		nil, "")
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatalf("error %v", err)
	}
	var told []string
	for _, f := range faults {
		told = append(told, strings.Join([]string{CellName(f.Col, f.Line), f.What}, " "))
	}
	want := []string{`A1 no column "weight"`, `H2 mass "x" is no number`, "K3 power holds the error #REF!",
		"K4 the line has 5 cells, the first line 3 names", `J5 power "3OO" is no number`}
	if diff := cmp.Diff(want, told); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]float64{360, math.NaN(), math.NaN(), math.NaN()}, got.Column("power").Nums,
		cmpopts.EquateNaNs()); diff != "" {
		t.Error(diff)
	}
	if err.Error() != faults[0].What {
		t.Errorf("error %q", err)
	}
}

func TestFaultsOfASheetNameCellAndCrew(t *testing.T) {
	g := &Grid{File: "boathouse.xlsx", Sheet: "crews", Rows: [][]string{
		{"Sallow Reach"}, {}, {"crew", "", "mass (kg)"}, {"Otters", "", "78,5"}, {"Herons", "", "heavy"}, {"Teal"}}}
	got, _, err := ReadGrid(g, []string{"crew", "mass (kg)"}, nil, "club.star:3")
	var faults Faults
	if !errors.As(err, &faults) || len(faults) != 1 {
		t.Fatalf("error %v", err)
	}
	if f := faults[0]; f.File != "boathouse.xlsx, sheet crews, cell C5" || f.What != `crew Herons: mass "heavy" is no number` {
		t.Errorf("%s: %s", f.File, f.What)
	}
	if diff := cmp.Diff([]float64{78.5, math.NaN(), math.NaN()}, got.Column("mass").Nums,
		cmpopts.EquateNaNs()); diff != "" {
		t.Error(diff)
	}
}

func TestCellName(t *testing.T) {
	for _, c := range []struct {
		column, row int
		want        string
	}{{1, 1, "A1"}, {26, 7, "Z7"}, {27, 2, "AA2"}, {702, 3, "ZZ3"}, {703, 3, "AAA3"}} {
		if got := CellName(c.column, c.row); got != c.want {
			t.Errorf("cell %d %d is %s, not %s", c.column, c.row, got, c.want)
		}
	}
}
