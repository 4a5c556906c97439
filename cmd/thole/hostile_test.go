//go:build unix

package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The hostile suite: studies of strangers, testdata/hostile. Each must end
// within its limits, with a sentence, and touch nothing outside.

const (
	hostileLimit = 2                // s, --time-limit of every run
	hostileGrace = 20 * time.Second // for a machine with other things to do
	// kB of address space: 4 GB that the script language sets aside for small
	// numbers and never touches, 1 GB for the study, and the program itself
	hostileMemory = (4 + 3) << 20
)

// hostileWell are those that may also end well: they only try to be slow.
var hostileWell = map[string]bool{"markdown_quotes": true, "markdown_lists": true, "join_table": true,
	"deep_equal": true, "self_list": true, "show_up": true, "show_absolute": true,
	"plot_jagged": true, "plot_up": true, "plot_long_name": true, "plot_device": true, "write_record": true}

// program gives the path of the program: this very test, which runs as thole
// where it is called so (see TestMain).
func program(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "thole")
	if err := os.Symlink(self, path); err != nil {
		t.Fatal(err)
	}
	return path
}

// ran is how a run of the program ended.
type ran struct {
	code           int
	stdout, stderr string
	took           time.Duration
}

// runProgram runs the program in a folder within an address space, and kills it
// if it does not end.
func runProgram(t *testing.T, dir string, memory int, args ...string) ran {
	t.Helper()
	path := program(t)
	ctx, cancel := context.WithTimeout(context.Background(),
		hostileLimit*time.Second+hostileGrace+10*time.Second)
	defer cancel()
	limit := ""
	if memory > 0 {
		limit = "ulimit -v " + strconv.Itoa(memory) + "; "
	}
	cmd := exec.CommandContext(ctx, "sh", append([]string{"-c", limit + `exec "$0" "$@"`, path}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8")
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	start := time.Now()
	err := cmd.Run()
	r := ran{stdout: stdout.String(), stderr: stderr.String(), took: time.Since(start)}
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		r.code = exit.ExitCode()
	} else if err != nil {
		t.Fatal(err)
	}
	return r
}

// machinery are words that no user must meet.
var machinery = regexp.MustCompile(`(?i)panic|goroutine|starlark|\.go:\d|runtime error|fatal error|SIGSEGV|stack overflow|out of memory`)

func (r ran) check(t *testing.T, wellToo bool) {
	t.Helper()
	if r.code != 1 && !(wellToo && r.code == 0) {
		t.Errorf("ended with %d; stderr:\n%s", r.code, head(r.stderr))
	}
	if r.took > hostileLimit*time.Second+hostileGrace {
		t.Errorf("took %v under a limit of %d s", r.took, hostileLimit)
	}
	if word := machinery.FindString(r.stderr + r.stdout); word != "" {
		t.Errorf("says %q:\n%s", word, head(r.stderr))
	}
	if r.code == 1 && (strings.TrimSpace(r.stderr) == "" || r.stdout != "") {
		t.Errorf("stdout %q, stderr %q", head(r.stdout), head(r.stderr))
	}
}

func head(s string) string {
	if len(s) > 1500 {
		return s[:1500] + "..."
	}
	return s
}

func TestHostileStudies(t *testing.T) {
	studies, err := filepath.Glob("../../testdata/hostile/*.star")
	if err != nil || len(studies) < 40 {
		t.Fatalf("%d hostile studies, %v", len(studies), err)
	}
	for i, study := range studies {
		name := strings.TrimSuffix(filepath.Base(study), ".star")
		if testing.Short() && i%6 != 0 {
			continue
		}
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			copyFile(t, study, filepath.Join(dir, "study.star"))
			r := runProgram(t, dir, hostileMemory, "run", "study.star", "--time-limit",
				strconv.Itoa(hostileLimit),
				"--no-cache")
			r.check(t, hostileWell[name])
			if r.code == 1 && !strings.Contains(r.stderr, "why ") {
				t.Errorf("does not say why:\n%s", head(r.stderr))
			}
		})
	}
}

