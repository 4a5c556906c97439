package stroke

import (
	"thole/engine/stroke/replay"
	"thole/engine/table"
)

// What is looked at after a stroke is solved: each of these rows it once more by the
// general equations, so that a Stroke itself stays small. Whoever wants several of them
// at once, or every force at a moment, calls Follow and asks the Replay.

// Follow rows the stroke once more, moment by moment. An error is a *Failure.
func (s *Stroke) Follow() (*Replay, error) { return replay.Follow(&s.Problem, &s.Solution) }

// Trace follows the stroke over time or at given oar angles [deg]; see replay.Trace.
func (s *Stroke) Trace(at []float64) (*table.Table, error) {
	r, err := s.Follow()
	if err != nil {
		return nil, err
	}
	return r.Trace(at), nil
}

// BladePath is the way of a seat's oar (from 0, bow) through its drive, cm; see
// replay.BladePath.
func (s *Stroke) BladePath(seat int, at Moments) (*table.Table, error) {
	r, err := s.Follow()
	if err != nil {
		return nil, err
	}
	return r.BladePath(seat, at)
}

// PerfectPath is the way of the same oar with a blade that does not slip, cm; see
// replay.PerfectPath.
func (s *Stroke) PerfectPath(seat int, at Moments) (*table.Table, error) {
	r, err := s.Follow()
	if err != nil {
		return nil, err
	}
	return r.PerfectPath(seat, at)
}

// SlipMap shows slip and force strip by strip of a seat's blade; see replay.SlipMap.
func (s *Stroke) SlipMap(seat int) (*table.Table, error) {
	r, err := s.Follow()
	if err != nil {
		return nil, err
	}
	return r.SlipMap(seat)
}

// Frames gives n pictures of a seat at equal times, SI; see replay.Frames.
func (s *Stroke) Frames(seat, n int) ([]Frame, error) {
	r, err := s.Follow()
	if err != nil {
		return nil, err
	}
	return r.Frames(seat, n)
}

// YawMoment is the root mean square over the drive [N·m] of the moment that turns a
// sweep boat; see replay.YawMoment.
func (s *Stroke) YawMoment(sides string, places Places) (float64, error) {
	r, err := s.Follow()
	if err != nil {
		return 0, err
	}
	return r.YawMoment(sides, places)
}
