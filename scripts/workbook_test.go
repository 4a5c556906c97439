package scripts_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/workbook"
	"thole/scripts"
)

// boathouse makes the season's workbook, some cells changed.
func boathouse(t *testing.T, change func(f *excelize.File)) []byte {
	t.Helper()
	files, _ := scripts.Template("season")
	registers, err := fs.Sub(files, "boathouse")
	if err != nil {
		t.Fatal(err)
	}
	data, err := workbook.Registers(registers)
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	change(f)
	var b bytes.Buffer
	if _, err := f.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func runTemplate(t *testing.T, book []byte) *session.Outcome {
	t.Helper()
	files, _ := scripts.Template("season")
	study, err := fs.ReadFile(files, "study.star")
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(study), "\n"); n > 15 {
		t.Errorf("the study has %d lines", n)
	}
	return builtins.Run(t.Context(), "club.star", study, session.Config{Files: registers{"boathouse.xlsx": string(book)},
		Sheet: workbook.Sheet, Boathouse: scripts.Library, Jobs: 2})
}

// The workbook as it is laid down gives what the folder of CSV files gives.
func TestWorkbookIsTheFolder(t *testing.T) {
	out := runTemplate(t, boathouse(t, func(*excelize.File) {}))
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].String())
	}
	r, study := season(t)
	_, folder := runSeason(t, r, study)
	if out.Document.Answer != folder.Document.Answer || len(out.Document.Blocks) != len(folder.Document.Blocks) {
		t.Errorf("workbook: %s\nfolder:   %s", out.Document.Answer, folder.Document.Answer)
	}
}

// Cells wrong in several sheets are told at once, and nothing is rowed.
func TestAllFaultsOfAWorkbook(t *testing.T) {
	out := runTemplate(t, boathouse(t, func(f *excelize.File) {
		f.SetCellStr("crews", "E3", "heavy")
		f.SetCellStr("oars", "G2", "#REF!")
		f.SetCellStr("oars", "H3", "88,0 cm")
		f.SetCellStr("riggers", "F4", "?")
		f.DeleteSheet("cards")
	}))
	var told []string
	for _, m := range out.Errors {
		told = append(told, m.Head())
	}
	want := []string{`boathouse.xlsx, sheet crews, cell E3: crew Herons: mass "heavy" is no number`,
		"boathouse.xlsx, sheet oars, cell G2: set A: length holds the error #REF!",
		`boathouse.xlsx: the workbook has no sheet "cards"`}
	if strings.Join(told, "\n") != strings.Join(want, "\n") {
		t.Errorf("told\n%s\nwant\n%s", strings.Join(told, "\n"), strings.Join(want, "\n"))
	}
	if len(out.Document.Blocks) > 0 {
		t.Errorf("%d blocks were told", len(out.Document.Blocks))
	}
	var remarks []string
	for _, m := range out.Remarks {
		remarks = append(remarks, m.Head())
	}
	for _, want := range []string{`"88,0 cm" under inboard, cell H3`, `"?" under pitch, cell F4`} {
		if !strings.Contains(strings.Join(remarks, "\n"), want) {
			t.Errorf("%s is not told among\n%s", want, strings.Join(remarks, "\n"))
		}
	}
}

// More than ten faults: ten in full, in the order of the sheets' reading, then how many more.
// Joined heads of one sheet keep none of the others from being read.
func TestManyFaults(t *testing.T) {
	out := runTemplate(t, boathouse(t, func(f *excelize.File) {
		for row := 2; row <= 7; row++ {
			f.SetCellStr("oars", fmt.Sprintf("G%d", row), "long")
			f.SetCellStr("oars", fmt.Sprintf("H%d", row), "short")
		}
		f.SetCellStr("crews", "E3", "heavy")
		f.MergeCell("riggers", "B1", "C1")
	}))
	var told []string
	for _, m := range out.Errors {
		told = append(told, m.Head())
	}
	all := strings.Join(told, "\n")
	for _, want := range []string{"sheet crews, cell E3: ", "sheet oars, cell G2: ", "sheet oars, cell H2: "} {
		if strings.Count(all, want) != 1 {
			t.Errorf("%q is told %d times", want, strings.Count(all, want))
		}
	}
	rest := "and 4 more: 3 in boathouse.xlsx, sheet oars; 1 in boathouse.xlsx, sheet riggers"
	if len(told) != 11 || told[10] != rest {
		t.Errorf("%d faults of 14 are told:\n%s", len(told), all)
	}
}
