//go:build !windows

package input

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

// Editor is a person at a terminal: lines are edited, found again and completed.
type Editor struct {
	tty    *term.Terminal
	editor *liner.State
	keys   *keys
	mark   string   // stands for a line end in a block found again
	begun  string   // lines of the block above the one that is typed, for completion
	more   []string // lines of a block found again, still to come
}

// Edit opens the terminal for typing. The editor's own history and completion
// work on single lines: a block found again stands in one, its line ends marked.
func Edit(tty *term.Terminal, h *History, complete func(text string) Completion) (*Editor, error) {
	k, read, err := watchKeys(os.Stdin)
	if err != nil {
		return nil, err
	}
	os.Stdin = read // where the editor reads; its modes it sets on the terminal all the same
	e := &Editor{tty: tty, editor: liner.NewLiner(), keys: k, mark: "⏎"}
	if tty.ASCII {
		e.mark = "<nl>"
	}
	e.editor.SetCtrlCAborts(true)
	e.editor.SetBeep(false)
	e.editor.SetMultiLineMode(true) // a long line stays in sight
	e.editor.SetTabCompletionStyle(liner.TabPrints)
	for _, block := range h.blocks[max(len(h.blocks)-mostHistory, 0):] {
		e.Remember(block)
	}
	e.editor.SetWordCompleter(func(line string, pos int) (string, []string, string) {
		before, after := string([]rune(line)[:pos]), string([]rune(line)[pos:])
		if strings.TrimSpace(before) == "" { // no name begins here: Tab indents
			return before, []string{"    "}, after
		}
		c := complete(e.begun + before)
		if len(c.List) > 0 {
			fmt.Fprint(tty.Out, "\n")
			tty.Print(c.List...)
			// the editor clears the rows that the line took: they must not be the list's
			fmt.Fprint(tty.Out, strings.Repeat("\n", (2+term.Width(line))/tty.Width))
		}
		if c.With == "" && len(c.List) == 0 {
			return before, nil, after
		}
		return before[:len(before)-c.Instead], []string{c.With}, after
	})
	fmt.Fprint(tty.Out, askForPasteMarks)
	return e, nil
}

// Close gives the terminal back as it was.
func (e *Editor) Close() {
	fmt.Fprint(e.tty.Out, noPasteMarks)
	e.editor.Close()
}

// Remember puts a block among those that are found again.
func (e *Editor) Remember(block string) {
	e.editor.AppendHistory(strings.ReplaceAll(strings.TrimRight(block, "\n"), "\n", e.mark))
}

func (e *Editor) Next(so string) (string, error) {
	if len(e.more) > 0 {
		line := e.more[0]
		e.more = e.more[1:]
		return line, nil
	}
	sign := "> "
	if so != "" {
		sign = ". "
		if looksWhole(so) {
			if _, comes := e.keys.Peek(0); !comes {
				open := "a bracket or a text is still open: close it here, or Ctrl-C drops these lines"
				e.tty.PrintNote(term.Dim.In(open))
			}
		}
	}
	e.begun = so
	e.keys.Wait()
	line, err := e.editor.Prompt(sign)
	switch {
	case errors.Is(err, liner.ErrPromptAborted):
		return "", ErrDropped // what was typed before Ctrl-C never came here
	case errors.Is(err, io.EOF):
		fmt.Fprintln(e.tty.Out)
		return "", io.EOF
	case err != nil:
		return "", err
	}
	if lines := strings.Split(line, e.mark); len(lines) > 1 {
		line, e.more = lines[0], append(lines[1:], "")
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
	return strings.Count(so, "\n") == 1 && !strings.ContainsAny(line[len(line)-1:], ",([{+-*/=\\") &&
		!strings.Contains(line, `"""`)
}

func (e *Editor) Peek(i int) (string, bool) {
	if i < len(e.more) {
		return e.more[i], true
	}
	return e.keys.Peek(i - len(e.more))
}

// Drop forgets what was typed ahead, as when a computation is stopped.
func (e *Editor) Drop() {
	e.more = nil
	e.keys.Drop()
}
