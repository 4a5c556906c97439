package main

// The manners of the terminal, in one place.
//
//   - Results go to stdout: texts, tables, cards, cautions, answer, help, print;
//     with --json only the JSON. Progress, messages, notes on how data were read
//     and where files lie go to stderr.
//   - The width is asked once; it is 80 where stdout is no terminal. Text wraps
//     at 100 at most.
//   - Colour never says anything alone: bold for title and Answer, red for the
//     head of an error, yellow for a caution, dim for units rows and "more"
//     lines, the series of a chart in their fixed order. None with NO_COLOR,
//     TERM=dumb or a pipe.
//   - All characters are one column wide. Where the locale is not UTF-8 they are
//     ASCII: cm2, N s/m, deg, - | + *.
//   - Whatever comes from a study or its data is cleaned of control characters,
//     so that a name cannot move the cursor or change the title of the window.
//   - Progress: nothing in the first half second, then one line, rewritten at
//     most ten times a second, then one line with the count. Where stderr is no
//     terminal, the last line only.
//   - Messages have four parts: what, where, why, what to type; no word of the
//     machinery, no apology, no exclamation mark.
//
// What is drawn within a window (cards, tables, charts) stands in files of its
// own and needs only a Window; it marks what may be coloured with style marks,
// which become colours, or nothing, when a text is written.

import (
	"io"
	"os"
	"runtime"
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"
	"golang.org/x/term"
	"golang.org/x/text/unicode/norm"
)

// mostText is the widest that running text is set.
const mostText = 100

// Window is what something is drawn in.
type Window struct {
	Width int  // columns
	Plain bool // ASCII only
}

// Manners is how this terminal is spoken to.
type Manners struct {
	Window
	Out, Err             io.Writer
	OutColour, ErrColour bool
	ErrTerminal          bool // a line on stderr can be rewritten
	OutTerminal          bool // stdout is a terminal
	Dumb                 bool // a terminal that knows no escapes
}

// askManners asks the terminal and the environment once.
func askManners(stdout, stderr *os.File) *Manners {
	m := &Manners{Window: Window{Width: 80, Plain: !utf8Locale()}, Out: stdout, Err: stderr}
	outTerminal, errTerminal := term.IsTerminal(int(stdout.Fd())), term.IsTerminal(int(stderr.Fd()))
	m.OutTerminal = outTerminal
	m.askWidth(stdout)
	dumb := os.Getenv("TERM") == "dumb" || os.Getenv("TERM") == "" && runtime.GOOS != "windows"
	m.Dumb = dumb
	colour := os.Getenv("NO_COLOR") == "" && !dumb
	m.OutColour, m.ErrColour = colour && outTerminal, colour && errTerminal
	m.ErrTerminal = errTerminal && !dumb
	return m
}

// askWidth asks how wide the window is: once, and at the prompt before each line.
func (m *Manners) askWidth(stdout *os.File) {
	if !m.OutTerminal {
		return
	}
	if width, _, err := term.GetSize(int(stdout.Fd())); err == nil && width > 0 {
		m.Width = max(width, 40)
	}
}

// utf8Locale asks the locale as programs of this kind do: the first of these
// that is set decides. Where none is, only some systems are known to be UTF-8.
func utf8Locale() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(os.Getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS == "windows" || runtime.GOOS == "darwin"
}

// A style mark opens a style up to the next styleEnd. They are characters of
// the private use area, which clean takes out of everything that comes in.
type style rune

const (
	styleEnd style = '\uE000' + iota
	bold
	red
	yellow
	dim
	series1
	series2
	series3
	series4
	series5
)

// escapes in the order of the marks; the series are Okabe and Ito's blue,
// vermillion, green, purple and black (here the terminal's own ink), in tones
// that can be read on light and dark.
var escapes = [...]string{"\x1b[0m", "\x1b[1m", "\x1b[31m", "\x1b[33m", "\x1b[2m",
	"\x1b[38;5;32m", "\x1b[38;5;166m", "\x1b[38;5;36m", "\x1b[38;5;175m", "\x1b[39m"}

// in sets a text in a style.
func (s style) in(text string) string {
	if text == "" {
		return ""
	}
	return string(rune(s)) + text + string(rune(styleEnd))
}

func isMark(c rune) bool { return c >= rune(styleEnd) && c < rune(styleEnd)+rune(len(escapes)) }

// painted turns the marks into colours, or takes them out.
func painted(text string, colour bool) string {
	var b strings.Builder
	for _, c := range text {
		switch {
		case !isMark(c):
			b.WriteRune(c)
		case colour:
			b.WriteString(escapes[c-rune(styleEnd)])
		}
	}
	return b.String()
}

// Tell writes lines to stdout.
func (m *Manners) Tell(lines ...string) error { return put(m.Out, m.OutColour, lines) }

// Mention writes lines to stderr.
func (m *Manners) Mention(lines ...string) { put(m.Err, m.ErrColour, lines) }

