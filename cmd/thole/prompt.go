package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	xterm "golang.org/x/term"

	"thole/builtins"
	"thole/builtins/account"
	"thole/builtins/session"
	"thole/builtins/session/limits"
	"thole/builtins/session/message"
	"thole/builtins/session/typed"
	"thole/cmd/thole/input"
	"thole/engine/term"
	"thole/engine/window"
)

func promptCommand(tty *terminal) *cobra.Command {
	var set []string
	c := &cobra.Command{
		Use: "prompt [STUDY]", Short: "line by line",
		Long: "Lines are typed one by one, each shows its value. help() is a start, Ctrl-D leaves. " +
			"With a study its names are there.\n\n" +
			"What comes through a pipe runs without a prompt: values alone, until the first error.",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return oneStudy(c, args)
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return tty.prompt(strings.Join(args, ""), set) },
	}
	c.Flags().StringArrayVar(&set, "set", nil, "set a parameter of the study: `name=value`")
	return c
}

// prompt is a session at the terminal, or over a pipe.
type prompt struct {
	tty  *terminal
	cfg  session.Config
	live *typed.Session
	past *input.History

	study  string // that it begins with, "" for none
	text   []byte
	folder *studyFolder

	typed  bool          // by a person, who can mend a line
	editor *input.Editor // nil: the lines come without editing
	plain  *input.Plain

	progress atomic.Pointer[term.Progress]
	mu       sync.Mutex
	stop     context.CancelFunc // stops the computation that runs; nil: none

	block  string // the lines that run
	last   atomic.Pointer[lastStep]
	broken atomic.Bool     // Ctrl-C stopped something
	hinted bool            // that show has more
	said   map[string]bool // cautions told
}

// prompt opens a session and carries it to its end.
func (tty *terminal) prompt(study string, set []string) error {
	p, err := tty.openPrompt(study, set)
	if err != nil {
		return err
	}
	defer p.folder.Close()
	in := p.listen()
	if p.editor != nil {
		defer p.editor.Close()
		tty.Print("thole "+version+". help() for a start, Tab for names, Ctrl-D to leave.",
			"cm, degrees, m/s, W; wind from ahead counts up.")
	}
	defer p.watchSignals()()
	return p.carry(in)
}

// openPrompt makes a session that nothing has been typed into yet.
func (tty *terminal) openPrompt(study string, set []string) (*prompt, error) {
	p := &prompt{tty: tty, study: study}
	chosen, err := settings("thole prompt", study, set)
	if err != nil {
		return nil, err
	}
	if len(chosen) > 0 && study == "" {
		return nil, wrongUsage("thole prompt", "--set has no study to set something in",
			"parameters belong to a study", "thole prompt STUDY.star --set "+quoted(set[0]))
	}
	if p.folder, p.text, err = tty.openForPrompt(study); err != nil {
		return nil, err
	}
	p.folder.allow(chosen)
	j := job{Files: p.folder, Set: chosen, Kept: newMemory(), Print: p.print, Progress: p.step}
	p.cfg = builtins.Configure(j.config())
	p.live = typed.New(p.cfg)
	p.live.Says = p.inFewWords
	return p, nil
}

// listen finds out where the lines come from: a terminal that can edit, one that
// cannot, or no terminal.
func (p *prompt) listen() input.Source {
	p.typed = xterm.IsTerminal(int(os.Stdin.Fd()))
	if p.typed && p.tty.OutTerminal && !p.tty.Dumb {
		p.past = input.OpenHistory(input.HistoryPath())
		var err error
		if p.editor, err = input.Edit(&p.tty.Terminal, p.past, p.complete); err == nil {
			return p.editor
		}
		p.editor = nil
	}
	p.plain = input.ReadPlain(os.Stdin, p.typed)
	return p.plain
}

// carry runs the study the session begins with, then line after line.
func (p *prompt) carry(in input.Source) error {
	if p.study != "" && !p.open(filepath.Base(p.study), p.text) && !p.typed {
		return ended(endedWrong)
	}
	return p.loop(in)
}

