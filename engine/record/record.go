// Package record holds what a run leaves behind, as plain data, and tells two
// runs apart: the cause first, then the effect. It opens no files; the command
// does. Start with Of (a record of what a study told), Encode and Decode (its
// bytes), and Compare.
//
// A record has no clock, no machine and no folder in it, and its numbers stand
// in full precision: the same study, inputs and version give the same bytes.
package record

import (
	"crypto/sha256"
	"encoding/hex"
	"unicode/utf8"

	"thole/engine"
	"thole/engine/document"
	"thole/engine/table"
)

// Format is the layout of record.json that this version writes. A record of a
// later format is refused, never guessed at.
const Format = 1

// FileName is the record's name in a run's folder.
const FileName = "record.json"

// Run is one run: all that is needed to run it again and to tell what
// changed since.
type Run struct {
	Format  int    `json:"format"`
	Version string `json:"version"` // of the tool
	Engine  string `json:"engine"`  // mark of its equations
	Told
	Seeds   []int64  `json:"seeds,omitempty"` // of every drawing call, in order
	Outputs []string `json:"outputs"`         // files of the run's folder beside the record, sorted
	// the study first, then what it loaded, then its inputs, each as first read
	Files []File `json:"files"`
}

// Told is what a run told, in numbers: what a later study or a comparison asks
// of it.
type Told struct {
	Study    string           `json:"study"`
	Title    string           `json:"title,omitempty"`
	Params   Ordered[*Param]  `json:"params"`
	Answer   string           `json:"answer"`
	Results  Ordered[*Result] `json:"results"`
	Tables   []*Table         `json:"tables"`
	Cautions []string         `json:"cautions"`
}

// Param is a parameter as it was in force. Value is a float64, string or bool.
type Param struct {
	Value any    `json:"value"`
	Unit  string `json:"unit"`
	Set   bool   `json:"set,omitempty"` // by --set
}

// Result is a named result. Value is a float64, a string, or nil where there
// is no number; Low and High are its 95 % interval, if it was drawn.
type Result struct {
	Value   any      `json:"value"`
	Unit    string   `json:"unit"`
	Low     *float64 `json:"low,omitempty"`
	High    *float64 `json:"high,omitempty"`
	Verdict string   `json:"verdict,omitempty"`
	Digits  int      `json:"digits"`
}

// Role says what a file was to the run.
type Role string

const (
	Study  Role = "study"
	Loaded Role = "loaded" // by load(), out of the study's folder
	Input  Role = "input"  // read by read_csv, read_track, read_run ...
)

// File is a file as the run read it. Its text stands in the record, so that
// old inputs can be run again; Tables are what the study made of it.
type File struct {
	Path   string     `json:"path"` // relative to the study's folder, with /
	Role   Role       `json:"role"`
	SHA256 string     `json:"sha256"`
	Text   string     `json:"text,omitempty"`
	Bytes  []byte     `json:"base64,omitempty"` // where it is no UTF-8
	Tables []*TableIn `json:"tables,omitempty"`
}

// TableIn is a table as it was read, with the line of the file at which each
// of its lines begins (nil: the head is line 1, no blank lines).
type TableIn struct {
	*Table
	At []int `json:"at,omitempty"`
}

// AsRead keeps a table as it was read out of a file.
func AsRead(t *table.Table) *TableIn {
	return &TableIn{Table: FromTable(t.Name, t), At: t.FileLines}
}

// NewFile keeps a file's bytes with their hash.
func NewFile(path string, role Role, content []byte) File {
	sum := sha256.Sum256(content)
	f := File{Path: path, Role: role, SHA256: hex.EncodeToString(sum[:])}
	if utf8.Valid(content) {
		f.Text = string(content)
	} else {
		f.Bytes = content
	}
	return f
}

// Slimmed gives the record of an earlier run, read as an input, without that
// run's own files; the hash stays that of the file as read. Any other file, and
// a record that cannot be read, stays as it is.
func (f File) Slimmed() File {
	r, err := Decode(f.Content())
	if err != nil {
		return f
	}
	data, err := r.Slim().Encode()
	if err != nil {
		return f
	}
	f.Text, f.Bytes = string(data), nil
	return f
}

// Content gives back the file's bytes.
func (f *File) Content() []byte {
	if f.Bytes != nil {
		return f.Bytes
	}
	return []byte(f.Text)
}

// Of makes the record of a run out of what it told. Values of params are given
// by the caller in full precision (doc holds them as shown); files in the order
// read, the study first.
func Of(doc *document.Document, params Ordered[*Param], files []File) *Run {
	return &Run{Format: Format, Version: doc.Version, Engine: engine.Fingerprint(), Told: *Tell(doc, params),
		Outputs: []string{}, Files: files}
}

// Tell gathers the numbers a study told: results, tables (shown ones and those
// behind figures, each name once, in the order told) and cautions.
func Tell(doc *document.Document, params Ordered[*Param]) *Told {
	t := &Told{Study: doc.Study, Title: doc.Title, Params: params, Answer: doc.Answer,
		Tables: []*Table{}, Cautions: []string{}}
	for i := range doc.Results {
		t.Results.Add(doc.Results[i].Name, resultOf(&doc.Results[i]))
	}
	t.Cautions = append(t.Cautions, doc.Load...)
	for _, c := range doc.Cautions {
		t.Cautions = append(t.Cautions, c.Text)
	}
	seen := map[string]bool{}
	for _, block := range doc.Blocks {
		name, tab := tableOf(block)
		if tab == nil || name == "" || seen[name] {
			continue
		}
		seen[name] = true
		t.Tables = append(t.Tables, FromTable(name, tab))
	}
	return t
}

// LiesIn notes the CSV file of a block's table, where the record refers to it.
func (t *Told) LiesIn(block document.Block, file string) {
	name, _ := tableOf(block)
	for _, have := range t.Tables {
		if have.Name == name && have.Tall != nil && have.Tall.File == "" {
			have.Tall.File = file
		}
	}
}

func tableOf(block document.Block) (string, *table.Table) {
	switch b := block.(type) {
	case *document.Shown:
		if b.Table != nil && b.Name == "" {
			return b.Table.Name, b.Table
		}
		return b.Name, b.Table
	case *document.Figure:
		return b.Name, b.Table
	}
	return "", nil
}

func resultOf(r *document.Result) *Result {
	out := &Result{Unit: r.Unit, Digits: r.Digits}
	switch {
	case r.IsText:
		out.Value = r.Text
	case r.Estimate != nil:
		e := r.Estimate
		out.Value, out.Verdict = number(e.Value), e.Verdict
		out.Low, out.High = finite(e.Low), finite(e.High)
	default:
		out.Value = number(r.Value)
	}
	return out
}
