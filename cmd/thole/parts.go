package main

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"thole/builtins/session"
	"thole/engine/checkpoint"
)

// A sweep that outgrows one machine is rowed in parts: `--part K/N` rows every
// N-th point of each vary into a file of points, `gather` runs the study with
// the points of all parts at hand. Points are pure, so the result has the same
// bytes as one run; a part that is missing only costs its time again.

const partsEnding = ".parts"

// readPart reads "2/4".
func readPart(typed string) (session.Share, error) {
	k, n, ok := strings.Cut(typed, "/")
	share := session.Share{}
	var errK, errN error
	share.K, errK = strconv.Atoi(k)
	share.N, errN = strconv.Atoi(n)
	if !ok || errK != nil || errN != nil || share.N < 1 || share.K < 1 || share.K > share.N ||
		share.N > 100000 {
		return session.Share{}, wrongUsage("thole run", fmt.Sprintf("%q is no part", typed),
			"a part is K/N: the K-th of N, from 1", "--part 2/4")
	}
	return share, nil
}

// partsDir is where the parts of a study lie: under --out, else in runs/.
func partsDir(study, out string) string {
	if out != "" {
		return out
	}
	return pointsBase(study, "") + partsEnding
}

func partName(s session.Share) string { return fmt.Sprintf("part-%d-of-%d", s.K, s.N) }

// partFile is a file of points of a part: the second is of a task that was begun again.
var partFile = regexp.MustCompile(`^part-(\d+)-of-(\d+)(\.\d+)?\.points$`)

// partDone says what a part came to. A study usually ends early in a part,
// since what it goes on with is in the other parts; only one that rowed nothing
// is wrong.
func partDone(s session.Share, dir string, p *checkpoint.Points, out *session.Outcome) (line string,
	wrong bool) {
	found, put := p.Counts()
	line = fmt.Sprintf("part %d of %d: %s rowed", s.K, s.N, count(put, "stroke"))
	if found > 0 {
		line += fmt.Sprintf(", %d there before", found)
	}
	line += fmt.Sprintf(", in %s", filepath.Join(dir, partName(s)+".points"))
	return line, found+put == 0 && len(out.Errors) > 0
}

// gathered says which parts lie in a folder and which are missing.
func gathered(dir string) (lines []string, err error) {
	entries, _ := os.ReadDir(dir) // a folder that is not there holds no parts
	have := map[int][]int{}
	for _, e := range entries {
		m := partFile.FindStringSubmatch(e.Name())
		if m == nil {
			continue
		}
		k, _ := strconv.Atoi(m[1])
		n, _ := strconv.Atoi(m[2])
		if !slices.Contains(have[n], k) {
			have[n] = append(have[n], k)
		}
	}
	if len(have) == 0 {
		return nil, &Message{What: "there are no parts in " + dir, Type: "thole run STUDY --part 1/4",
			Why: "each part is rowed by itself first, on any machine that shares this folder"}
	}
	for _, n := range slices.Sorted(maps.Keys(have)) {
		line := fmt.Sprintf("%d of %d parts are here", len(have[n]), n)
		var missing []string
		for k := 1; k <= n && len(missing) < 6; k++ {
			if !slices.Contains(have[n], k) {
				missing = append(missing, strconv.Itoa(k))
			}
		}
		if len(missing) > 0 {
			line += "; missing: " + strings.Join(missing, ", ")
			if n-len(have[n]) > len(missing) {
				line += "..."
			}
			line += "; their points are rowed here"
		}
		lines = append(lines, line)
	}
	return lines, nil
}

// runPart rows one part of a study's sweeps and tells nothing of the study: what
// it tells comes with the gathering.
func (tty *terminal) runPart(ctx context.Context, study string, o runOptions) error {
	share, err := readPart(o.part)
	if err != nil {
		return err
	}
	j, err := openJob("thole run", study, o.set)
	if err != nil {
		return err
	}
	defer j.Close()
	dir := partsDir(study, o.out)
	p := checkpoint.Open(folderOf(dir), partName(share), 0)
	j.Kept, j.Share = points{p}, share
	limited, cancel := o.within(ctx)
	defer cancel()
	out, _ := tty.row(limited, j, o)
	p.Close(false)
	tty.remarkOn(p)
	line, wrong := partDone(share, dir, p, out)
	tty.PrintNote(tty.Clean(line))
	switch {
	case out.Stopped:
		code := tty.wrong(out.Errors, o.debug)
		if ctx.Err() != nil {
			return ended(interrupted)
		}
		return code
	case wrong:
		return tty.wrong(out.Errors, o.debug)
	case len(p.Notes()) > 0: // points that are not kept are a part that is not there
		return ended(endedWrong)
	}
	return nil
}

// gatherCommand runs a study with the points of all its parts.
func gatherCommand(tty *terminal) *cobra.Command {
	var o runOptions
	var from string
	c := &cobra.Command{
		Use:   "gather STUDY",
		Short: "join the parts of a sweep",
		Long: `Runs a study on the points that its parts have rowed (thole run STUDY --part K/N)
and gives the same bytes as one run. A part that is missing is rowed here; one that
was killed and is rowed again rows only what it lacks.

An array job of any batch scheduler rows the parts; all that a task needs is its
number. On a Slurm cluster:

  sbatch --array=1-40 --wrap 'thole run study.star --part $SLURM_ARRAY_TASK_ID/40'

In a Kubernetes indexed job (completionMode: Indexed, completions: 40):

  command: ["sh", "-c", "thole run study.star --part $((JOB_COMPLETION_INDEX+1))/40"]

Afterwards, with the same folder: thole gather study.star`,
		Args: oneStudy,
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := from
			if dir == "" {
				dir = partsDir(args[0], "")
			}
			lines, err := gathered(dir)
			if err != nil {
				return err
			}
			tty.PrintNote(lines...)
			o.parts = dir
			return tty.run(cmd.Context(), args[0], o)
		},
	}
	f := c.Flags()
	f.StringArrayVar(&o.set, "set", nil, "set a parameter: `name=value`, as in the parts")
	f.StringVar(&from, "from", "", "the `DIR` the parts lie in, instead of the study's in runs/")
	o.resultFlags(f)
	o.limitFlags(f, "stop after so many `seconds`; what is done is kept")
	return c
}
