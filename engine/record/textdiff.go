package record

import (
	"fmt"
	"strings"
)

// longText is how many lines are compared one by one; of longer texts only
// the count of unlike lines is told.
const longText = 3000

// textChanges tells how a study's text differs, remarks and blank lines aside;
// nothing if only these do.
func textChanges(before, after *File) []string {
	a, b := meaningful(before), meaningful(after)
	for len(a) > 0 && len(b) > 0 && a[0].text == b[0].text {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1].text == b[len(b)-1].text {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if len(a) == 0 && len(b) == 0 {
		return nil
	}
	if len(a) > longText || len(b) > longText {
		return []string{fmt.Sprintf("%d lines became %d", len(a), len(b))}
	}
	gone, come := unlikeLines(a, b)
	if len(gone) == 1 && len(come) == 1 {
		return []string{fmt.Sprintf("line %d: %s -> %s", come[0].number, shortened(gone[0].text),
			shortened(come[0].text))}
	}
	var lines []string
	for _, l := range come {
		lines = append(lines, fmt.Sprintf("line %d, new: %s", l.number, shortened(l.text)))
	}
	for _, l := range gone {
		lines = append(lines, fmt.Sprintf("line %d, gone: %s", l.number, shortened(l.text)))
	}
	if len(lines) > most {
		lines = append(lines[:most], fmt.Sprintf("%d more lines differ", len(lines)-most))
	}
	return lines
}

type textLine struct {
	number int
	text   string
}

// meaningful gives a file's lines without remarks, blank lines, line ends. In
// Markdown # opens a heading, which is told.
func meaningful(f *File) []textLine {
	var out []textLine
	number, told := 0, strings.HasSuffix(f.Path, ".md")
	for line := range strings.Lines(string(f.Content())) {
		number++
		line = strings.TrimRight(line, " \t\r\n")
		if t := strings.TrimSpace(line); t != "" && (told || !strings.HasPrefix(t, "#")) {
			out = append(out, textLine{number, line})
		}
	}
	return out
}

// unlikeLines gives the lines outside the longest common sequence.
func unlikeLines(a, b []textLine) (gone, come []textLine) {
	common := make([][]int32, len(a)+1) // common[i][j]: of a[i:] and b[j:]
	for i := range common {
		common[i] = make([]int32, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i].text == b[j].text {
				common[i][j] = common[i+1][j+1] + 1
			} else {
				common[i][j] = max(common[i+1][j], common[i][j+1])
			}
		}
	}
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case i < len(a) && j < len(b) && a[i].text == b[j].text:
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && common[i+1][j] >= common[i][j+1]:
			gone = append(gone, a[i])
			i++
		default:
			come = append(come, b[j])
			j++
		}
	}
	return gone, come
}

// shortened cuts a line of a study to what a reader needs to find it.
func shortened(line string) string {
	line = strings.TrimSpace(line)
	if r := []rune(line); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return line
}
