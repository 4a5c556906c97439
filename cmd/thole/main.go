// Command thole rows studies of a rig: what an oar, a blade or a spread does to
// speed and load, before anyone fetches a spanner.
//
// One file for each command. What the machine is asked about the terminal stands
// in terminal.go; what is set in its window, in engine/term and engine/window.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"thole/engine/table"
)

// How a command ends.
const (
	endedWell     = 0
	endedWrong    = 1   // study or data wrong, or results differ
	notUnderstood = 2   // the command itself was not understood
	interrupted   = 130 // Ctrl-C
)

// ended is a command that has said all it had to say.
type ended int

func (e ended) Error() string { return fmt.Sprintf("ended with %d", int(e)) }

// wrongUsage is a command that was not understood.
func wrongUsage(command, what, why, typ string) error {
	return &Message{Usage: true, File: command, What: what, Why: why, Type: typ}
}

func main() {
	// In a sweep of a million points most of the memory is the table. At Go's own 100 as much
	// again would be held in garbage; at 50 half of that, for three per cent of the time.
	debug.SetGCPercent(50)
	os.Exit(thole(os.Args[1:]))
}

// thole carries out a command line and gives its exit code.
func thole(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program at once

	tty := askTerminal(os.Stdout, os.Stderr)
	root := commands(tty)
	root.SetArgs(args)
	begun := false
	root.PersistentPreRun = func(*cobra.Command, []string) { begun = true }
	called, err := root.ExecuteContextC(ctx)

	var code ended
	var msg *Message
	switch {
	case err == nil:
		return endedWell
	case errors.As(err, &code):
		return int(code)
	case errors.As(err, &msg):
	case !begun:
		wrong := flagsNotUnderstood(called, err)
		msg = &wrong
	default:
		msg = &Message{File: called.CommandPath(), What: err.Error()}
	}
	tty.printMessage(*msg)
	return codeOf(msg)
}

// codeOf is how a command ends over a message.
func codeOf(msg *Message) int {
	if msg.Usage {
		return notUnderstood
	}
	return endedWrong
}

// commands is the tree of commands.
func commands(tty *terminal) *cobra.Command {
	root := &cobra.Command{
		Use: "thole", SilenceErrors: true, SilenceUsage: true,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return noCommand(c, args[0])
			}
			return tty.Print(bare)
		},
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpFunc(func(c *cobra.Command, _ []string) { tty.Print(commandHelp(tty.Window, c)...) })
	root.SetHelpCommand(helpCommand(tty))
	root.AddCommand(
		runCommand(tty), checkCommand(tty), paramsCommand(tty), newCommand(tty), referenceCommand(tty),
		versionCommand(tty), runsCommand(tty), compareCommand(tty), packCommand(tty),
		gatherCommand(tty), watchCommand(tty), promptCommand(tty),
	)
	return root
}

// noCommand says which command is nearest; a study's file is most likely to be
// run.
func noCommand(root *cobra.Command, word string) error {
	msg := &Message{Usage: true, File: "thole", What: fmt.Sprintf("there is no command %q", word),
		Why: "the commands are " + strings.Join(commandNames(root), ", "), Type: "thole help"}
	if isStudy(word) {
		msg.Why, msg.Type = "a study is run by its name", "thole run "+word
	} else if near := table.Nearest(word, commandNames(root)); near != "" {
		msg.Type = "thole " + near
	}
	return msg
}

func commandNames(root *cobra.Command) []string {
	var names []string
	for _, c := range root.Commands() {
		if !c.Hidden {
			names = append(names, c.Name())
		}
	}
	return names
}

// flagsNotUnderstood says in our words what is wrong with flags.
func flagsNotUnderstood(c *cobra.Command, err error) Message {
	msg := Message{Usage: true, File: c.CommandPath(), What: err.Error(), Type: "thole help"}
	if c.HasParent() {
		msg.Type = c.CommandPath() + " --help"
	}
	var unknown *pflag.NotExistError
	var without *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		var names []string
		for _, f := range flagsOf(c) {
			names = append(names, "--"+f.Name)
		}
		msg.What = "there is no --" + unknown.GetSpecifiedName()
		msg.Why = "it takes " + strings.Join(names, " ")
		if len(names) == 0 {
			msg.Why = "it takes no options"
		}
		if near := table.Nearest("--"+unknown.GetSpecifiedName(), names); near != "" {
			msg.Type = near
		}
	case errors.As(err, &without):
		msg.What = "--" + without.GetSpecifiedName() + " wants a value"
		msg.Why, msg.Type = flagUse(c, without.GetFlag())
	case errors.As(err, &invalid):
		msg.What = fmt.Sprintf("--%s cannot be %q", invalid.GetFlag().Name, invalid.GetValue())
		msg.Why, msg.Type = flagUse(c, invalid.GetFlag())
	}
	return msg
}

// flagsOf lists the flags of a command but --help, by name.
func flagsOf(c *cobra.Command) []*pflag.Flag {
	var flags []*pflag.Flag
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.Name != "help" && !f.Hidden {
			flags = append(flags, f)
		}
	})
	return flags
}

// flagUse says what a flag is for and how it is written.
func flagUse(c *cobra.Command, f *pflag.Flag) (why, typ string) {
	if f == nil {
		return "", c.CommandPath() + " --help"
	}
	kind, text := pflag.UnquoteUsage(f)
	return text, strings.TrimSpace("--" + f.Name + " " + exampleOf[kind])
}

// exampleOf gives an example for each kind of flag's value.
var exampleOf = map[string]string{"name=value": "area_now=800", "DIR": "my_run", "seconds": "120",
	"cores": "2", "count": "2", "K/N": "1/4", "kind": "sweep"}

// oneStudy asks for exactly one study.
func oneStudy(c *cobra.Command, args []string) error {
	if len(args) == 1 {
		return nil
	}
	msg := &Message{Usage: true, File: c.CommandPath(), What: "which study?", Why: "one study is named",
		Type: c.CommandPath() + " STUDY.star"}
	if len(args) > 1 {
		msg.What = fmt.Sprintf("%d studies are named", len(args))
		msg.Type = c.CommandPath() + " " + quoted(args[0])
		msg.Why = c.Name() + " takes one study at a time"
	}
	return msg
}

// someStudies asks for one study or more.
func someStudies(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return oneStudy(c, args)
	}
	return nil
}

// nothing takes no arguments.
func nothing(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return wrongUsage(c.CommandPath(),
		fmt.Sprintf("%s takes nothing behind it, but here is %q", c.Name(), args[0]), "", c.CommandPath())
}

// isStudy says whether a name looks like a study's.
func isStudy(name string) bool {
	return slices.ContainsFunc([]string{".star", ".md", ".zip"},
		func(end string) bool { return strings.HasSuffix(strings.ToLower(name), end) })
}

// quoted writes an argument so that a shell takes it as one word.
func quoted(arg string) string {
	if arg != "" && !strings.ContainsAny(arg, " \t\n'\"\\$`!*?[]{}()<>|&;#~=²³·°") {
		return arg
	}
	name, value, ok := strings.Cut(arg, "=")
	if ok && value != "" && quoted(name) == name && quoted(value) == value {
		return arg
	}
	return "'" + strings.ReplaceAll(arg, "'", `'\''`) + "'"
}
