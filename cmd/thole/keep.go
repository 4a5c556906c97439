package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/cmd/live/engine"
	rerunning "thole/cmd/live/rerun"
	"thole/engine/chart"
	"thole/engine/document"
	"thole/engine/figure"
	"thole/engine/record"
	"thole/engine/report"
	"thole/engine/table"
	"thole/engine/window"
	"thole/engine/words"
	"thole/engine/workbook"
)

// keptFolder is where a run lies and what lies there.
type keptFolder struct {
	dir              string
	tables, pictures int
	tall             int   // tables too long for the workbook
	recorded         bool  // record and tables are written: the run is kept
	page             bool  // the page too
	live             int64 // bytes of the live page, 0: none
	note             string
	record           *record.Run
}

// lacking is what of a run is not kept.
func (k keptFolder) lacking() string {
	switch {
	case !k.recorded:
		return "this run is not kept"
	case !k.page:
		return "record and tables are kept, the page is not"
	}
	return "record, tables and page are kept, not every picture or the workbook"
}

// keep writes a run's folder: tables as CSV, what the study wrote, and the record
// that makes the run whole; then what can be made again from it, the page and the
// figures as SVG and PNG. What makes them is governed: the context and the limits
// that held the study end it. kept says how far it came.
// With an engine the live page is made too.
func keep(ctx context.Context, j job, l limits.Limits, out *session.Outcome, dir string,
	computes *engine.Engine) (
	keptFolder, error) {
	last, end := soonAfter(ctx) // tables and record are written even if the time is just over
	defer end()
	doc := out.Document
	kept := keptFolder{dir: dir}
	folder, err := session.Govern(last, l, func() (*runFolder, error) {
		r := recordOf(out, doc)
		doc.Run = runName(version, j.Name, r.Files, r.Params)
		kept.record, kept.dir = r, cmp.Or(dir, filepath.Join(runsDir, doc.Run))
		return openRunFolder(kept.dir)
	})
	if err != nil {
		return keptFolder{dir: cmp.Or(dir, runsDir)}, err
	}
	defer folder.Close()
	k := keeper{last, l, folder}

	sheets, figures, err := k.tables(doc, &kept)
	if err != nil {
		return kept, err
	}
	for _, w := range out.Written {
		if err := folder.Write(w.Name, w.Data); err != nil {
			return kept, err
		}
	}
	if late := ctx.Err(); late != nil { // nothing is planned behind the record, which is written once
		kept.note, err = k.record(kept.record)
		kept.recorded = err == nil
		return kept, errors.Join(late, err)
	}
	folder.Plan("page.html")
	if computes != nil {
		folder.Plan(liveName)
	}
	if len(sheets) > 0 {
		folder.Plan(tablesFile)
	}
	for _, f := range figures {
		for _, format := range formats {
			folder.Plan(f.name + "." + string(format))
		}
	}
	if kept.note, err = k.record(kept.record); err != nil {
		return kept, err
	}
	kept.recorded = true
	k.ctx = ctx
	if err = k.page(doc, &kept); err == nil && computes != nil {
		err = k.live(out, j.Set, computes, &kept)
	}
	if err == nil {
		err = k.workbook(sheets)
	}
	if err == nil {
		err = k.pictures(figures, &kept)
	}
	// the record names no file that is not there; if it cannot be mended the run says so all the same
	if err != nil {
		err = errors.Join(err, folder.unplan(kept.record))
	}
	return kept, err
}

// live writes the live page.
func (k keeper) live(out *session.Outcome, set map[string]string, e *engine.Engine, kept *keptFolder) error {
	return k.write(liveName, func() ([]byte, error) {
		data, err := rerunning.Page(out, set, e.Loader, e.Packed)
		kept.live = int64(len(data))
		return data, err
	})
}

// liveName is the live page's file.
const liveName = "live.html"

// engine gives what a live page carries, and says what to do where it cannot be built.
func (tty *terminal) engine() (engine.Engine, error) {
	e, err := engine.Get(func() {
		tty.PrintNote("building the engine for the page, once; it takes a minute or two")
	})
	switch {
	case errors.Is(err, engine.ErrNoToolchain):
		return e, &Message{File: "thole run", What: "the live page cannot be made here",
			Why: "its engine is built by Go, and there is no Go on this machine",
			Type: "install Go (go.dev/dl), then the same command again; without --live the page is made as " +
				"ever"}
	case errors.Is(err, engine.ErrNoSource):
		return e, &Message{File: "thole run", What: "the live page cannot be made here",
			Why:  "its engine is built from the source of thole, which is not where this program was built",
			Type: "the same command in the folder of thole's source"}
	case err != nil:
		return e, &Message{File: "thole run", What: "the engine of the live page cannot be built",
			Why: plainError(err), Type: "without --live the page is made as ever"}
	}
	return e, nil
}

