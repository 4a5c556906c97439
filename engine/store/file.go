package store

import (
	"crypto/rand"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

// format is the layout of a file: bucket "about" with the key "format", bucket
// "points" with the keys of points. A value carries a sum of itself and its key
// in front, since bbolt has none for its leaves and a flipped bit would be a
// wrong number rather than an error.
const (
	format = 1
	ending = ".points"
	aside  = ".damaged"
)

var (
	aboutBucket  = []byte("about")
	pointsBucket = []byte("points")
	formatKey    = []byte("format")
)

var (
	errBusy  = errors.New("another run has it open")
	errLater = errors.New("of a later version")
	errBlank = errors.New("its run ended before it wrote anything")
)

// file is one open bbolt file. failed marks one that is used no more.
type file struct {
	path   string
	db     *bbolt.DB
	failed atomic.Bool
	once   sync.Once
}

// lockWait is how long to wait for a file's lock: bbolt's own pause between
// two tries, so that there is exactly one.
const lockWait = time.Nanosecond

// openWriter opens a file to write, making it if it is missing.
func openWriter(path string) (*file, error) {
	if f, err := openReader(path); err == nil {
		f.close()
	} else if info, missing := os.Stat(path); missing == nil && info.Size() > 0 && !errors.Is(err, errBusy) &&
		!errors.Is(err, errLater) && !errors.Is(err, errBlank) {
		setAside(path)
	}
	f, err := open(path, false)
	if err != nil {
		return nil, err
	}
	err = f.db.Update(func(tx *bbolt.Tx) error {
		if tx.Bucket(aboutBucket) != nil {
			return readFormat(tx)
		}
		about, err := tx.CreateBucket(aboutBucket)
		if err == nil {
			err = about.Put(formatKey, binary.BigEndian.AppendUint32(nil, format))
		}
		if err == nil {
			_, err = tx.CreateBucketIfNotExists(pointsBucket)
		}
		return err
	})
	if err != nil {
		f.close()
		return nil, err
	}
	return f, nil
}

// openReader opens a file that no run is writing.
func openReader(path string) (*file, error) {
	if info, err := os.Stat(path); err != nil {
		return nil, err
	} else if info.Size() == 0 {
		return nil, errBusy // another run is just making it
	}
	f, err := open(path, true)
	if errors.Is(err, errBusy) {
		return nil, err
	}
	// only now, holding the lock, is a short file a damaged one
	if short := whole(path); short != nil {
		err = short
	}
	if err == nil {
		err = guard(func() error { return f.db.View(readFormat) })
	}
	if err != nil {
		if f != nil {
			f.close()
		}
		return nil, err
	}
	return f, nil
}

func open(path string, readOnly bool) (f *file, err error) {
	// bbolt panics on pages it cannot make sense of, or that are not there
	guarded := guard(func() error {
		db, fault := bbolt.Open(path, 0o644, &bbolt.Options{Timeout: lockWait, ReadOnly: readOnly,
			NoFreelistSync: true, NoStatistics: true})
		if errors.Is(fault, bolterrors.ErrTimeout) {
			return errBusy
		}
		if fault == nil {
			f = &file{path: path, db: db}
		}
		return fault
	})
	return f, guarded
}

func readFormat(tx *bbolt.Tx) error {
	about := tx.Bucket(aboutBucket)
	if about == nil {
		// killed between making the file and its first words: whole, but blank
		if first, _ := tx.Cursor().First(); first == nil {
			return errBlank
		}
		return errors.New("it is no store of points")
	}
	v := about.Get(formatKey)
	if len(v) != 4 {
		return errors.New("its format is not said")
	}
	if n := binary.BigEndian.Uint32(v); n > format {
		return errLater
	}
	if tx.Bucket(pointsBucket) == nil {
		return errors.New("it holds no points")
	}
	return nil
}

const sumSize = 4

func sum(k Key, value []byte) uint32 {
	return crc32.Update(crc32.ChecksumIEEE(k[:]), crc32.IEEETable, value)
}

// sealed puts the sum in front of a point's bytes.
func sealed(k Key, value []byte) []byte {
	return append(binary.BigEndian.AppendUint32(make([]byte, 0, sumSize+len(value)), sum(k, value)), value...)
}

// get gives a copy of a point, or nil.
func (f *file) get(k Key) (value []byte, err error) {
	err = guard(func() error {
		return f.db.View(func(tx *bbolt.Tx) error {
			v := tx.Bucket(pointsBucket).Get(k[:])
			if v == nil {
				return nil
			}
			if len(v) < sumSize || binary.BigEndian.Uint32(v) != sum(k, v[sumSize:]) {
				return errors.New("a point in it is not what was written")
			}
			value = append(make([]byte, 0, len(v)), v[sumSize:]...)
			return nil
		})
	})
	return value, err
}

func (f *file) write(batch map[Key][]byte) error {
	keys := make([]Key, 0, len(batch))
	for k := range batch {
		keys = append(keys, k)
	}
	// in the tree's own order: neighbours share pages
	slices.SortFunc(keys, func(a, b Key) int { return slices.Compare(a[:], b[:]) })
	return guard(func() error {
		return f.db.Update(func(tx *bbolt.Tx) error {
			points := tx.Bucket(pointsBucket)
			for _, k := range keys {
				if err := points.Put(k[:], sealed(k, batch[k])); err != nil {
					return err
				}
			}
			return nil
		})
	})
}

// guard turns a page that is not there, or makes no sense, into an error: a
// file cut short under our hands must not end the run.
func guard(do func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	return do()
}

func (f *file) size() int64 {
	if info, err := os.Stat(f.path); err == nil {
		return info.Size()
	}
	return 0
}

func (f *file) close() { f.once.Do(func() { f.db.Close() }) }

// whole says whether a file is as long as its own pages need. A bbolt file is
// read through the address space, where a missing end is a fault, not an error.
func whole(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	// two meta pages, of which the valid one with the higher transaction counts;
	// each: page head of 16 bytes, magic, version, page size, flags (4 bytes
	// each), root (16), freelist (8), number of pages (8), transaction (8)
	longest := int64(0)
	for _, pageSize := range []int64{0, int64(os.Getpagesize())} {
		var head [80]byte
		if n, _ := f.ReadAt(head[:], pageSize); n < len(head) {
			return errors.New("it is cut short")
		}
		if binary.NativeEndian.Uint32(head[16:]) != 0xED0CDAED {
			continue
		}
		size := int64(binary.NativeEndian.Uint32(head[24:]))
		pages := int64(binary.NativeEndian.Uint64(head[56:]))
		if size <= 0 || pages < 0 || pages > 1<<40/max(size, 1) {
			continue
		}
		longest = max(longest, size*pages)
	}
	if longest == 0 {
		return errors.New("it is no store of points")
	}
	if info.Size() < longest {
		return errors.New("it is cut short")
	}
	return nil
}

// list gives a folder's files, newest first.
func list(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var paths []string
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ending) && e.Type().IsRegular() {
			paths = append(paths, filepath.Join(dir, e.Name()))
		}
	}
	slices.SortFunc(paths, func(a, b string) int {
		if d := number(b) - number(a); d != 0 {
			return d
		}
		return strings.Compare(b, a)
	})
	return paths, nil
}

// newPath names a new file: the next number, and a few characters so that two
// runs that begin together do not meet.
func newPath(dir string) string {
	next := 1
	if paths, err := list(dir); err == nil {
		for _, p := range paths {
			next = max(next, number(p)+1)
		}
	}
	var tail [3]byte
	rand.Read(tail[:])
	return filepath.Join(dir, fmt.Sprintf("%06d-%s%s", next, hex.EncodeToString(tail[:]), ending))
}

// number gives a file's age in files; 0 for one that is not numbered (a part).
func number(path string) int {
	digits, _, _ := strings.Cut(filepath.Base(path), "-")
	n, err := strconv.Atoi(digits)
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// setAside renames a damaged file, so that it is seen once and not for ever.
func setAside(path string) {
	os.Rename(path, path+aside)
}

// plain gives an error without the names of files and calls.
func plain(err error) string {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}
