package record

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Ordered is a JSON object that keeps the order of its names: results and
// parameters stand in a record as the study wrote them.
type Ordered[T any] struct {
	names  []string
	values map[string]T
}

// Add sets a name; a name given again keeps its place.
func (o *Ordered[T]) Add(name string, value T) {
	if o.values == nil {
		o.values = map[string]T{}
	}
	if _, there := o.values[name]; !there {
		o.names = append(o.names, name)
	}
	o.values[name] = value
}

// Get gives the value of a name, and whether there is one.
func (o *Ordered[T]) Get(name string) (T, bool) {
	v, ok := o.values[name]
	return v, ok
}

// Names gives the names in order.
func (o *Ordered[T]) Names() []string { return o.names }

// Len gives the number of names.
func (o *Ordered[T]) Len() int { return len(o.names) }

// MarshalJSON writes the object in order.
func (o Ordered[T]) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, name := range o.names {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := encodeInto(&b, name); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := encodeInto(&b, o.values[name]); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// UnmarshalJSON reads the object, keeping its order.
func (o *Ordered[T]) UnmarshalJSON(data []byte) error {
	*o = Ordered[T]{}
	d := json.NewDecoder(bytes.NewReader(data))
	open, err := d.Token()
	if err != nil {
		return err
	}
	if open == nil {
		return nil
	}
	if open != json.Delim('{') {
		return fmt.Errorf("an object of names is expected, not %v", open)
	}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return err
		}
		var value T
		if err := d.Decode(&value); err != nil {
			return err
		}
		o.Add(name.(string), value)
	}
	return nil
}

// encodeInto writes v without escaping < > &, which are common in plain text;
// pages escape what they show by themselves.
func encodeInto(b *bytes.Buffer, v any) error {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the encoder's newline
	return nil
}
