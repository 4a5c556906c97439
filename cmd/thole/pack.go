package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"thole/cmd/live/engine"
	rerunning "thole/cmd/live/rerun"
	"thole/engine/record"
	"thole/engine/window"
)

// packCommand makes one file of a study to hand on.
func packCommand(tty *terminal) *cobra.Command {
	var set []string
	var o runOptions
	c := &cobra.Command{
		Use:   "pack STUDY",
		Short: "one file to hand on",
		Long: `Rows the study and makes one zip of it: the study, the files it loads and reads,
and the record of what it gave. Nothing of the machine or of you is in it. Who
gets it types thole run NAME.zip and is told whether it gives the same there.
With --live also NAME-live.html, for who has no thole: a page that holds study
and engine, whose numbers can be changed where it is read.`,
		Args: oneStudy,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check("thole pack"); err != nil {
				return err
			}
			j, err := openJob("thole pack", args[0], set)
			if err != nil {
				return err
			}
			defer j.Close()
			j.Jobs, j.Limits = o.jobs, o.limits()
			var computes *engine.Engine
			if o.live {
				e, err := tty.engine()
				if err != nil {
					return err
				}
				computes = &e
			}
			return tty.held(cmd.Context(), o, "thole pack "+quoted(args[0]), func(ctx context.Context) error {
				return tty.pack(ctx, j, set, computes)
			})
		},
	}
	c.Flags().StringArrayVar(&set, "set", nil, "a parameter of the study: `name=value`")
	c.Flags().BoolVar(&o.live, "live", false,
		"also NAME-live.html, a page whose numbers can be changed where it is read")
	o.limitFlags(c.Flags(), "stop after so many `seconds`")
	return c
}

// pack runs a job and makes its pack; with an engine the live page too.
func (tty *terminal) pack(ctx context.Context, j job, set []string, computes *engine.Engine) error {
	out, _, _ := j.run(ctx)
	if len(out.Errors) > 0 {
		return tty.wrong(out.Errors, false)
	}
	r := recordOf(out, out.Document)
	data, err := writePack(r)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return err
	}
	stem := cmp.Or(window.FileName(strings.TrimSuffix(j.Name, filepath.Ext(j.Name))), "study")
	name := stem + ".zip"
	if err := writePacked(name, data); err != nil {
		return err
	}
	holds := fmt.Sprintf("%s: the study, %s it reads, and the record of what it gave, %s",
		name, count(len(r.Files)-1, "file"), megabytes(int64(len(data))))
	said := append(tty.Wrap("", 2, holds), "type  thole run "+quoted(name))
	if computes != nil {
		out.Document.Command = rerun(j.Name, set)
		page, err := rerunning.Page(out, j.Set, computes.Loader, computes.Packed)
		if err != nil {
			return err
		}
		name = stem + "-" + liveName
		if err := writePacked(name, page); err != nil {
			return err
		}
		said = append(said, tty.Wrap("", 2, name+": the page that computes where it is read, "+
			megabytes(int64(len(page)))+"; any browser opens it, without a network")...)
	}
	return tty.Print(said...)
}

// writePacked writes a file to hand on into the current folder.
func writePacked(name string, data []byte) error {
	if err := writeFile(".", name, data); err != nil {
		return &Message{File: "thole pack", What: name + " cannot be written", Why: plainError(err),
			Type: "thole pack in a folder that can be written"}
	}
	return nil
}

// runPack runs the study in a pack, on the files in the pack and no others, and
// says whether it gives what its record holds.
func (tty *terminal) runPack(ctx context.Context, path string, o runOptions) error {
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return noStudy("thole run", path, err)
	}
	defer root.Close()
	data, err := readIn(root, filepath.Base(path))
	if err != nil {
		return noStudy("thole run", path, err)
	}
	p, err := readPack(path, data)
	if err != nil {
		return err
	}
	j := job{Study: path, Name: p.study, Text: p.text, Files: p.files}
	if j.Set, err = settings("thole run", path, o.set); err != nil {
		return err
	}
	if p.record != nil && len(o.set) == 0 {
		j.Set = recordedSettings(p.record)
	}
	return tty.runJob(ctx, j, o, p.record)
}

// sameAsRecorded tells whether a run gave what the record of its pack holds. A
// run with other parameters is another run, and nothing is said of it.
func (tty *terminal) sameAsRecorded(recorded, now *record.Run) error {
	if recorded == nil {
		return nil
	}
	same, c := givesRecorded(recorded, now)
	for _, cause := range c.Causes {
		if cause.Kind == record.OfParam {
			tty.PrintNote(tty.Wrap("", 0,
				"Set otherwise than when it was packed, so it is not held against its record.")...)
			return nil
		}
	}
	if same {
		return tty.Print("", "It gives the recorded results to the last digit.")
	}
	lines := append([]string{"", "It does not give the recorded results."},
		window.Comparison(tty.Window, c)...)
	if err := tty.Print(lines...); err != nil {
		return err
	}
	return ended(endedWrong)
}
