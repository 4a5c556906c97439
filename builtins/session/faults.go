package session

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/engine/table"
)

// Who keeps registers mends them all in one go. So a file at fault does not end a
// study: what is wrong is noted, the reading goes on, and the study stops with
// all that was found before anything is rowed or told.

// mostFaults is how many faults are told in full.
const mostFaults = 10

// errReadEnough ends a study whose data are at fault, or that was only to be read.
var errReadEnough = errors.New("all data are read")

// Fault notes what is wrong with data that a call read.
func (s *Study) Fault(thread *starlark.Thread, err error) {
	var faults table.Faults
	var one *table.Error
	var found message.Messages
	switch e := lang.AsError(err); {
	case errors.As(err, &faults):
		for _, f := range faults {
			found = append(found, inFile(f))
		}
	case e != nil:
		m := &message.Message{What: e.What, Why: e.Why, Type: e.Type}
		s.scope.Locate(m, thread.CallStack(), e)
		found = append(found, m)
	case errors.As(err, &one):
		found = append(found, inFile(one))
	default:
		found = append(found, &message.Message{What: "the file cannot be read", Why: err.Error()})
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults = append(s.faults, found...)
}

// inFile is a message about a place in a file of data.
func inFile(e *table.Error) *message.Message {
	return &message.Message{What: e.What, Why: e.Why, Type: e.Type, File: e.File, Line: e.Line, Col: e.Col,
		Source: e.Source, Caret: max(0, e.Col-1), CaretLen: e.CaretLength}
}

// onward says whether a study goes on to a call: one that rows, asks or tells
// waits until the data are sound.
func (s *Study) onward(r *lang.Record) error {
	if len(s.faults) == 0 && !s.cfg.ReadOnly {
		return nil
	}
	stands := r.Reads || r.Sets || r.Name == "title" || !r.Tells && (r.Topic == "data" || r.Of != "")
	if stands {
		return nil
	}
	return errReadEnough
}

// dataFaults are the faults that are told: the first few, and how many more there
// are. A line that failed over a cell at fault is not told beside it.
func (s *Study) dataFaults(err error) message.Messages {
	if m := s.stopped(err, stackOf(err)); m != nil && err != nil {
		return message.Messages{m}
	}
	n := len(s.faults)
	if n <= mostFaults {
		return s.faults
	}
	counted := map[string]int{}
	var files []string
	for _, m := range s.faults[mostFaults:] {
		file, _, _ := strings.Cut(m.File, ", cell ")
		if counted[file]++; counted[file] == 1 {
			files = append(files, file)
		}
	}
	for i, file := range files {
		files[i] = fmt.Sprintf("%d in %s", counted[file], file)
	}
	last := &message.Message{What: fmt.Sprintf("and %d more: %s", n-mostFaults, strings.Join(files, "; ")),
		Why: "the first ten are told in full", Type: "these mended, then the same command again"}
	return append(append(message.Messages{}, s.faults[:mostFaults]...), last)
}

// readingTime is how long a check may spend on the data.
const readingTime = 20 * time.Second

// CheckData reads the data a study asks for, rows nothing and tells nothing. It
// gives the files that were read, and what is wrong with them.
func CheckData(ctx context.Context, name string, text []byte, cfg Config) (files []string,
	errs message.Messages) {
	ctx, cancel := context.WithTimeout(ctx, readingTime)
	defer cancel()
	cfg.ReadOnly, cfg.Print, cfg.Progress = true, nil, nil
	cfg.Limits.Seconds = readingTime.Seconds()
	out := Run(ctx, name, text, cfg)
	for _, f := range out.Files {
		if f.Role == "input" {
			files = append(files, f.Name)
		}
	}
	return files, out.Errors
}
