package rowing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/units"
	"thole/engine/rigging"
	"thole/engine/rounding"
	"thole/engine/stroke"
	"thole/engine/table"
	"thole/engine/words"
)

// A trace has the columns of engine/stroke, and four more that follow from the blade's
// force and the rig's pitch.

// pitchTraces are the columns that need a rig with a pitch, as they are typed.
var pitchTraces = []table.Column{
	{Name: "pitch", Unit: "deg", Digits: 1, Change: 1},
	{Name: "lift_at_blade", Unit: "N", Digits: 0, Change: 1},
	{Name: "lift_at_hands", Unit: "N", Digits: 0, Change: 1},
	{Name: "pitch_loss", Unit: "%", Digits: 2, Change: 2},
}

// Traces lists every column a trace can have.
var Traces = func() []string {
	names := slices.Clone(stroke.Traces)
	for _, c := range pitchTraces {
		names = append(names, c.Name)
	}
	return names
}()

var traceRecord = &lang.Record{
	Name: "trace", Of: "stroke", Topic: "doing",
	Summary: "a table over the stroke's time, or at given oar angles",
	More: &lang.Param{Name: "names", Is: lang.Text, Choices: Traces,
		Help: "columns; those without pitch unless some are named"},
	Params: []lang.Param{
		{Name: "at", Unit: "deg", Is: lang.List, ByName: true,
			Help: "oar angles of the drive, before square below 0; beyond catch and finish they stay blank"},
	},
	Gives:  "table: " + strings.Join(Traces, " "),
	Errors: []string{"pitch and lift of a stroke whose rig has no pitch"},
	Notes: []string{"handle_force is a rower's, of a sculler both hands together; blade_force and both " +
		"lifts " +
		"are of one blade and one oar",
		"pitch of the blade, the top edge toward the stern above 0; lift_at_blade the water's push on it, " +
			"upward above 0; lift_at_hands that by the levers, less what hangs outboard: above 0 the " +
			"handle is pushed down and the hands bear it up, below 0 they press down",
		"pitch_loss the share of the push that no longer drives the boat, 1 - cos(pitch)"},
	Example: `usual.trace("angle", "handle_force", at=steps(-60, 40, 5))`,
	Sources: []string{"model 1", "model 6"},
}

func init() { traceRecord.Do = traceDo }

func traceDo(c *lang.Call) (starlark.Value, error) {
	s, _ := StrokeType.From(c.Receiver)
	names := make([]string, 0, len(c.More))
	for _, v := range c.More {
		name, ok := starlark.AsString(v)
		if !ok || !slices.Contains(Traces, name) {
			near := table.Nearest(name, Traces)
			if near == "" {
				near = Traces[0]
			}
			return nil, lang.Mistake("a trace has "+strings.Join(Traces, ", "), fmt.Sprintf("trace(%q)",
				near), "a trace has no %q", name)
		}
		names = append(names, name)
	}
	var at []float64
	if c.Given("at") {
		var err error
		if at, err = c.Numbers("at"); err != nil {
			return nil, err
		}
		if err := s.sided(at); err != nil {
			return nil, c.Wrong("at", err)
		}
	}
	s.tellBeyond(c, at)
	if len(names) == 0 {
		names = stroke.Traces
	}
	t, err := s.TraceOf(at, names...)
	if err != nil {
		return nil, err
	}
	return lang.NewTable(t), nil
}

// tellBeyond says which of the angles asked for no oar comes to.
func (s *Stroke) tellBeyond(c *lang.Call, at []float64) {
	low, high := 0., 0.
	for i := range s.Problem.Seats {
		low = math.Max(low, s.Problem.Seats[i].Catch/units.Deg)
		high = math.Max(high, s.Problem.Seats[i].Finish/units.Deg)
	}
	var beyond []string
	for _, a := range at {
		if rounding.Clean(a) < -rounding.Clean(low) || rounding.Clean(a) > rounding.Clean(high) {
			beyond = append(beyond, table.Fixed(a, -1))
		}
	}
	if len(beyond) > 0 {
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{Arg: "at",
			Text: "blank at " + words.List(beyond) + " deg: the drive goes from " + table.Fixed(-low, 1) +
				" to " + table.Fixed(high, 1)})
	}
}

// sided refuses angles that were typed without their side: catch and finish are typed as
// magnitudes, an angle on the way between them stands before square below 0. Angles that
// are all past the finish, or go past it from square on, can only be meant before square.
func (s *Stroke) sided(at []float64) *lang.Error {
	catch, finish := s.Of("catch"), s.Of("finish")
	for _, x := range at {
		if x < 0 {
			return nil
		}
	}
	for _, x := range at {
		if x > finish && x <= catch {
			return lang.Mistake(fmt.Sprintf("angles of a trace go from the catch (-%s) over square (0) to "+
				"the finish "+
				"(%s): before square they are below 0", table.Fixed(catch, 0), table.Fixed(finish, 0)),
				"at=["+table.Fixed(-x, -1)+"]", "%s deg is past the finish", table.Fixed(x, -1))
		}
	}
	return nil
}

// TraceOf gives these columns of a trace over time (at nil) or at oar angles [deg].
func (s *Stroke) TraceOf(at []float64, names ...string) (*table.Table, error) {
	r, err := s.Follow()
	if err != nil {
		return nil, NoStroke(err)
	}
	t := r.Trace(at)
	for _, c := range pitchTraces {
		if slices.Contains(names, c.Name) {
			if err := s.addPitch(t, r, at); err != nil {
				return nil, err
			}
			break
		}
	}
	return t.Only(names...)
}

// addPitch puts the columns of pitch behind those of the trace: each seat's own, and of
// seats unlike each other the mean over those whose blade is in the water.
func (s *Stroke) addPitch(t *table.Table, r *stroke.Replay, at []float64) error {
	seats := 1
	if s.SeatsDiffer() || len(s.Problem.Seats) > 1 {
		seats = s.Hull.Seats()
	}
	sums := make([][]float64, len(pitchTraces))
	for k := range sums {
		sums[k] = make([]float64, t.Len())
	}
	counts := make([]float64, t.Len())
	for i := range seats {
		rig := s.RigOf(i)
		if rig == nil || math.IsNaN(rig.Pitch) {
			return lang.Mistake("pitch and lift follow from the rig's pitch", "rig=rig(..., pitch=4) in row",
				"this stroke's rig has no pitch")
		}
		p := min(i, len(s.Problem.Seats)-1)
		o, one := &s.Problem.Seats[p].Oar, r.TraceSeat(p, at)
		angle, force := one.Column("angle").Nums, one.Column("blade_force").Nums
		for j := range counts {
			pitch := rig.PitchAt(angle[j] * units.Deg)
			if math.IsNaN(pitch) || math.IsNaN(force[j]) {
				continue
			}
			counts[j]++
			for k, x := range [4]float64{pitch / units.Deg, rigging.LiftAtBlade(force[j], pitch),
				rigging.LiftAtHands(o, force[j], pitch), 100 * rigging.PitchLoss(pitch)} {
				sums[k][j] += x
			}
		}
	}
	for k := range pitchTraces {
		col := pitchTraces[k]
		col.Kind, col.Nums = table.Number, sums[k]
		for j, n := range counts {
			col.Nums[j] /= n // blank where no blade is in the water
		}
		t.Columns = append(t.Columns, &col)
	}
	return nil
}
