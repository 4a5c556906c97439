package lang

import (
	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/engine/table"
)

// Estimate is a value with its 95 % interval, as a script value.
type Estimate struct{ E *table.Estimate }

// NewEstimate makes the script value of an estimate, which must not change any more.
func NewEstimate(e *table.Estimate) *Estimate { return &Estimate{E: e} }

func (e *Estimate) String() string        { return e.E.String() }
func (e *Estimate) Type() string          { return "estimate" }
func (e *Estimate) Freeze()               {}
func (e *Estimate) Truth() starlark.Bool  { return true }
func (e *Estimate) Hash() (uint32, error) { return starlark.Float(e.E.Value).Hash() }

var estimateFields = []string{"value", "low", "high", "as_set", "unit", "verdict"}

// AttrNames lists the fields.
func (e *Estimate) AttrNames() []string { return estimateFields }

// FieldNames lists the fields.
func (e *Estimate) FieldNames() []string { return estimateFields }

// Label is "": an estimate has no name of its own.
func (e *Estimate) Label() string { return "" }

// Attr gives a field.
func (e *Estimate) Attr(name string) (starlark.Value, error) {
	if v, _, ok := e.Field(name); ok {
		return v, nil
	}
	return nil, NoField("estimate", name, estimateFields)
}

// Field gives a field with its unit and digits.
func (e *Estimate) Field(name string) (starlark.Value, Field, bool) {
	f := Field{Name: name, Unit: e.E.Unit, Digits: e.E.Digits, Change: e.E.Digits, Signed: e.E.Signed}
	switch name {
	case "value":
		return Num(e.E.Value), f, true
	case "low":
		return Num(e.E.Low), f, true
	case "high":
		return Num(e.E.High), f, true
	case "as_set":
		return Num(e.E.AsSet), f, true
	case "unit":
		return starlark.String(e.E.Unit), Field{Name: name}, true
	case "verdict":
		return starlark.String(e.E.Verdict), Field{Name: name}, true
	}
	return nil, Field{}, false
}

// Binary refuses sums with estimates and says what to take instead: the parts
// of two estimates do not add up without the draws they came from.
func (e *Estimate) Binary(op syntax.Token, y starlark.Value, side starlark.Side) (starlark.Value, error) {
	return nil, Mistake("two estimates do not add up without their draws: make the sum inside the "+
		"function, so that each draw has it", "x.value for the middle of the draws",
		"an estimate takes no part in sums")
}

// CompareSameType knows equal and not equal.
func (e *Estimate) CompareSameType(op syntax.Token, y starlark.Value, _ int) (bool, error) {
	same := *e.E == *y.(*Estimate).E
	switch op {
	case syntax.EQL:
		return same, nil
	case syntax.NEQ:
		return !same, nil
	}
	return false, Mistake("their verdict on the difference rests on the draws", "x.value "+op.String()+
		" y.value, or the verdict of compare",
		"two estimates cannot be compared with %s", op)
}

var _ AnyThing = (*Estimate)(nil)
