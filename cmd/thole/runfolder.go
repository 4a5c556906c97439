package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"thole/builtins/session"
	"thole/engine/record"
	"thole/engine/window"
)

// runsDir is where runs are kept, in the current folder.
const runsDir = "runs"

// A run's folder is written file by file, each whole or not at all: tables and what
// the study wrote, then the record, then page and pictures, which can be made again.
// A folder without a record is a run that was cut off. Nothing is written
// outside of it; the system itself sees to that (os.Root).
type runFolder struct {
	dir     string
	root    *os.Root
	earlier *record.Run // what the folder held before
	written []string
	planned []string // written after the record
	record  []byte   // as it was written
}

// runName is the name of a run's folder: the study and four characters made
// from version, study, inputs and parameters, never from the clock.
func runName(version, study string, files []record.File, params record.Ordered[*record.Param]) string {
	h := sha256.New()
	add := func(parts ...string) {
		for _, p := range parts {
			fmt.Fprintf(h, "%d:%s", len(p), p)
		}
	}
	add(version)
	for _, f := range files {
		add(string(f.Role), f.Path, f.SHA256)
	}
	for _, name := range params.Names() {
		p, _ := params.Get(name)
		add(name, fmt.Sprint(p.Value), p.Unit)
	}
	base := filepath.Base(study)
	base = cmp.Or(window.FileName(strings.TrimSuffix(base, filepath.Ext(base))), "study")
	return base + "-" + hex.EncodeToString(h.Sum(nil)[:2])
}

// openRoot opens a folder, and makes it where that is asked for. One in runs/ must lie in
// the current folder: where a stranger's study comes with a link of that name, nothing is
// written where it leads. A folder that the user named is the user's choice.
func openRoot(dir string, make bool) (*os.Root, error) {
	open, makeAll := os.OpenRoot, os.MkdirAll
	if strings.HasPrefix(filepath.ToSlash(filepath.Clean(dir))+"/", runsDir+"/") {
		here, err := os.OpenRoot(".")
		if err != nil {
			return nil, err
		}
		defer here.Close()
		open, makeAll = here.OpenRoot, here.MkdirAll
	}
	if make {
		if err := makeAll(dir, 0o755); err != nil {
			return nil, err
		}
	}
	return open(dir)
}

// openRunFolder makes a run's folder, or opens the one that is there.
func openRunFolder(dir string) (*runFolder, error) {
	root, err := openRoot(dir, true)
	if err != nil {
		return nil, err
	}
	f := &runFolder{dir: dir, root: root}
	if data, err := readIn(root, record.FileName); err == nil {
		f.earlier, _ = record.Decode(data) // one that cannot be read is written over
	}
	return f, nil
}

func (f *runFolder) Close() { f.root.Close() }

// Plan names a file that is written after the record: Finish counts it among the
// run's files.
func (f *runFolder) Plan(name string) { f.planned = append(f.planned, name) }

// unplan forgets what was planned: the record then lists what of it was written, and
// its other lines, which may be millions, are not made once more.
func (f *runFolder) unplan(r *record.Run) error {
	f.planned = nil
	before := r.Outputs
	f.list(r)
	data, err := record.Relisted(f.record, before, r.Outputs)
	if err != nil || f.record == nil {
		return err
	}
	return f.Write(record.FileName, data)
}

// list gives a record the names of the run's files.
func (f *runFolder) list(r *record.Run) {
	r.Outputs = slices.Concat(f.written, f.planned)
	slices.Sort(r.Outputs)
	r.Outputs = slices.Compact(r.Outputs)
}

// Write writes a file into the folder, whole or not at all. Sub-folders in its
// name are made.
func (f *runFolder) Write(name string, data []byte) error {
	return f.WriteFrom(name, whole(data))
}

// WriteFrom is Write for a file that is never held whole, as a table of a million lines.
func (f *runFolder) WriteFrom(name string, write func(io.Writer) error) error {
	if !filepath.IsLocal(filepath.FromSlash(name)) {
		return fmt.Errorf("%q lies outside the run's folder", name)
	}
	name = filepath.ToSlash(filepath.Clean(filepath.FromSlash(name)))
	if name != record.FileName {
		f.written = append(f.written, name)
	}
	return writeFrom(f.root, filepath.FromSlash(name), write)
}

