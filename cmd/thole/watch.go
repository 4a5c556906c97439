package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"net"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/spf13/cobra"

	"thole/builtins/session"
	"thole/builtins/session/message"
	"thole/engine/report"
	"thole/engine/term"
)

// watch rows a study again whenever it, or a file it reads, is saved, and shows
// its page in a browser of this machine. The server is watchserver.go.

func watchCommand(tty *terminal) *cobra.Command {
	var o runOptions
	c := &cobra.Command{
		Use: "watch STUDY", Short: "row a study at every save, its page in the browser", Args: oneStudy,
		Long: "Rows a study whenever it or a file it reads is saved. The page stands at an address of " +
			"this machine only, and follows; nothing is written.",
		RunE: func(c *cobra.Command, args []string) error { return tty.watch(c.Context(), args[0], o) },
	}
	f := c.Flags()
	f.StringArrayVar(&o.set, "set", nil, "set a parameter: `name=value`, a unit may stand behind the value")
	o.limitFlags(f, "stop a run after so many `seconds`")
	return c
}

// settles is how long a file has to be left alone before it is read: editors
// save in several steps.
const settles = 150 * time.Millisecond

// watched is a study under watch.
type watched struct {
	tty    *terminal
	study  string
	o      runOptions
	server *watchServer
	files  *fsnotify.Watcher

	points *memory             // rowed since the watch began: a study changed in one place rows what is new
	read   map[string][32]byte // what the last run read, by the path of the file
	failed bool                // the last run had errors: a file may be missing
}

func (tty *terminal) watch(ctx context.Context, study string, o runOptions) error {
	if err := o.check("thole watch"); err != nil {
		return err
	}
	if strings.EqualFold(filepath.Ext(study), ".zip") {
		return wrongUsage("thole watch", "a pack is not saved again and again",
			"what is watched is a study that somebody edits", "thole run "+quoted(study))
	}
	j, err := openJob("thole watch", study, o.set) // what is wrong with the command is said now
	if err != nil {
		return err
	}
	j.Close()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return &Message{File: "thole watch", What: "no page can be shown", Why: plainError(err),
			Type: "thole run " + quoted(study)}
	}
	files, err := fsnotify.NewWatcher()
	if err == nil {
		err = files.Add(filepath.Dir(study))
	}
	if err != nil {
		listener.Close()
		return &Message{File: "thole watch", What: "the folder of " + study + " cannot be watched",
			Why: plainError(err), Type: "thole run " + quoted(study)}
	}
	defer files.Close()
	w := &watched{tty: tty, study: study, o: o, files: files, points: newMemory(),
		server: newWatchServer(listener.Addr().String())}
	go w.server.serve(listener)
	defer w.server.close()
	tty.PrintNote(fmt.Sprintf("Watching %s; its page is %s   (Ctrl-C ends)", study, w.server.address()))
	w.follow(ctx)
	return nil
}

// follow runs the study, and again after every change, until the context ends. A
// change stops a run that is under way.
func (w *watched) follow(ctx context.Context) {
	var stop context.CancelFunc = func() {}
	done := make(chan struct{})
	start := func() {
		var run context.Context
		run, stop = context.WithCancel(ctx)
		done = make(chan struct{})
		go func(done chan struct{}) {
			defer close(done)
			w.run(run)
		}(done)
	}
	start()
	calm := time.NewTimer(time.Hour)
	calm.Stop()
	for {
		select {
		case <-ctx.Done():
			stop()
			<-done
			return
		case e, ok := <-w.files.Events:
			if ok && !e.Has(fsnotify.Chmod) {
				calm.Reset(settles)
			}
		case <-w.files.Errors: // events were lost: look at the files instead
			calm.Reset(settles)
		case <-calm.C:
			stop()
			<-done
			if w.changed() {
				start()
			}
		}
	}
}

// changed says whether anything that the last run read is otherwise now. After a
// run that failed any change will do: what it lacked may have come.
func (w *watched) changed() bool {
	if w.failed {
		return true
	}
	for path, was := range w.read {
		if sumOf(path) != was {
			return true
		}
	}
	return false
}

func sumOf(path string) (sum [32]byte) {
	folder, err := openStudyFolder(path)
	if err != nil {
		return
	}
	defer folder.Close()
	data, err := readIn(folder.root, filepath.Base(path))
	if err == nil {
		sum = sha256.Sum256(data)
	}
	return
}

// run rows the study once and gives the server its page, or what is wrong.
func (w *watched) run(ctx context.Context) {
	w.read, w.failed = map[string][32]byte{}, true
	j, err := openJob("thole watch", w.study, w.o.set)
	if err != nil { // between two steps of a save: the next event will tell
		return
	}
	defer j.Close()
	j.Command = rerun(w.study, w.o.set)
	j.Print = func(text string) { w.tty.PrintNote(printed(w.tty.Window, []string{text})...) }
	j.Kept = w.points
	limited, cancel := w.o.within(ctx)
	defer cancel()
	out, line := w.tty.row(limited, j, w.o)
	w.note(out.Files)
	if ctx.Err() != nil {
		return // a later save has overtaken it
	}
	if len(out.Errors) > 0 {
		w.tty.wrong(out.Errors, false)
		w.server.showWrong(w.words(out.Errors))
		return
	}
	out.Document.Run = runName(version, j.Name, recordFiles(out.Files), recordParams(out.Params))
	page, err := session.Govern(limited, w.o.limits(), func() ([]byte, error) {
		var page bytes.Buffer
		err := report.WritePage(&page, out.Document)
		return page.Bytes(), err
	})
	if err != nil {
		if ctx.Err() == nil {
			msg := notKept(keptFolder{}, err, w.o.limits(), j.Command)
			w.tty.printMessage(msg)
			w.server.showWrong(w.words(message.Messages{&msg}))
		}
		return
	}
	w.failed = false
	w.server.show(page)
	if line == "" {
		line = "nothing to row"
	}
	w.tty.PrintNote(line + "; the page is new")
}

// note remembers what a run read, and watches the folders it read in.
func (w *watched) note(read []session.FileRead) {
	for _, f := range read {
		path := w.study
		if f.Role != "study" {
			path = filepath.Join(filepath.Dir(w.study), filepath.FromSlash(f.Name))
		}
		w.read[path] = sha256.Sum256(f.Data)
		if dir := filepath.Dir(path); dir != filepath.Dir(w.study) {
			_ = w.files.Add(dir) // a folder that cannot be watched is read at the next save all the same
		}
	}
}

// words are messages as plain text, for the banner over the page.
func (w *watched) words(errs message.Messages) string {
	banner := term.Window{Width: 96}
	var lines []string
	for _, msg := range errs {
		lines = append(lines, messageLines(banner, *msg)...)
	}
	for i := range lines {
		lines[i] = term.Paint(lines[i], false)
	}
	return strings.Join(lines, "\n")
}