// openForPrompt opens the folder a session reads in: the study's, else the
// current one.
func (tty *terminal) openForPrompt(study string) (*studyFolder, []byte, error) {
	if study != "" {
		return openStudy("thole prompt", study)
	}
	folder, err := openStudyFolder(filepath.Join(".", "prompt"))
	if err != nil {
		return nil, nil, &Message{File: "thole prompt", What: "this folder cannot be read",
			Why:  plainError(err),
			Type: "cd to another folder, then thole prompt"}
	}
	folder.said = "the files here"
	return folder, nil, nil
}

// loop runs block after block. A person goes on after an error; what comes
// through a pipe ends there, as the rest would stand on it.
func (p *prompt) loop(in input.Source) error {
	blocks := &input.Blocks{From: in}
	for {
		if p.editor != nil {
			p.tty.askWidth(os.Stdout) // the window may have another size now
		}
		block, err := blocks.Next()
		switch {
		case errors.Is(err, input.ErrDropped):
			continue
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return &Message{File: "thole prompt", What: "the lines cannot be read any further",
				Why: plainError(err)}
		}
		if strings.TrimSpace(block) == "" {
			continue
		}
		if p.typed && leaving(block) {
			return nil
		}
		if p.editor != nil {
			p.editor.Remember(block)
			if err := p.past.Add(block); err != nil {
				what := "the history of lines could not be kept: " + plainError(err)
				p.tty.printMessage(Message{Level: message.Remark, What: what})
			}
		}
		if msg := withoutBrackets(block); p.typed && msg != nil {
			p.tty.printMessage(*msg)
			continue
		}
		if !p.run(p.asMeant(block)) && !p.typed {
			if p.broken.Load() {
				return ended(interrupted)
			}
			return ended(endedWrong)
		}
	}
}

// leaving says whether somebody wants to go, in the words of other programs.
func leaving(block string) bool {
	switch strings.TrimRight(strings.TrimSpace(block), "()") {
	case "quit", "exit", "bye", "q", ":q":
		return true
	}
	return false
}

var (
	helpBare    = regexp.MustCompile(`^help\(\s*([A-Za-z_]\w*)\s*\)$`)
	helpWithout = regexp.MustCompile(`^help\s+([A-Za-z_][\w .]*)$`)
	questioned  = regexp.MustCompile(`^\?\s*([A-Za-z_][\w.]*)?$|^([A-Za-z_][\w.]*)\s*\?$`)
)

// asMeant reads the ways in which people ask for help elsewhere.
func (p *prompt) asMeant(block string) string {
	line := strings.TrimSpace(block)
	if found := helpBare.FindStringSubmatch(line); found != nil { // a subject or a field without its quotes
		if _, there := p.live.Lookup(found[1]); !there {
			return "help(" + quoteText(found[1]) + ")"
		}
	}
	if line == "help" {
		return "help()"
	}
	if found := helpWithout.FindStringSubmatch(line); found != nil {
		return "help(" + quoteText(strings.TrimSpace(found[1])) + ")"
	}
	if found := questioned.FindStringSubmatch(line); found != nil {
		if word := found[1] + found[2]; word != "" {
			return "help(" + quoteText(word) + ")"
		}
		return "help()"
	}
	return block
}

var wordsAlone = regexp.MustCompile(`^([a-z_]+)((?:[ ,]+[A-Za-z_][\w.]*)+)$`)

// withoutBrackets is the message to somebody who types words as in speech:
// compare now longer. nil: it is no such line.
func withoutBrackets(block string) *Message {
	found := wordsAlone.FindStringSubmatch(strings.TrimSpace(block))
	if found == nil || found[1] == "help" || builtins.Library().Record(found[1]) == nil {
		return nil
	}
	things := strings.FieldsFunc(found[2], func(c rune) bool { return c == ' ' || c == ',' })
	for _, word := range things {
		if word == "if" || word == "in" || word == "and" || word == "or" || word == "not" {
			return nil
		}
	}
	return &Message{What: "the brackets are missing",
		Why: "what a word works on stands between round brackets, with commas", Type: found[1] + "(" +
			strings.Join(things, ", ") + ")"}
}

func quoteText(text string) string { return `"` + text + `"` }

