//go:build unix

package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"thole/engine/term/termtest"
)

// What a run keeps: nothing is lost, whatever happens to it, and a run that
// goes on ends in the same bytes.

// sweepStudy rows flexible shafts, which take the general route: a second or so.
const sweepStudy = `title("How soft a shaft?")
me = crew(mass=84, power=380, rate=32)
def rowed(outboard, stiffness):
    return row(hull("1x"), me, oar(length=88 + outboard, inboard=88, blade="scull hatchet", stiffness=stiffness))
t = vary(rowed, outboard=steps(195, 205, 1), stiffness=steps(30, 70, 10))
show(t.only("outboard", "stiffness", "speed", "heaviness"), name="shafts")
plot(t, x="outboard", y="speed", by="stiffness", name="speed")
top = t.highest("speed")
result("outboard (cm)", top.outboard)
result("speed", top.speed)
answer("{top.outboard} with {top.stiffness}: {top.speed}.")
`

// longStudy rows long enough that its points are kept on the way, twice over: ten seconds on one core.
const longStudy = `title("How soft a shaft?")
me = crew(mass=84, power=380, rate=32)
def rowed(outboard, stiffness):
    return row(hull("1x"), me, oar(length=88 + outboard, inboard=88, blade="scull hatchet", stiffness=stiffness))
t = vary(rowed, of=["speed", "heaviness"], outboard=steps(195, 205, 0.03125), stiffness=steps(30, 69, 1))
show(t, name="shafts")
top = t.highest("speed")
answer("{top.outboard} with {top.stiffness}: {top.speed}.")
`

// runIn starts the program in a folder and waits.
func runIn(t *testing.T, program, dir string, env []string, args ...string) (stdout, stderr string,
	code int) {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir = dir
	cmd.Env = append(append(os.Environ(), "LC_ALL=C.UTF-8"), env...)
	var out, err bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &err
	if e := cmd.Run(); e != nil {
		exit, ok := e.(*exec.ExitError)
		if !ok {
			t.Fatal(e)
		}
		code = exit.ExitCode()
	}
	return out.String(), err.String(), code
}

// folderBytes reads a whole run's folder.
func folderBytes(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		content, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(content)
	}
	return files
}

func sameFolders(t *testing.T, what string, want, got map[string]string) {
	t.Helper()
	for name, content := range want {
		if got[name] != content {
			t.Errorf("%s: %s differs (%d bytes, %d wanted)", what, name, len(got[name]), len(content))
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s: %s is left over", what, name)
		}
	}
}

