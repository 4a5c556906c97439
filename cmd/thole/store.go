package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"thole/engine"
	"thole/engine/store"
)

// storeDir is where points already computed are kept: the user's cache folder,
// or what THOLE_STORE names, as a batch job on a machine without one needs.
func storeDir() (string, error) {
	if dir := os.Getenv("THOLE_STORE"); dir != "" {
		return dir, nil
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(cache, "thole", "points"), nil
}

// points is the store as a session sees it: keys of any length, which are made
// the keys of this engine here.
type points struct{ *store.Store }

// openStore opens the store of points; without one every point is rowed, and
// the notes say why.
func openStore(o store.Options) (points, []string) {
	dir, err := storeDir()
	if err != nil {
		return points{}, []string{"there is no folder for a store of points (" + plainError(err) +
			"), so every point is rowed"}
	}
	return points{store.Open(dir, o)}, nil
}

func (p points) Get(key []byte) ([]byte, bool) { return p.Store.Get(pointKey(key)) }

func (p points) Put(key, value []byte) { p.Store.Put(pointKey(key), value) }

func pointKey(key []byte) store.Key { return store.KeyOf(engine.Fingerprint(), "point", key) }

// storeCommand shows the store, or empties it.
func storeCommand(tty *terminal) *cobra.Command {
	empty := false
	c := &cobra.Command{
		Use:   "store",
		Short: "points already rowed: see them, or empty the store",
		Long: `Strokes that were rowed once are kept, so that the same command goes on where
it was stopped and a study changed in one place rows only what is new. They are
found by their meaning: every number that goes into a stroke, and the engine's
own equations. Emptying the store loses nothing but time. It lies in the user's
cache folder, or where THOLE_STORE says.`,
		Args: nothing,
		RunE: func(*cobra.Command, []string) error {
			dir, err := storeDir()
			if err != nil {
				return err
			}
			if empty {
				return emptyStore(tty, dir)
			}
			return seeStore(tty, dir)
		},
	}
	c.Flags().BoolVar(&empty, "empty", false, "throw all points away")
	return c
}

func seeStore(tty *terminal, dir string) error {
	c, err := store.See(dir)
	if err != nil {
		return fmt.Errorf("the store cannot be read: %s", plainError(err))
	}
	lines := []string{fmt.Sprintf("%s in %s, %s of at most %s", count(c.Points, "point"), dir,
		megabytes(c.Bytes), megabytes(store.DefaultLimit))}
	for _, more := range []struct {
		n    int
		what string
	}{{c.Busy, "being written by a run just now"}, {c.Later, "of a later thole, left alone"}, {c.Damaged,
		"damaged; the next run puts it aside"}} {
		if more.n > 0 {
			lines = append(lines, fmt.Sprintf("%s %s", count(more.n, "file"), more.what))
		}
	}
	return tty.Print(append(lines,
		"type  thole store --empty  to throw them away: they are rowed again when wanted")...)
}

func emptyStore(tty *terminal, dir string) error {
	gone, kept, err := store.Empty(dir)
	if err != nil {
		return fmt.Errorf("the store cannot be emptied: %s", plainError(err))
	}
	lines := []string{fmt.Sprintf("%s thrown away, %s", count(gone.Points, "point"), megabytes(gone.Bytes))}
	if kept.Files > 0 {
		lines = append(lines, fmt.Sprintf("%s stay: a run is writing them", count(kept.Files, "file")))
	}
	return tty.Print(lines...)
}

func megabytes(bytes int64) string {
	if bytes < 1<<20 {
		return fmt.Sprintf("%d kB", (bytes+1023)>>10)
	}
	return fmt.Sprintf("%d MB", (bytes+1<<19)>>20)
}
