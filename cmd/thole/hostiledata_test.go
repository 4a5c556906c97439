//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Data of strangers that are too large to lie in the repository: each is made
// here, read by a study, and must end within the limits with a sentence.
func TestHostileData(t *testing.T) {
	const csv = `show(read_csv("data.csv", columns=["a", "b (-)"]))`
	const track = `show(read_track("data.gpx"))`
	mega := func(s string, megabytes int) string { return strings.Repeat(s, megabytes<<20/len(s)) }
	for _, c := range []struct {
		name, study, file string
		data              func() string
		well              bool // may also be read
	}{
		{"one cell of 60 MB", csv, "data.csv", func() string { return "a,b\n" + mega("x", 60) + ",1\n" },
			false},
		{"a file of 70 MB", csv, "data.csv", func() string { return "a,b\n" + mega("x,1\n", 70) }, false},
		{"fourteen million lines", csv, "data.csv", func() string { return "a,b\n" + mega("x,1\n", 56) },
			false},
		{"blank lines", csv, "data.csv", func() string { return "a,b\n" + mega("\n", 60) }, true},
		{"a million columns", csv, "data.csv", func() string {
			return "a,b" + strings.Repeat(",c", 1000000) + "\nx,1" + strings.Repeat(",2", 1000000) + "\n"
		}, true},
		{"a quote that never closes", csv, "data.csv", func() string { return "a,b\n\"" + mega("x,1\n", 60) },
			false},
		{"quotes and quotes", csv, "data.csv", func() string { return "a,b\n" + mega(`"""",1`+"\n", 30) },
			false},
		{"nothing but separators", csv, "data.csv", func() string { return mega(",", 40) }, false},
		{"not a text", csv, "data.csv", func() string { return mega("\x00\xff\xfe\x01", 20) }, false},
		{"a number of a million digits", csv, "data.csv",
			func() string { return "a,b\nx," + mega("9", 1) + "\n" },
			true},
		{"a track nested without end", track, "data.gpx", func() string { return mega("<gpx>", 50) }, false},
		{"a track with entities of entities", track, "data.gpx", func() string { return laughs() }, false},
		{"a track of one element", track, "data.gpx",
			func() string { return "<gpx><trk><name>" + mega("x", 60) },
			false},
		{"a track of attributes", track, "data.gpx",
			func() string { return "<gpx " + mega(`a="b" `, 30) + ">" },
			false},
		{"a watch file of noise", `show(read_track("data.fit"))`, "data.fit", func() string {
			return "\x0e\x10\x00\x00\x00\x00\x00\x03.FIT\x00\x00" + mega("\x40\x00\x01\xff\xff\xff", 20)
		}, false},
		{"a trial of noise", `show(judge(read_trial("data.csv"), a="a", b="b").difference)`, "data.csv",
			func() string {
				return "piece,setting,distance,time\n" + mega("1,a,500,100\n", 40)
			}, false},
		{"a record nested without end", `show(read_run("run").table("a"))`, "run/record.json",
			func() string { return `{"format":1,"tables":` + mega("[", 50) }, false},
		{"a record of a million tables", `show(read_run("run").table("a"))`, "run/record.json",
			func() string {
				return `{"format":1,"tables":[` +
					strings.TrimSuffix(mega(`{"name":"b","columns":[],"lines":[]},`, 40), ",") + `]}`
			}, false},
		{"a loaded file of 60 MB", `load("data.star", "x")` + "\nshow(x)", "data.star",
			func() string { return mega("x = 1\n", 60) }, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if testing.Short() {
				t.Skip("each writes tens of megabytes")
			}
			dir := t.TempDir()
			os.MkdirAll(filepath.Join(dir, filepath.Dir(c.file)), 0o755)
			if err := os.WriteFile(filepath.Join(dir, c.file), []byte(c.data()), 0o644); err != nil {
				t.Fatal(err)
			}
			os.WriteFile(filepath.Join(dir, "study.star"), []byte(c.study+"\n"), 0o644)
			r := runProgram(t, dir, hostileMemory, "run", "study.star", "--time-limit",
				strconv.Itoa(hostileLimit),
				"--no-cache")
			r.check(t, c.well)
			if len(r.stderr) > 4000 {
				t.Errorf("a message of %d characters:\n%s", len(r.stderr), head(r.stderr))
			}
		})
	}
}

// laughs is XML whose entities name entities, a billion times in the end.
func laughs() string {
	var b strings.Builder
	b.WriteString("<?xml version=\"1.0\"?>\n<!DOCTYPE gpx [\n<!ENTITY a0 \"ha\">\n")
	for i := range 9 {
		n := strconv.Itoa(i)
		b.WriteString("<!ENTITY a" + strconv.Itoa(i+1) + " \"" + strings.Repeat("&a"+n+";", 10) + "\">\n")
	}
	b.WriteString("<!ENTITY file SYSTEM " +
		"\"file:///etc/passwd\">\n]>\n<gpx><trk><name>&a9;&file;</name></trk></gpx>\n")
	return b.String()
}

// A study that is itself a bomb.
func TestHostileTexts(t *testing.T) {
	for name, text := range map[string]string{
		"long":     strings.Repeat("x = 1\n", 8<<20),
		"one":      "answer(\"" + strings.Repeat("x", 40<<20) + "\")\n",
		"bytes":    strings.Repeat("\x00\x01\xff", 1<<20),
		"empty":    "",
		"blank":    strings.Repeat("\n", 1<<20),
		"remarks":  strings.Repeat("# nothing\n", 1<<20),
		"prose.md": "# title\n\n" + strings.Repeat("```starlark\nnote(\"x\")\n```\n", 1<<16),
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			file := "study.star"
			if strings.HasSuffix(name, ".md") {
				file = "study.md"
			}
			if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			r := runProgram(t, dir, hostileMemory, "run", file, "--time-limit", strconv.Itoa(hostileLimit),
				"--no-cache")
			if r.code == 2 { // wrong usage: a file that is too long to be a study
				r.code = 1
			}
			r.check(t, false)
		})
	}
}
