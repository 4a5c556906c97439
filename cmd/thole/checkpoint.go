package main

import (
	"os"
	"path/filepath"
	"strings"
	"time"

	"thole/builtins/session/message"
	"thole/engine"
	"thole/engine/checkpoint"
)

// keepFrom is how long a run lasts before it keeps its points on the way: what is shorter
// is sooner rowed again than kept.
const keepFrom = 2 * time.Second

// points are kept points as a session sees them: keys of any length, which are made the keys
// of this engine here.
type points struct{ *checkpoint.Points }

func (p points) Get(key []byte) ([]byte, bool) {
	return p.Points.Get(checkpoint.KeyOf(engine.Fingerprint(), key))
}

func (p points) Put(key, value []byte) {
	p.Points.Put(checkpoint.KeyOf(engine.Fingerprint(), key), value)
}

// keepPoints gives a job the points that a run before it left when it was stopped, and lets it
// keep its own. They lie beside the run's folder while it is not whole: finish says whether it is.
func (tty *terminal) keepPoints(j *job, o runOptions) (finish func(whole bool)) {
	if o.noCache {
		return func(bool) {}
	}
	p := checkpoint.Open(folderOf(filepath.Dir(pointsBase(j.Study, o.out))),
		filepath.Base(pointsBase(j.Study, o.out)), keepFrom)
	if o.parts != "" {
		if root, err := os.OpenRoot(o.parts); err == nil {
			p.Also(root, func(file string) bool { return partFile.MatchString(file) })
			root.Close()
		}
	}
	j.Kept = points{p}
	return func(whole bool) {
		p.Close(whole)
		tty.remarkOn(p)
	}
}

// remarkOn says what could not be done with kept points.
func (tty *terminal) remarkOn(p *checkpoint.Points) {
	for _, note := range p.Notes() {
		tty.printMessage(Message{Level: message.Remark, What: note})
	}
}

// pointsBase is where a run's points lie, without ending: beside the folder named by --out, else
// under the study's name in runs/.
func pointsBase(study, out string) string {
	if out != "" {
		return filepath.Clean(out)
	}
	base := filepath.Base(study)
	return filepath.Join(runsDir, strings.TrimSuffix(base, filepath.Ext(base)))
}

func folderOf(dir string) func(make bool) (*os.Root, error) {
	return func(make bool) (*os.Root, error) { return openRoot(dir, make) }
}
