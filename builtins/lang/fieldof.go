package lang

import (
	"go.starlark.net/starlark"

	"thole/builtins/units"
	"thole/engine/table"
)

// NumberField is a field of a thing that is a number shown in a unit of the trade;
// get gives it in SI. NaN is None.
func NumberField[T any](name, unit string, digits int, help string, get func(T) float64) FieldOf[T] {
	return FieldOf[T]{
		Field: Field{Name: name, Unit: unit, Digits: digits, Change: digits, Help: help},
		Get:   func(t T) starlark.Value { return Num(units.Trade(get(t), unit)) },
	}
}

// ValueField is a field of a thing that is no number.
func ValueField[T any](name, help string, get func(T) starlark.Value) FieldOf[T] {
	return FieldOf[T]{Field: Field{Name: name, Digits: table.AutoDigits, Change: table.AutoDigits,
		Help: help}, Get: get}
}

// TextField is a field of a thing that is a text, None for "".
func TextField[T any](name, help string, get func(T) string) FieldOf[T] {
	return ValueField(name, help, func(t T) starlark.Value {
		if s := get(t); s != "" {
			return starlark.String(s)
		}
		return starlark.None
	})
}
