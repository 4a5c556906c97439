package main

import (
	"bytes"
	"encoding/json"
	"math"

	"thole/builtins/session"
	"thole/engine/document"
	"thole/engine/record"
	"thole/engine/table"
)

// What --json writes: the results of a run in full precision, and nothing else.
type resultsJSON struct {
	Study    string                    `json:"study"`
	Params   record.Ordered[valueJSON] `json:"params"`
	Answer   string                    `json:"answer"`
	Results  record.Ordered[valueJSON] `json:"results"`
	Tables   []tableJSON               `json:"tables"`
	Cautions []string                  `json:"cautions"`
}

// valueJSON is a number, text or truth with its unit, and the 95 % interval of
// an estimate.
type valueJSON struct {
	Value any    `json:"value"`
	Unit  string `json:"unit"`
	Low   any    `json:"low,omitempty"`
	High  any    `json:"high,omitempty"`
}

type tableJSON struct {
	Name    string       `json:"name"`
	Columns []columnJSON `json:"columns"`
	Lines   [][]any      `json:"lines"`
}

type columnJSON struct {
	Name string `json:"name"`
	Unit string `json:"unit"`
}

// asJSON writes a document and the parameters it was made with.
func asJSON(doc *document.Document, params []session.ParamValue) ([]byte, error) {
	out := resultsJSON{Study: doc.Study, Answer: doc.Answer, Tables: []tableJSON{}, Cautions: []string{}}
	for _, p := range params {
		out.Params.Add(p.Name, valueJSON{Value: cellJSON(p.Value), Unit: p.Unit})
	}
	for _, r := range doc.Results {
		out.Results.Add(r.Name, resultJSON(r))
	}
	for _, b := range doc.Blocks {
		if s, ok := b.(*document.Shown); ok && s.Table != nil {
			out.Tables = append(out.Tables, tableAsJSON(s))
		}
	}
	for _, c := range doc.Cautions {
		out.Cautions = append(out.Cautions, c.Text)
	}
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", " ")
	err := encoder.Encode(out)
	return b.Bytes(), err
}

func resultJSON(r document.Result) valueJSON {
	switch {
	case r.IsText:
		return valueJSON{Value: r.Text, Unit: r.Unit}
	case r.Estimate != nil:
		return valueJSON{Value: cellJSON(r.Estimate.Value), Unit: r.Unit, Low: cellJSON(r.Estimate.Low), High: cellJSON(r.Estimate.High)}
	}
	return valueJSON{Value: cellJSON(r.Value), Unit: r.Unit}
}

func tableAsJSON(s *document.Shown) tableJSON {
	name := s.Name
	if name == "" {
		name = s.Table.Name
	}
	t := tableJSON{Name: name, Columns: []columnJSON{}, Lines: [][]any{}}
	for _, c := range s.Table.Columns {
		t.Columns = append(t.Columns, columnJSON{c.Name, c.Unit})
	}
	for i := range s.Table.Len() {
		line := make([]any, len(s.Table.Columns))
		for j, c := range s.Table.Columns {
			line[j] = cellJSON(c.At(i))
		}
		t.Lines = append(t.Lines, line)
	}
	return t
}

// cellJSON makes a cell fit for JSON: a blank is null, an estimate an object.
func cellJSON(cell any) any {
	switch cell := cell.(type) {
	case float64:
		if math.IsNaN(cell) || math.IsInf(cell, 0) {
			return nil
		}
	case *table.Estimate:
		return valueJSON{Value: cellJSON(cell.Value), Unit: cell.Unit, Low: cellJSON(cell.Low), High: cellJSON(cell.High)}
	}
	return cell
}
