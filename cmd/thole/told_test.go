package main

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"thole/builtins/session"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
)

// outboardRun is a run like the design's first window.
func outboardRun() *document.Document {
	return &document.Document{
		Study: "a_outboard.star", Title: "How long an outboard for the Otter quad, and on which blade?",
		Params: []document.Param{{Name: "area_now", Unit: "cm²", Value: "800", Written: "820", Set: true}, {Name: "file", Value: "", Written: ""}},
		Blocks: []document.Block{
			&document.Figure{Kind: figure.Lines, Name: "outboard", Sentence: "Speed from 4.995 m/s (outboard 192, blade_length 46, area 780) to 5.047 m/s (206, 42, 860); heaviness from 166 to 183 N·s/m. Both rise with outboard all the way."},
			&document.Shown{Name: "best outboard for each blade", Table: bestOutboards()},
			&document.Note{Markdown: "## What it costs in the hands\nFrom the **lightest** to the heaviest oar of the table the drive takes from 0.77 s\nto 0.84 s; today 0.81 s.\n\n1. first\n2. second, which is long enough to go over the edge of a window of eighty columns\n\n- `one` line\n- [another](x.html) & <b>more</b>\n\n      code  as it is\n"},
		},
		Cautions: []document.Caution{{Text: "Outboards 192, 193, 206 make sculls outside the usual 281 to 293 cm."}, {Text: "Speeds nearer than 0.5 % (here 0.025 m/s) lie within what the model may be wrong by."}},
		Answer:   "An outboard of 199 cm on the 42 by 860 blade: 5.037 m/s against 5.018 m/s today, and no heavier.",
	}
}

func TestTold(t *testing.T) {
	lesson := &document.Document{Title: "What does a longer oar change?", Blocks: []document.Block{
		&document.Ask{Question: "How does the arc change?", Choices: []string{"longer", "the same", "shorter"}, Answer: "the same", Because: "The hands set the arc: 102.0 deg before, 102.0 after."},
		&document.Ask{Question: "By how many per cent is the longer oar heavier?", Answer: "3.4", Number: 3.4, Unit: "%"},
		&document.Explore{Axes: []document.Axis{{Name: "length", Unit: "cm", Digits: 1, Values: []float64{278, 280, 294}}, {Name: "set", Texts: []string{"A", "B"}}}, Fields: []document.Field{{Name: "speed"}, {Name: "heaviness"}}},
		&document.Figure{Kind: figure.Moving, Name: ""},
		&document.Shown{Line: "73.31"},
		&document.Shown{Name: "time lost", Line: "73.31 s"},
		&document.Shown{Card: strokeCard()},
	}}
	card := &document.Document{Blocks: []document.Block{&document.RigCard{Title: "Otters", Side: "4x, set A",
		Rows:  []document.Item{{Label: "oar", Value: "length 289.0   inboard 87.5   outboard 201.5 cm"}, {Label: "blade", Value: "scull hatchet, 820 cm², 46 cm long"}, {Label: "note", Value: "Set A. Heaviness 177 N·s/m, last year 176 N·s/m. And a long remark that goes over the edge."}},
		Seats: []string{"1 bow", "2", "3", "4 stroke"}, Columns: []document.Item{{Label: "span"}, {Label: "inboard"}, {Label: "length"}, {Label: "height"}, {Label: "pitch"}, {Label: "through"}, {Label: "by"}},
		Foot: []string{"One change at a time; then overlap, height and pitch once more. Bolts, gates."}}}}
	unlike := &document.Document{Blocks: []document.Block{&document.RigCard{Title: "Herons", Side: "2x", Seats: []string{"1 bow", "2 stroke"},
		Columns: []document.Item{{Label: "span"}, {Label: "inboard"}, {Label: "by"}}, Known: [][]string{{"158", "87.5", ""}, {"159", "88", ""}},
		Cautions: []string{"Inboard 87.5 differs from seat to seat."}}}}
	for _, c := range []struct {
		name string
		w    Window
		doc  *document.Document
	}{
		{"rigcard_unlike_80", Window{Width: 80}, unlike},
		{"run_80", Window{Width: 80}, outboardRun()},
		{"run_100", Window{Width: 100}, outboardRun()},
		{"run_140_plain", Window{Width: 140, Plain: true}, outboardRun()},
		{"lesson_80", Window{Width: 80}, lesson},
		{"rigcard_80", Window{Width: 80}, card},
		{"rigcard_60", Window{Width: 60}, card},
		{"rigcard_45", Window{Width: 45}, card},
	} {
		lines := c.w.told(c.doc)
		fits(t, c.w, lines)
		golden(t, c.name, lines)
	}
}