func layStudy(t *testing.T, text string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "shafts.star"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// The bytes of a run do not rest on cores, zone, locale or the clock of
// its files.
func TestSameBytesWhereverRun(t *testing.T) {
	thole := program(t)
	dir := layStudy(t, sweepStudy)
	run := func(out string, env []string, more ...string) map[string]string {
		_, stderr, code := runIn(t, thole, dir, env,
			append([]string{"run", "shafts.star", "--out", out}, more...)...)
		if code != 0 {
			t.Fatalf("%s ended with %d:\n%s", out, code, stderr)
		}
		return folderBytes(t, filepath.Join(dir, out))
	}
	want := run("one", nil, "--jobs", "1")
	if len(want) < 5 {
		t.Fatalf("the run left %d files", len(want))
	}
	sameFolders(t, "eight jobs", want, run("eight", nil, "--jobs", "8"))
	sameFolders(t, "another zone and locale", want,
		run("zone", []string{"TZ=Pacific/Chatham", "LC_ALL=de_DE.UTF-8", "LANG=tr_TR"}))
	past := time.Date(1999, 1, 1, 0, 0, 0, 0, time.UTC)
	files, _ := filepath.Glob(filepath.Join(dir, "*"))
	for _, f := range files {
		os.Chtimes(f, past, past)
	}
	sameFolders(t, "files of 1999", want, run("old", nil))
	sameFolders(t, "again into the same folder", want, run("old", nil))
}

// kill -9 twice on the way: the same command takes up what was kept, ends in the same bytes and
// leaves nothing else. THOLE_KILLS sets how often.
func TestKilledRunGoesOn(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	kills := 1
	if n, err := strconv.Atoi(os.Getenv("THOLE_KILLS")); err == nil {
		kills = n
	}
	thole := program(t)
	dir := layStudy(t, longStudy)
	if _, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star", "--out", "whole"); code != 0 {
		t.Fatal(stderr)
	}
	want := folderBytes(t, filepath.Join(dir, "whole"))
	if left, _ := filepath.Glob(filepath.Join(dir, "*.points")); len(left) > 0 {
		t.Errorf("a whole run leaves %q", left)
	}
	for i := range kills {
		out := "run" + strconv.Itoa(i)
		for k := range 2 {
			cmd := exec.Command(thole, "run", "shafts.star", "--out", out, "--jobs", "1")
			cmd.Dir = dir
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			for begun := time.Now(); time.Since(begun) < time.Minute; time.Sleep(20 * time.Millisecond) {
				if left, _ := filepath.Glob(filepath.Join(dir, out+"*.points")); len(left) > k {
					break
				}
			}
			time.Sleep(time.Duration(rand.Float64() * float64(time.Second) / 2))
			cmd.Process.Signal(syscall.SIGKILL)
			cmd.Wait()
			if record, err := os.ReadFile(filepath.Join(dir, out, "record.json")); err == nil &&
				string(record) != want["record.json"] {
				t.Fatalf("kill %d left half a record", i)
			}
		}
		_, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star", "--out", out)
		if code != 0 || !strings.Contains(stderr, "rowed before") {
			t.Fatalf("after kill %d it ended with %d:\n%s", i, code, stderr)
		}
		got := folderBytes(t, filepath.Join(dir, out))
		for name := range got { // what a kill left half written is hidden and named so
			if strings.HasSuffix(name, ".half") {
				delete(got, name)
			}
		}
		sameFolders(t, "after kill "+strconv.Itoa(i), want, got)
		if left, _ := filepath.Glob(filepath.Join(dir, "*.points")); len(left) > 0 {
			t.Errorf("the run that went on leaves %q", left)
		}
	}
}

// Two runs at once: neither waits, both end in the same bytes.
func TestTwoRunsAtOnce(t *testing.T) {
	thole := program(t)
	dir := layStudy(t, sweepStudy)
	var wg sync.WaitGroup
	for _, out := range []string{"a", "b"} {
		wg.Add(1)
		go func() {
			defer wg.Done()
			if _, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star", "--out", out); code != 0 {
				t.Errorf("%s ended with %d:\n%s", out, code, stderr)
			}
		}()
	}
	wg.Wait()
	want := folderBytes(t, filepath.Join(dir, "a"))
	sameFolders(t, "two at once", want, folderBytes(t, filepath.Join(dir, "b")))
}

// A long table that is shown and plotted lies in one file, which the record knows by its hash, and
// a later study is told where its lines are.
func TestLongTableIsWrittenOnce(t *testing.T) {
	thole := program(t)
	dir := layStudy(t, `title("many")
t = vary(lambda a, b: {"x (cm)": a + b, "y (cm)": a - b}, a=steps(1, 300, 1), b=steps(1, 200, 1))
show(t, name="lines")
plot(t, x="a", y="x", name="curve")
show(t.where(b=1), name="short")
answer("x")
`)
	_, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star", "--out", "long")
	if code != 0 || !strings.Contains(stderr, "1 too long for a workbook") {
		t.Fatalf("ended with %d:\n%s", code, stderr)
	}
	got := folderBytes(t, filepath.Join(dir, "long"))
	if strings.Count(got["lines.csv"], "\n") != 60_001 || got["curve.csv"] != "" || got["short.csv"] == "" {
		t.Errorf("%d bytes of lines, %d of curve", len(got["lines.csv"]), len(got["curve.csv"]))
	}
	// what the run left when it was stopped goes when it is whole
	os.WriteFile(filepath.Join(dir, "long", "stopped_1.csv"), []byte("a\n1\n"), 0o644)
	runIn(t, thole, dir, nil, "run", "shafts.star", "--out", "long")
	if _, err := os.Stat(filepath.Join(dir, "long", "stopped_1.csv")); err == nil {
		t.Error("a table of the stopped run is left beside the whole one")
	}
	sum := sha256.Sum256([]byte(got["lines.csv"]))
	if n := strings.Count(got["record.json"], hex.EncodeToString(sum[:])); n != 2 ||
		len(got["record.json"]) > 100_000 {
		t.Errorf("the record of %d bytes names the file's hash %d times, not for both",
			len(got["record.json"]), n)
	}
	os.WriteFile(filepath.Join(dir, "later.star"),
		[]byte("title(\"later\")\nshow(read_run(\"long\").table(\"lines\"))\n"), 0o644)
	_, stderr, code = runIn(t, thole, dir, nil, "run", "later.star")
	if code != 1 || !strings.Contains(stderr, "60000 lines, which lie in long/lines.csv") {
		t.Errorf("a later study ended with %d:\n%s", code, stderr)
	}
}