func put(w io.Writer, colour bool, lines []string) error {
	var b strings.Builder
	for _, line := range lines {
		b.WriteString(strings.TrimRight(painted(line, colour), " "))
		b.WriteByte('\n')
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// say cleans a text that comes from outside and puts it on one line, in the
// characters this window has.
func (w Window) say(text string) string {
	return strings.ReplaceAll(w.sayLines(text), "\n", " ")
}

// sayLines is say for a text that may have several lines.
func (w Window) sayLines(text string) string {
	text = clean(text)
	if w.Plain {
		return plainCharacters(text)
	}
	return text
}

// clean takes out what could act on a terminal: control characters but the
// line end (a tab is a blank), marks that turn the direction of writing, and
// the private use area.
func clean(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n':
			return c
		case c == '\t':
			return ' '
		case c == unicode.ReplacementChar:
			return '?'
		case unicode.IsControl(c), unicode.Is(unicode.Co, c), unicode.Is(unicode.Cf, c), c == '\u2028', c == '\u2029':
			return -1
		}
		return c
	}, text)
}

// plainWords are characters that say more in ASCII than their shape.
var plainWords = strings.NewReplacer("²", "2", "³", "3", "·", " ", "°C", "deg C", "°", "deg", "×", "x", "→", "->", "←", "<-",
	"\u2212", "-", "–", "-", "—", "-", "…", "...", "‘", "'", "’", "'", "“", `"`, "”", `"`, "\u00a0", " ", "\u202f", " ",
	"ß", "ss", "ø", "o", "Ø", "O", "æ", "ae", "Æ", "AE", "ł", "l", "Ł", "L")

// plainCharacters writes a text in ASCII: letters without their accents, and a
// question mark for what is left.
func plainCharacters(text string) string {
	ascii := true
	for i := range len(text) {
		ascii = ascii && text[i] < 0x80
	}
	if ascii {
		return text
	}
	return strings.Map(func(c rune) rune {
		switch {
		case c < 0x80, isMark(c):
			return c
		case unicode.Is(unicode.Mn, c):
			return -1
		}
		return '?'
	}, norm.NFD.String(plainWords.Replace(text)))
}

// columns counts in a way that does not depend on the locale.
var columns = &runewidth.Condition{EastAsianWidth: false, StrictEmojiNeutral: true}

// wide is how many columns a text takes.
func wide(text string) int {
	n := 0
	for _, c := range text {
		if !isMark(c) {
			n += columns.RuneWidth(c)
		}
	}
	return n
}

// left and right pad a text with blanks to that many columns.
func left(text string, width int) string  { return text + blanks(width-wide(text)) }
func right(text string, width int) string { return blanks(width-wide(text)) + text }

func blanks(n int) string { return strings.Repeat(" ", max(n, 0)) }

// cut shortens a text without marks to that many columns, with three points.
func cut(text string, width int) string {
	if wide(text) <= width {
		return text
	}
	if width <= 3 {
		return strings.Repeat(".", max(width, 0))
	}
	n := 0
	for i, c := range text {
		if n += columns.RuneWidth(c); n > width-3 {
			return strings.TrimRight(text[:i], " ") + "..."
		}
	}
	return text
}

// textWidth is how wide running text is set.
func (w Window) textWidth() int { return min(w.Width, mostText) }

// wrap sets a text in lines: the first begins with head, the others are
// indented by hang. Words longer than a line are broken.
func (w Window) wrap(head string, hang int, text string) []string {
	return wrapAt(w.textWidth(), head, hang, text)
}

func wrapAt(width int, head string, hang int, text string) []string {
	text = strings.ReplaceAll(strings.TrimSpace(text), "\n", " ")
	if wide(head)+wide(text) <= width {
		return []string{head + text} // wide gaps between its parts stay
	}
	var lines []string
	line := head
	begun := false // line holds a word of the text
	for _, word := range strings.Fields(text) {
		for {
			gap := 0
			if begun {
				gap = 1
			}
			switch room := width - wide(line) - gap; {
			case wide(word) <= room:
				line += blanks(gap) + word
				begun, word = true, ""
			case begun:
				lines = append(lines, line)
				line, begun = blanks(hang), false
				continue
			default: // a word wider than the line
				start, rest := split(word, max(room, 1))
				lines = append(lines, line+start)
				line, word = blanks(hang), rest
				if word != "" {
					continue
				}
			}
			break
		}
	}
	return append(lines, line)
}

// split cuts a word after that many columns, at least one character.
func split(word string, width int) (start, rest string) {
	n := 0
	for i, c := range word {
		if n += columns.RuneWidth(c); n > width && i > 0 {
			return word[:i], word[i:]
		}
	}
	return word, ""
}

// headLine sets a title at the left and a remark at the right edge, the remark
// on a line of its own where both do not fit.
func (w Window) headLine(title, side string) []string {
	switch {
	case side == "":
		return w.wrap("", 2, title)
	case wide(title)+2+wide(side) <= w.textWidth():
		return []string{title + blanks(w.textWidth()-wide(title)-wide(side)) + side}
	}
	return append(w.wrap("", 2, title), w.wrap("  ", 2, side)...)
}
