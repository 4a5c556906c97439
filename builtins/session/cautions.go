package session

import (
	"fmt"
	"sort"
	"strings"

	"thole/builtins/lang"
	"thole/builtins/session/message"
	"thole/engine/document"
	"thole/engine/rounding"
	"thole/engine/table"
)

// cautionBook gathers cautions in the order they arose and tells those alike
// but for their value in one sentence.
type cautionBook struct {
	order []string
	byKey map[string]*cautionEntry
}

type cautionEntry struct {
	first  lang.Caution
	place  *message.Message
	values map[string]float64
}

func (b *cautionBook) add(c lang.Caution, place *message.Message) {
	key := c.Key
	if key == "" {
		key = "\x00" + c.Text
	}
	if b.byKey == nil {
		b.byKey = map[string]*cautionEntry{}
	}
	e := b.byKey[key]
	if e == nil {
		e = &cautionEntry{first: c, place: place, values: map[string]float64{}}
		b.byKey[key] = e
		b.order = append(b.order, key)
	}
	if c.Value != "" {
		e.values[c.Value] = c.Sort
	}
}

// text writes a caution with all its values.
func (e *cautionEntry) text() string {
	if len(e.values) < 2 || e.first.Many == "" {
		return sentence(e.first.Text)
	}
	values := make([]string, 0, len(e.values))
	for v := range e.values {
		values = append(values, v)
	}
	sort.Slice(values, func(i, j int) bool { return e.values[values[i]] < e.values[values[j]] })
	if n := len(values); n > 4 {
		return sentence(fmt.Sprintf(e.first.Many,
			oneDecimal(e.values[values[0]])+" to "+oneDecimal(e.values[values[n-1]])))
	}
	return sentence(fmt.Sprintf(e.first.Many, strings.Join(values, ", ")))
}

// oneDecimal writes an end of a span of values: one decimal is enough there.
func oneDecimal(x float64) string { return table.FourFigures(rounding.Decimals(x, 1)) }

// sentence sets a capital at the start and a full stop at the end.
func sentence(s string) string {
	if s == "" {
		return s
	}
	if c := s[0]; c >= 'a' && c <= 'z' && !strings.HasPrefix(s, "drive_") {
		s = string(c-'a'+'A') + s[1:]
	}
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") && !strings.HasSuffix(s, ")") {
		s += "."
	}
	if strings.HasSuffix(s, ")") {
		s += "."
	}
	return s
}

// told gives the cautions as the document holds them, and with their places.
func (b *cautionBook) told() (doc []document.Caution, placed message.Messages) {
	for _, key := range b.order {
		e := b.byKey[key]
		text := e.text()
		doc = append(doc, document.Caution{Text: text})
		m := *e.place
		if len(e.values) > 1 {
			m.What = text
		}
		placed = append(placed, &m)
	}
	return doc, placed
}
