package store

import (
	"errors"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
)

// Contents is what stands in a store.
type Contents struct {
	Points, Files int
	Bytes         int64
	Busy          int // files that runs are writing just now
	Later         int // files of a later thole
	Damaged       int
}

// See counts what stands in a store.
func See(dir string) (Contents, error) {
	var c Contents
	paths, err := list(dir)
	if errors.Is(err, os.ErrNotExist) {
		return c, nil
	}
	if err != nil {
		return c, err
	}
	for _, path := range paths {
		c.Files++
		if info, err := os.Stat(path); err == nil {
			c.Bytes += info.Size()
		}
		f, err := openReader(path)
		switch {
		case errors.Is(err, errBusy):
			c.Busy++
		case errors.Is(err, errLater):
			c.Later++
		case errors.Is(err, errBlank): // goes with the next run
		case err != nil:
			c.Damaged++
		default:
			err := guard(func() error {
				return f.db.View(func(tx *bbolt.Tx) error {
					c.Points += tx.Bucket(pointsBucket).Inspect().KeyN
					return nil
				})
			})
			if err != nil {
				c.Damaged++
			}
			f.close()
		}
	}
	return c, nil
}

// Empty removes every file that no run is writing, and says what went and what
// stayed. It is safe at any time: points are rowed again.
func Empty(dir string) (gone, kept Contents, err error) {
	paths, err := list(dir)
	if errors.Is(err, os.ErrNotExist) {
		return gone, kept, nil
	}
	if err != nil {
		return gone, kept, err
	}
	before, err := See(dir)
	if err != nil {
		return gone, kept, err
	}
	for _, path := range paths {
		if f, err := openReader(path); errors.Is(err, errBusy) {
			continue
		} else if err == nil {
			f.close()
		}
		if err := os.Remove(path); err != nil {
			return gone, kept, err
		}
	}
	for _, tail := range []string{"*" + aside, halfName, lockName} {
		rest, _ := filepath.Glob(filepath.Join(dir, tail))
		for _, path := range rest {
			os.Remove(path)
		}
	}
	kept, err = See(dir)
	gone = Contents{Points: before.Points - kept.Points, Files: before.Files - kept.Files,
		Bytes: before.Bytes - kept.Bytes}
	return gone, kept, err
}
