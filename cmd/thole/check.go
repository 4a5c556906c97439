package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/term"
	"thole/engine/words"
)

func checkCommand(tty *terminal) *cobra.Command {
	debug, rename := false, false
	c := &cobra.Command{
		Use: "check STUDY...", Short: "read a study, row nothing", Args: someStudies,
		Long: "Reads a study and its data and says all that is wrong with them; nothing is rowed.",
		RunE: func(_ *cobra.Command, args []string) error {
			if rename {
				for _, study := range args {
					if err := tty.rename(study); err != nil {
						return err
					}
				}
			}
			return tty.check(args, debug)
		},
	}
	c.Flags().BoolVar(&rename, "rename", false,
		"first write the names of older versions anew; the file as it "+
			"was stays beside it")
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

// asItWas ends the name under which a study renamed stays beside the new one.
const asItWas = ".before"

// rename writes a study's file with the names of today, and says each. A text that cannot be
// read is left to the check that follows.
func (tty *terminal) rename(study string) error {
	folder, text, err := openStudy("thole check", study)
	if err != nil {
		return err
	}
	defer folder.Close()
	name := filepath.Base(study)
	anew, err := session.Rename(name, text, builtins.Configure(job{Files: folder}.config()))
	if err != nil {
		return nil
	}
	for _, left := range anew.Left {
		if err := tty.printText(fmt.Sprintf("%s, line %d, is left to you: %s", name, left.Line,
			left.Said)); err != nil {
			return err
		}
	}
	if len(anew.Changes) == 0 {
		return tty.printText(name + " has no old name that can be written anew; it stays as it is.")
	}
	if err := writeNew(study+asItWas, text); err != nil { // the old text first: it lies under one of the two
		why := "the folder cannot be written in"
		if errors.Is(err, fs.ErrExist) {
			why = name + asItWas + " is there already; move it away"
		}
		return wrongUsage("thole check", name+" stays as it is", why, "thole check --rename "+quoted(study))
	}
	if err := os.WriteFile(study, anew.Text, 0o644); err != nil {
		return wrongUsage("thole check", name+" cannot be written", "as it was: "+name+asItWas,
			"thole check --rename "+quoted(study))
	}
	for _, c := range anew.Changes {
		if err := tty.printText(fmt.Sprintf("%s, line %d: %s", name, c.Line, c.Said)); err != nil {
			return err
		}
	}
	return tty.printText(words.Capital(count(len(anew.Changes), "name")) + " written anew; as it was: " +
		name + asItWas + ".")
}
