package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"thole/builtins"
	"thole/builtins/session"
	"thole/engine/rounding"
	"thole/engine/table"
	"thole/engine/term"
)

func paramsCommand(tty *terminal) *cobra.Command {
	return &cobra.Command{
		Use: "params STUDY...", Short: "what can be set in a study", Args: someStudies,
		Long: "Lists the parameters of studies, with their values as written, units and bounds.\n" +
			"The studies are not run.",
		RunE: func(_ *cobra.Command, args []string) error { return tty.params(args) },
	}
}

// studyParams is one study's parameters, as cells.
type studyParams struct {
	name  string
	cells [][]string // name, value, unit or kind, bounds, help
}

func (tty *terminal) params(studies []string) error {
	var all []studyParams
	example := ""
	for _, study := range studies {
		folder, text, err := openStudy("thole params", study)
		if err != nil {
			return err
		}
		decls, errs := session.Params(filepath.Base(study), text,
			builtins.Configure(job{Files: folder}.config()))
		folder.Close()
		if len(errs) > 0 {
			return tty.wrong(errs, false)
		}
		p := studyParams{name: study}
		for _, d := range decls {
			p.cells = append(p.cells, []string{tty.Clean(d.Name), tty.Clean(paramValue(d.Default)),
				tty.Clean(unitOrKind(d)), tty.Clean(bounds(d)), d.Help})
			if example == "" {
				example = "thole run " + quoted(study) + " --set " + quoted(d.Name+"="+exampleValue(d))
			}
		}
		all = append(all, p)
	}
	lines := paramList(tty.Window, all)
	if example != "" {
		lines = append(lines, "type  "+tty.Clean(example))
	}
	return tty.Print(lines...)
}

// paramList sets the parameters of all studies in the same columns, what they are
// for behind them.
func paramList(w term.Window, all []studyParams) []string {
	var cells [][]string
	for _, p := range all {
		for _, row := range p.cells {
			cells = append(cells, row[:4])
		}
	}
	heads := term.Align(cells, 3)
	var lines []string
	for _, p := range all {
		lines = append(lines, w.Clean(p.name))
		if len(p.cells) == 0 {
			lines = append(lines, "  nothing can be set")
		}
		for _, row := range p.cells {
			head, help := "  "+heads[0], row[4]
			heads = heads[1:]
			if help != "" && w.TextWidth()-term.Width(head) >= 16 {
				lines = append(lines, w.Wrap(head, term.Width(head), help)...)
				continue
			}
			lines = append(lines, strings.TrimRight(head, " "))
			if help != "" {
				lines = append(lines, w.Wrap("    ", 4, help)...)
			}
		}
	}
	return lines
}

// truth is how the language writes it.
var truth = map[bool]string{true: "True", false: "False"}

func paramValue(v any) string {
	switch v := v.(type) {
	case float64:
		return table.FourFigures(v)
	case string:
		if v == "" {
			return "(empty)"
		}
		return v
	case bool:
		return truth[v]
	}
	return fmt.Sprint(v)
}

func unitOrKind(d session.ParamDecl) string {
	if d.Unit != "" {
		return d.Unit
	}
	switch d.Default.(type) {
	case string:
		return "text"
	case bool:
		return "True or False"
	}
	return ""
}

// bounds says what a parameter may be.
func bounds(d session.ParamDecl) string {
	switch {
	case len(d.Choices) > 0:
		var choices []string
		for _, c := range d.Choices {
			choices = append(choices, paramValue(c))
		}
		return strings.Join(choices, ", ")
	case d.HasLow && d.HasHigh:
		return table.FourFigures(d.Low) + " to " + table.FourFigures(d.High)
	case d.HasLow:
		return table.FourFigures(d.Low) + " or more"
	case d.HasHigh:
		return "up to " + table.FourFigures(d.High)
	}
	return ""
}

// exampleValue is a value that can be set and is not the one that stands
// there: between it and the further bound.
func exampleValue(d session.ParamDecl) string {
	x, isNumber := d.Default.(float64)
	switch {
	case len(d.Choices) > 1:
		for _, c := range d.Choices {
			if c != d.Default {
				return paramValue(c)
			}
		}
	case isNumber && d.HasLow && d.HasHigh && d.High > d.Low:
		end := d.High
		if x-d.Low >= d.High-x {
			end = d.Low
		}
		return roundBetween(x, end)
	}
	if b, ok := d.Default.(bool); ok {
		return paramValue(!b)
	}
	if d.Default == "" {
		return "" // "(empty)" is how it is shown, not how it is typed
	}
	return paramValue(d.Default)
}

// roundBetween is a short number about a third of the way from x to end.
func roundBetween(x, end float64) string {
	at := x + (end-x)/3
	for digits := -3; digits < 6; digits++ {
		r := at
		if digits >= 0 {
			r = rounding.Decimals(at, digits)
		} else {
			step := []float64{10, 100, 1000}[-digits-1]
			r = rounding.Decimals(at/step, 0) * step
		}
		if r != x && (r-x)*(end-x) > 0 && (end-r)*(end-x) >= 0 {
			return table.FourFigures(r)
		}
	}
	return table.FourFigures(end)
}
