package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/engine/table"
	"thole/engine/workbook"
	"thole/scripts"
)

// job is a study to be run, wherever its text and files come from. Running it
// prints nothing but through its hooks.
type job struct {
	Study    string // as typed: the path, for messages and the command that reruns it
	Name     string // the file's own name
	Text     []byte
	Files    session.Files
	Set      map[string]string
	Jobs     int // 0: all cores
	Limits   limits.Limits
	Kept     session.Remember
	Share    session.Share
	Command  string
	Print    func(text string)
	Progress func(what string, p session.Step)
}

// config is what a session needs to know of a job.
func (j job) config() session.Config {
	jobs := j.Jobs
	if jobs <= 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	if f, ok := j.Files.(*studyFolder); ok {
		f.allow(j.Set)
	}
	return session.Config{
		Files: j.Files, Sheet: workbook.Sheet, Boathouse: scripts.Library, Set: j.Set, Jobs: jobs,
		Limits: j.Limits,
		Print:  j.Print, Progress: j.Progress, Kept: j.Kept, Share: j.Share,
		Version: version, Command: j.Command,
	}
}

// openJob opens a study to be run with what was typed behind --set.
func openJob(command, study string, set []string) (job, error) {
	folder, text, err := openStudy(command, study)
	if err != nil {
		return job{}, err
	}
	j := job{Study: study, Name: filepath.Base(study), Text: text, Files: folder}
	if j.Set, err = settings(command, study, set); err != nil {
		j.Close()
	}
	return j, err
}

// Close closes the study's folder, where it reads in one.
func (j job) Close() {
	if f, ok := j.Files.(*studyFolder); ok {
		f.Close()
	}
}

// openStudy opens a study and the folder it reads in. The error is a usage: the
// study named is not there.
func openStudy(command, study string) (*studyFolder, []byte, error) {
	folder, err := openStudyFolder(study)
	if err != nil {
		return nil, nil, noStudy(command, study, err)
	}
	text, err := readIn(folder.root, filepath.Base(study))
	if err != nil {
		folder.Close()
		return nil, nil, noStudy(command, study, err)
	}
	return folder, text, nil
}

// noStudy says why a study could not be opened and names the nearest there is.
func noStudy(command, study string, err error) error {
	msg := Message{Usage: true, File: command, What: fmt.Sprintf("there is no study %q", study),
		Why: "a study is a .star or .md file", Type: "thole new NAME --like sweep   for one to start on"}
	dir := filepath.Dir(study)
	var studies []string
	if entries, err := os.ReadDir(dir); err == nil {
		for _, e := range entries {
			if isStudy(e.Name()) && !strings.EqualFold(e.Name(), "README.md") {
				studies = append(studies, filepath.Join(dir, e.Name()))
			}
		}
	}
	info, statErr := os.Stat(study)
	switch {
	case statErr == nil && info.IsDir():
		msg.What = fmt.Sprintf("%q is a folder", study)
		if inside, err := filepath.Glob(filepath.Join(study, "*.star")); err == nil && len(inside) > 0 {
			msg.Type = command + " " + quoted(inside[0])
		}
	case errors.Is(err, fs.ErrPermission):
		msg.What, msg.Why, msg.Type = fmt.Sprintf("%q may not be read",
			study), "the system does not let this user read it", "chmod +r "+quoted(study)
	case errors.Is(err, errTooLong):
		msg.What, msg.Why, msg.Type = fmt.Sprintf("%q is too long for a study",
			study), fmt.Sprintf("at most %d MB are read", mostStudy>>20), command+" STUDY.star"
	case !errors.Is(err, fs.ErrNotExist):
		msg.What, msg.Why = fmt.Sprintf("%q cannot be read", study), plainError(err)
	default:
		if near := table.Nearest(study, studies); near != "" {
			msg.Why, msg.Type = "the nearest is "+near, command+" "+quoted(near)
		} else if len(studies) > 0 {
			msg.Why, msg.Type = "here are "+strings.Join(studies[:min(len(studies), 6)],
				", "), command+" "+quoted(studies[0])
		}
	}
	return &msg
}

// settings reads what was typed behind --set.
func settings(command, study string, typed []string) (map[string]string, error) {
	set := map[string]string{}
	for _, s := range typed {
		name, value, ok := strings.Cut(s, "=")
		name = strings.TrimSpace(name)
		if !ok || name == "" {
			return nil, &Message{Usage: true, File: command, What: fmt.Sprintf("--set %s has no =", s),
				Why: "a parameter is set by name=value", Type: fmt.Sprintf("%s %s --set %s=200", command,
					quoted(study),
					strings.Trim(name, "-"))}
		}
		if _, twice := set[name]; twice {
			return nil, &Message{Usage: true, File: command, What: fmt.Sprintf("%s is set twice", name),
				Why: "which of the two is meant", Type: "each name once"}
		}
		set[name] = strings.TrimSpace(value)
	}
	return set, nil
}