const secret = "CANARY-7731"

// TestStudiesStayInside runs studies that try to get out of their folder, with a
// canary around it.
func TestStudiesStayInside(t *testing.T) {
	studies, err := filepath.Glob("../../testdata/hostile/escapes/*.star")
	if err != nil || len(studies) < 30 {
		t.Fatalf("%d escapes, %v", len(studies), err)
	}
	for _, study := range studies {
		name := strings.TrimSuffix(filepath.Base(study), ".star")
		t.Run(name, func(t *testing.T) {
			outer := t.TempDir()
			inner := filepath.Join(outer, "study")
			layCanary(t, outer, inner)
			copyFile(t, study, filepath.Join(inner, "study.star"))
			before := treeOf(t, outer, inner)
			r := runProgram(t, inner, hostileMemory, "run", "study.star", "--time-limit",
				strconv.Itoa(hostileLimit),
				"--no-cache")
			r.check(t, hostileWell[name])
			if after := treeOf(t, outer, inner); !slices.Equal(before, after) {
				t.Errorf("outside the folder %q became %q", before, after)
			}
			if stray, _ := filepath.Glob("/tmp/written_by_a_hostile_study*"); len(stray) > 0 {
				t.Errorf("wrote %q", stray)
			}
			everything := r.stdout + r.stderr + contentOf(t, filepath.Join(inner, "runs"))
			if strings.Contains(everything, secret) || strings.Contains(everything, "root:x:0") {
				t.Error("the canary got out")
			}
		})
	}
}

// layCanary lays a secret around the study's folder and ways to it inside.
func layCanary(t *testing.T, outer, inner string) {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.MkdirAll(filepath.Join(inner, "data"), 0o755))
	must(os.MkdirAll(filepath.Join(outer, "other_run"), 0o755))
	must(os.WriteFile(filepath.Join(outer, "canary.csv"),
		[]byte("secret,piece,setting,distance,time\n"+secret+",1,a,500,100\n"), 0o644))
	must(os.WriteFile(filepath.Join(outer, "canary.star"), []byte("secret = \""+secret+"\"\n"), 0o644))
	must(os.WriteFile(filepath.Join(outer, "canary.gpx"), []byte("<gpx><name>"+secret+"</name></gpx>"),
		0o644))
	must(os.WriteFile(filepath.Join(outer, "other_run", "record.json"),
		[]byte(`{"format":1,"study":"`+secret+`","params":{},"results":{},"tables":[{"name":"secret","columns":[{"name":"a","kind":"text"}],"lines":[["`+secret+`"]]}],"cautions":[],"files":[]}`), 0o644))
	must(os.Symlink("../canary.csv", filepath.Join(inner, "link.csv")))
	must(os.Symlink("../canary.star", filepath.Join(inner, "link.star")))
	must(os.Symlink("..", filepath.Join(inner, "outside")))
	must(os.Symlink(filepath.Join(outer, "canary.csv"), filepath.Join(inner, "absolute_link.csv")))
	must(os.Symlink("/dev/zero", filepath.Join(inner, "zero.csv")))
	must(syscall.Mkfifo(filepath.Join(inner, "pipe.csv"), 0o644))
}

