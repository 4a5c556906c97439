package main

import (
	"context"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/term"
	"thole/engine/words"
)

func checkCommand(tty *terminal) *cobra.Command {
	debug := false
	c := &cobra.Command{
		Use: "check STUDY...", Short: "read a study, row nothing", Args: someStudies,
		Long: "Reads a study and its data and says all that is wrong with them; nothing is rowed.",
		RunE: func(_ *cobra.Command, args []string) error { return tty.check(args, debug) },
	}
	c.Flags().BoolVar(&debug, "debug", false, "say where in the machinery an error arose")
	return c
}

// check reads studies. What it finds is its result, so it stands on stdout.
func (tty *terminal) check(studies []string, debug bool) error {
	mend := 0
	for _, study := range studies {
		folder, text, err := openStudy("thole check", study)
		if err != nil {
			return err
		}
		cfg := builtins.Configure(job{Files: folder}.config())
		found, errs := session.Check(filepath.Base(study), text, cfg)
		if len(errs) == 0 && len(found.Reads)+len(found.Loads) > 0 {
			var files []string
			if files, errs = session.CheckData(context.Background(), filepath.Base(study), text,
				cfg); len(errs) == 0 {
				found.Reads = files
			}
		}
		folder.Close()
		for _, msg := range errs {
			mend += max(len(msg.Names), 1)
			if err := tty.Print(messageLines(tty.Window, *msg)...); err != nil {
				return err
			}
			if debug && msg.Trace != "" {
				tty.PrintNote(strings.Split(term.StripControls(msg.Trace), "\n")...)
			}
		}
		if len(errs) == 0 {
			if err := tty.printText(readsWell(filepath.Base(study), found)); err != nil {
				return err
			}
		}
	}
	if mend == 0 {
		return nil
	}
	if err := tty.Print(count(mend, "thing") + " to mend; nothing was rowed."); err != nil {
		return err
	}
	return ended(endedWrong)
}

// readsWell says what a study is made of and what it will read.
func readsWell(name string, s session.Summary) string {
	var parts []string
	for _, part := range []struct {
		n    int
		noun string
		many bool // it stands in a loop or a function
	}{{len(s.Params), "parameter", false}, {s.Tables, "table", s.ManyTables}, {s.Figures, "figure",
		s.ManyFigures}, {s.Cards, "card", s.ManyCards}} {
		switch {
		case part.many:
			parts = append(parts, part.noun+"s")
		case part.n > 0:
			parts = append(parts, count(part.n, part.noun))
		}
	}
	text := name + " reads well"
	if len(parts) > 0 {
		text += ": " + strings.Join(parts, ", ")
	}
	reads := append(append([]string(nil), s.Loads...), s.Reads...)
	for _, run := range s.Runs {
		reads = append(reads, "the run "+run)
	}
	if len(reads) > 0 {
		text += "; it reads " + words.List(reads)
	}
	return text + "."
}
