package workbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"thole/engine/table"
)

func crews() *table.Table {
	crew, mass := table.NewColumn("crew", "", table.Text), table.NewColumn("rower_mass", "kg", table.Number)
	crew.Texts = []string{"Otters", `=1+1 "{x}", a`, ""}
	mass.Nums = []float64{78.123456789012, math.NaN(), -3}
	gain := table.NewColumn("gain", "s", table.Measured)
	gain.Estimates = []*table.Estimate{{Value: 1.5, Low: 1, High: 2, Unit: "s", Digits: 1, Verdict: "holds: more"}, nil, nil}
	return &table.Table{Columns: []*table.Column{crew, mass, gain}}
}

func written(t testing.TB, pages ...Page) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, pages); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What is written is read again to the last digit; texts stay texts.
func TestThereAndBack(t *testing.T) {
	data := written(t, Page{Name: "crews: all/of 2026 [x]", Table: crews()}, Page{Name: "CREWS: all/of 2026 [x]", Table: crews()})
	g, err := Sheet("tables.xlsx", data, "")
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"crew", "rower mass (kg)", "gain (s)", "gain low (s)", "gain high (s)", "gain verdict"},
		{"Otters", "78.123456789012", "1.5", "1", "2", "holds: more"}, {`=1+1 "{x}", a`}, {"", "-3"}}
	if diff := cmp.Diff(want, g.Rows); diff != "" {
		t.Error(diff)
	}
	if g.Sheet != "crews all of 2026 x" {
		t.Errorf("sheet %q", g.Sheet)
	}
	if again, err := Sheet("tables.xlsx", data, "crews all of 2026 x 2"); err != nil || again.Sheet != "CREWS all of 2026 x 2" {
		t.Errorf("second sheet: %v", err)
	}
	if !bytes.Equal(data, written(t, Page{Name: "crews: all/of 2026 [x]", Table: crews()}, Page{Name: "CREWS: all/of 2026 [x]", Table: crews()})) {
		t.Error("the same tables give other bytes")
	}
	book, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if f, _ := book.GetCellFormula(g.Sheet, "A3"); f != "" {
		t.Errorf("a text became the formula %s", f)
	}
	if panes, _ := book.GetPanes(g.Sheet); !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("the heads are not frozen: %+v", panes)
	}
}

func packed(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, text := range parts {
		f, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		f.Write([]byte(text))
	}
	w.Close()
	return b.Bytes()
}

// bomb is a workbook whose sheet unpacks to this many bytes, and says so or not.
func bomb(t testing.TB, size int, said uint64) []byte {
	t.Helper()
	var deflated bytes.Buffer
	w, _ := flate.NewWriter(&deflated, flate.BestCompression)
	sum, zeros := crc32.NewIEEE(), make([]byte, 1<<20)
	for range size >> 20 {
		w.Write(zeros)
		sum.Write(zeros)
	}
	w.Close()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	z.Create("xl/workbook.xml")
	f, err := z.CreateRaw(&zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, CRC32: sum.Sum32(),
		CompressedSize64: uint64(deflated.Len()), UncompressedSize64: said})
	if err != nil {
		t.Fatal(err)
	}
	f.Write(deflated.Bytes())
	z.Close()
	return b.Bytes()
}

