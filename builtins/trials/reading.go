package trials

import (
	"go.starlark.net/starlark"

	"thole/builtins/data"
	"thole/builtins/lang"
	"thole/engine/trial"
)

var readTrial = &lang.Record{
	Name: "read_trial", Topic: "trials", Summary: "the filled sheet of a morning, a CSV", Reads: true,
	Params: []lang.Param{{Name: "path", Is: lang.Text, Needed: true,
		Help: "file in the study's folder: piece, setting, distance (m), time (s)"}},
	Gives: "a table; times are read as 1:52.3, 112.3 and 0:01:52,3; rate, wind, power, stream, water, " +
		"way (out or back) and remarks may stand in it too",
	Errors: []string{"a missing time", "a piece that stands twice", "a speed no boat has"},
}

var readTrack = &lang.Record{
	Name: "read_track", Topic: "trials", Summary: "a watch's track, GPX or FIT, smoothed", Reads: true,
	Params: []lang.Param{{Name: "path", Is: lang.Text, Needed: true, Help: "file in the study's folder"}},
	Gives: "a table: time (s), distance (m), speed (m/s) and the number of the piece found; pieces, " +
		"gaps and jumps are told. A file that breaks off gives what stands before; records without a place " +
		"are " +
		"read by the watch's own distance and speed; a record alone between gaps has no speed",
	Errors:  []string{"a track without times", "a watch's file whose checksum does not fit"},
	Sources: []string{"Vincenty 1975", "Cleveland 1979 (local regression)"},
}

func readTrialDo(c *lang.Call) (starlark.Value, error) {
	s, path, text, err := data.FileOf(c)
	if err != nil {
		return nil, err
	}
	t, notes, err := trial.ReadTrial(path, text)
	if err != nil {
		return nil, spoken(err)
	}
	return data.ReadIn(s, path, path, t, notes)
}

func readTrackDo(c *lang.Call) (starlark.Value, error) {
	s, path, text, err := data.FileOf(c)
	if err != nil {
		return nil, err
	}
	track, err := trial.ReadTrack(path, text)
	if err != nil {
		return nil, spoken(err)
	}
	cautions(c, prefixed(path+": ", track.Cautions))
	return data.ReadIn(s, path, path, track.Table, track.Notes)
}

func prefixed(by string, texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = by + t
	}
	return out
}
