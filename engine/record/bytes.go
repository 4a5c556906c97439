package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// Encode gives the bytes of record.json: indented by one blank a level so that
// a text comparison of two records reads well, with a newline at the end.
func (r *Run) Encode() ([]byte, error) { return encode(r) }

func encode(v any) ([]byte, error) {
	var compact, out bytes.Buffer
	if err := encodeInto(&compact, v); err != nil {
		return nil, fmt.Errorf("record: %w", err)
	}
	if err := json.Indent(&out, compact.Bytes(), "", " "); err != nil {
		return nil, fmt.Errorf("record: %w", err)
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// Relisted gives a record, as Encode wrote it, with other files of the run's folder.
func Relisted(data []byte, before, after []string) ([]byte, error) {
	line := func(outputs []string) ([]byte, error) {
		one, err := encode(struct {
			Outputs []string `json:"outputs"`
		}{outputs})
		return bytes.Trim(one, "{}\n"), err
	}
	old, err := line(before)
	if err != nil {
		return nil, err
	}
	now, err := line(after)
	return bytes.Replace(data, old, now, 1), err
}

// ErrLater is a record that a later version of the tool wrote.
var ErrLater = errors.New("written by a later thole, whose records this one cannot read")

// Decode reads a record. Its errors say in a coach's words what is wrong with
// the file; they come without its name.
func Decode(data []byte) (*Run, error) {
	var head struct {
		Format *int `json:"format"`
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, errors.New("is empty: the run never got as far as its record")
	}
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(&head); err != nil {
		return nil, badJSON(err)
	}
	switch {
	case head.Format == nil:
		return nil, errors.New("is no record of a run")
	case *head.Format > Format:
		return nil, ErrLater
	case *head.Format < 1:
		return nil, errors.New("is no record of a run")
	}
	r := &Run{}
	if err := json.Unmarshal(data, r); err != nil {
		return nil, badJSON(err)
	}
	for _, t := range r.Tables {
		if err := t.settle(); err != nil {
			return nil, err
		}
	}
	for _, f := range r.Files {
		for _, t := range f.Tables {
			if t == nil {
				return nil, errors.New("is damaged: one of its tables is missing")
			}
			if err := t.Table.settle(); err != nil {
				return nil, err
			}
		}
	}
	for _, name := range r.Results.Names() {
		if v, _ := r.Results.Get(name); v == nil {
			return nil, fmt.Errorf("is damaged: result %q is missing", name)
		}
	}
	for _, name := range r.Params.Names() {
		if v, _ := r.Params.Get(name); v == nil {
			return nil, fmt.Errorf("is damaged: parameter %q is missing", name)
		}
	}
	return r, nil
}

// settle proves a table that was read and brings its cells into the form they
// are written from, so that a record read and written again keeps its bytes.
func (t *Table) settle() error {
	if t == nil {
		return errors.New("is damaged: one of its tables is missing")
	}
	if t.Tall != nil {
		return nil
	}
	read, err := t.ToTable()
	if err != nil {
		return fmt.Errorf("is damaged: %w", err)
	}
	*t = *FromTable(t.Name, read)
	return nil
}

func badJSON(err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return errors.New("is cut short")
	}
	return fmt.Errorf("is damaged: %w", err)
}

// Slim gives what a later study can ask of this run (read_run): parameters,
// results, tables. A record that was itself an input is kept so, or each year's
// record would hold all the years before it.
func (r *Run) Slim() *Run {
	return &Run{Format: r.Format, Version: r.Version, Engine: r.Engine, Told: r.Told, Outputs: []string{},
		Files: []File{}}
}
