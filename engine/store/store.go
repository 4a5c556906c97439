package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"
)

// DefaultLimit is the size in bytes that a store may take on the disk: about
// 350,000 points of thirty numbers.
const DefaultLimit = 256 << 20

// Points wait in memory and are written in batches: after half a second, and
// from then on whenever a tenth of the run's time has passed since the last one,
// or when so many wait. A batch touches most pages of the tree, so that batches
// of a fixed size would cost more and more; a kill loses a tenth of the work.
const (
	batchSize  = 20_000
	batchTime  = 500 * time.Millisecond
	batchShare = 10
)

// Options of a store; zero values are the defaults.
type Options struct {
	Limit    int64    // bytes on the disk; 0: DefaultLimit
	ReadOnly bool     // take nothing new
	File     string   // name of the file to write, without ending (a part of a sweep); "": a new one
	Also     []string // further folders to read from: the parts of a sweep
	Alone    bool     // read no other file than the one to write
}

// Store is an open store. Its methods may be called from many goroutines.
type Store struct {
	dir      string
	limit    int64
	finished []*file // newest first; read only

	own     atomic.Pointer[file] // this run's file, made with the first batch
	stopped atomic.Bool          // nothing more is taken

	mu      sync.Mutex
	mine    map[Key]struct{} // all that this run has put
	waiting map[Key][]byte   // put, not yet on the disk
	writing map[Key][]byte   // being written just now
	notes   []string
	resumed bool       // the own file held points when it was opened
	flush   sync.Mutex // one batch at a time
	kept    bool       // a batch is on the disk; under flush

	found, put          atomic.Int64
	wake, closing, done chan struct{}
}

// Open opens the store in a folder, made if it is missing. It always gives a
// store that works; what it could not use stands in Notes. A folder that cannot
// be written is still read.
func Open(dir string, o Options) *Store {
	s := &Store{dir: dir, limit: o.Limit, waiting: map[Key][]byte{}, mine: map[Key]struct{}{},
		wake: make(chan struct{}, 1), closing: make(chan struct{}), done: make(chan struct{})}
	if s.limit <= 0 {
		s.limit = DefaultLimit
	}
	s.stopped.Store(o.ReadOnly)
	if o.File != "" && !o.ReadOnly {
		s.openOwn(filepath.Join(dir, o.File+ending))
		s.resumed = true
	}
	folders := append([]string{dir}, o.Also...)
	if o.Alone {
		folders = nil
	}
	for _, folder := range folders {
		s.openFinished(folder)
	}
	go s.writeBatches()
	return s
}

// openOwn makes this run's file; without one the run goes on and keeps nothing.
func (s *Store) openOwn(path string) {
	err := os.MkdirAll(s.dir, 0o755)
	var own *file
	_, missing := os.Stat(path)
	if err == nil {
		own, err = openWriter(path)
	}
	if err == nil {
		s.own.Store(own)
		return
	}
	if missing != nil {
		os.Remove(path) // half made, as on a full disk
	}
	s.stopped.Store(true)
	switch {
	case errors.Is(err, errBusy):
		s.notef("another run writes %s just now, so this one keeps no points", filepath.Base(path))
	case errors.Is(err, errLater):
		s.notef("%s is of a later thole and is left alone; this run keeps no points", filepath.Base(path))
	default:
		s.notef("nothing can be written to the store (%s), so points are not kept", plain(err))
	}
}

// openFinished opens the files of a folder that no run is writing.
func (s *Store) openFinished(dir string) {
	paths, err := list(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		s.notef("the store cannot be read (%s), so every point is rowed", plain(err))
		return
	}
	later := 0
	for _, path := range paths {
		if own := s.own.Load(); own != nil && path == own.path {
			continue
		}
		f, err := openReader(path)
		switch {
		case err == nil:
			s.finished = append(s.finished, f)
		case errors.Is(err, errBusy), errors.Is(err, fs.ErrNotExist): // another run's, or just tidied away
		case errors.Is(err, errLater):
			later++
		case errors.Is(err, errBlank):
			os.Remove(path) // nothing is lost
		default:
			s.notef("%s in the store is damaged (%s); its points are rowed again", filepath.Base(path),
				plain(err))
			setAside(path)
		}
	}
	if later > 0 {
		s.notef("the store holds %d of a later thole, left alone; their points are rowed again", later)
	}
}

