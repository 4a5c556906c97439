package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"thole/builtins"
	"thole/engine/term"
	"thole/scripts"
)

// bare is what thole says when it is asked for nothing.
const bare = `thole: what a change of rig does to a boat, before anyone fetches a spanner.

  thole new NAME --like sweep    a first study: sweep, season, lesson or trial
  thole run STUDY.star           row it: answer here, page in runs/
  thole prompt                   line by line
  thole help                     all commands and topics`

// commandList is all commands; a test holds it to those there are.
const commandList = `  run STUDY      row a study; --set name=value --out DIR --json --time-limit s
  check STUDY    read it, row nothing          params STUDY  what can be set
  watch STUDY    row again at each save        pack STUDY    one file to hand on
  prompt         line by line                  runs          what has been run
  compare A B    two runs: cause, effect       new NAME      a study to start on
  reference      every name, one page          version
  gather STUDY   join the parts of a run`

// overview lists the commands and the topics of help.
func overview(w term.Window) []string {
	lines := append(strings.Split(commandList, "\n"), w.Wrap("topics: ", 8,
		strings.Join(topicNames(), " "))...)
	return append(lines, "type  thole help gearing")
}

func helpCommand(tty *terminal) *cobra.Command {
	return &cobra.Command{
		Use: "help [TOPIC]", Short: "commands, topics, every name of the language", Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			library := builtins.Library()
			if len(args) == 0 {
				return tty.Print(overview(tty.Window)...)
			}
			name := strings.Join(args, " ")
			for _, sub := range c.Root().Commands() {
				if sub.Name() == name {
					return tty.Print(commandHelp(tty.Window, sub)...)
				}
			}
			name = strings.TrimSuffix(strings.TrimSuffix(name, ")"), "(")
			if text, ok := library.Help(name, tty.TextWidth()); ok {
				return tty.Print(linesOf(tty.Window, text)...)
			}
			if lines, ok := scripts.Help(name); ok {
				return tty.Print(linesOf(tty.Window, strings.Join(lines, "\n"))...)
			}
			why, typ := "there is help on every command, every name of the language and the topics",
				"thole help"
			if near := builtins.NearestHelp(name, commandNames(c.Root())...); near != "" {
				why, typ = "the nearest is "+near, "thole help "+quotedIfWords(near)
			}
			return wrongUsage("thole help", fmt.Sprintf("there is no help on %q", name), why, typ)
		},
	}
}

// quotedIfWords sets a name of several words into quotes, as a shell wants it.
func quotedIfWords(name string) string {
	if strings.Contains(name, " ") {
		return `"` + name + `"`
	}
	return name
}

// topicNames lists the pages of help that belong to no function, and the
// libraries in the language itself.
func topicNames() []string {
	var names []string
	for _, t := range builtins.Library().Topics {
		names = append(names, t.Name)
	}
	return append(names, scripts.Libraries()...)
}

// commandHelp says what one command does and takes.
func commandHelp(w term.Window, c *cobra.Command) []string {
	if !c.HasParent() {
		return overview(w)
	}
	lines := w.Wrap("", 2, "thole "+c.Use+": "+c.Short)
	lines = append(lines, paragraphs(w, c.Long)...)
	var names [][]string
	var texts []string
	for _, f := range flagsOf(c) {
		kind, text := pflag.UnquoteUsage(f)
		if f.Value.Type() == "bool" {
			kind = ""
		}
		names, texts = append(names, []string{strings.TrimSpace("--" + f.Name + " " + kind)}),
			append(texts, text)
	}
	for i, name := range term.Align(names, 3) {
		lines = append(lines, w.Wrap("  "+name, term.Width(name)+2, texts[i])...)
	}
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
		Long: "Writes every name of the language on one page, as CommonMark; " +
			"with --stubs as a Python stub file (.pyi),\n" +
			"from which editors with Python support complete names and show units.",
		RunE: func(*cobra.Command, []string) error {
			page := builtins.ReferencePage()
			if stubs {
				page = builtins.Library().Stubs()
			}
			return tty.Print(linesOf(tty.Window, page)...)
		},
	}
	c.Flags().BoolVar(&stubs, "stubs", false, "a .pyi file for editors, to be saved beside the studies")
	return c
}
