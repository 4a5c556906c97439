package rerun

import (
	"bytes"
	"strings"

	"thole/builtins/session"
	"thole/engine/report"
)

// state is what a live page's scripts know of its study.
type state struct {
	Name    string            `json:"name"`
	Text    string            `json:"text"`
	Set     map[string]string `json:"set"`
	Values  map[string]string `json:"values"` // of the parameters, as the controls show them
	Files   map[string][]byte `json:"files"`
	Command string            `json:"command"`
	Version string            `json:"version"`
	Run     string            `json:"run"`
	Results string            `json:"results"`
}

// Page makes the live page of a study that was run with set: the page, the engine, the
// study and every file it read.
func Page(out *session.Outcome, set map[string]string, loader, engine string) ([]byte, error) {
	doc := out.Document
	s := state{Name: doc.Study, Text: doc.Source, Set: set, Values: map[string]string{},
		Files:   map[string][]byte{},
		Command: doc.Command, Version: doc.Version, Run: doc.Run, Results: Results(out)}
	if set == nil {
		s.Set = map[string]string{}
	}
	for _, f := range out.Files {
		if f.Role != "study" && !strings.HasPrefix(f.Name, "@") {
			s.Files[f.Name] = f.Data
		}
	}
	controls := Controls(doc.Study, []byte(doc.Source), out.Params)
	for _, c := range controls {
		s.Values[c.Name] = c.Value
	}
	var page bytes.Buffer
	err := report.WriteLive(&page, doc, report.Live{Controls: controls, State: s, Loader: loader,
		Engine: engine})
	return page.Bytes(), err
}
