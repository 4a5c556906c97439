package checkpoint

import (
	"crypto/sha256"
	"encoding/binary"
	"runtime"
)

// Key names a point by its meaning. Half a SHA-256: among a million points two alike are
// as likely as 1 in 10^26.
type Key [16]byte

// KeyOf makes the key of a point: the engine that computed it and the inputs as bytes that
// mean the same whenever they are the same. The kind of processor takes part, since one may
// join a multiplication and an addition where another rounds in between, and a kept point must
// be the point to its last bit.
func KeyOf(engine string, inputs []byte) Key {
	h := sha256.New()
	for _, part := range []string{runtime.GOARCH, engine} {
		h.Write(binary.LittleEndian.AppendUint64(nil, uint64(len(part))))
		h.Write([]byte(part))
	}
	h.Write(inputs)
	return Key(h.Sum(nil))
}
