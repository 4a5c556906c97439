package record

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"strings"

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
	Tables   []struct{}     `json:"tables"` // empty: they are written behind, line by line
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

type shownColumn struct {
	Name string `json:"name"`
	Unit string `json:"unit"`
}

// WriteResults writes what a run told as JSON: parameters, answer, results,
// tables on view and cautions. A blank is null.
func WriteResults(to io.Writer, doc *document.Document, params Ordered[*Param]) error {
	out := results{Study: doc.Study, Answer: doc.Answer, Tables: []struct{}{}, Cautions: []string{}}
	for _, name := range params.Names() {
		p, _ := params.Get(name)
		out.Params.Add(name, value{Value: plainCell(p.Value), Unit: p.Unit})
	}
	for i := range doc.Results {
		r := resultOf(&doc.Results[i])
		out.Results.Add(doc.Results[i].Name, value{Value: r.Value, Unit: r.Unit, Low: r.Low, High: r.High})
	}
	out.Cautions = append(out.Cautions, doc.Load...)
	for _, c := range doc.Cautions {
		out.Cautions = append(out.Cautions, c.Text)
	}
	text := &strings.Builder{}
	if err := encoder(text, "").Encode(out); err != nil {
		return err
	}
	before, after, _ := strings.Cut(text.String(), noTables)
	w := bufio.NewWriter(to)
	w.WriteString(before)
	if err := writeTables(w, doc); err != nil {
		return err
	}
	w.WriteString(after)
	return w.Flush()
}

// noTables is how no table is written.
const noTables = "\"tables\": []"

func encoder(to io.Writer, prefix string) *json.Encoder {
	e := json.NewEncoder(to)
	e.SetEscapeHTML(false)
	e.SetIndent(prefix, " ")
	return e
}

// writeTables writes the tables on view as the encoder would, but line by line: the text of a
// million lines is never held.
func writeTables(w *bufio.Writer, doc *document.Document) error {
	between := "\"tables\": [\n  "
	for _, b := range doc.Blocks {
		s, ok := b.(*document.Shown)
		if !ok || s.Table == nil {
			continue
		}
		w.WriteString(between)
		between = ",\n  "
		if err := writeTable(w, s); err != nil {
			return err
		}
	}
	if between == ",\n  " {
		w.WriteString("\n ]")
	} else {
		w.WriteString(noTables)
	}
	return nil
}

func writeTable(w *bufio.Writer, s *document.Shown) error {
	name, t := tableOf(s)
	head := struct {
		Name    string        `json:"name"`
		Columns []shownColumn `json:"columns"`
		Lines   []struct{}    `json:"lines"`
	}{name, []shownColumn{}, []struct{}{}}
	for _, c := range t.Columns {
		head.Columns = append(head.Columns, shownColumn{c.Name, c.Unit})
	}
	text := &bytes.Buffer{}
	if err := encoder(text, "  ").Encode(head); err != nil {
		return err
	}
	const end = "]\n  }\n" // of no lines
	if t.Len() == 0 {
		w.WriteString(strings.TrimSuffix(text.String(), "\n"))
		return nil
	}
	w.WriteString(strings.TrimSuffix(text.String(), end))
	cells := encoder(text, "     ")
	between := "\n    ["
	for i := range t.Len() {
		text.Reset()
		for j, c := range t.Columns {
			if j > 0 {
				text.WriteByte(',')
			}
			text.WriteString("\n     ")
			if err := cells.Encode(plainCell(c.At(i))); err != nil {
				return err
			}
			text.Truncate(text.Len() - 1) // the encoder's newline
		}
		w.WriteString(between)
		w.Write(text.Bytes())
		if _, err := w.WriteString("\n    ]"); err != nil {
			return err
		}
		between = ",\n    ["
	}
	w.WriteString("\n   ]\n  }")
	return nil
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
