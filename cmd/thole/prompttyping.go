//go:build !windows

package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/peterh/liner"

	"thole/builtins/session/source"
	"thole/engine/term"
)

// typing is a person at a terminal: lines are edited, found again and completed.
type typing struct {
	tty    *terminal
	editor *liner.State
	keys   *keys
	mark   string   // stands for a line end in a block found again
	begun  string   // lines of the block above the one that is typed, for completion
	more   []string // lines of a block found again, still to come
}

// typeAt opens the terminal for typing. The editor's own history and completion
// work on single lines: a block found again stands in one, its line ends marked.
func typeAt(tty *terminal, h *history, complete func(text string) completing) (*typing, error) {
	terminal := os.Stdin
	k, read, err := watchKeys(terminal)
	if err != nil {
		return nil, err
	}
	os.Stdin = read // where the editor reads; its modes it sets on the terminal all the same
	t := &typing{tty: tty, editor: liner.NewLiner(), keys: k, mark: "⏎"}
	if tty.ASCII {
		t.mark = "<nl>"
	}
	t.editor.SetCtrlCAborts(true)
	t.editor.SetBeep(false)
	t.editor.SetMultiLineMode(true) // a long line stays in sight
	t.editor.SetTabCompletionStyle(liner.TabPrints)
	for _, block := range h.blocks[max(len(h.blocks)-mostHistory, 0):] {
		t.Remember(block)
	}
	t.editor.SetWordCompleter(func(line string, pos int) (string, []string, string) {
		before, after := string([]rune(line)[:pos]), string([]rune(line)[pos:])
		if strings.TrimSpace(before) == "" { // no name begins here: Tab indents
			return before, []string{"    "}, after
		}
		c := complete(t.begun + before)
		if len(c.list) > 0 {
			fmt.Fprint(tty.Out, "\n")
			tty.Print(c.list...)
			// the editor clears the rows that the line took: they must not be the list's
			fmt.Fprint(tty.Out, strings.Repeat("\n", (2+term.Width(line))/tty.Width))
		}
		if c.with == "" && len(c.list) == 0 {
			return before, nil, after
		}
		return before[:len(before)-c.instead], []string{c.with}, after
	})
	fmt.Fprint(tty.Out, askForPasteMarks)
	return t, nil
}

// Close gives the terminal back as it was.
func (t *typing) Close() {
	fmt.Fprint(t.tty.Out, noPasteMarks)
	t.editor.Close()
}

// Remember puts a block among those that are found again.
func (t *typing) Remember(block string) {
	t.editor.AppendHistory(strings.ReplaceAll(strings.TrimRight(block, "\n"), "\n", t.mark))
}

func (t *typing) Next(so string) (string, error) {
	if len(t.more) > 0 {
		line := t.more[0]
		t.more = t.more[1:]
		return line, nil
	}
	sign := "> "
	if so != "" {
		sign = ". "
		if looksWhole(so) {
			if _, comes := t.keys.Peek(0); !comes {
				t.tty.PrintNote(term.Dim.In("a bracket or a text is still open: close it here, or Ctrl-C drops these lines"))
			}
		}
	}
	t.begun = so
	t.keys.Wait()
	line, err := t.editor.Prompt(sign)
	switch {
	case errors.Is(err, liner.ErrPromptAborted):
		return "", errDropped // what was typed before Ctrl-C never came here
	case errors.Is(err, io.EOF):
		fmt.Fprintln(t.tty.Out)
		return "", io.EOF
	case err != nil:
		return "", err
	}
	if lines := strings.Split(line, t.mark); len(lines) > 1 {
		line, t.more = lines[0], append(lines[1:], "")
	}
	return line, nil
}

// looksWhole says whether whoever typed this may think that it is complete,
// while a bracket or a text is open: the first time, and behind an empty line.
func looksWhole(so string) bool {
	if !source.Open(so) {
		return false
	}
	if strings.HasSuffix(so, "\n\n") {
		return true
	}
	line := strings.TrimSpace(so)
	return strings.Count(so, "\n") == 1 && !strings.ContainsAny(line[len(line)-1:], ",([{+-*/=\\") && !strings.Contains(line, `"""`)
}

func (t *typing) Peek(i int) (string, bool) {
	if i < len(t.more) {
		return t.more[i], true
	}
	return t.keys.Peek(i - len(t.more))
}

// Drop forgets what was typed ahead, as when a computation is stopped.
func (t *typing) Drop() {
	t.more = nil
	t.keys.Drop()
}
