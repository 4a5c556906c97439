package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"thole/builtins/session"

	"github.com/spf13/cobra"

	"thole/engine"
	"thole/engine/document"
	"thole/engine/record"
	"thole/engine/report"
	"thole/engine/table"
	"thole/engine/window"
)

// compareCommand tells two runs apart: the cause first, then the effect.
func compareCommand(tty *terminal) *cobra.Command {
	var tolerances []string
	var asJSON bool
	var page string
	var o runOptions
	c := &cobra.Command{
		Use:   "compare RUN RUN",
		Short: "two runs: cause, effect",
		Long: `Names what differs between two runs: first the cause (data, parameters, study,
version), then the effect on results and tables. Where the version changed, the
earlier data are run again under it, so that the two parts can be told apart.
Ends with 1 if a result differs by more than its tolerance.`,
		Example: `  thole compare last_year this_year --tolerance "Herons heaviness=1"`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 2 {
				return nil
			}
			what := fmt.Sprintf("%d runs are named", len(args))
			if len(args) == 1 {
				what = "1 run is named"
			}
			return wrongUsage("thole compare", what, "two runs are compared, the earlier one first",
				"thole compare last_year this_year")
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check("thole compare"); err != nil {
				return err
			}
			again := "thole compare " + quoted(args[0]) + " " + quoted(args[1])
			return tty.held(cmd.Context(), o, again, func(ctx context.Context) error {
				return tty.compare(ctx, args, tolerances, page, asJSON, o)
			})
		},
	}
	c.Flags().StringArrayVar(&tolerances, "tolerance", nil,
		"how far a result or column may move, in its own unit: `NAME=X`")
	c.Flags().BoolVar(&asJSON, "json", false, "the comparison as JSON on stdout")
	c.Flags().StringVar(&page, "page", "", "write the comparison as a page to this `FILE`")
	o.limitFlags(c.Flags(), "stop after so many `seconds`")
	return c
}

// compare compares two runs, and tells it.
func (tty *terminal) compare(ctx context.Context, names, tolerances []string, page string, asJSON bool,
	limits runOptions) error {
	before, err := findRun(names[0])
	if err != nil {
		return err
	}
	after, err := findRun(names[1])
	if err != nil {
		return err
	}
	tolerance, err := readTolerances(tolerances, before.Run, after.Run)
	if err != nil {
		return err
	}
	o := record.Options{Tolerance: tolerance}
	o.Rerun, o.WhyNot = earlierUnderLater(ctx, before.Run, after.Run, limits)
	comparison := record.Compare(before, after, o)
	if err := ctx.Err(); err != nil { // what was stopped is not told as if it were whole
		return err
	}
	if page != "" {
		if err := comparisonPage(comparison, page); err != nil {
			return err
		}
	}
	if err := tty.tellComparison(comparison, asJSON); err != nil {
		return err
	}
	if page != "" {
		tty.PrintNote("Page     " + page)
	}
	if comparison.Differ {
		return ended(endedWrong)
	}
	return nil
}

// earlierUnderLater runs the earlier run's inputs under this version, where
// this version is the later run's and another than the earlier run's.
func earlierUnderLater(ctx context.Context, before, after *record.Run, o runOptions) (*record.Run, string) {
	if before.Version == after.Version && before.Engine == after.Engine {
		return nil, ""
	}
	if after.Engine != engine.Fingerprint() || after.Version != version {
		return nil, fmt.Sprintf("the later run is of thole %s, this is another", after.Version)
	}
	out, err := rerunRecord(ctx, before, o)
	if err != nil {
		return nil, "the earlier run does not run under this version: " + err.Error()
	}
	return recordOf(out, out.Document), ""
}