func made(t testing.TB, fill func(f *excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	fill(f)
	var b bytes.Buffer
	if _, err := f.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Each gets one sentence, and nothing else happens.
func TestRefused(t *testing.T) {
	older := append(bytes.Clone(compound), make([]byte, 600)...)
	locked := append(bytes.Clone(older), encrypted...)
	good := written(t, Page{Name: "crews", Table: crews()})
	for _, c := range []struct {
		name  string
		data  []byte
		sheet string
		want  string
	}{
		{"empty", nil, "crews", "the file is empty"},
		{"text", []byte("crew,mass\n"), "crews", "this is no .xlsx workbook"},
		{"other archive", packed(t, map[string]string{"a.txt": "a"}), "crews", "this is no .xlsx workbook"},
		{"older kind", older, "crews", "this is a workbook of the older kind, .xls"},
		{"password", locked, "crews", "the workbook has a password"},
		{"open document", packed(t, map[string]string{"mimetype": "application/vnd.oasis.opendocument.spreadsheet"}),
			"crews", "this is a workbook of another kind, .ods"},
		{"macros", packed(t, map[string]string{"xl/workbook.xml": "", "xl/vbaProject.bin": "x"}), "crews", "the workbook has macros"},
		{"cut short", good[:len(good)/2], "crews", "this is no .xlsx workbook"},
		{"nothing inside", packed(t, map[string]string{"xl/workbook.xml": "<"}), "", "the workbook is damaged"},
		{"no such sheet", good, "crew", `the workbook has no sheet "crew"`},
		{"bomb", bomb(t, 96<<20, 96<<20), "crews", "unpacked, the workbook would have more than 64 MB"},
		{"bomb that says it is small", bomb(t, 96<<20, 1000), "", "the workbook is damaged"},
		{"joined heads", made(t, func(f *excelize.File) {
			f.SetSheetRow("Sheet1", "A1", &[]string{"crew", "masses", "", "power"})
			f.MergeCell("Sheet1", "B1", "C1")
		}), "", "the cells B1 to C1 are joined to one"},
		{"formula without a value", made(t, func(f *excelize.File) {
			f.SetSheetRow("Sheet1", "A1", &[]string{"crew", "mass (kg)", "power"})
			f.SetCellFormula("Sheet1", "B2", "1+1")
			f.SetCellStr("Sheet1", "C2", "x")
		}), "", "a formula without a value"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Sheet("boathouse.xlsx", c.data, c.sheet)
			var e *table.Error
			if !errors.As(err, &e) || e.What != c.want || e.Why == "" || e.Type == "" {
				t.Errorf("said %v, want %s", err, c.want)
			}
		})
	}
}

// A title above the heads may be joined over the columns.
func TestJoinedTitle(t *testing.T) {
	data := made(t, func(f *excelize.File) {
		f.SetCellStr("Sheet1", "A1", "Sallow Reach, invented")
		f.MergeCell("Sheet1", "A1", "C1")
		f.SetSheetRow("Sheet1", "A2", &[]string{"crew", "mass (kg)"})
	})
	if _, err := Sheet("boathouse.xlsx", data, ""); err != nil {
		t.Error(err)
	}
}

// Nothing is read of a sheet beyond what any register holds.
func TestAMillionLines(t *testing.T) {
	var rows strings.Builder
	for i := range 250_000 {
		fmt.Fprintf(&rows, `<row r="%d"><c r="A%d"><v>1</v></c></row>`, i+1, i+1)
	}
	book := written(t, Page{Name: "crews", Table: crews()})
	r, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, part := range r.File {
		if part.Name == "xl/worksheets/sheet1.xml" {
			f, _ := w.Create(part.Name)
			f.Write([]byte(`<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` +
				rows.String() + `</sheetData></worksheet>`))
			continue
		}
		w.Copy(part)
	}
	w.Close()
	_, err = Sheet("boathouse.xlsx", b.Bytes(), "crews")
	if err == nil || !strings.Contains(err.Error(), "has more than 200000 lines") {
		t.Errorf("said %v", err)
	}
}

func FuzzSheet(f *testing.F) {
	f.Add(written(f, Page{Name: "crews", Table: crews(), Choices: map[string][]string{"crew": {"Otters"}}}), "crews")
	f.Add(packed(f, map[string]string{"xl/workbook.xml": "<workbook/>"}), "")
	f.Add(append(bytes.Clone(compound), encrypted...), "x")
	f.Add(binary.LittleEndian.AppendUint64(nil, 0x04034b50), "")
	f.Fuzz(func(t *testing.T, data []byte, sheet string) {
		g, err := Sheet("boathouse.xlsx", data, sheet)
		var e *table.Error
		if err != nil && (!errors.As(err, &e) || e.What == "" || e.Type == "") {
			t.Errorf("an error without words: %v", err)
		}
		if err != nil {
			return
		}
		if len(g.Rows) > table.MaxLines+1 {
			t.Errorf("%d lines", len(g.Rows))
		}
		read, _, err := table.ReadGrid(g, []string{"crew", "mass (kg)"}, []string{"rate (1/min)"}, "")
		if err != nil && err.Error() == "" {
			t.Error("a sheet at fault without words")
		}
		if err == nil && (read.Column("crew") == nil || read.Len() > len(g.Rows)) {
			t.Errorf("%d lines of %d, columns %v", read.Len(), len(g.Rows), read.Columns)
		}
	})
}
