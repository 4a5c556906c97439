package term

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestRoundAxis(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		tight     bool
		want      []float64
	}{
		{3.2, 9.7, false, []float64{2, 4, 6, 8, 10}},
		{3.2, 9.7, true, []float64{4, 5, 6, 7, 8, 9}},
		{0, 1, false, []float64{0, 0.2, 0.4, 0.6, 0.8, 1}},
		{-0.003, 0.004, false, []float64{-0.004, -0.002, 0, 0.002, 0.004}},
		{200, 200, false, []float64{198, 199, 200, 201, 202}},
	} {
		if diff := cmp.Diff(c.want, roundAxis(c.low, c.high, 6, c.tight).ticks()); diff != "" {
			t.Errorf("%g to %g: %s", c.low, c.high, diff)
		}
	}
}

// A rising line on a canvas, in half steps of its five points: upper and lower halves, the first line keeps its
// place, what lies outside is left out.
func TestCanvas(t *testing.T) {
	same := func(v float64) float64 { return v }
	c := Window{}.Canvas(4, 2)
	c.Draw(1, []float64{0, 3}, []float64{3, 0}, same, same)
	c.Draw(2, []float64{0, 9}, []float64{3, 3}, same, same)
	if diff := cmp.Diff([]string{"  ▄▀", "▄▀▀."}, []string{Paint(c.Row(0), false), Paint(c.Row(1), false)}); diff != "" {
		t.Error(diff)
	}
	gap := Window{ASCII: true}.Canvas(5, 1)
	gap.Draw(1, []float64{0, 1, 2, 3, 4}, []float64{0, 0, math.NaN(), 0, 0}, same, same)
	gap.Mark(1, 'o', []float64{3, math.NaN()}, []float64{0, 0}, same, same)
	if got := Paint(gap.Row(0), false); got != "** o*" {
		t.Errorf("a gap: %q", got)
	}
}

// Lines that no chart has room for are left to the page, and a chart of blanks
// says so.
func TestChartOfManyLinesAndOfNone(t *testing.T) {
	w := Window{Width: 60}
	var lines []Line
	for k := range 7 {
		lines = append(lines, Line{Name: "line", X: []float64{0, 1}, Y: []float64{float64(k), float64(k)}})
	}
	drawn := w.Chart(Chart{Head: "speed (m/s)", XName: "x", Lines: lines})
	if last := Paint(drawn[len(drawn)-1], false); strings.TrimSpace(last) != "2 more lines stand in the page" {
		t.Errorf("%q", last)
	}
	if n := strings.Count(strings.Join(drawn, "\n"), " "+string(rune(Series(5)))); n != 1 {
		t.Errorf("the fifth line is named %d times", n)
	}
	blank := w.Chart(Chart{Head: "speed", Lines: []Line{{X: []float64{1}, Y: []float64{math.NaN()}}}})
	if blank[1] != "  nothing to draw: all points are blank" {
		t.Errorf("%q", blank)
	}
}

func TestColoursOnlyWhereTheyMay(t *testing.T) {
	var out, err bytes.Buffer
	terminal := Terminal{Window: Window{Width: 80}, Out: &out, Err: &err, OutColour: true}
	terminal.Print(Bold.In("title")+"  ", Series(9).In("ink"))
	terminal.PrintNote(Red.In("wrong"))
	if out.String() != "\x1b[1mtitle\x1b[0m\n\x1b[39mink\x1b[0m\n" {
		t.Errorf("stdout %q", out.String())
	}
	if err.String() != "wrong\n" {
		t.Errorf("stderr %q", err.String())
	}
	terminal.Out = full{}
	if terminal.Print("x") == nil {
		t.Error("a full disk is not told")
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }
