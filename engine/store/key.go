package store

import (
	"crypto/sha256"
	"encoding/binary"
	"runtime"
)

// Key names a point by its meaning.
type Key [32]byte

// KeyOf makes the key of a point: the engine that computed it, the kind of
// point ("row", "equal_load"), and the inputs as bytes that mean the same
// whenever they are the same. The kind of processor takes part, since one may
// join a multiplication and an addition where another rounds in between, and a
// point from the store must be the point to its last bit.
func KeyOf(engine, kind string, inputs []byte) Key {
	h := sha256.New()
	for _, part := range []string{runtime.GOARCH, engine, kind} {
		var n [8]byte
		binary.LittleEndian.PutUint64(n[:], uint64(len(part)))
		h.Write(n[:])
		h.Write([]byte(part))
	}
	h.Write(inputs)
	var k Key
	h.Sum(k[:0])
	return k
}
