package main

import (
	"context"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"thole/builtins"
	"thole/builtins/account"
	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/cmd/live/engine"
	"thole/engine/record"
	"thole/engine/table"
	"thole/engine/term"
	"thole/engine/window"
)

// runOptions are what can be said behind `thole run STUDY`.
type runOptions struct {
	set     []string
	out     string
	json    bool
	noCache bool
	jobs    int
	limit   float64 // s
	memory  int     // MB that a study may hold
	debug   bool
	part    string // "2/4": only this part of every sweep
	parts   string // folder of the parts that are gathered; "": none
	live    bool   // also the page that computes where it is read
}

func runCommand(tty *terminal) *cobra.Command {
	var o runOptions
	c := &cobra.Command{
		Use: "run STUDY", Short: "row a study", Args: oneStudy,
		Long: `Rows a study: the answer here, the page and all tables and figures in runs/.
A long run that was stopped goes on where it was when the same command is typed again:
until it is whole, its strokes lie in a file (.points) beside its folder.`,
		RunE: func(c *cobra.Command, args []string) error { return tty.run(c.Context(), args[0], o) },
	}
	f := c.Flags()
	f.StringArrayVar(&o.set, "set", nil, "set a parameter: `name=value`, a unit may stand behind the value")
	o.resultFlags(f)
	f.BoolVar(&o.noCache, "no-cache", false,
		"row every stroke anew, also those of a run that was stopped, and keep none on the way")
	f.BoolVar(&o.live, "live", false, "also live.html, a page whose numbers can be changed where it is read")
	o.limitFlags(f, "stop after so many `seconds`; what is done is kept")
	f.StringVar(&o.part, "part", "", "row only this part of every sweep, `K/N`; gather joins the parts")
	f.BoolVar(&o.debug, "debug", false, "say where in the machinery an error arose")
	return c
}

// resultFlags say what becomes of the results.
func (o *runOptions) resultFlags(f *pflag.FlagSet) {
	f.StringVar(&o.out, "out", "", "the run's folder, a `DIR`, instead of one in runs/")
	f.BoolVar(&o.json, "json", false, "results as JSON in full precision, and nothing else on stdout")
}

// limitFlags are what a run may take of the machine; stops says what the limit of
// time does.
func (o *runOptions) limitFlags(f *pflag.FlagSet, stops string) {
	f.IntVar(&o.jobs, "jobs", 0, "how many `cores` row at the same time (all of them)")
	f.Float64Var(&o.limit, "time-limit", limits.Default.Seconds, stops)
	f.IntVar(&o.memory, "memory-limit", int(limits.Default.Heap>>20),
		"stop when the study holds more than so many `MB`")
}

// check asks for limits that leave something to run with.
func (o runOptions) check(command string) error {
	if o.limit > 0 && o.jobs >= 0 && o.memory > 0 {
		return nil
	}
	return wrongUsage(command, "--time-limit, --memory-limit and --jobs are more than nothing", "",
		"--time-limit 120 --jobs 2")
}

// limits are those of the options, as a session takes them.
func (o runOptions) limits() limits.Limits {
	return limits.Limits{Seconds: o.limit, Heap: uint64(o.memory) << 20}
}

// run rows a study, a pack of one, or one part of its sweeps.
func (tty *terminal) run(ctx context.Context, study string, o runOptions) error {
	if err := o.check("thole run"); err != nil {
		return err
	}
	switch {
	case strings.EqualFold(filepath.Ext(study), ".zip"):
		return tty.runPack(ctx, study, o)
	case o.part != "":
		return tty.runPart(ctx, study, o)
	}
	j, err := openJob("thole run", study, o.set)
	if err != nil {
		return err
	}
	defer j.Close()
	return tty.runJob(ctx, j, o, nil)
}

