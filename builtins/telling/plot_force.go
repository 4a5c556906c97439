package telling

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/table"
	"thole/engine/trial"
	"thole/engine/words"
)

var plotForce = &lang.Record{
	Name: "plot_force", Counts: "figure", Topic: "telling",
	Summary: "a measured force curve over the computed one", Tells: true, Fills: true, Rest: places,
	Params: []lang.Param{
		{Name: "stroke", Is: lang.ThingOf, Types: []string{"stroke"}, Needed: true, Help: "the computed one"},
		{Name: "measured", Is: lang.ThingOf, Types: []string{"table"}, Needed: true,
			Help: "columns angle or time, force, and seat if there are several; from read_csv or " +
				"read_sheet, " +
				"which convert kgf, kN, rad and ms by the heads"},
		{Name: "seat", Is: lang.Whole, ByName: true, Default: 1, Low: 1, High: 8, Help: "whose, from bow"},
		nameParam, captionParam},
	Gives: "nothing",
	Errors: []string{"a table without force, or with neither angle nor time", "a seat nobody measured",
		"fewer than 5 samples"},
	Notes: []string{
		"force is a rower's at the handle, N, of a sculler both hands together",
		"lines in the order of the samples: over angles there and back the way back gives the zero, and " +
			"the " +
			"angles are turned so that the catch is below 0; of several strokes the first whole one is " +
			"drawn, over time from where its pull begins; a pull that counts below 0 is turned. What was " +
			"done is said",
		"with a drive alone the zero stays as it is",
	},
	Example: `plot_force(usual, table([{"angle (deg)": a, "force (N)": 7 * (a + 60) * (40 - a) / 25} ` +
		`for a in steps(-60, 40, 5)]))`,
	Also:    []string{"force_curve", "measured_force"},
	Sources: []string{"the level of the way back and where a pull begins, a tenth of its range: from memory"},
}

func init() { plotForce.Do = plotForceDo }

func plotForceDo(c *lang.Call) (starlark.Value, error) {
	s, _ := rowing.StrokeType.From(c.Value("stroke"))
	seat := c.Whole("seat")
	if seat > s.Hull.Seats() {
		return nil, c.Wrong("seat", lang.Mistake("seats count from bow", "seat=1", "a %s has no seat %d",
			s.Hull.Boat, seat))
	}
	x, at, force, err := samples(c, seat)
	if err != nil {
		return nil, c.Wrong("measured", err)
	}
	replay, failed := s.Follow()
	if failed != nil {
		return nil, rowing.NoStroke(failed)
	}
	var angles []float64
	if x == "angle" {
		angles = anglesOf(s)
	}
	computed := replay.TraceSeat(min(seat, len(s.Problem.Seats))-1, angles)
	computed, bad := computed.Only(x, "handle_force")
	if bad != nil {
		return nil, bad
	}
	var m trial.MeasuredForce
	if x == "angle" {
		m = trial.ForceOverAngle(at, force)
		m.FirstDrive()
	} else {
		m = trial.ForceOverTime(at, force)
		begins := trial.PullBegins(computed.Columns[0].Nums, computed.Columns[1].Nums)
		for i := range m.At {
			m.At[i] += begins
		}
	}
	measured := &table.Table{}
	for k, values := range [][]float64{m.At, m.Force} {
		column := *computed.Columns[k]
		column.Nums = values
		measured.Columns = append(measured.Columns, &column)
	}
	name := strokeName(s, 0, 1)
	f := &document.Figure{Kind: figure.Curves, X: x, By: "case", Y: []string{"handle_force"},
		Table: stacked(stacked(nil, computed, name), measured, "measured")}
	if x == "angle" {
		f.Guides = []document.Guide{{Axis: "x", At: 0, Label: "square"}}
	}
	said := m.Said
	if !m.ZeroFound {
		said = append(said, "no way back shows its zero, which stays as it is")
	}
	if len(said) > 0 {
		text := "measured force: " + strings.Join(said, "; ")
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{Text: text, Key: text})
	}
	return starlark.None, tellFigure(c, f, "force measured and computed")
}

// samples reads a seat's samples out of the measured table: along angle or time, without
// blanks.
func samples(c *lang.Call, seat int) (x string, at, force []float64, err *lang.Error) {
	t := c.Value("measured").(*lang.Table).T
	number := func(names ...string) *table.Column {
		for _, name := range names {
			if col := t.Column(name); col != nil && col.Kind == table.Number {
				return col
			}
		}
		return nil
	}
	pull, along, of := number("force", "handle_force"), number("angle", "time"), number("seat")
	const typed = `read_csv("force.csv", columns=["angle (deg)", "force (N)"])`
	switch {
	case pull == nil:
		return "", nil, nil, lang.Mistake("the pull stands in a column force", typed,
			"the measured table has no force")
	case along == nil:
		return "", nil, nil, lang.Mistake("a force is measured along the oar's angle or the time", typed,
			"the measured table has neither angle nor time")
	case pull.Unit != "" && pull.Unit != "N":
		return "", nil, nil, lang.Mistake("forces are in newtons here", typed, "the force is in %s",
			pull.Unit)
	}
	seats := map[string]bool{}
	for i := range t.Len() {
		if of != nil {
			seats[table.Fixed(of.Nums[i], -1)] = true
			if of.Nums[i] != float64(seat) {
				continue
			}
		}
		if !math.IsNaN(along.Nums[i]) && !math.IsNaN(pull.Nums[i]) {
			at, force = append(at, along.Nums[i]), append(force, pull.Nums[i])
		}
	}
	switch {
	case len(at) < 5 && of != nil:
		there := slices.Sorted(maps.Keys(seats))
		return "", nil, nil, lang.Mistake("the table has samples of seat "+words.List(there),
			"seat="+cmp.Or(append(there, "1")[0], "1"), "there are fewer than 5 samples of seat %d", seat)
	case len(at) < 5:
		return "", nil, nil, lang.Mistake("a curve is a line for each sample", typed,
			"the measured table has fewer than 5 samples")
	case slices.Max(force) == slices.Min(force):
		return "", nil, nil, lang.Mistake("a pull rises and falls", typed, "the measured force never changes")
	case along.Name == "angle" && (slices.Max(at) >= 90 || slices.Min(at) <= -90):
		return "", nil, nil, lang.Mistake("angles are counted from square, before it below 0",
			"the table again, with what square reads taken off each angle",
			"the measured angles go from %s to %s deg",
			table.Fixed(slices.Min(at), 0), table.Fixed(slices.Max(at), 0))
	}
	return along.Name, at, force, nil
}
