package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"thole/builtins/lang"
	"thole/engine/record"
	"thole/engine/table"
)

// The largest file that a study may read, and the longest study: its text grows
// a hundredfold while it is read.
const (
	mostFile  = 64 << 20
	mostStudy = 1 << 20
)

// most is how long a file of this name may be.
func most(name string) int64 {
	if ext := path.Ext(name); ext == ".star" || ext == ".md" {
		return mostStudy
	}
	return mostFile
}

// studyFolder is the folder a study reads in, and nothing outside of it: the
// system itself refuses a name or a link that leads out (os.Root). Only a run
// that the user named with --set may lie elsewhere.
type studyFolder struct {
	root  *os.Root
	said  string          // the study's own name, for messages
	named map[string]bool // what the user set a parameter to
}

// openStudyFolder opens the folder of a study's file.
func openStudyFolder(study string) (*studyFolder, error) {
	root, err := os.OpenRoot(filepath.Dir(study))
	if err != nil {
		return nil, err
	}
	return &studyFolder{root: root, said: filepath.Base(study), named: map[string]bool{}}, nil
}

// allow lets the study read the runs that the user named: --set last_run=DIR,
// seen from the current folder as all that is typed there, or in runs/.
func (f *studyFolder) allow(set map[string]string) {
	for _, value := range set {
		f.named[path.Clean(filepath.ToSlash(value))] = true
	}
}

func (f *studyFolder) Close() { f.root.Close() }

// ReadFile reads a file whose name is as typed in the study, with / between
// folders. Errors are *lang.Error.
func (f *studyFolder) ReadFile(name string) ([]byte, error) {
	data, err := readIn(f.root, name)
	if err == nil {
		return data, nil
	}
	if run := path.Dir(path.Clean(name)); path.Base(name) == record.FileName && f.named[run] {
		for _, dir := range []string{filepath.FromSlash(run),
			filepath.Join(runsDir, filepath.FromSlash(run))} {
			if data, again := readRun(dir); again == nil {
				return data, nil
			}
		}
	}
	return nil, f.refusal(name, err)
}

// readRun reads the record in a run's folder.
func readRun(dir string) ([]byte, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return readIn(root, record.FileName)
}

var (
	errFolder  = errors.New("a folder")
	errDevice  = errors.New("no plain file")
	errTooLong = errors.New("too long")
	errOutside = errors.New("outside the folder")
)

// readIn reads a plain file within a root and within the size limit.
func readIn(root *os.Root, name string) ([]byte, error) {
	if !filepath.IsLocal(filepath.FromSlash(name)) || strings.ContainsRune(name, 0) {
		return nil, errOutside
	}
	info, err := root.Stat(filepath.FromSlash(name))
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errFolder
	case !info.Mode().IsRegular(): // a pipe would wait for ever
		return nil, errDevice
	}
	file, err := root.Open(filepath.FromSlash(name))
	if err != nil {
		return nil, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, most(name)+1))
	if err == nil && int64(len(data)) > most(name) {
		err = errTooLong
	}
	return data, err
}

// refusal says in a coach's words why a file was not read.
func (f *studyFolder) refusal(name string, err error) error {
	base := path.Base(strings.ReplaceAll(name, "\\", "/"))
	if base == "." || base == "/" || base == ".." {
		base = "crews.csv"
	}
	switch {
	case errors.Is(err, errOutside) || strings.Contains(err.Error(), "escapes"):
		return lang.Mistake("a study reads in its own folder only, so a stranger's cannot look around",
			fmt.Sprintf("copy %s beside %s, then %q", base, f.said, base),
			"this file lies outside the study's folder")
	case errors.Is(err, errFolder):
		return lang.Mistake("a file is wanted, and this is a folder",
			fmt.Sprintf("%q", path.Join(name, "oars.csv")), "%q is a folder", name)
	case errors.Is(err, errDevice):
		return lang.Mistake("only plain files are read", fmt.Sprintf("%q", base), "%q is no plain file", name)
	case errors.Is(err, errTooLong):
		return lang.Mistake(fmt.Sprintf("it may have %d MB at most", most(name)>>20),
			"a file with fewer lines", "%q is too long", name)
	case errors.Is(err, fs.ErrPermission):
		return lang.Mistake("the system does not let this user read it", "chmod +r "+base,
			"%q may not be read", name)
	case errors.Is(err, fs.ErrNotExist):
		return f.missing(name)
	}
	return lang.Mistake("the system says: "+plainError(err), fmt.Sprintf("%q", base), "%q cannot be read",
		name)
}

// missing names the nearest file of the study's folder.
func (f *studyFolder) missing(name string) error {
	if path.Base(name) == record.FileName {
		run := path.Dir(name)
		return lang.Mistake(
			"an earlier run is looked for beside the study; one that --set names, also here and in runs/",
			"thole runs   for what has been run", "there is no run %q", run)
	}
	var names []string
	inside := path.Dir(path.Clean(name))
	if inside != "." {
		if _, err := f.root.Stat(inside); err != nil {
			return lang.Mistake("the study asks for "+name+" in it",
				fmt.Sprintf("a folder %s beside %s, with %s in it", inside, f.said,
					path.Base(name)), "there is no folder %q", inside)
		}
	}
	if entries, err := fs.ReadDir(f.root.FS(), inside); err == nil {
		for _, e := range entries {
			if !e.IsDir() {
				names = append(names, path.Join(path.Dir(name), e.Name()))
			}
		}
	}
	// oars.csv is another register than boats.csv, however alike the two are written
	if near := table.Nearest(path.Base(name), bases(names)); near != "" &&
		strings.EqualFold(near[:1], path.Base(name)[:1]) {
		near = path.Join(inside, near)
		return lang.Mistake("the nearest in the study's folder is "+near, fmt.Sprintf("%q", near),
			"there is no file %q", name)
	}
	if inside != "." {
		return lang.Mistake("it is looked for in the folder "+inside+" beside "+f.said,
			fmt.Sprintf("copy %s into %s", path.Base(name), inside), "there is no file %q", name)
	}
	return lang.Mistake("files are looked for beside "+f.said,
		fmt.Sprintf("copy %s beside %s", path.Base(name), f.said), "there is no file %q", name)
}

// bases are the names without their folder: what the nearest one is sought in, so
// that a long folder does not make unlike names look alike.
func bases(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = path.Base(n)
	}
	return out
}

// keptFiles are files out of a record or a pack: a study that is run again
// reads these and no folder at all.
type keptFiles struct {
	files map[string][]byte
	said  string
}

// keepFiles takes the loaded and input files of a record.
func keepFiles(r *record.Run) keptFiles {
	k := keptFiles{files: map[string][]byte{}, said: r.Study}
	for i := range r.Files {
		if r.Files[i].Role != record.Study {
			k.files[r.Files[i].Path] = r.Files[i].Content()
		}
	}
	return k
}

// ReadFile gives a kept file by the name under which the run read it.
func (k keptFiles) ReadFile(name string) ([]byte, error) {
	if data, ok := k.files[name]; ok {
		return data, nil
	}
	return nil, lang.Mistake("when it was recorded the study did not read it, so the record does not hold it",
		"thole run "+k.said, "there is no file %q in the record", name)
}

// plainError gives a system's error without calls and paths.
func plainError(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err.Error()
	}
	return err.Error()
}