// readTolerances reads NAME=X; a name that is neither a result nor a column is
// wrong usage.
func readTolerances(typed []string, before, after *record.Run) (map[string]float64, error) {
	tolerance := map[string]float64{}
	for _, t := range typed {
		cutAt := strings.LastIndex(t, "=")
		if cutAt < 1 {
			return nil, wrongUsage("thole compare", fmt.Sprintf("--tolerance %s has no =", t),
				"a tolerance is a name and a number", `--tolerance "speed=0.01"`)
		}
		name := strings.TrimSpace(t[:cutAt])
		x, err := strconv.ParseFloat(strings.TrimSpace(t[cutAt+1:]), 64)
		if err != nil || math.IsNaN(x) || x < 0 {
			return nil, wrongUsage("thole compare", fmt.Sprintf("%q is no tolerance", t[cutAt+1:]),
				"a tolerance is a number in the result's own unit, not below 0",
				fmt.Sprintf(`--tolerance "%s=0.01"`, name))
		}
		known := namesIn(before, after)
		if !known[name] {
			names := slices.Sorted(maps.Keys(known)) // of two names equally near the same one, always
			why := "it is neither a result nor a column of the two runs"
			if near := table.Nearest(name, names); near != "" {
				return nil, wrongUsage("thole compare", fmt.Sprintf("there is no result %q", name),
					why+"; the nearest is "+near,
					fmt.Sprintf(`--tolerance "%s=%s"`, near, strings.TrimSpace(t[cutAt+1:])))
			}
			return nil, wrongUsage("thole compare", fmt.Sprintf("there is no result %q", name), why,
				"thole compare "+"RUN RUN   for their names")
		}
		tolerance[name] = x
	}
	return tolerance, nil
}

func namesIn(records ...*record.Run) map[string]bool {
	names := map[string]bool{}
	for _, r := range records {
		for _, n := range r.Results.Names() {
			names[n] = true
		}
		for _, t := range r.Tables {
			for _, c := range t.Columns {
				names[c.Name] = true
			}
		}
	}
	return names
}

// tellComparison writes the comparison to stdout.
func (tty *terminal) tellComparison(c *record.Comparison, asJSON bool) error {
	if asJSON {
		e := json.NewEncoder(tty.Out)
		e.SetEscapeHTML(false)
		e.SetIndent("", " ")
		return e.Encode(c)
	}
	return tty.Print(window.Comparison(tty.Window, c)...)
}

// comparisonPage writes the comparison as a page.
func comparisonPage(c *record.Comparison, path string) error {
	d := c.Document()
	d.Version, d.Command = version, "thole compare "+c.Before+" "+c.After
	var page strings.Builder
	if err := report.WritePage(&page, d); err != nil {
		return err
	}
	if err := writeFile(filepath.Dir(path), filepath.Base(path), []byte(page.String())); err != nil {
		return &Message{What: path + " cannot be written", Why: plainError(err),
			Type: "--page FILE in a folder that can be written"}
	}
	return nil
}

// exactly writes a number so that it reads back to its last bit.
func exactly(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// rerunRecord runs a recorded study again under this version, on the inputs as they
// were recorded: no folder is read.
func rerunRecord(ctx context.Context, old *record.Run, o runOptions) (*session.Outcome, error) {
	var study *record.File
	for i := range old.Files {
		if old.Files[i].Role == record.Study {
			study = &old.Files[i]
		}
	}
	if study == nil {
		return nil, errors.New("its record holds no study")
	}
	out, _, _ := job{Study: study.Path, Name: study.Path, Text: study.Content(), Files: keepFiles(old),
		Set: recordedSettings(old), Jobs: o.jobs, Limits: o.limits()}.run(ctx)
	if len(out.Errors) > 0 {
		return out, fmt.Errorf("%s", out.Errors[0].Head())
	}
	return out, nil
}

// recordedSettings gives a record's parameters as --set would.
func recordedSettings(r *record.Run) map[string]string {
	set := map[string]string{}
	for _, name := range r.Params.Names() {
		p, _ := r.Params.Get(name)
		if !p.Set {
			continue
		}
		switch v := p.Value.(type) {
		case float64:
			set[name] = table.WithUnit(exactly(v), p.Unit)
		case string:
			set[name] = v
		case bool:
			set[name] = truth[v]
		}
	}
	return set
}

// recordOf makes the record of what a session gave.
func recordOf(out *session.Outcome, doc *document.Document) *record.Run {
	r := record.Of(doc, recordParams(out.Params), recordFiles(out.Files))
	r.Seeds = out.Seeds
	return r
}

// givesRecorded says whether a run again gave what the record holds: results,
// tables, answer, cautions.
func givesRecorded(old, again *record.Run) (same bool, c *record.Comparison) {
	c = record.Compare(record.Named{Name: "recorded", Run: old}, record.Named{Name: "now", Run: again},
		record.Options{WhyNot: "this is that version"})
	return !c.Differ && len(c.Tables) == 0 && c.Answers == nil, c
}
