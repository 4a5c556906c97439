package checkpoint

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
)

// first is a file's first line.
const first = "thole points 1\n"

// headSize is what stands before a point's bytes: key, length, sum.
const headSize = len(Key{}) + 4 + 4

// longest is the length in bytes from which a point is taken for damage.
const longest = 16 << 20

// place is where a point stands.
type place struct {
	file   uint32 // index of the source
	length uint32
	at     int64 // of its head
}

// sum is of key and bytes: a flipped bit would be a wrong number rather than an error.
func sum(k Key, value []byte) uint32 {
	return crc32.Update(crc32.ChecksumIEEE(k[:]), crc32.IEEETable, value)
}

// appendPoint writes a point as it stands in a file.
func appendPoint(b []byte, k Key, value []byte) []byte {
	b = append(b, k[:]...)
	b = binary.BigEndian.AppendUint32(b, uint32(len(value)))
	b = binary.BigEndian.AppendUint32(b, sum(k, value))
	return append(b, value...)
}

var errForeign = errors.New("it is no file of points, or one of a later thole")

// scan calls found for each whole point of a file, and gives the file's length as read.
func scan(f *os.File, found func(k Key, at int64, length uint32)) (size int64, err error) {
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	size = info.Size()
	r := bufio.NewReaderSize(f, 1<<20)
	line := make([]byte, len(first))
	if n, err := io.ReadFull(r, line); err != nil && first[:n] == string(line[:n]) {
		return size, nil // killed while it was made: nothing is in it
	} else if string(line) != first {
		return size, errForeign
	}
	at := int64(len(first))
	for {
		var head [headSize]byte
		if _, err := io.ReadFull(r, head[:]); err != nil {
			return size, nil // the end, or half a point
		}
		length := binary.BigEndian.Uint32(head[len(Key{}):])
		end := at + int64(headSize) + int64(length)
		if length > longest || end > size {
			return size, nil
		}
		found(Key(head[:len(Key{})]), at, length)
		if _, err := r.Discard(int(length)); err != nil {
			return size, nil
		}
		at = end
	}
}

// readPoint reads a point and proves it.
func readPoint(f *os.File, k Key, p place) ([]byte, error) {
	data := make([]byte, headSize+int(p.length))
	if _, err := f.ReadAt(data, p.at); err != nil {
		return nil, err
	}
	value := data[headSize:]
	if Key(data[:len(k)]) != k || binary.BigEndian.Uint32(data[len(k)+4:]) != sum(k, value) {
		return nil, fmt.Errorf("a point in it is not what was written")
	}
	return value, nil
}
