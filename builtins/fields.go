package builtins

import (
	"go.starlark.net/starlark"

	"thole/builtins/lang"
	"thole/engine/table"
)

// number is a field of a thing that is a number in a unit.
func number[T any](name, unit string, digits int, help string, get func(T) float64) lang.FieldOf[T] {
	return lang.FieldOf[T]{
		Field: lang.Field{Name: name, Unit: unit, Digits: digits, Change: digits, Help: help},
		Get:   func(t T) starlark.Value { return lang.Num(tidy(get(t))) },
	}
}

// value is a field of a thing that is no number.
func value[T any](name, help string, get func(T) starlark.Value) lang.FieldOf[T] {
	return lang.FieldOf[T]{Field: lang.Field{Name: name, Digits: table.AutoDigits, Change: table.AutoDigits, Help: help}, Get: get}
}

// word is a field of a thing that is a text.
func word[T any](name, help string, get func(T) string) lang.FieldOf[T] {
	return value(name, help, func(t T) starlark.Value { return textOrNone(get(t)) })
}
