package main

import (
	"context"
	"errors"
	"fmt"

	"thole/builtins/session"
	"thole/engine/document"
	"thole/engine/record"
	"thole/engine/table"
)

// rerunRecord runs a recorded study again under this version, on the inputs as they
// were recorded: no folder is read.
func rerunRecord(ctx context.Context, old *record.Run, remember session.Remember, progress func(string, session.Step)) (*session.Outcome, error) {
	var study *record.File
	for i := range old.Files {
		if old.Files[i].Role == record.Study {
			study = &old.Files[i]
		}
	}
	if study == nil {
		return nil, errors.New("its record holds no study")
	}
	out, _, _ := job{Study: study.Path, Name: study.Path, Text: study.Content(), Files: keepFiles(old), Set: recordedSettings(old),
		Store: remember, Progress: progress}.run(ctx)
	if len(out.Errors) > 0 {
		return out, fmt.Errorf("%s", out.Errors[0].Head())
	}
	return out, nil
}

// recordedSettings gives a record's parameters as --set would.
func recordedSettings(r *record.Run) map[string]string {
	set := map[string]string{}
	for _, name := range r.Params.Names() {
		p, _ := r.Params.Get(name)
		if !p.Set {
			continue
		}
		switch v := p.Value.(type) {
		case float64:
			set[name] = table.WithUnit(exactly(v), p.Unit)
		case string:
			set[name] = v
		case bool:
			set[name] = map[bool]string{true: "True", false: "False"}[v]
		}
	}
	return set
}

// recordOf makes the record of what a session gave.
func recordOf(out *session.Outcome, doc *document.Document) *record.Run {
	r := record.Of(doc, recordParams(out.Params), recordFiles(out.Files))
	r.Seeds = out.Seeds
	return r
}

// givesRecorded says whether a run again gave what the record holds: results,
// tables, answer, cautions.
func givesRecorded(old, again *record.Run) (same bool, c *record.Comparison) {
	c = record.Compare(record.Named{Name: "recorded", Run: old}, record.Named{Name: "now", Run: again}, record.Options{WhyNot: "this is that version"})
	return !c.Differ && len(c.Tables) == 0 && c.Answers == nil, c
}