// keeper makes the files of a run's folder within its limits, one at a time.
type keeper struct {
	ctx    context.Context
	limits limits.Limits
	folder *runFolder
}

// record writes the record, which makes the run whole.
func (k keeper) record(r *record.Run) (note string, err error) {
	k.folder.list(r)
	data, err := session.Govern(k.ctx, k.limits, r.Encode)
	if err != nil {
		return "", err
	}
	return k.folder.Finish(r, data)
}

// write writes what make gives, made within the limits.
func (k keeper) write(name string, make func() ([]byte, error)) error {
	data, err := session.Govern(k.ctx, k.limits, make)
	if err != nil {
		return err
	}
	return k.folder.Write(name, data)
}

// picture is a figure that is drawn for other documents, with its files' name.
type picture struct {
	name   string
	figure *document.Figure
}

// tables writes the tables shown and those behind figures, and gives them for the
// workbook, and the figures.
func (k keeper) tables(doc *document.Document, kept *keptFolder) (sheets []workbook.Page, figures []picture,
	err error) {
	names := fileNames{}
	var long []workbook.Page // too long for the workbook
	for _, b := range doc.Blocks {
		var t *table.Table
		name := ""
		switch b := b.(type) {
		case *document.Shown:
			if t = b.Table; t != nil {
				name = names.of(b.Name, t.Name, "table")
			}
		case *document.Figure:
			t, name = b.Table, names.of(b.Name, "figure")
			if figure.Drawable(b) { // a kind that only a page can show has no picture
				figures = append(figures, picture{name, b})
			}
		}
		if t == nil {
			continue
		}
		tall := t.Len()*len(t.Columns) > workbook.MostCells
		if same := slices.IndexFunc(long, func(p workbook.Page) bool {
			return slices.Equal(p.Table.Columns, t.Columns)
		}); same >= 0 { // shown and plotted: a long file once
			kept.record.LiesIn(b, long[same].Name+".csv")
			continue
		}
		if err := k.table(name, t); err != nil {
			return nil, nil, err
		}
		if kept.record.LiesIn(b, name+".csv"); tall {
			long = append(long, workbook.Page{Name: name, Table: t})
			kept.tall++
		} else {
			sheets = append(sheets, workbook.Page{Name: name, Table: t})
		}
		kept.tables++
	}
	return sheets, figures, nil
}

// tablesFile is the workbook of all of a run's tables.
const tablesFile = "tables.xlsx"

// workbook writes all tables as one workbook, which opens right wherever decimals
// stand behind a comma.
func (k keeper) workbook(sheets []workbook.Page) error {
	if len(sheets) == 0 {
		return nil
	}
	return k.write(tablesFile, func() ([]byte, error) {
		var b bytes.Buffer
		err := workbook.Write(&b, sheets)
		return b.Bytes(), err
	})
}

func (k keeper) table(name string, t *table.Table) error {
	_, err := session.Govern(k.ctx, k.limits, func() (struct{}, error) {
		return struct{}{}, k.folder.WriteFrom(name+".csv", func(w io.Writer) error {
			return table.WriteCSV(governed{k.ctx, w}, t)
		})
	})
	return err
}

// governed is a file that is written no further once its context has ended.
type governed struct {
	ctx context.Context
	to  io.Writer
}

func (g governed) Write(p []byte) (int, error) {
	if g.ctx.Err() != nil {
		return 0, context.Cause(g.ctx)
	}
	return g.to.Write(p)
}

// largePage is the size from which it is said how large a page is: it has to open
// from a stick on any phone.
const largePage = report.EasyPage

func (k keeper) page(doc *document.Document, kept *keptFolder) error {
	size := 0
	err := k.write("page.html", func() ([]byte, error) {
		var b bytes.Buffer
		err := report.WritePage(&b, doc)
		size = b.Len()
		return b.Bytes(), err
	})
	if err != nil {
		return err
	}
	kept.page = true
	if size > largePage {
		kept.note = words.Sentence(kept.note) + fmt.Sprintf("The page has %.1f MB and may open slowly on a "+
			"phone; "+
			"fewer cards and curves, or several studies, make it lighter.", float64(size)/(1<<20))
	}
	return nil
}

// formats are those of a figure's picture.
var formats = []chart.Format{chart.SVG, chart.PNG}