// At the prompt a figure is drawn in the window; in a run it is in the page.
func TestAtThePromptFiguresAreDrawn(t *testing.T) {
	w := Window{Width: 80}
	golden(t, "chart_80", w.blockAtPrompt(heavinessByWind()))
	if lines := w.block(heavinessByWind()); len(lines) != 3 || lines[0] != "heaviness  (figure)" {
		t.Errorf("in a run: %q", lines)
	}
}

// What comes from a study cannot act on the terminal.
func TestNothingToldActsOnTheTerminal(t *testing.T) {
	doc := outboardRun()
	evil := "a\x1b]0;title\x07b\x1b[2J\u202ec\r\x08\uE001"
	doc.Title, doc.Answer = evil, evil
	doc.Params = append(doc.Params, document.Param{Name: evil, Value: evil})
	doc.Cautions = append(doc.Cautions, document.Caution{Text: evil})
	doc.Blocks = append(doc.Blocks, &document.Note{Markdown: evil}, &document.Shown{Name: evil, Line: evil}, &document.Figure{Name: evil, Sentence: evil},
		&document.Shown{Table: &table.Table{Columns: []*table.Column{{Name: evil, Unit: evil, Kind: table.Text, Texts: []string{evil}}}}})
	for _, line := range (Window{Width: 80}).told(doc) {
		for _, c := range painted(line, false) {
			if c < ' ' || c == 0x7f || c == '\u202e' || isMark(c) {
				t.Fatalf("%q holds %U", line, c)
			}
		}
	}
}

func TestColoursOnlyWhereTheyMaySo(t *testing.T) {
	var out, err bytes.Buffer
	m := &Manners{Window: Window{Width: 80}, Out: &out, Err: &err, OutColour: true}
	m.Tell(m.told(outboardRun())...)
	m.complain(Message{File: "a.star", What: "something"})
	if !strings.Contains(out.String(), "\x1b[1mHow long") || !strings.Contains(out.String(), "\x1b[33mCaution\x1b[0m") {
		t.Errorf("no colour: %q", out.String())
	}
	if strings.Contains(err.String(), "\x1b") {
		t.Errorf("colour on a pipe: %q", err.String())
	}
}

func TestJSON(t *testing.T) {
	doc := outboardRun()
	doc.Results = []document.Result{
		{Name: "best_outboard", Unit: "cm", Value: 199.12345678901234},
		{Name: "change", Unit: "cm", Estimate: &table.Estimate{Value: -6.6, Low: -7.2, High: -6.2}},
		{Name: "verdict on speed", IsText: true, Text: "clearly <more>"},
		{Name: "none", Value: math.NaN()},
	}
	data, err := asJSON(doc, []session.ParamValue{{Name: "area_now", Unit: "cm²", Value: 800.0}})
	if err != nil {
		t.Fatal(err)
	}
	var plain struct {
		Study   string
		Params  map[string]map[string]any
		Results map[string]map[string]any
		Tables  []struct {
			Name    string
			Columns []map[string]string
			Lines   [][]any
		}
		Cautions []string
	}
	if err := json.Unmarshal(data, &plain); err != nil {
		t.Fatal(err)
	}
	want := map[string]map[string]any{
		"best_outboard":    {"value": 199.12345678901234, "unit": "cm"},
		"change":           {"value": -6.6, "unit": "cm", "low": -7.2, "high": -6.2},
		"verdict on speed": {"value": "clearly <more>", "unit": ""},
		"none":             {"value": nil, "unit": ""},
	}
	if diff := cmp.Diff(want, plain.Results); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(map[string]map[string]any{"area_now": {"value": 800.0, "unit": "cm²"}}, plain.Params); diff != "" {
		t.Error(diff)
	}
	if got := plain.Tables[0]; got.Name != "best outboard for each blade" || got.Columns[3]["unit"] != "m/s" || got.Lines[0][3] != 5.0371 || got.Lines[4][4] != nil {
		t.Errorf("table %+v", got)
	}
	if strings.Index(string(data), "best_outboard") > strings.Index(string(data), "verdict on speed") {
		t.Error("results are not in the order of the study")
	}
}
