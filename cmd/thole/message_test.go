package main

import (
	"bytes"
	"strings"
	"testing"

	"thole/builtins/session/message"
	"thole/engine/term"
	"thole/engine/term/termtest"
)

func TestMessages(t *testing.T) {
	for _, c := range []struct {
		name string
		w    term.Window
		msg  Message
	}{
		{"message/length", term.Window{Width: 80},
			Message{File: "quad.star", Line: 3, Col: 21, What: "length 2.89 cm is outside 150 to 450",
				Source: `sculls = oar(length=2.89, inboard=87.5, blade="scull hatchet")`, Caret: 20,
				CaretLen: 4,
				Why:      "lengths are typed in centimetres, bare; 2.89 looks like metres", Type: "length=289"}},
		{"message/cut", term.Window{Width: 80},
			Message{File: "a_outboard.star", Line: 32, Col: 25, What: "no name for the place {tpo.outboard}",
				Source: `answer("An outboard of {tpo.outboard} on the {top.blade_length} by {top.area} blade: {top.speed}")`, Caret: 24, CaretLen: 3,
				Why:  "a text is filled from the study's own names; the nearest is top",
				Type: "{top.outboard}"}},
		{"message/cut_head", term.Window{Width: 60},
			Message{File: "headwind.star", Line: 14, Col: 75, What: "200 N·s/m is not reached",
				Source: `eased = find(with_outboard, of="heaviness", a_long_name_in_between=1, limits=2, target=200, outboard=(170, 204))`, Caret: 80, CaretLen: 10,
				Why:  "heaviness goes from 203 (outboard 170) to 256 (204), rising all the way",
				Type: "outboard=(160, 204)"}},
		{"message/names", term.Window{Width: 80},
			Message{File: "lesson.star", What: "3 names that neither the study nor the tool knows",
				Names: []message.UnknownName{
					{Line: 4, Col: 10, Source: "longer = usuel.change(oar=sculls.change(length=292))",
						Nearest: "usual"}, {Line: 9, Col: 1, Source: "plot_curve(usual, " +
						"longer)", Nearest: "plot_curves"},
					{Line: 14, Col: 8, Source: `answer(fil("{x:1 cm}", x=cut))`,
						Nearest: "fill"}},
				Why: "a name has to be given above the line that uses it", Type: "usual, plot_curves, fill"}},
		{"message/note", term.Window{Width: 80},
			Message{Level: message.Remark, File: "crews.csv",
				What: "read with ; between columns and decimal commas (78,5 is 78.5); left out: Seats"}},
		{"message/caution", term.Window{Width: 80, ASCII: true},
			Message{Level: message.Beware, File: "span.star", Line: 8, Col: 2,
				What:   "all 3 lines are alike, 820 cm²",
				Source: "ä\t= rig(span=span)", Caret: 4, CaretLen: 3, Why: "span moves no blade by itself",
				From: []string{"line 12: vary(rowed, ...)"}}},
		{"message/usage", term.Window{Width: 80},
			Message{File: "thole run", What: `a_outboard.star has no parameter "area"`,
				Why:  "it has area_now (cm²)",
				Type: "thole run a_outboard.star --set area_now=800"}},
	} {
		lines := messageLines(c.w, c.msg)
		for i, line := range lines { // what can be pasted is never broken
			if n := term.Width(line); n > c.w.Width && !strings.HasPrefix(lines[i], "type") {
				t.Errorf("%s: %d columns: %q", c.name, n, line)
			}
		}
		termtest.Golden(t, c.name, lines)
	}
}

func TestCounted(t *testing.T) {
	for _, c := range []struct {
		rowed, before int
		want          string
	}{
		{91, 0, "91 strokes rowed in 1.4 s"}, {91, 61, "91 strokes in 1.4 s, 61 of them rowed before"},
		{1, 0, "1 stroke rowed in 1.4 s"}, {0, 0, ""},
	} {
		if got := counted(c.rowed, c.before, 1.4); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A message can be set whatever the line, the caret and the window are: it never
// fails, stays within the window (but for what is to be pasted), and the caret
// stands under something.
func FuzzMessage(f *testing.F) {
	f.Add(`sculls = oar(length=2.89, inboard=87.5)`, 20, 4, 80, "length 2.89 cm is outside 150 to 450")
	f.Add("\tä = rig(span=\x1bspan)\r\n", 300, -4, 40, "")
	f.Add("漢字漢字漢字 = 3", 3, 2, 41, "°C\u202e\ue001")
	f.Fuzz(func(t *testing.T, source string, caret, length, width int, what string) {
		w := term.Window{Width: 40 + (width&0x7fff)%100, ASCII: width%2 == 0}
		place := Message{File: "a.star", Line: 3, Col: 1} // or a line typed at the prompt
		if caret%2 == 0 {
			place = Message{}
		}
		lines := messageLines(w, Message{File: place.File, Line: place.Line, Col: place.Col, Source: source,
			Caret: caret, CaretLen: length, What: what, Why: what, Type: source})
		for _, line := range lines {
			if strings.HasPrefix(line, "type") || strings.HasPrefix(line, "      ") &&
				strings.Trim(line, " ^") != "" {
				continue
			}
			if n := term.Width(line); n > w.Width {
				t.Fatalf("%d columns in %d: %q", n, w.Width, line)
			}
			for _, c := range term.Paint(line, false) {
				if c < ' ' || c == 0x7f {
					t.Fatalf("%q holds %U", line, c)
				}
			}
		}
	})
}

func TestColoursOnlyWhereTheyMaySo(t *testing.T) {
	var err, coloured bytes.Buffer
	tty := &terminal{term.Terminal{Window: term.Window{Width: 80}, Err: &err}}
	tty.printMessage(Message{File: "a.star", What: "something"})
	if strings.Contains(err.String(), "\x1b") {
		t.Errorf("colour on a pipe: %q", err.String())
	}
	tty.Err, tty.ErrColour = &coloured, true
	tty.printMessage(Message{File: "a.star", What: "something"})
	if got := coloured.String(); got != "\x1b[31ma.star: something\x1b[0m\n" {
		t.Errorf("no colour: %q", got)
	}
}
