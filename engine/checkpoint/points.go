package checkpoint

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// ending of the files' names.
const ending = ".points"

// mostBytes is how large a file may become: a million strokes and more.
const mostBytes = 1 << 30

// What waits is written when so much has gathered or so long has passed; a kill loses
// no more than that.
const (
	batchBytes = 256 << 10
	batchTime  = 500 * time.Millisecond
)

// Points are the points of a run: those of runs before, which it may take, and its own,
// which it keeps. Its methods may be called from many goroutines.
type Points struct {
	folder func(make bool) (*os.Root, error)
	base   string
	begins time.Time // nothing is kept before

	places  map[Key]place // of points before
	sources []source

	mu      sync.Mutex
	root    *os.Root
	own     *os.File
	name    string
	waiting []byte
	written int64
	flushed time.Time
	notes   []string

	stopped          atomic.Bool // nothing more is kept
	found, put, lost atomic.Int64
}

// source is a file that is read.
type source struct {
	file *os.File
	name string
	size int64 // when it was opened
	mine bool  // of this run's own base: gone when the run is whole
}

// Open reads what runs before have left under a base in a folder, "sweep.points" and
// "sweep.2.points" for base "sweep", and keeps this run's points beside them once it has lasted
// for after. folder opens the folder, and makes it where that is asked for; a folder that is not there
// holds nothing. What could not be used stands in Notes.
func Open(folder func(make bool) (*os.Root, error), base string, after time.Duration) *Points {
	p := &Points{folder: folder, base: base, begins: time.Now().Add(after), places: map[Key]place{}}
	if root, err := folder(false); err == nil {
		p.read(root, func(name string) bool { return p.isMine(name) }, true)
		root.Close()
	}
	return p
}

// Also reads the files of another folder: the parts of a sweep.
func (p *Points) Also(root *os.Root, named func(file string) bool) { p.read(root, named, false) }

// isMine says whether a file is one of this base.
func (p *Points) isMine(name string) bool {
	rest, ok := strings.CutPrefix(name, p.base+".")
	number, whole := strings.CutSuffix("."+rest, ending)
	_, err := strconv.Atoi(strings.TrimPrefix(number, "."))
	return ok && whole && (number == "" || err == nil)
}

func (p *Points) read(root *os.Root, named func(string) bool, mine bool) {
	entries, err := fs.ReadDir(root.FS(), ".")
	if err != nil {
		p.notef("points rowed before cannot be read (%s), so they are rowed again", plain(err))
		return
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ending) || !e.Type().IsRegular() || !named(e.Name()) {
			continue
		}
		f, err := root.Open(e.Name())
		if errors.Is(err, fs.ErrNotExist) {
			continue // its run has just ended
		}
		size := int64(0)
		if err == nil {
			size, err = scan(f, func(k Key, at int64, length uint32) {
				p.places[k] = place{uint32(len(p.sources)), length, at}
			})
		}
		if err != nil {
			p.notef("%s cannot be used (%s) and is left alone", e.Name(), plain(err))
			continue
		}
		p.sources = append(p.sources, source{f, e.Name(), size, mine})
	}
}

// Awake says whether points are worth a key: whether there are any to take, or the run has
// lasted long enough to keep its own.
func (p *Points) Awake() bool {
	return p != nil && (len(p.places) > 0 || !p.stopped.Load() && time.Now().After(p.begins))
}

// Get gives the bytes kept under a key. They are the caller's own.
func (p *Points) Get(k Key) ([]byte, bool) {
	at, ok := p.places[k]
	if !ok {
		return nil, false
	}
	value, err := readPoint(p.sources[at.file].file, k, at)
	if err != nil {
		if p.lost.Add(1) == 1 {
			p.notef("%s is damaged (%s); what is lost is rowed again", p.sources[at.file].name, plain(err))
		}
		return nil, false
	}
	p.found.Add(1)
	return value, true
}

// Put keeps the bytes of a point.
func (p *Points) Put(k Key, value []byte) {
	now := time.Now()
	if p.stopped.Load() || now.Before(p.begins) {
		return
	}
	p.put.Add(1)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.waiting = appendPoint(p.waiting, k, value)
	if len(p.waiting) > batchBytes || now.Sub(p.flushed) > batchTime {
		p.flush()
		p.flushed = now
	}
}

// flush writes what waits; p.mu is held. What cannot be kept is said once, and the run goes on.
func (p *Points) flush() {
	if len(p.waiting) == 0 || p.stopped.Load() {
		return
	}
	err := p.openOwn()
	if err == nil {
		_, err = p.own.Write(p.waiting)
		p.written += int64(len(p.waiting))
	}
	p.waiting = p.waiting[:0]
	switch {
	case err != nil:
		p.stopped.Store(true)
		p.note(fmt.Sprintf("points cannot be kept on the way (%s); the run goes on without", plain(err)))
		if p.own != nil && p.written <= batchBytes {
			p.remove(p.name) // an empty file must not fill a full disk
		}
	case p.written > mostBytes:
		p.stopped.Store(true)
		p.note(fmt.Sprintf("%s has %d MB; later points are not kept on the way", p.name, p.written>>20))
	}
}

// openOwn makes this run's file, the first of its base that is not there.
func (p *Points) openOwn() (err error) {
	if p.own != nil {
		return nil
	}
	if p.root == nil {
		if p.root, err = p.folder(true); err != nil {
			return err
		}
	}
	for n := 1; ; n++ {
		p.name = p.base + ending
		if n > 1 {
			p.name = fmt.Sprintf("%s.%d%s", p.base, n, ending)
		}
		p.own, err = p.root.OpenFile(p.name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err == nil {
			_, err = p.own.WriteString(first)
		}
		if !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
}

// Close writes what waits. With done the run is whole: its file goes, and those of runs before
// it that were stopped. One that has grown since is of a run still going.
func (p *Points) Close(done bool) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if !done {
		p.flush()
	}
	if p.own != nil {
		p.own.Close()
		if done {
			p.remove(p.name)
		}
	}
	for _, s := range p.sources {
		info, err := s.file.Stat()
		s.file.Close()
		if done && s.mine && err == nil && info.Size() == s.size {
			if p.root == nil {
				p.root, _ = p.folder(false)
			}
			p.remove(s.name)
		}
	}
	if p.root != nil {
		p.root.Close()
	}
}

func (p *Points) remove(name string) {
	if p.root != nil {
		p.root.Remove(name)
	}
}

// Counts gives how many points were taken and how many were kept.
func (p *Points) Counts() (found, put int) { return int(p.found.Load()), int(p.put.Load()) }

// Notes gives, in sentences, what could not be done so far.
func (p *Points) Notes() []string {
	if p == nil {
		return nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.notes)
}

func (p *Points) notef(format string, args ...any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.note(fmt.Sprintf(format, args...))
}

func (p *Points) note(text string) { p.notes = append(p.notes, text) }

// plain gives an error without the names of files and calls.
func plain(err error) string {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}
