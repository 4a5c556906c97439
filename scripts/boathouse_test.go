package scripts_test

import (
	"context"
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"testing"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/document"
	"thole/scripts"
)

// registers are the season's files, some of them changed.
type registers map[string]string

func (r registers) ReadFile(name string) ([]byte, error) {
	text, ok := r[name]
	if !ok {
		return nil, errors.New("no file " + name)
	}
	return []byte(text), nil
}

// season reads the example's registers, a folder of CSV files, and its study.
func season(t *testing.T) (registers, []byte) {
	t.Helper()
	files := os.DirFS("../examples/season")
	r := registers{}
	for _, name := range []string{"crews", "oars", "measured", "riggers", "boats", "cards"} {
		text, err := fs.ReadFile(files, "2026/"+name+".csv")
		if err != nil {
			t.Fatal(err)
		}
		r["2026/"+name+".csv"] = string(text)
	}
	study, err := fs.ReadFile(files, "study.star")
	if err != nil {
		t.Fatal(err)
	}
	return r, study
}

// runSeason runs the study and gives its findings as "where: finding: found".
func runSeason(t *testing.T, r registers, study []byte) ([]string, *session.Outcome) {
	t.Helper()
	out := builtins.Run(context.Background(), "study.star", study, session.Config{Files: r, Boathouse: scripts.Library, Jobs: 2})
	var lines []string
	for _, b := range out.Document.Blocks {
		if s, ok := b.(*document.Shown); ok && s.Name == "findings" {
			for i := range s.Table.Len() {
				var cells []string
				for _, c := range s.Table.Columns[:3] {
					cells = append(cells, c.Texts[i])
				}
				lines = append(lines, strings.Join(cells, ": "))
			}
		}
	}
	return lines, out
}