// writeWhole writes beside the file and renames, so that a kill or a full disk
// leaves the old file or the new one.
func writeWhole(root *os.Root, name string, data []byte) error {
	return writeFrom(root, name, whole(data))
}

func whole(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}
}

func writeFrom(root *os.Root, name string, write func(io.Writer) error) error {
	if dir := filepath.Dir(name); dir != "." {
		if err := root.MkdirAll(dir, 0o755); err != nil {
			return err
		}
	}
	half := filepath.Join(filepath.Dir(name), "."+filepath.Base(name)+".half")
	root.Remove(half)
	file, err := root.OpenFile(half, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if err = write(file); err == nil {
		err = file.Sync()
	}
	if closing := file.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = root.Rename(half, name)
	}
	if err != nil {
		root.Remove(half)
	}
	return err
}

// writeFile writes a file within a folder, whole or not at all.
func writeFile(dir, name string, data []byte) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	return writeWhole(root, name, data)
}

// earlierName keeps the record of another run that a folder held.
const earlierName = "record-before.json"

// Finish writes the record, encoded, and with it the run is whole. What an earlier run
// left in the folder and this one did not write again is removed; if that run
// was another one, its record is kept aside, which note says.
func (f *runFolder) Finish(r *record.Run, data []byte) (note string, err error) {
	f.record = data
	if f.earlier != nil {
		another := !sameInputs(f.earlier, r)
		if another {
			old, err := f.earlier.Encode()
			if err != nil {
				return "", err
			}
			if err := writeWhole(f.root, earlierName, old); err != nil {
				return "", err
			}
			note = fmt.Sprintf("%s held another run; its record is kept there as %s", f.dir, earlierName)
		}
		for _, name := range f.earlier.Outputs {
			// another run's page must not stand beside this one's record, not for a moment
			stale := !slices.Contains(r.Outputs, name) || another && !slices.Contains(f.written, name)
			if filepath.IsLocal(name) && stale && name != earlierName {
				f.root.Remove(filepath.FromSlash(name))
			}
		}
	}
	if left, err := fs.Glob(f.root.FS(), fmt.Sprintf(stoppedName, "*")+".csv"); err == nil {
		for _, name := range left { // of this run before it was whole
			if !slices.Contains(r.Outputs, name) {
				f.root.Remove(name)
			}
		}
	}
	return note, f.Write(record.FileName, data)
}

// stoppedName is a table of a run that was stopped, by its number.
const stoppedName = "stopped_%v"

func sameInputs(a, b *record.Run) bool {
	return runName(a.Version, a.Study, a.Files, a.Params) == runName(b.Version, b.Study, b.Files, b.Params)
}

// recordFiles gives the files a session read as a record keeps them.
func recordFiles(read []session.FileRead) []record.File {
	var files []record.File
	for _, r := range read {
		f := record.NewFile(filepath.ToSlash(r.Name), record.Role(r.Role), r.Data)
		if f.Role == record.Input && filepath.Base(r.Name) == record.FileName {
			f = f.Slimmed()
		}
		for _, t := range r.Tables {
			f.Tables = append(f.Tables, record.AsRead(t))
		}
		files = append(files, f)
	}
	return files
}

// recordParams gives a session's parameters as a record keeps them.
func recordParams(values []session.ParamValue) record.Ordered[*record.Param] {
	var params record.Ordered[*record.Param]
	for _, p := range values {
		params.Add(p.Name, &record.Param{Value: p.Value, Unit: p.Unit, Set: p.Set})
	}
	return params
}

// writeFailed says in words why a run's folder could not be written.
func writeFailed(dir string, err error) Message {
	m := Message{File: "thole run", What: dir + " cannot be written", Why: plainError(err),
		Type: "--out DIR with a folder that can be written"}
	switch {
	case errors.Is(err, fs.ErrPermission):
		m.Why = "this folder may only be read"
	case errors.Is(err, syscall.EMFILE) || errors.Is(err, syscall.ENFILE):
		m.Why, m.Type = "the system lets no more files be open at once",
			"ulimit -n 256, then the same command"
	case strings.Contains(err.Error(), "escapes"):
		m.Why, m.Type = "it is a link that leads out of this folder",
			"--out DIR, if that is where it should go"
	case strings.Contains(err.Error(), "no space left"):
		m.Why, m.Type = "the disk is full; no half-written file is left",
			"make room, then the same command again"
	}
	return m
}