// runJob runs a job, tells what it told, keeps it, and compares it with what
// was recorded, where something was.
func (tty *terminal) runJob(ctx context.Context, j job, o runOptions, recorded *record.Run) error {
	var computes *engine.Engine
	if o.live {
		e, err := tty.engine()
		if err != nil {
			return err
		}
		computes = &e
	}
	var prints []string
	j.Command = rerun(j.Study, o.set)
	j.Print = func(text string) { prints = append(prints, text) }
	limited, cancel := o.within(ctx)
	defer cancel()
	whole := false
	finish := tty.keepPoints(&j, o)
	defer func() { finish(whole) }()
	out, count := tty.row(limited, j, o)

	tty.remarks(out)
	if count != "" {
		tty.PrintNote(count)
	}
	if len(out.Errors) > 0 {
		// a wrong run leaves stdout empty, but what it printed helps to mend it
		tty.PrintNote(printed(tty.Window, prints)...)
		code := tty.wrong(out.Errors, o.debug)
		if out.Stopped {
			tty.keepPartial(limited, j, out, o.out)
			if ctx.Err() != nil {
				code = ended(interrupted)
			}
		}
		return code
	}

	kept, keepErr := keep(limited, j, o.limits(), out, o.out, computes)
	if _, err := session.Govern(limited, o.limits(), func() (any, error) {
		return nil, tty.results(out, prints, o.json)
	}); err != nil {
		if keepErr == nil && limited.Err() == nil && !errors.Is(err, limits.ErrMemory) {
			return err
		}
		keepErr = errors.Join(keepErr, err)
	}
	if kept.page {
		tty.PrintNote(lies(tty.Window, kept, out, j.Study)...)
	}
	whole = keepErr == nil
	if !whole {
		tty.printMessage(notKept(kept, keepErr, o.limits(), j.Command))
		if ctx.Err() != nil {
			return ended(interrupted)
		}
		return ended(endedWrong)
	}
	return tty.held(ctx, o, j.Command, func(context.Context) error {
		return tty.sameAsRecorded(recorded, kept.record)
	})
}

// held does what a command does but run a study, within the options' time and
// memory, and says what ended it; again is the command as it was typed.
func (tty *terminal) held(ctx context.Context, o runOptions, again string,
	work func(ctx context.Context) error) error {
	limited, cancel := o.within(ctx)
	defer cancel()
	_, err := session.Govern(limited, o.limits(), func() (any, error) { return nil, work(limited) })
	m := stoppedBy(err, o.limits(), again)
	switch {
	case m.What == "":
		return err
	case ctx.Err() != nil:
		tty.printMessage(m)
		return ended(interrupted)
	}
	return &m
}

// within gives the context that ends with the limit of time.
func (o runOptions) within(ctx context.Context) (context.Context, context.CancelFunc) {
	return context.WithTimeout(ctx, time.Duration(o.limit*float64(time.Second)))
}

// row runs a job, with a line of progress; the context ends it (within). It gives
// the line that counts the strokes, "" where none was rowed.
func (tty *terminal) row(ctx context.Context, j job, o runOptions) (out *session.Outcome, count string) {
	progress := tty.progress()
	defer progress.Done()
	j.Jobs, j.Limits, j.Progress = o.jobs, o.limits(), stepsOf(progress)
	out, rowed, before := j.run(ctx)
	return out, counted(rowed, before, progress.Seconds())
}

// run runs the study; the context's end stops it. It counts the strokes, and those of
// them that were rowed before.
func (j job) run(ctx context.Context) (out *session.Outcome, rowed, before int) {
	cfg := builtins.Configure(j.config())
	out = builtins.Run(ctx, j.Name, j.Text, cfg)
	rowed, before = account.Rowed(cfg)
	return out, rowed, before
}

// stepsOf tells a progress line what the session gives.
func stepsOf(p *term.Progress) func(string, session.Step) {
	return func(what string, s session.Step) {
		noun := ""
		if what == "rowing" {
			noun = "strokes"
		}
		p.At(what, s.Done, s.Of, noun)
	}
}

// remarks tells how data were read, and where cautions arose that say what to
// type instead; the sentence itself stands among what the study told.
func (tty *terminal) remarks(out *session.Outcome) {
	for k := 0; k < len(out.Remarks); k++ {
		msg := *out.Remarks[k]
		for k+1 < len(out.Remarks) && sameFile(&msg, out.Remarks[k+1]) {
			k++
			msg.What += "; " + out.Remarks[k].What
		}
		tty.printMessage(msg)
	}
	for _, msg := range out.Cautions {
		if msg.Type != "" {
			tty.printMessage(*msg)
		}
	}
}