// Get gives the bytes kept under a key. They are the caller's own.
func (s *Store) Get(k Key) ([]byte, bool) {
	if s == nil {
		return nil, false
	}
	value, mine := s.unwritten(k)
	if own := s.own.Load(); value == nil && own != nil && (mine || s.resumed) {
		value = s.look(own, k)
	}
	for i := 0; value == nil && i < len(s.finished); i++ {
		value = s.look(s.finished[i], k)
	}
	if value == nil {
		return nil, false
	}
	s.found.Add(1)
	return value, true
}

// unwritten looks among the points that wait to be written, and says whether
// this run has put the key at all: most keys it has not, and its file need not
// be asked.
func (s *Store) unwritten(k Key) (value []byte, mine bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, mine = s.mine[k]; !mine {
		return nil, false
	}
	v, ok := s.waiting[k]
	if !ok {
		v, ok = s.writing[k]
	}
	if !ok {
		return nil, true
	}
	return append(make([]byte, 0, len(v)), v...), true
}

// look reads a point of one file; a file that fails is read no more.
func (s *Store) look(f *file, k Key) []byte {
	if f.failed.Load() {
		return nil
	}
	v, err := f.get(k)
	if err != nil && f.failed.CompareAndSwap(false, true) {
		s.notef("%s in the store is damaged (%s); its points are rowed again", filepath.Base(f.path),
			plain(err))
	}
	return v
}

// Put keeps the bytes of a point. They must not be changed afterwards.
func (s *Store) Put(k Key, value []byte) {
	if s == nil || s.stopped.Load() {
		return
	}
	s.mu.Lock()
	s.waiting[k], s.mine[k] = value, struct{}{}
	full := len(s.waiting) >= batchSize
	s.mu.Unlock()
	s.put.Add(1)
	if full {
		select {
		case s.wake <- struct{}{}:
		default:
		}
	}
}

// writeBatches is the one writer.
func (s *Store) writeBatches() {
	defer close(s.done)
	begun := time.Now()
	last := begun
	tick := time.NewTicker(batchTime)
	defer tick.Stop()
	for {
		select {
		case <-s.wake:
		case now := <-tick.C:
			if now.Sub(last) < now.Sub(begun)/batchShare {
				continue
			}
		case <-s.closing:
			s.Flush()
			return
		}
		s.Flush()
		last = time.Now()
	}
}

// Flush writes what waits, so that a kill afterwards loses nothing put before.
func (s *Store) Flush() {
	if s == nil {
		return
	}
	s.flush.Lock()
	defer s.flush.Unlock()
	s.mu.Lock()
	batch := s.waiting
	if len(batch) > 0 {
		s.waiting, s.writing = map[Key][]byte{}, batch
	}
	s.mu.Unlock()
	if len(batch) == 0 || s.stopped.Load() {
		return
	}
	if s.own.Load() == nil {
		s.openOwn(newPath(s.dir))
	}
	if own := s.own.Load(); own != nil {
		s.write(own, batch)
	}
	s.mu.Lock()
	s.writing = nil
	s.mu.Unlock()
}

func (s *Store) write(own *file, batch map[Key][]byte) {
	err := own.write(batch)
	if err == nil {
		s.kept = true
	}
	if err != nil {
		s.stopped.Store(true)
		s.notef("the store could not be written (%s); the run goes on, later points are not kept", plain(err))
		if !s.kept && !s.resumed { // an empty file must not fill a full disk
			own.failed.Store(true)
			os.Remove(own.path)
		}
	} else if own.size() > s.limit {
		s.stopped.Store(true)
		s.notef("this run's points alone fill the store's %d MB; later ones are not kept", s.limit>>20)
	}
}

// Close writes what waits, gives the files back and tidies the store. What
// went wrong in the meantime stands in Notes.
func (s *Store) Close() {
	if s == nil {
		return
	}
	close(s.closing)
	<-s.done
	for _, f := range s.finished {
		f.close()
	}
	own := s.own.Load()
	if own == nil {
		return
	}
	own.close()
	if number(own.path) == 0 {
		return // a part of a sweep stays as it is
	}
	if err := tidy(s.dir, s.limit); err != nil {
		s.notef("the store could not be tidied (%s); nothing is lost", plain(err))
	}
}

// Counts gives how many points came from the store and how many were put.
func (s *Store) Counts() (found, put int) {
	if s == nil {
		return 0, 0
	}
	return int(s.found.Load()), int(s.put.Load())
}

// Notes gives, in sentences, what the store could not do so far.
func (s *Store) Notes() []string {
	if s == nil {
		return nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.notes...)
}

func (s *Store) notef(format string, args ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.notes = append(s.notes, fmt.Sprintf(format, args...))
}
