// Package canonical turns plain data into bytes and back: structs, slices, arrays
// and pointers of numbers, texts and truths, with all their fields, exported or
// not. The same values give the same bytes and other values give other bytes,
// so that they serve as the key of a point (Bytes), and a float64 comes back to
// its last bit (Read).
//
// It walks types by reflection rather than by a list of fields: a field that
// somebody adds to a problem next year is then part of its key without anybody
// having to remember it.
package canonical

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"reflect"
)

// Bytes gives the bytes of a value, appended to buf. It panics on what is not
// plain (a function, a channel, a map, an interface): a programmer's mistake.
func Bytes(buf []byte, value any) []byte {
	return appendValue(buf, reflect.ValueOf(value))
}

func appendValue(b []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		return binary.LittleEndian.AppendUint64(b, bits(v.Float()))
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return binary.LittleEndian.AppendUint64(b, uint64(v.Int()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return binary.LittleEndian.AppendUint64(b, v.Uint())
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1)
		}
		return append(b, 0)
	case reflect.String:
		b = binary.LittleEndian.AppendUint64(b, uint64(v.Len()))
		return append(b, v.String()...)
	case reflect.Struct:
		for i := range v.NumField() {
			b = appendValue(b, v.Field(i))
		}
		return b
	case reflect.Slice:
		b = binary.LittleEndian.AppendUint64(b, uint64(v.Len()))
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			b = appendValue(b, v.Index(i))
		}
		return b
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, 0)
		}
		return appendValue(append(b, 1), v.Elem())
	}
	panic(fmt.Sprintf("plain: a %s is not plain data", v.Type()))
}

// bits gives a number's bits, one for all the ways to write "no number".
func bits(x float64) uint64 {
	if math.IsNaN(x) {
		return 0x7ff8000000000001
	}
	return math.Float64bits(x)
}

var errShort = errors.New("plain: the bytes do not fit the value")

// Read fills a value, given by its address, from bytes that Bytes made of one
// of the same type. All fields must be exported, or it panics. Bytes of another
// shape give an error, never more memory than they are long.
func Read(data []byte, value any) error {
	rest, err := read(data, reflect.ValueOf(value).Elem())
	if err == nil && len(rest) > 0 {
		err = errShort
	}
	return err
}

func read(b []byte, v reflect.Value) ([]byte, error) {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		n, b, err := number(b)
		v.SetFloat(math.Float64frombits(n))
		return b, err
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		n, b, err := number(b)
		v.SetInt(int64(n))
		return b, err
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		n, b, err := number(b)
		v.SetUint(n)
		return b, err
	case reflect.Bool:
		if len(b) == 0 || b[0] > 1 {
			return b, errShort
		}
		v.SetBool(b[0] == 1)
		return b[1:], nil
	case reflect.String:
		n, b, err := number(b)
		if err != nil || n > uint64(len(b)) {
			return b, errShort
		}
		v.SetString(string(b[:n]))
		return b[n:], nil
	case reflect.Struct:
		for i := range v.NumField() {
			var err error
			if b, err = read(b, v.Field(i)); err != nil {
				return b, err
			}
		}
		return b, nil
	case reflect.Slice:
		n, b, err := number(b)
		if err != nil || n > uint64(len(b)) { // each element takes a byte at least
			return b, errShort
		}
		if n == 0 {
			return b, nil
		}
		v.Set(reflect.MakeSlice(v.Type(), int(n), int(n)))
		return readElements(b, v)
	case reflect.Array:
		return readElements(b, v)
	case reflect.Pointer:
		if len(b) == 0 || b[0] > 1 {
			return b, errShort
		}
		if b[0] == 0 {
			return b[1:], nil
		}
		v.Set(reflect.New(v.Type().Elem()))
		return read(b[1:], v.Elem())
	}
	panic(fmt.Sprintf("plain: a %s is not plain data", v.Type()))
}

func readElements(b []byte, v reflect.Value) ([]byte, error) {
	for i := range v.Len() {
		var err error
		if b, err = read(b, v.Index(i)); err != nil {
			return b, err
		}
	}
	return b, nil
}

func number(b []byte) (uint64, []byte, error) {
	if len(b) < 8 {
		return 0, b, errShort
	}
	return binary.LittleEndian.Uint64(b), b[8:], nil
}