// sameFile says whether two notes are on the same file as a whole, and can be
// told as one.
func sameFile(a, b *Message) bool {
	return a.File != "" && a.File == b.File && a.Line == 0 && b.Line == 0 && a.Why+a.Type+b.Why+b.Type == ""
}

// wrong tells all that is wrong and gives how the command ends.
func (tty *terminal) wrong(errs message.Messages, debug bool) error {
	code := endedWrong
	for _, msg := range errs {
		tty.printMessage(*msg)
		if debug && msg.Trace != "" {
			tty.PrintNote(strings.Split(term.StripControls(msg.Trace), "\n")...)
		}
		if msg.Usage {
			code = notUnderstood
		}
	}
	return ended(code)
}

// results puts what a run told on stdout: what it printed, then the document;
// or the JSON, with what it printed on stderr.
func (tty *terminal) results(out *session.Outcome, prints []string, asJSONOnly bool) error {
	if !asJSONOnly {
		return tty.Print(window.Apart(printed(tty.Window, prints), window.Told(tty.Window, out.Document))...)
	}
	tty.PrintNote(printed(tty.Window, prints)...)
	return record.WriteResults(tty.Out, out.Document, recordParams(out.Params))
}

func printed(w term.Window, prints []string) []string {
	var lines []string
	for _, text := range prints {
		lines = append(lines, strings.Split(w.CleanLines(text), "\n")...)
	}
	return lines
}

// lies says where a run lies and how to run it again.
func lies(w term.Window, kept keptFolder, out *session.Outcome, study string) []string {
	var beside []string
	if kept.tables > 0 {
		also := " (.csv, all in tables.xlsx)"
		if kept.tall > 0 {
			also = fmt.Sprintf(" (.csv; %d too long for a workbook)", kept.tall)
		}
		beside = append(beside, count(kept.tables, "table")+also)
	}
	if kept.pictures > 0 {
		beside = append(beside, count(kept.pictures, "figure")+" (.svg .png)")
	}
	if n := len(out.Document.Results); n > 0 {
		beside = append(beside, count(n, "result"))
	}
	lines := []string{w.Clean("Page     " + path.Join(filepath.ToSlash(kept.dir), "page.html"))}
	if kept.live > 0 {
		lines = append(lines, w.Clean("Live     "+path.Join(filepath.ToSlash(kept.dir),
			liveName)+", "+megabytes(kept.live)+
			", to be sent: it computes in the browser, without a network"))
	}
	if len(beside) > 0 {
		lines = append(lines, w.Clean("Also     "+strings.Join(beside, ", ")+", beside it"))
	}
	if kept.note != "" {
		lines = append(lines, w.Wrap("Note     ", 9, kept.note)...)
	}
	var again []string
	for _, p := range out.Params {
		if p.Set {
			again = append(again, p.Name+"="+plainValue(p.Value))
		}
	}
	return append(lines, w.Clean("Again    "+rerun(study, again)))
}

func plainValue(v any) string {
	if x, ok := v.(float64); ok {
		return table.FourFigures(x)
	}
	return fmt.Sprint(v)
}

// rerun is the command that runs a study again. A study outside the current
// folder is named by its file alone: where it lay is nobody's business.
func rerun(study string, set []string) string {
	if filepath.IsAbs(study) {
		study = filepath.Base(study)
	}
	command := "thole run " + quoted(filepath.ToSlash(study))
	for _, s := range set {
		command += " --set " + quoted(s)
	}
	return command
}

// counted is the line that stands when a run is over: how many strokes, how long they took, and
// how many of them a run before or a part had rowed. "" where there was none.
func counted(rowed, before int, seconds float64) string {
	if rowed == 0 {
		return ""
	}
	took := table.Fixed(seconds, 1) + " s"
	if seconds < 0.1 {
		took = "under 0.1 s"
	}
	if before > 0 {
		return fmt.Sprintf("%s in %s, %d of them rowed before", count(rowed, "stroke"), took, before)
	}
	return count(rowed, "stroke") + " rowed in " + took
}

func megabytes(bytes int64) string {
	if bytes < 1<<20 {
		return fmt.Sprintf("%d kB", (bytes+1023)>>10)
	}
	return fmt.Sprintf("%d MB", (bytes+1<<19)>>20)
}