// treeOf lists what lies outside the study's folder, with its content.
func treeOf(t *testing.T, outer, inner string) []string {
	t.Helper()
	var tree []string
	err := filepath.WalkDir(outer, func(path string, d os.DirEntry, err error) error {
		if path == inner {
			return filepath.SkipDir
		}
		if err == nil && d.Type().IsRegular() {
			content, _ := os.ReadFile(path)
			path += "=" + string(content)
		}
		tree = append(tree, path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return tree
}

func contentOf(t *testing.T, dir string) string {
	t.Helper()
	var all strings.Builder
	filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			content, _ := os.ReadFile(path)
			all.Write(content)
		}
		return nil
	})
	return all.String()
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	content, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, content, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Script in every text: the page shows it as text, a CSV cell is no formula, the
// terminal gets no control character.
func TestScriptInEveryText(t *testing.T) {
	dir := t.TempDir()
	copyFile(t, "../../testdata/hostile/script/everywhere.star", filepath.Join(dir, "study.star"))
	copyFile(t, "../../testdata/hostile/script/evil.csv", filepath.Join(dir, "evil.csv"))
	r := runProgram(t, dir, hostileMemory, "run", "study.star", "--out", "out")
	if r.code != 0 {
		t.Fatalf("ended with %d:\n%s", r.code, head(r.stderr))
	}
	if at := strings.IndexAny(r.stdout+r.stderr, "\x1b\x07\u202e"); at >= 0 {
		t.Error("a control character reached the terminal")
	}
	page, err := os.ReadFile(filepath.Join(dir, "out", "page.html"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(page, []byte("default-src 'none'")) {
		t.Error("the page has no policy")
	}
	if bytes.Contains(page, []byte("href=\"javascript")) {
		t.Error("the page holds a link that is a script")
	}
	// what stands in quotes inside a tag is text, as long as no < or > is in it
	page = regexp.MustCompile(`"[^"<>]*"`).ReplaceAll(page, []byte(`""`))
	for _, bad := range []string{`(?i)<script[^>]*>\s*alert`, `(?i)<img`, `(?i)<iframe`,
		`(?i)<svg[^>]*onload`,
		`(?i)<[a-z]+[^>]* on[a-z]+=`, `(?i)<[a-z]+[^>]* src=`} {
		if found := regexp.MustCompile(bad).Find(page); found != nil {
			t.Errorf("the page holds %s", found)
		}
	}
	files, _ := filepath.Glob(filepath.Join(dir, "out", "*.csv"))
	if len(files) < 2 {
		t.Fatalf("%d tables were written", len(files))
	}
	for _, file := range files {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		cells, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(content,
			[]byte("\xef\xbb\xbf")))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range cells {
			for _, cell := range line {
				if _, notNumber := strconv.ParseFloat(cell, 64); notNumber != nil &&
					strings.ContainsAny(cell[:min(1, len(cell))], "=+-@\t\r") {
					t.Errorf("%s: the cell %q would be a formula", filepath.Base(file), cell)
				}
			}
		}
	}
}

// Packs of strangers, through the command.
func TestHostilePacksThroughTheCommand(t *testing.T) {
	outer := t.TempDir()
	inner := filepath.Join(outer, "here")
	layCanary(t, outer, inner)
	for name, data := range map[string][]byte{
		"slip.zip": zipOf(plainStudy, entry{"../written.sh", 0, []byte("evil")}),
		"link.zip": zipOf(plainStudy, entry{"link", os.ModeSymlink, []byte("../canary.csv")}),
		"bomb.zip": zipOf(plainStudy, entry{"zeros.csv", 0, make([]byte, mostFile+1)}),
		"read.zip": zipOf(entry{"a.star", 0, []byte(`show(read_csv("../canary.csv", columns=["secret"]))`)}),
		"near.zip": zipOf(entry{"a.star", 0, []byte(`show(read_csv("link.csv", columns=["secret"]))`)}),
	} {
		if err := os.WriteFile(filepath.Join(inner, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
		before := treeOf(t, outer, inner)
		r := runProgram(t, inner, hostileMemory, "run", name, "--no-cache")
		r.check(t, false)
		if strings.Contains(r.stdout+r.stderr+contentOf(t, filepath.Join(inner, "runs")), secret) {
			t.Errorf("%s: the canary got out", name)
		}
		if after := treeOf(t, outer, inner); !slices.Equal(before, after) {
			t.Errorf("%s: outside the folder %q became %q", name, before, after)
		}
	}
}