func (k keeper) pictures(figures []picture, kept *keptFolder) error {
	for _, f := range figures {
		for _, format := range formats {
			if err := k.write(f.name+"."+string(format), func() ([]byte, error) {
				return chart.Write(f.figure, format)
			}); err != nil {
				return err
			}
		}
		kept.pictures++
	}
	return nil
}

// fileNames gives each table and figure a file name of its own.
type fileNames map[string]bool

// of makes a file name from the first of these that gives one, with a number
// behind a name given twice.
func (n fileNames) of(names ...string) string {
	name := ""
	for _, candidate := range names {
		if name = window.FileName(candidate); name != "" {
			break
		}
	}
	free := name
	for k := 2; n[strings.ToLower(free)]; k++ {
		free = fmt.Sprintf("%s_%d", name, k)
	}
	n[strings.ToLower(free)] = true
	return free
}

// lastMoment is how long a run that was stopped may go on writing.
const lastMoment = 400 * time.Millisecond

// soonAfter gives a context that ends a moment after another.
func soonAfter(ctx context.Context) (context.Context, context.CancelFunc) {
	last, cancel := context.WithCancelCause(context.WithoutCancel(ctx))
	stop := context.AfterFunc(ctx, func() {
		time.AfterFunc(lastMoment, func() { cancel(ctx.Err()) })
	})
	return last, func() { stop(); cancel(nil) }
}

// keepPartial writes the tables a stopped computation had, without a record: an
// unfinished run.
func (tty *terminal) keepPartial(ctx context.Context, j job, out *session.Outcome, dir string) {
	if len(out.Partial) == 0 {
		return
	}
	if dir == "" {
		dir = filepath.Join(runsDir, runName(version, j.Name, recordFiles(out.Files),
			recordParams(out.Params)))
	}
	folder, err := openRunFolder(dir)
	if err != nil {
		tty.printMessage(writeFailed(dir, err))
		return
	}
	defer folder.Close()
	// the study was stopped already, and whoever stopped it waits
	moment, cancel := soonAfter(ctx)
	defer cancel()
	k := keeper{moment, limits.Default, folder}
	for i, t := range out.Partial {
		err := k.table(fmt.Sprintf(stoppedName, i+1), t)
		if moment.Err() != nil {
			tty.PrintNote(tty.Clean("what was done is too long to be written at once; the same command " +
				"goes on"))
			return
		}
		if err != nil {
			tty.printMessage(writeFailed(dir, err))
			return
		}
	}
	tty.PrintNote(tty.Clean("Kept     " +
		path.Join(filepath.ToSlash(dir), fmt.Sprintf(stoppedName, 1)+".csv") +
		", the points that were done"))
}

// notKept says what of a run is not kept, and why: a limit, a signal, or the disk.
func notKept(kept keptFolder, err error, l limits.Limits, again string) Message {
	m := stoppedBy(err, l, again)
	m.File = "thole run"
	switch {
	case m.What == "":
		m = writeFailed(kept.dir, err)
	case errors.Is(err, session.ErrFault):
		m.What = "the page or a picture went wrong inside"
		m.Type = "the same study without its last figure; and report it with the study"
	case m.Why != "":
		m.What += ", after the study was rowed"
		m.Why = "its tables, page or pictures take more"
	}
	m.Why = strings.TrimPrefix(m.Why+"; "+kept.lacking(), "; ")
	return m
}

// stoppedBy says which limit, or who, ended a piece of work, or that it went wrong
// inside; without a sentence where it was none of them.
func stoppedBy(err error, l limits.Limits, again string) Message {
	m := Message{File: strings.Join(strings.Fields(again)[:2], " "), Level: message.Stopped}
	switch {
	case errors.Is(err, limits.ErrMemory):
		m.What = fmt.Sprintf("stopped at the memory limit, %d MB", l.Heap>>20)
		m.Why = "it takes more memory than it may have"
		m.Type = fmt.Sprintf("%s --memory-limit %d", again, 2*l.Heap>>20)
	case errors.Is(err, context.DeadlineExceeded):
		m.What = fmt.Sprintf("stopped at the time limit, %g s", l.Seconds)
		m.Why = "it takes longer than it may"
		m.Type = fmt.Sprintf("%s --time-limit %g", again, 2*l.Seconds)
	case errors.Is(err, context.Canceled):
		m.What, m.Type = "stopped", again
	case errors.Is(err, session.ErrFault):
		m.Level = message.Wrong
		m.What, m.Why = "something went wrong inside", "this is a fault of thole, not of the study"
		m.Type = "report it with what was typed"
	}
	return m
}
