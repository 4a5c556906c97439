package store

import (
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"go.etcd.io/bbolt"
)

// many is the number of finished files from which the small ones are joined:
// a look into the store asks each of them, a microsecond apiece.
const many = 4

// share is the largest part of the limit that one file takes, so that throwing
// out the oldest file never throws out most of the store.
const share = 8

const (
	lockName = "tidy.lock"   // held by the run that tidies
	halfName = "joined.half" // a joined file until it is whole
)

// tidy brings a store back within its limit and joins small files. Only one
// run tidies at a time; another leaves it be.
func tidy(dir string, limit int64) error {
	lock, err := open(filepath.Join(dir, lockName), false)
	if errors.Is(err, errBusy) {
		return nil
	}
	if err != nil { // left behind half made, perhaps: the next run makes it anew
		os.Remove(filepath.Join(dir, lockName))
		return nil
	}
	defer lock.close()
	if err := evict(dir, limit); err != nil {
		return err
	}
	return join(dir, limit/share)
}

// evict removes the oldest files until the rest is within the limit. What was
// set aside as damaged goes with them.
func evict(dir string, limit int64) error {
	if damaged, err := filepath.Glob(filepath.Join(dir, "*"+aside)); err == nil {
		for _, path := range damaged {
			os.Remove(path)
		}
	}
	paths, err := list(dir)
	if err != nil {
		return err
	}
	total := int64(0)
	for _, path := range paths { // newest first
		info, err := os.Stat(path)
		if err != nil {
			continue
		}
		if info.Size() == 0 { // its run was killed while making it, unless one makes it just now
			if f, err := open(path, false); err == nil {
				f.close()
				os.Remove(path)
			}
			continue
		}
		total += info.Size()
		if total > limit && number(path) > 0 && finished(path) {
			if err := os.Remove(path); err != nil {
				return err
			}
			total -= info.Size()
		}
	}
	return nil
}

// finished says whether no run is writing the file.
func finished(path string) bool {
	f, err := openReader(path)
	if err != nil {
		return !errors.Is(err, errBusy) && !errors.Is(err, errLater)
	}
	f.close()
	return true
}

// join merges the newest small files into one while there are too many. A file
// is taken along as long as it is no more than twice what has been gathered, so
// that each point is copied only a few times in its life.
func join(dir string, largest int64) error {
	paths, err := list(dir)
	if err != nil {
		return err
	}
	var group []*file
	defer func() {
		for _, f := range group {
			f.close()
		}
	}()
	count, gathered := 0, int64(0)
	for _, path := range paths {
		if number(path) == 0 {
			continue
		}
		f, err := openReader(path)
		if err != nil {
			continue // another run's, or one that Open will speak about
		}
		count++
		size := f.size()
		small := gathered+size <= largest && (len(group) < 2 || size <= 2*gathered)
		if !small || len(group) != count-1 {
			f.close()
			continue
		}
		group, gathered = append(group, f), gathered+size
	}
	if count < many || len(group) < 2 {
		return nil
	}
	return merge(dir, group)
}

// merge copies a group of files into a new one under the newest one's number.
// Killed half way it leaves a file nobody reads, or points that stand twice.
func merge(dir string, group []*file) error {
	half := filepath.Join(dir, halfName)
	os.Remove(half)
	out, err := openWriter(half)
	if err != nil {
		return err
	}
	defer os.Remove(half)
	defer out.close()
	for i := len(group) - 1; i >= 0; i-- { // the oldest first: a later point stands
		if err := copyPoints(out, group[i]); err != nil {
			return err
		}
	}
	if err := out.db.Sync(); err != nil {
		return err
	}
	out.close()
	newest := group[0].path
	target := strings.TrimSuffix(newest, ending) + "j" + ending
	if err := os.Rename(half, target); err != nil {
		return err
	}
	for _, f := range group {
		f.close()
		if err := os.Remove(f.path); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	return nil
}

func copyPoints(out, from *file) error {
	batch := map[Key][]byte{}
	flush := func() error {
		err := out.write(batch)
		clear(batch)
		return err
	}
	err := guard(func() error {
		return from.db.View(func(tx *bbolt.Tx) error {
			return tx.Bucket(pointsBucket).ForEach(func(k, v []byte) error {
				if len(k) != len(Key{}) {
					return nil
				}
				if len(v) < sumSize || binary.BigEndian.Uint32(v) != sum(Key(k), v[sumSize:]) {
					return nil // damaged: it is rowed again
				}
				batch[Key(k)] = append([]byte(nil), v[sumSize:]...)
				if len(batch) >= batchSize {
					return flush()
				}
				return nil
			})
		})
	})
	if err != nil {
		return err
	}
	return flush()
}
