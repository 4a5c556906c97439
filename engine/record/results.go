package record

import (
	"encoding/json"
	"io"

	"thole/engine/document"
	"thole/engine/table"
)

// results is what a run told, for other programs: in full precision, and
// without what a record keeps to run it again.
type results struct {
	Study    string         `json:"study"`
	Params   Ordered[value] `json:"params"`
	Answer   string         `json:"answer"`
	Results  Ordered[value] `json:"results"`
	Tables   []shownTable   `json:"tables"`
	Cautions []string       `json:"cautions"`
}

// value is a number, text or truth with its unit, and the 95 % interval of an
// estimate.
type value struct {
	Value any      `json:"value"`
	Unit  string   `json:"unit"`
	Low   *float64 `json:"low,omitempty"`
	High  *float64 `json:"high,omitempty"`
}

type shownTable struct {
	Name    string        `json:"name"`
	Columns []shownColumn `json:"columns"`
	Lines   [][]any       `json:"lines"`
}

type shownColumn struct {
	Name string `json:"name"`
	Unit string `json:"unit"`
}

// WriteResults writes what a run told as JSON: parameters, answer, results,
// tables on view and cautions. A blank is null.
func WriteResults(to io.Writer, doc *document.Document, params Ordered[*Param]) error {
	out := results{Study: doc.Study, Answer: doc.Answer, Tables: []shownTable{}, Cautions: []string{}}
	for _, name := range params.Names() {
		p, _ := params.Get(name)
		out.Params.Add(name, value{Value: plainCell(p.Value), Unit: p.Unit})
	}
	for i := range doc.Results {
		r := resultOf(&doc.Results[i])
		out.Results.Add(doc.Results[i].Name, value{Value: r.Value, Unit: r.Unit, Low: r.Low, High: r.High})
	}
	for _, b := range doc.Blocks {
		if s, ok := b.(*document.Shown); ok && s.Table != nil {
			name, t := tableOf(s)
			out.Tables = append(out.Tables, shown(name, t))
		}
	}
	out.Cautions = append(out.Cautions, doc.Load...)
	for _, c := range doc.Cautions {
		out.Cautions = append(out.Cautions, c.Text)
	}
	e := json.NewEncoder(to)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(out)
}

func shown(name string, t *table.Table) shownTable {
	out := shownTable{Name: name, Columns: []shownColumn{}, Lines: [][]any{}}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, shownColumn{c.Name, c.Unit})
	}
	for i := range t.Len() {
		line := make([]any, len(t.Columns))
		for j, c := range t.Columns {
			line[j] = plainCell(c.At(i))
		}
		out.Lines = append(out.Lines, line)
	}
	return out
}

// plainCell makes a cell fit for JSON.
func plainCell(cell any) any {
	switch cell := cell.(type) {
	case float64:
		return number(cell)
	case *table.Estimate:
		return value{Value: number(cell.Value), Unit: cell.Unit, Low: finite(cell.Low),
			High: finite(cell.High)}
	}
	return cell
}
