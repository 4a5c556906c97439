package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"thole/engine/record"
	"thole/engine/table"
	"thole/engine/term"
)

// keptRun is a run's folder as `thole runs` lists it.
type keptRun struct {
	name   string
	made   time.Time // of the record; for the list only, nothing is told by it
	record *record.Run
	size   int64 // bytes of all its files
}

// findRuns lists the finished runs in runs/ and in the current folder, oldest
// first, and the names of those that were cut off.
func findRuns() (runs []keptRun, unfinished, broken []string, err error) {
	for _, dir := range []string{runsDir, "."} {
		entries, err := os.ReadDir(dir)
		if err != nil {
			if os.IsNotExist(err) {
				continue
			}
			return nil, nil, nil, err
		}
		for _, e := range entries {
			if !e.IsDir() || strings.HasPrefix(e.Name(), ".") {
				continue
			}
			r, info, err := readRecord(filepath.Join(dir, e.Name()))
			switch {
			case err == nil:
				runs = append(runs, keptRun{e.Name(), info.ModTime(), r,
					sizeOf(filepath.Join(dir, e.Name()))})
			case !os.IsNotExist(err):
				broken = append(broken, fmt.Sprintf("%s: its %s %s", e.Name(), record.FileName,
					plainError(err)))
			case dir == runsDir && !strings.HasSuffix(e.Name(), partsEnding):
				unfinished = append(unfinished, e.Name())
			}
		}
	}
	slices.SortStableFunc(runs, func(a, b keptRun) int {
		if d := a.made.Compare(b.made); d != 0 {
			return d
		}
		return strings.Compare(a.name, b.name)
	})
	return runs, unfinished, broken, nil
}

// sizeOf is what a run's files take, as far as they can be seen.
func sizeOf(dir string) (bytes int64) {
	filepath.WalkDir(dir, func(_ string, e fs.DirEntry, err error) error {
		if err == nil && e.Type().IsRegular() {
			if info, err := e.Info(); err == nil {
				bytes += info.Size()
			}
		}
		return nil
	})
	return bytes
}

// unlikeBefore says in one line what differs from the run of the same study before,
// and what was set in the first.
func unlikeBefore(runs []keptRun, i int) string {
	now := runs[i].record
	for k := i - 1; k >= 0; k-- {
		if runs[k].record.Study != now.Study {
			continue
		}
		var parts []string
		for _, cause := range record.Causes(record.Named{Run: runs[k].record}, record.Named{Run: now}) {
			switch cause.Kind {
			case record.OfParam:
				parts = append(parts, strings.Join(cause.Lines, ", "))
			case record.OfVersion:
				parts = append(parts, "another version of thole")
			default:
				parts = append(parts, cause.Where)
			}
		}
		if len(parts) == 0 {
			return "the same study, data and parameters as " + runs[k].name
		}
		return "unlike " + runs[k].name + ": " + strings.Join(parts, "; ")
	}
	var set []string
	for _, name := range now.Params.Names() {
		if p, _ := now.Params.Get(name); p.Set {
			set = append(set, name+"="+table.WithUnit(plainValue(p.Value), p.Unit))
		}
	}
	if len(set) == 0 {
		return ""
	}
	return "set: " + strings.Join(set, ", ")
}

// readRecord reads the record of a run's folder, or a record's file.
func readRecord(path string) (*record.Run, fs.FileInfo, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, record.FileName)
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, err
	}
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return nil, nil, err
	}
	defer root.Close()
	data, err := readIn(root, filepath.Base(path))
	if err != nil {
		return nil, nil, err
	}
	r, err := record.Decode(data)
	return r, info, err
}