// A part of a sweep each, then gathered: the bytes of one run.
func TestPartsGatherToOneRun(t *testing.T) {
	thole := program(t)
	dir := layStudy(t, sweepStudy)
	if _, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star", "--out", "whole"); code != 0 {
		t.Fatal(stderr)
	}
	var wg sync.WaitGroup
	for k := 1; k <= 4; k++ {
		wg.Add(1)
		go func() {
			defer wg.Done()
			part := strconv.Itoa(k) + "/4"
			stdout, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star", "--part", part)
			if code != 0 || stdout != "" || !strings.Contains(stderr, "part "+strconv.Itoa(k)+" of 4") {
				t.Errorf("part %s ended with %d: %q\n%s", part, code, stdout, stderr)
			}
		}()
	}
	wg.Wait()
	_, stderr, code := runIn(t, thole, dir, nil, "gather", "shafts.star", "--out", "gathered")
	if code != 0 || !strings.Contains(stderr, "4 of 4 parts are here") ||
		!strings.Contains(stderr, "55 of them rowed before") {
		t.Errorf("gather ended with %d:\n%s", code, stderr)
	}
	sameFolders(t, "gathered", folderBytes(t, filepath.Join(dir, "whole")),
		folderBytes(t, filepath.Join(dir, "gathered")))

	// a part that got lost is rowed again and said to be missing
	os.Remove(filepath.Join(dir, "runs", "shafts.parts", "part-3-of-4.points"))
	_, stderr, code = runIn(t, thole, dir, nil, "gather", "shafts.star", "--out", "again")
	if code != 0 || !strings.Contains(stderr, "3 of 4 parts are here; missing: 3") {
		t.Errorf("gather without part 3 ended with %d:\n%s", code, stderr)
	}
	sameFolders(t, "gathered without part 3", folderBytes(t, filepath.Join(dir, "whole")),
		folderBytes(t, filepath.Join(dir, "again")))
}

// A full disk: a clear sentence, no half-written file, and the results are told.
func TestFullDisk(t *testing.T) {
	dir := layStudy(t, sweepStudy)
	small := filepath.Join(dir, "small")
	os.Mkdir(small, 0o755)
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=32k", "tmpfs",
		small).CombinedOutput(); err != nil {
		t.Skipf("no small disk to be had here: %s", out)
	}
	defer exec.Command("umount", small).Run()
	thole := program(t)
	stdout, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star",
		"--out", filepath.Join(small, "out"))
	if code != 1 || !strings.Contains(stderr, "the disk is full") || !strings.Contains(stdout, "Answer") {
		t.Errorf("ended with %d:\n%s%s", code, stdout, stderr)
	}
	if _, err := os.Stat(filepath.Join(small, "out", "record.json")); err == nil {
		t.Error("a record was written on a full disk")
	}
	half, _ := filepath.Glob(filepath.Join(small, "out", ".*.half"))
	if len(half) > 0 {
		t.Errorf("half-written files are left: %q", half)
	}
}