// run runs one block and shows what it gave; false where it was wrong.
func (p *prompt) run(block string) bool {
	var r *typed.Reply
	p.block = block
	p.compute(func(ctx context.Context) { r = p.live.Eval(ctx, block) })
	well := p.show(r)
	for _, asked := range account.Asked(p.cfg) {
		if well {
			well = p.answer(asked)
		}
	}
	return well
}

// open runs a study as the beginning of the session: its question and answer
// are shown, its names are there.
func (p *prompt) open(name string, text []byte) bool {
	var r *typed.Reply
	p.compute(func(ctx context.Context) { r = p.live.Open(ctx, name, text) })
	if len(r.Errors) > 0 {
		return p.show(r)
	}
	if !p.typed {
		return true
	}
	doc := r.Document
	if doc.Title != "" {
		p.tty.Print(term.Bold.In(p.tty.Clean(doc.Title)))
	}
	if doc.Answer != "" {
		p.tty.Print(window.Answer(p.tty.Window, doc.Answer)...)
	}
	p.tty.printText(name + " is here, with " + strings.Join(p.live.Names(), ", "))
	return true
}

// compute runs a piece of work that Ctrl-C can stop, and says how far it is.
func (p *prompt) compute(work func(ctx context.Context)) {
	ctx, cancel := context.WithCancel(context.Background())
	if !p.typed { // nobody is there to stop it
		ctx, cancel = context.WithTimeout(context.Background(),
			time.Duration(limits.Default.Seconds)*time.Second)
	}
	defer cancel()
	p.mu.Lock()
	p.stop = cancel
	p.mu.Unlock()
	progress := p.tty.progress()
	p.progress.Store(progress)
	p.last.Store(nil)
	work(ctx)
	p.mu.Lock()
	p.stop = nil
	p.mu.Unlock()
	progress.Done()
}

// lastStep is how far a computation came.
type lastStep struct {
	session.Step
	what string
}

// step and print are what a computation says while it runs.
func (p *prompt) step(what string, s session.Step) {
	p.last.Store(&lastStep{s, what})
	if progress := p.progress.Load(); progress != nil {
		stepsOf(progress)(what, s)
	}
}

func (p *prompt) print(text string) {
	if progress := p.progress.Load(); progress != nil {
		progress.Done()
	}
	p.tty.Print(printed(p.tty.Window, []string{text})...)
}

// watchSignals lets Ctrl-C stop the computation, or drop the lines typed so far.
// The line editor takes Ctrl-C as a key; this is for all other times.
func (p *prompt) watchSignals() (release func()) {
	signals := make(chan os.Signal, 4)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() {
		for s := range signals {
			if s != os.Interrupt {
				p.leaveNow(128 + int(syscall.SIGTERM))
			}
			p.mu.Lock()
			stop := p.stop
			p.mu.Unlock()
			switch {
			case stop != nil:
				p.broken.Store(true)
				stop()
				if p.editor != nil {
					p.editor.Drop()
				}
			case p.editor != nil: // between two lines: nothing to drop
			case p.typed:
				p.plain.Drop()
			default:
				p.leaveNow(interrupted)
			}
		}
	}()
	return func() { signal.Stop(signals) }
}

// leaveNow ends the program with the terminal as it was.
func (p *prompt) leaveNow(code int) {
	if p.editor != nil {
		p.editor.Close()
	}
	os.Exit(code)
}

// memory keeps points between the lines of one session, so that a line that was
// stopped goes on where it was.
type memory struct {
	mu     sync.Mutex
	points map[string][]byte
	bytes  int
}

// mostMemory is how many bytes of points a session keeps.
const mostMemory = 128 << 20

func newMemory() *memory { return &memory{points: map[string][]byte{}} }

func (m *memory) Awake() bool { return true }

func (m *memory) Get(key []byte) ([]byte, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	v, ok := m.points[string(key)]
	return v, ok
}

func (m *memory) Put(key, value []byte) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.bytes += len(key) + len(value); m.bytes > mostMemory {
		m.points, m.bytes = map[string][]byte{}, 0 // begins anew: simple, and never wrong
	}
	m.points[string(key)] = append([]byte(nil), value...)
}