// findRun reads a run by the name that was typed: a folder, a record, or a
// folder in runs/.
func findRun(typed string) (record.Named, error) {
	name := filepath.Base(filepath.Clean(typed))
	for _, path := range []string{typed, filepath.Join(runsDir, typed)} {
		r, _, err := readRecord(path)
		if err == nil {
			return record.Named{Name: name, Run: r}, nil
		}
		if !os.IsNotExist(err) {
			return record.Named{}, &Message{What: fmt.Sprintf("the record of %s cannot be read", typed),
				Why: "it " +
					strings.TrimPrefix(plainError(err), "it "),
				Type: "thole runs   for those that can"}
		}
	}
	m := &Message{What: fmt.Sprintf("there is no run %q", typed),
		Why:  "runs are looked for here and in runs/",
		Type: "thole runs"}
	runs, unfinished, _, err := findRuns()
	if err == nil {
		var names []string
		for _, r := range runs {
			names = append(names, r.name)
		}
		if slices.Contains(unfinished, typed) {
			m.What = fmt.Sprintf("run %q was cut off before its record was written", typed)
			m.Why, m.Type = "the same command goes on where it stopped", "thole run ... once more"
		} else if near := table.Nearest(typed, names); near != "" {
			m.Why, m.Type = "the nearest name is "+near, near
		}
	}
	return record.Named{}, m
}

// runsCommand lists what has been run.
func runsCommand(tty *terminal) *cobra.Command {
	return &cobra.Command{
		Use:   "runs",
		Short: "what has been run",
		Long: "Lists the runs kept here and in runs/, oldest first, with size, answer, and beneath what " +
			"differs " +
			"from the run of the same study before.",
		Args: nothing,
		RunE: func(*cobra.Command, []string) error {
			runs, unfinished, broken, err := findRuns()
			if err != nil {
				return &Message{What: "the runs cannot be listed", Why: plainError(err)}
			}
			if err := tty.Print(runList(tty.Window, runs, time.Now())...); err != nil {
				return err
			}
			tty.PrintNote(broken...)
			return tty.Print(tty.Wrap("  ", 2, runCount(len(runs), unfinished))...)
		},
	}
}

// runList sets the runs in columns; the answer is cut at the edge.
func runList(w term.Window, runs []keptRun, now time.Time) []string {
	if len(runs) == 0 {
		return nil
	}
	// names longer than this are cut, so that an answer still shows
	widestName, widestStudy := w.Width/3, w.Width/4
	cells, answers := [][]string{{"run", "study", "made", "size"}}, []string{"answer"}
	for _, r := range runs {
		study := strings.TrimSuffix(r.record.Study, filepath.Ext(r.record.Study))
		cells = append(cells, []string{term.Cut(w.Clean(r.name), widestName),
			term.Cut(w.Clean(study), widestStudy),
			madeWhen(r.made, now), megabytes(r.size)})
		answers = append(answers, w.Clean(strings.Join(strings.Fields(r.record.Answer), " ")))
	}
	lines := term.Align(cells, 2)
	var told []string
	for i, line := range lines {
		told = append(told, "  "+line+term.Cut(answers[i], max(w.Width-2-term.Width(line), 10)))
		if i == 0 {
			continue
		}
		if unlike := unlikeBefore(runs, i-1); unlike != "" {
			told = append(told, "      "+term.Cut(w.Clean(unlike), w.Width-6))
		}
	}
	return told
}

// madeWhen says when in a word or two.
func madeWhen(made, now time.Time) string {
	made = made.In(now.Location())
	midnight := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, now.Location())
	switch {
	case !made.Before(midnight.AddDate(0, 0, 1)): // the clock went back since
		return made.Format("2 Jan 2006")
	case !made.Before(midnight):
		return "today " + made.Format("15:04")
	case !made.Before(midnight.AddDate(0, 0, -1)):
		return "yesterday"
	case made.Year() == now.Year():
		return made.Format("2 Jan")
	}
	return made.Format("2 Jan 2006")
}

func runCount(n int, unfinished []string) string {
	text := "no runs here or in runs/ yet: thole run STUDY makes one"
	if n > 0 {
		text = count(n, "run") + " here and in runs/"
	}
	if len(unfinished) > 0 {
		shown := strings.Join(unfinished[:min(3, len(unfinished))], ", ")
		if len(unfinished) > 3 {
			shown += "..."
		}
		text += fmt.Sprintf("; %d unfinished, %s: the same command goes on", len(unfinished), shown)
	}
	return text
}