// A folder that may only be read: the answer is told, and what is missing.
func TestReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write everywhere")
	}
	dir := layStudy(t, sweepStudy)
	thole := program(t)
	os.Chmod(dir, 0o555)
	defer os.Chmod(dir, 0o755)
	stdout, stderr, code := runIn(t, thole, dir, nil, "run", "shafts.star")
	if code != 1 || !strings.Contains(stdout, "Answer") || !strings.Contains(stderr, "may only be read") ||
		!strings.Contains(stderr, "this run is not kept") {
		t.Errorf("ended with %d:\n%s%s", code, stdout, stderr)
	}
}

// The season's two years as the README of the example tells them.
func TestSeasonInItsSecondYear(t *testing.T) {
	thole := program(t)
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../examples/season")); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"run", "study.star", "--set", "season=2025", "--out", "last_year"},
		{"run", "study.star", "--set", "last_run=last_year", "--out", "this_year"},
	} {
		if _, stderr, code := runIn(t, thole, dir, nil, args...); code != 0 {
			t.Fatalf("%v ended with %d:\n%s", args, code, stderr)
		}
	}
	stdout, stderr, code := runIn(t, thole, dir, nil, "compare", "last_year", "this_year")
	if code != 1 {
		t.Errorf("compare ended with %d:\n%s", code, stderr)
	}
	for _, want := range []string{"2025/oars.csv -> 2026/oars.csv, line 3, set B: length 288 -> 284 cm",
		"All of it comes from the data", "Teal: off 0 -> -3.2 %"} {
		if !strings.Contains(strings.Join(strings.Fields(stdout), " "), want) {
			t.Errorf("%q is not in\n%s", want, stdout)
		}
	}
	golden := "../../examples/season/comparison.txt"
	if *termtest.Update {
		os.WriteFile(golden, []byte(stdout), 0o644)
	}
	if want, err := os.ReadFile(golden); err != nil || string(want) != stdout {
		t.Errorf("examples/season/comparison.txt differs (go test ./cmd/thole -run Season -update writes "+
			"it anew): %v\n%s", err, stdout)
	}
	if _, _, code = runIn(t, thole, dir, nil, "compare", "this_year", "this_year"); code != 0 {
		t.Errorf("a run beside itself ended with %d", code)
	}

	// last year's run as an earlier version left it: its data are run again, and
	// what the version did is told apart from what the data did
	old, err := os.ReadFile(filepath.Join(dir, "last_year", "record.json"))
	if err != nil {
		t.Fatal(err)
	}
	old = bytes.Replace(old, []byte(`"version": "`+version+`"`), []byte(`"version": "0.1"`), 1)
	old = bytes.Replace(old, []byte(`"value": 222.`), []byte(`"value": 223.`), 1)
	os.Mkdir(filepath.Join(dir, "earlier"), 0o755)
	os.WriteFile(filepath.Join(dir, "earlier", "record.json"), old, 0o644)
	stdout, stderr, code = runIn(t, thole, dir, nil, "compare", "earlier", "this_year")
	for _, want := range []string{"thole 0.1 -> " + version + ": the earlier run's data under " + version +
		" move 1 of 15 results, most Teal heaviness: -1.0 N·s/m", "by_version",
		"It comes partly from the data, partly from the new version"} {
		if !strings.Contains(strings.Join(strings.Fields(stdout), " "), want) {
			t.Errorf("%q is not in (%d)\n%s%s", want, code, stdout, stderr)
		}
	}

	// handed on: the pack gives the same elsewhere, and says so
	if _, stderr, code := runIn(t, thole, dir, nil, "pack", "study.star"); code != 0 {
		t.Fatal(stderr)
	}
	elsewhere := t.TempDir()
	copyFile(t, filepath.Join(dir, "study.zip"), filepath.Join(elsewhere, "study.zip"))
	stdout, stderr, code = runIn(t, thole, elsewhere, nil, "run", "study.zip")
	if code != 0 || !strings.Contains(stdout, "It gives the recorded results to the last digit.") {
		t.Errorf("the pack ended with %d:\n%s%s", code, stdout, stderr)
	}
	entries, _ := os.ReadDir(elsewhere)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if !slices.Equal(names, []string{"runs", "study.zip"}) {
		t.Errorf("running the pack left %q", names)
	}
}