// The registers of the example hold one of each thing that goes wrong in a
// boathouse; every one is found, and nothing else.
func TestEveryPlantedFaultIsFound(t *testing.T) {
	r, study := season(t)
	got, out := runSeason(t, r, study)
	if len(out.Errors) > 0 {
		t.Fatal(out.Errors[0].Head())
	}
	want := []string{
		"set D: 2 oars are listed: 2",
		"set B, pair 1: the two differ in inboard: starboard 88.6 cm",
		"boat Kingcup, seat 3: span or spread out of line with the boat: 159.2 cm",
		"boat Alder, seat 2: pitch out of line with the boat: 6.5 deg",
		"boat Sedge, seat 2: gates far apart in height: port +2.5 cm over starboard",
		"set D: overlap with gates outside its window: 25.6 cm",
		"crew Herons, set D, boat Sedge: the set was fitted to another span: 158.1 cm",
		"crew Wrens, set T, boat Rush: the collar does not reach: 84.5 to 87.0 cm",
		"card of Otters, seat 2: inboard not as in the register, set A: 88.5 cm",
		"set T: blades of the tulip era: 54 cm long, 680 cm²",
		"crew Swifts, boat Osier: another class: 2x",
		"boat Willow: riggers for 7 seats: 7 lines",
	}
	if !slices.Equal(got, want) {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestFaultsInTheRegistersThemselves(t *testing.T) {
	for _, c := range []struct{ file, old, new, want string }{
		{"crews", "Otters,4x,scull", "Otters,4x,sculls", "crew Otters: kind sculls is neither scull nor sweep"},
		{"crews", "Otters,4x", "Otters,quad", "crew Otters: boat quad is none of 1x"},
		{"crews", "Otters,4x,scull", "Otters,4x,sweep", "crew Otters: a 4x is not rowed with sweep oars"},
		{"crews", ",78.5,360", ",,360", "crew Otters: nothing stands under mass"},
		{"crews", ",78.5,360", ",7.85,360", "crew Otters: mass 7.85 kg is outside"},
		{"crews", "86,88,junior", "86,88,juniors", "crew Wrens: category juniors is none of senior junior"},
		{"oars", "B,scull,hatchet,2", "B,scull,hatchet,", "set B: nothing stands under oars"},
		{"oars", "B,scull", "A,scull", "set A: stands in the register more than once"},
		{"oars", "B,scull,hatchet", "B,scull,big", "set B: shape big is neither hatchet nor tulip"},
		{"oars", ",284,88,", ",2.84,0.88,", "set B: length 2.84 cm is outside"},
		{"measured", "A,2,starboard,289.1", "A,2,starboard,290.1", "set A, pair 2: the two differ in length"},
		{"measured", "A,2,starboard,289.1,87.5\n", "", "set A, pair 2: a pair of 1 oars in the list"},
		{"riggers", "Willow,3,84.1,16.5", "Willow,3,84.1,17.9", "boat Willow, seat 3: height port out of line"},
		{"riggers", "Reed,1,159,", "Reed,1,,", "boat Reed, seat 1: nothing stands under span or spread"},
		{"riggers", "Sedge,2,158.2,", "Sedge,2,15.82,", "boat Sedge, seat 2: spread 15.82 cm is outside"},
		{"boats", "Reed,1x", "Reed,skiff", "boat Reed: class skiff is none of"},
	} {
		r, study := season(t)
		name := "2026/" + c.file + ".csv"
		if !strings.Contains(r[name], c.old) {
			t.Fatalf("%s has no %q", name, c.old)
		}
		r[name] = strings.Replace(r[name], c.old, c.new, 1)
		got, out := runSeason(t, r, study)
		if len(out.Errors) > 0 {
			t.Errorf("%s: %s: %s", c.file, c.new, out.Errors[0].Head())
			continue
		}
		if !slices.ContainsFunc(got, func(line string) bool { return strings.HasPrefix(line, c.want) }) {
			t.Errorf("%s with %q: %q is not among\n%s", c.file, c.new, c.want, strings.Join(got, "\n"))
		}
	}
}

// A cell left empty, any cell, never ends the study.
func TestAnyCellMayBeEmpty(t *testing.T) {
	r, study := season(t)
	runs := 0
	for name, text := range r {
		if path.Ext(name) != ".csv" {
			continue
		}
		lines, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range []int{1, len(lines) - 1} {
			for j := range lines[i] {
				was := lines[i][j]
				lines[i][j] = ""
				var b strings.Builder
				csv.NewWriter(&b).WriteAll(lines)
				r[name] = b.String()
				if _, out := runSeason(t, r, study); len(out.Errors) > 0 {
					t.Errorf("%s without %q (%s): %s", name, was, lines[0][j], out.Errors[0].Head())
				}
				lines[i][j] = was
				runs++
			}
		}
		r[name] = text
	}
	if runs < 80 {
		t.Errorf("only %d cells were emptied", runs)
	}
}

// Robust statistics: what is wild is found however wild the others are not, and
// two that differ accuse nobody.
func TestOutOfLine(t *testing.T) {
	for _, c := range []struct{ values, want string }{
		{"158, 158, 159.2, 158", "[(2, 158)]"},
		{"158, 159", "[]"},
		{"158, 158.2, 158.4, 158.6", "[]"},
		{"1, 2, 3, 4, 5, 6, 7, 100", "[(7, 4)]"},
		{"4.5, 4.5, 4.5", "[]"},
	} {
		study := "load(\"@boathouse\", \"out_of_line\")\nanswer(\"{x}\", x=str(out_of_line([" + c.values + "], 0.5)))\n"
		out := builtins.Run(context.Background(), "s.star", []byte(study), session.Config{Boathouse: scripts.Library})
		if len(out.Errors) > 0 {
			t.Fatal(out.Errors[0].Head())
		}
		if out.Document.Answer != c.want {
			t.Errorf("%s: %s, want %s", c.values, out.Document.Answer, c.want)
		}
	}
}

// The registers read alike however a spreadsheet
// saves them.
func TestRegistersInAnotherDress(t *testing.T) {
	r, study := season(t)
	want, _ := runSeason(t, r, study)
	for name, text := range r {
		if path.Ext(name) == ".csv" {
			text = strings.ReplaceAll(text, ",", ";")
			r[name] = "\ufeff" + strings.ReplaceAll(strings.ReplaceAll(text, ".", ","), "\n", "\r\n")
		}
	}
	got, out := runSeason(t, r, study)
	if len(out.Errors) > 0 || !slices.Equal(want, got) {
		t.Errorf("%v: %q", out.Errors, got)
	}
}

// A junior crew of the register is one on its card, in the page's first caution and in its
// load's line; a senior crew's card says nothing.
func TestTheRegistersCategoryIsOnCardAndPage(t *testing.T) {
	r, study := season(t)
	_, out := runSeason(t, r, study)
	said := map[string]string{}
	for _, b := range out.Document.Blocks {
		if card, ok := b.(*document.RigCard); ok {
			for _, row := range card.Rows {
				if row.Label == "category" {
					said[card.Title] = row.Value
				}
			}
		}
	}
	if !strings.HasPrefix(said["Wrens"], "junior: lighter first") || said["Otters"] != "" {
		t.Errorf("the cards say %v", said)
	}
	if c := out.Document.Cautions; len(c) == 0 || !strings.Contains(c[0].Text, "juniors and masters") &&
		!strings.Contains(c[0].Text, "juniors, masters") {
		t.Errorf("the page's first caution: %v", c)
	}
}
