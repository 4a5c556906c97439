package replay

import (
	"math"

	"thole/engine/num"
	"thole/engine/stroke/general"
	"thole/engine/table"
)

// Traces lists the columns of a trace, as they are typed.
var Traces = []string{"time", "angle", "handle_force", "handle_speed", "blade_force", "slip_speed",
	"boat_speed"}

// traceEvery is the step of a trace over time, s.
const traceEvery = 0.01

// sight is what a trace shows of one seat at one moment; NaN where there is nothing
// to see, as of an oar out of the water.
type sight struct {
	time, angle, handleForce, handleSpeed, bladeForce, slipSpeed, boatSpeed float64
}

// Trace follows the stroke over time (at nil: from catch to catch, 0.01 s apart,
// the finish among them) or at given oar angles [deg]. handle_force is a rower's, N;
// blade_force the force across one blade, N; slip_speed that of the blade's centre,
// sternward positive, m/s. In the recovery forces are 0 and the oar's columns blank;
// so is a line at an angle out of the arc. Of unlike rowers it shows the mean over
// those there is something to see of.
func (r *Replay) Trace(at []float64) *table.Table {
	if at == nil {
		return r.overTime(all)
	}
	sights := make([]sight, len(at))
	for i, degree := range at {
		sights[i] = r.atAngle(degree, all)
	}
	return traceTable(sights)
}

// TraceSeat is Trace of one seat of the problem (from 0, bow) alone.
func (r *Replay) TraceSeat(seat int, at []float64) *table.Table {
	if at == nil {
		return r.overTime(r.where[seat])
	}
	sights := make([]sight, len(at))
	for i, degree := range at {
		sights[i] = r.atAngle(degree, r.where[seat])
	}
	return traceTable(sights)
}

// all stands for every moment instead of one.
const all = -1

// overTime follows the stroke from catch to catch, one of the moments or all.
func (r *Replay) overTime(only int) *table.Table {
	n := int(math.Ceil(r.Period / traceEvery))
	finish := 0.0
	for i := range r.Moments {
		finish = math.Max(finish, r.Moments[i].FinishTime)
	}
	var sights []sight
	for i := range n + 1 {
		t := r.Period * float64(i) / float64(n)
		if len(sights) > 0 && sights[len(sights)-1].time < finish && finish < t {
			sights = append(sights, r.mean(only, func(int) (float64, bool) { return finish, true }))
		}
		sights = append(sights, r.mean(only, func(int) (float64, bool) { return t, true }))
	}
	return traceTable(sights)
}

// atAngle is the stroke at one oar angle [deg], which is written as it was asked.
func (r *Replay) atAngle(degree float64, only int) sight {
	s := r.mean(only, func(seat int) (float64, bool) { return r.When(seat, num.Radians(degree)) })
	s.angle = degree
	return s
}

// mean is the mean over rowers of what there is to see at each one's time; of the rowers
// of one of the moments, or of all.
func (r *Replay) mean(only int, when func(seat int) (float64, bool)) sight {
	var sum, n [7]float64
	for i := range r.Moments {
		t, ok := when(i)
		if !ok || only != all && only != i {
			continue
		}
		s := r.see(i, t)
		for j, v := range s.columns() {
			if !math.IsNaN(v) {
				sum[j] += float64(r.Seats[i].Count * v)
				n[j] += r.Seats[i].Count
			}
		}
	}
	for j := range sum {
		sum[j] /= n[j] // NaN where nobody is to be seen
	}
	return sight{sum[0], sum[1], sum[2], sum[3], sum[4], sum[5], sum[6]}
}

func (s *sight) columns() [7]float64 {
	return [7]float64{s.time, s.angle, s.handleForce, s.handleSpeed, s.bladeForce, s.slipSpeed, s.boatSpeed}
}

// see looks at one seat at time t.
func (r *Replay) see(seat int, t float64) sight {
	k, u := r.Seconds(seat, t)
	v := r.Trajectory.Value(k, general.StateV, u)
	none := math.NaN()
	if t > r.Moments[seat].FinishTime {
		return sight{time: t, angle: none, handleSpeed: none, slipSpeed: none, boatSpeed: v}
	}
	r.At(k, u, r.ODE.Y0)
	s := &r.Moments[seat]
	return sight{t, num.Degrees(s.Theta), s.Pull, s.HandleSpeed, s.Load.Normal + s.AddedForce, s.Slip, v}
}

func traceTable(sights []sight) *table.Table {
	units := []string{"s", "deg", "N", "m/s", "N", "m/s", "m/s"}
	digits := []int{2, 1, 0, 2, 0, 2, 3}
	t := &table.Table{Name: "trace"}
	for j, name := range Traces {
		c := &table.Column{Name: name, Unit: units[j], Digits: digits[j], Change: table.AutoDigits,
			Nums: make([]float64, len(sights))}
		for i := range sights {
			c.Nums[i] = sights[i].columns()[j]
		}
		t.Columns = append(t.Columns, c)
	}
	return t
}
