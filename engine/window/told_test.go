package window

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/term/termtest"
)

// outboardRun is a run like the design's first window.
func outboardRun() *document.Document {
	return &document.Document{
		Study: "a_outboard.star", Title: "How long an outboard for the Otter quad, and on which blade?",
		Params: []document.Param{{Name: "area_now", Unit: "cm²", Value: "800", Written: "820", Set: true},
			{Name: "file", Value: "", Written: ""}},
		Blocks: []document.Block{
			&document.Figure{Kind: figure.Lines, Name: "outboard",
				Sentence: "Speed from 4.995 m/s (outboard 192, blade_length 46, area 780) to 5.047 m/s (206, 42, 860); heaviness from 166 to 183 N·s/m. Both rise with outboard all the way."},
			&document.Shown{Name: "best outboard for each blade", Table: bestOutboards()},
			&document.Note{Markdown: "## What it costs in the hands\nFrom the **lightest** to the heaviest oar of the table the drive takes from 0.77 s\nto 0.84 s; today 0.81 s.\n\n1. first\n2. second, which is long enough to go over the edge of a window of eighty columns\n\n- `one` line\n- [another](x.html) & <b>more</b>\n\n      code  as it is\n"},
		},
		Cautions: []document.Caution{{Text: "Outboards 192, 193, 206 make sculls outside the usual 281 to 293 cm."},
			{Text: "Speeds nearer than 0.5 % (here 0.025 m/s) lie within what the model may be wrong by."}},
		Answer: "An outboard of 199 cm on the 42 by 860 blade: 5.037 m/s against 5.018 m/s today, and no heavier.",
	}
}

func TestTold(t *testing.T) {
	lesson := &document.Document{Title: "What does a longer oar change?", Blocks: []document.Block{
		&document.Ask{Question: "How does the arc change?", Choices: []string{"longer", "the same", "shorter"},
			Answer: "the same", Because: "The hands set the arc: 102.0 deg before, 102.0 after."},
		&document.Ask{Question: "By how many per cent is the longer oar heavier?", Answer: "3.4", Number: 3.4,
			Unit: "%"},
		&document.Explore{Axes: []document.Axis{{Name: "length", Unit: "cm", Digits: 1,
			Values: []float64{278, 280, 294}}, {Name: "set", Texts: []string{"A",
			"B"}}}, Fields: []document.Field{{Name: "speed"}, {Name: "heaviness"}}},
		&document.Figure{Kind: figure.Moving, Name: ""},
		&document.Shown{Line: "73.31"},
		&document.Shown{Name: "time lost", Line: "73.31 s"},
		&document.Shown{Card: strokeCard()},
	}}
	card := &document.Document{Blocks: []document.Block{&document.RigCard{Title: "Otters", Side: "4x, set A",
		Rows: []document.Item{{Label: "oar", Value: "length 289.0   inboard 87.5   outboard 201.5 cm"},
			{Label: "blade", Value: "scull hatchet, 820 cm², 46 cm long"}, {Label: "note",
				Value: "Set A. Heaviness 177 N·s/m, last year 176 N·s/m. And a long remark that goes over the edge."}},
		Seats: []string{"1 bow", "2", "3", "4 stroke"}, Columns: []document.Item{{Label: "span"},
			{Label: "inboard"}, {Label: "length"}, {Label: "height"}, {Label: "pitch"}, {Label: "through"}, {Label: "by"}},
		Foot: []string{"One change at a time; then overlap, height and pitch once more. Bolts, gates."}}}}
	unlike := &document.Document{Blocks: []document.Block{&document.RigCard{Title: "Herons", Side: "2x",
		Seats: []string{"1 bow", "2 stroke"},
		Columns: []document.Item{{Label: "span"}, {Label: "inboard"},
			{Label: "by"}}, Known: [][]string{{"158", "87.5", ""}, {"159", "88", ""}},
		Cautions: []string{"Inboard 87.5 differs from seat to seat."}}}}
	for _, c := range []struct {
		name string
		w    term.Window
		doc  *document.Document
	}{
		{"rigcard_unlike_80", term.Window{Width: 80}, unlike},
		{"run_80", term.Window{Width: 80}, outboardRun()},
		{"run_100", term.Window{Width: 100}, outboardRun()},
		{"run_140_plain", term.Window{Width: 140, ASCII: true}, outboardRun()},
		{"lesson_80", term.Window{Width: 80}, lesson},
		{"rigcard_80", term.Window{Width: 80}, card},
		{"rigcard_60", term.Window{Width: 60}, card},
		{"rigcard_45", term.Window{Width: 45}, card},
	} {
		lines := Told(c.w, c.doc)
		termtest.Fits(t, c.w, lines)
		termtest.Golden(t, c.name, lines)
	}
}

