package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"thole/builtins"
	"thole/builtins/lang"
	"thole/engine/table"
	"thole/engine/term"
	"thole/scripts"
)

// bare is what thole says when it is asked for nothing.
func bare(root *cobra.Command) []string {
	lines := []string{"thole: what a change of rig does to a boat, before anyone fetches a spanner.", ""}
	for _, c := range [...][3]string{
		{"new", "new NAME --like sweep", "a first study: sweep, season, lesson or trial"},
		{"run", "run STUDY.star", "row it: answer here, page in runs/"},
		{"prompt", "prompt", "line by line"},
		{"help", "help", "all commands and topics"},
	} {
		for _, has := range root.Commands() {
			if has.Name() == c[0] {
				lines = append(lines, "  "+term.PadRight("thole "+c[1], 31)+c[2])
			}
		}
	}
	return lines
}

// overview lists the commands that this thole has, two in a line where they
// are short.
func overview(w term.Window, root *cobra.Command, topics []string) []string {
	has := map[string]*cobra.Command{}
	for _, c := range root.Commands() {
		has[c.Name()] = c
	}
	var lines []string
	if c := has["run"]; c != nil {
		lines = append(lines, "  run STUDY      row a study; --set name=value --out DIR --json --time-limit s")
	}
	type short struct{ name, use, what string }
	for _, pair := range [...][2]short{
		{{"check", "check STUDY", "read it, row nothing"}, {"params", "params STUDY", "what can be set"}},
		{{"watch", "watch STUDY", "row again at each save"}, {"pack", "pack STUDY", "one file to hand on"}},
		{{"prompt", "prompt", "line by line"}, {"runs", "runs", "what has been run"}},
		{{"compare", "compare A B", "two runs: cause, effect"}, {"new", "new NAME", "a study to start on"}},
		{{"reference", "reference", "every name, one page"}, {"version", "version", ""}},
		{{"gather", "gather STUDY", "join the parts of a run"}, {"store", "store", "points already rowed"}},
	} {
		line := ""
		for _, s := range pair {
			switch {
			case has[s.name] == nil:
			case line == "":
				line = "  " + term.PadRight(s.use, 15) + s.what
			default:
				line = term.PadRight(line, 47) + term.PadRight(s.use, 14) + s.what
			}
		}
		if line != "" {
			lines = append(lines, strings.TrimRight(line, " "))
		}
	}
	if len(topics) > 0 {
		lines = append(lines, w.Wrap("topics: ", 8, w.Clean(strings.Join(topics, " ")))...)
	}
	return append(lines, "type  thole help gearing")
}

func helpCommand(tty *terminal) *cobra.Command {
	return &cobra.Command{
		Use: "help [TOPIC]", Short: "commands, topics, every name of the language", Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			library := builtins.Library()
			if len(args) == 0 {
				return tty.Print(overview(tty.Window, c.Root(), topicNames(library))...)
			}
			name := strings.Join(args, " ")
			for _, sub := range c.Root().Commands() {
				if sub.Name() == name {
					return tty.Print(commandHelp(tty.Window, sub)...)
				}
			}
			name = strings.TrimSuffix(strings.TrimSuffix(name, ")"), "(")
			if text, ok := library.Help(name, tty.TextWidth()); ok {
				return tty.Print(strings.Split(strings.TrimRight(tty.CleanLines(text), "\n"), "\n")...)
			}
			if lines, ok := scripts.Help(name); ok {
				for i := range lines {
					lines[i] = tty.Clean(lines[i])
				}
				return tty.Print(lines...)
			}
			known := append(library.HelpNames(), commandNames(c.Root())...)
			why, typ := "there is help on every command, every name of the language and the topics", "thole help"
			if near := table.Nearest(name, known); near != "" {
				why, typ = "the nearest is "+near, "thole help "+near
			}
			return wrongUsage("thole help", fmt.Sprintf("there is no help on %q", name), why, typ)
		},
	}
}

// topicNames lists the pages of help that belong to no function, and the
// libraries in the language itself.
func topicNames(l *lang.Library) []string {
	var names []string
	for _, t := range l.Topics {
		names = append(names, t.Name)
	}
	return append(names, scripts.Libraries()...)
}

// commandHelp says what one command does and takes.
func commandHelp(w term.Window, c *cobra.Command) []string {
	if !c.HasParent() {
		return overview(w, c, topicNames(builtins.Library()))
	}
	lines := w.Wrap("", 2, "thole "+c.Use+": "+c.Short)
	lines = append(lines, paragraphs(w, c.Long)...)
	flag, widest := []string{}, 0
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.Name == "help" || f.Hidden {
			return
		}
		kind, _ := pflag.UnquoteUsage(f)
		if f.Value.Type() == "bool" {
			kind = ""
		}
		flag = append(flag, strings.TrimSpace("--"+f.Name+" "+kind))
		widest = max(widest, len(flag[len(flag)-1]))
	})
	k := 0
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.Name == "help" || f.Hidden {
			return
		}
		_, text := pflag.UnquoteUsage(f)
		lines = append(lines, w.Wrap("  "+term.PadRight(flag[k], widest+3), widest+5, w.Clean(text))...)
		k++
	})
	return lines
}

// paragraphs wraps a text whose paragraphs are parted by blank lines; indented
// lines are to be pasted and stay as they are.
func paragraphs(w term.Window, text string) []string {
	var lines []string
	words := ""
	end := func() {
		if words != "" {
			lines = append(lines, w.Wrap("", 0, words)...)
		}
		words = ""
	}
	for _, line := range strings.Split(text, "\n") {
		switch {
		case strings.HasPrefix(line, " "), strings.HasPrefix(line, "\t"):
			end()
			lines = append(lines, w.Clean(line))
		case strings.TrimSpace(line) == "":
			end()
		default:
			words += " " + w.Clean(line)
		}
	}
	end()
	return lines
}

func referenceCommand(tty *terminal) *cobra.Command {
	stubs := false
	c := &cobra.Command{
		Use: "reference", Short: "every name of the language, on one page", Args: nothing,
		Long: "Writes every name of the language on one page, as CommonMark; with --stubs as a Python stub file (.pyi),\n" +
			"from which editors with Python support complete names and show units.",
		RunE: func(*cobra.Command, []string) error {
			page := builtins.Library().Reference()
			if stubs {
				page = builtins.Library().Stubs()
			}
			return tty.Print(strings.Split(strings.TrimRight(tty.CleanLines(page), "\n"), "\n")...)
		},
	}
	c.Flags().BoolVar(&stubs, "stubs", false, "a .pyi file for editors, to be saved beside the studies")
	return c
}
