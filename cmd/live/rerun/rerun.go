// Package rerun runs a study for a page that stands in a browser: a request as plain data
// goes in, the page's parts, the results in full precision or what is wrong come out. The
// command uses it for what a live page is sent with, the worker for every change.
package rerun

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"thole/builtins"
	"thole/builtins/lang"
	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/engine/record"
	"thole/engine/report"
	"thole/scripts"
)

// Heap is what a study may hold in a page, in bytes: a phone has no more to give.
const Heap = 200 << 20

// Request is a study to be run, with all that it reads.
type Request struct {
	ID       int               `json:"id"`
	Name     string            `json:"name"` // the study's file
	Text     string            `json:"text"`
	Set      map[string]string `json:"set"`
	Files    map[string][]byte `json:"files"`
	Command  string            `json:"command"`
	Version  string            `json:"version"`
	Run      string            `json:"run"`      // name of the kept run, where this is that one
	Recorded string            `json:"recorded"` // results to compare with, "" for none
}

// Reply is what came of it.
type Reply struct {
	ID      int               `json:"id"`
	Text    string            `json:"text"`
	Set     map[string]string `json:"set"`
	Title   string            `json:"title"`
	Body    string            `json:"body"`
	Data    string            `json:"data"`
	Results string            `json:"results"` // JSON in full precision
	Differs []string          `json:"differs"` // what is not as recorded, in words
	Errors  []Wrong           `json:"errors"`
}

// Wrong is one message with its place in the study's text, 0 where it has none.
type Wrong struct {
	Text string `json:"text"`
	Line int    `json:"line"`
}

// files are what the study was sent with; nothing else can be read.
type files struct {
	held  map[string][]byte
	study string
}

func (f files) ReadFile(name string) ([]byte, error) {
	if data, ok := f.held[name]; ok {
		return data, nil
	}
	return nil, lang.Mistake("a page carries the files that its study read when it was made, and no others",
		"thole run "+f.study+" --live   where the file lies", "there is no file %q in this page", name)
}

// Run runs the study. progress may be nil.
func Run(ctx context.Context, r Request, progress func(what string, s session.Step)) Reply {
	reply := Reply{ID: r.ID, Text: r.Text, Set: r.Set, Differs: []string{}, Errors: []Wrong{}}
	out := builtins.Run(ctx, r.Name, []byte(r.Text), session.Config{Files: files{r.Files, r.Name},
		Boathouse: scripts.Library, Set: r.Set, Jobs: 1, Limits: limits.Limits{Heap: Heap},
		Progress: progress, Version: r.Version, Command: r.Command})
	if len(out.Errors) > 0 {
		reply.Errors = wrongs(out.Errors, r.Name)
		return reply
	}
	out.Document.Run = r.Run
	parts := report.PartsOf(out.Document, Controls(r.Name, []byte(r.Text), out.Params))
	reply.Title, reply.Body, reply.Data = parts.Title, parts.Body, parts.Data
	reply.Results = Results(out)
	if r.Recorded != "" {
		reply.Differs = differs(r.Recorded, reply.Results)
	}
	return reply
}

func wrongs(errs message.Messages, study string) []Wrong {
	var out []Wrong
	for _, m := range errs {
		w := Wrong{Text: m.String()}
		if m.File == study {
			w.Line = m.Line
		}
		out = append(out, w)
	}
	return out
}

// Results gives all that a run told as JSON in full precision.
func Results(out *session.Outcome) string {
	var params record.Ordered[*record.Param]
	for _, p := range out.Params {
		params.Add(p.Name, &record.Param{Value: p.Value, Unit: p.Unit, Set: p.Set})
	}
	var b bytes.Buffer
	if err := record.WriteResults(&b, out.Document, params); err != nil {
		return err.Error() // a number that JSON has no sign for; then nothing is compared
	}
	return b.String()
}

// differs names what is not the same to the last bit.
func differs(recorded, now string) []string {
	if recorded == now {
		return []string{}
	}
	var a, b struct {
		Answer  string
		Results map[string]json.RawMessage
		Tables  []struct {
			Name  string
			Lines json.RawMessage
		}
	}
	if json.Unmarshal([]byte(recorded), &a) != nil || json.Unmarshal([]byte(now), &b) != nil {
		return []string{"the results as a whole"}
	}
	var names []string
	if a.Answer != b.Answer {
		names = append(names, "the answer")
	}
	for _, name := range slices.Sorted(maps.Keys(a.Results)) {
		if string(a.Results[name]) != string(b.Results[name]) {
			names = append(names, name)
		}
	}
	for i, t := range a.Tables {
		if i >= len(b.Tables) || string(t.Lines) != string(b.Tables[i].Lines) {
			names = append(names, "the table "+t.Name)
		}
	}
	if names == nil {
		names = []string{"something beside the results"}
	}
	return names
}

// Controls are the study's parameters as the reader may set them.
func Controls(name string, text []byte, inForce []session.ParamValue) []report.Control {
	decls, errs := session.Params(name, text, session.Config{})
	if len(errs) > 0 {
		return nil
	}
	values := map[string]any{}
	for _, p := range inForce {
		values[p.Name] = p.Value
	}
	var controls []report.Control
	for _, d := range decls {
		value, ok := values[d.Name]
		if !ok {
			value = d.Default
		}
		c := report.Control{Name: d.Name, Unit: d.Unit, Help: d.Help, Value: typed(value)}
		_, c.Number = d.Default.(float64)
		_, c.Flag = d.Default.(bool)
		for _, choice := range d.Choices {
			c.Choices = append(c.Choices, typed(choice))
		}
		if d.HasLow {
			c.Low = typed(d.Low)
		}
		if d.HasHigh {
			c.High = typed(d.High)
		}
		if d.HasLow && d.HasHigh && d.High > d.Low && c.Choices == nil {
			c.Step = typed(step(d.Low, d.High, value))
		}
		controls = append(controls, c)
	}
	return controls
}

// step is the slider's: a power of ten that gives a hundred stops or more, and on which
// low end and value both stand.
func step(low, high float64, value any) float64 {
	s := math.Pow(10, math.Floor(math.Log10((high-low)/100)))
	x, _ := value.(float64)
	for range 6 {
		n := (x - low) / s
		if math.Abs(n-math.Round(n)) < 1e-6 {
			break
		}
		s /= 10
	}
	return s
}

// typed writes a value as it is typed behind --set.
func typed(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case bool:
		if v {
			return "True"
		}
		return "False"
	}
	return fmt.Sprint(v)
}