// At the prompt a figure is drawn in the window; in a run it is in the page.
func TestAtThePromptFiguresAreDrawn(t *testing.T) {
	w := term.Window{Width: 80}
	termtest.Golden(t, "chart_80", BlockAtPrompt(w, heavinessByWind()))
	if lines := block(w, heavinessByWind()); len(lines) != 3 || lines[0] != "heaviness  (figure)" {
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
	doc.Blocks = append(doc.Blocks, &document.Note{Markdown: evil}, &document.Shown{Name: evil, Line: evil},
		&document.Figure{Name: evil, Sentence: evil},
		&document.Shown{Table: &table.Table{Columns: []*table.Column{{Name: evil, Unit: evil, Kind: table.Text,
			Texts: []string{evil}}}}})
	for _, line := range Told(term.Window{Width: 80}, doc) {
		for _, c := range term.Paint(line, false) {
			if c < ' ' || c == 0x7f || c == '\u202e' || unicode.Is(unicode.Co, c) {
				t.Fatalf("%q holds %U", line, c)
			}
		}
	}
}

func bestOutboards() *table.Table {
	num := func(name, unit string, digits int, cells ...float64) *table.Column {
		c := table.NewColumn(name, unit, table.Number)
		c.Digits, c.Nums = digits, cells
		return c
	}
	return &table.Table{Columns: []*table.Column{
		num("blade_length", "", table.AutoDigits, 42, 42, 42, 46, 46, 46),
		num("area", "", table.AutoDigits, 860, 820, 780, 860, 820, 780),
		num("outboard", "cm", 1, 199, 200, 200, 201, 201, 201),
		num("speed", "m/s", 3, 5.0371, 5.0322, 5.0251, 5.0233, 5.0169, 5.0101),
		num("drive_time", "s", 2, 0.8062, 0.8081, 0.8059, 0.8092, math.NaN(), 0.8052),
	}}
}

func TestFileNames(t *testing.T) {
	for _, c := range []struct{ title, want string }{
		{"now and broad", "now_and_broad"}, {"../a/b: c?", "a-b-_c"}, {"\x1b...", ""},
		{"CON", "CON_"}, {"lpt1", "lpt1_"}, {"nul.", "nul_"}, {"console", "console"}, {"a\u202etxt", "atxt"},
		{"a\u2028b", "ab"}, {"a\u00a0b", "a_b"}, {"a\u200bb", "ab"}, {strings.Repeat("ä", 90), strings.Repeat("ä", 40)},
	} {
		if got := FileName(c.title); got != c.want {
			t.Errorf("%q: %q, want %q", c.title, got, c.want)
		}
	}
}

// heavinessByWind is the sweep of the design's chart, as package figure's tests
// have it: heaviness over outboard, calm and into 5 m/s.
func heavinessByWind() *document.Figure {
	t := &table.Table{Columns: []*table.Column{table.NewColumn("outboard", "cm", table.Number),
		table.NewColumn("wind", "m/s", table.Number), table.NewColumn("heaviness", "N·s/m", table.Number)}}
	for o := 192.0; o <= 204; o += 2 {
		for _, wind := range []float64{0, 5} {
			t.Columns[0].Nums = append(t.Columns[0].Nums, o)
			t.Columns[1].Nums = append(t.Columns[1].Nums, wind)
			t.Columns[2].Nums = append(t.Columns[2].Nums, 214+1.42*(o-192)+wind*4.6+wind*0.03*(o-192))
		}
	}
	return &document.Figure{Kind: figure.Lines, Name: "heaviness", Table: t, X: "outboard", Y: []string{"heaviness"}, By: "wind",
		Sentence: "From outboard 192 to 204 cm heaviness rises from 214 to 231 N·s/m at wind 0 and from 237 to 256 at wind 5: about 1.4 and 1.6 a cm."}
}
