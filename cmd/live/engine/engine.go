// Package engine gives the engine of a live page: cmd/live built for browsers.
//
// It is not kept beside the source: packed it is several megabytes, which every change
// would add to the history anew, and a kept one could be older than the program. It is
// built by the Go toolchain when a live page is first asked for, from the source that the
// program itself was built from, and kept in the user's cache under the program's own
// digest, so that it is never one of another program.
package engine

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// Engine is what a live page carries.
type Engine struct {
	Loader string // Go's script that starts a program in a browser, of the same toolchain
	Packed string // the program, LZMA or gzip in base64
}

// ErrNoToolchain says that there is no Go to build with; ErrNoSource, that the source the
// program was built from is not there.
var (
	ErrNoToolchain = errors.New("no Go toolchain")
	ErrNoSource    = errors.New("no source")
)

const (
	loaderName = "loader.js"
	packedName = "engine.txt"
)

// Get gives the engine of this program, built now where the cache has none; building is
// called before that, because it takes a while.
func Get(building func()) (Engine, error) {
	dir, err := cacheFolder()
	if err != nil {
		return Engine{}, err
	}
	if e, err := read(dir); err == nil {
		return e, nil
	}
	source, err := sourceFolder()
	if err != nil {
		return Engine{}, err
	}
	if _, err := exec.LookPath("go"); err != nil {
		return Engine{}, ErrNoToolchain
	}
	building()
	e, err := Build(source)
	if err != nil {
		return Engine{}, err
	}
	return e, keep(dir, e)
}

// cacheFolder is named by the digest of the program that runs.
func cacheFolder() (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	program, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(program)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return filepath.Join(base, "thole", "live", hex.EncodeToString(h.Sum(nil)[:8])), nil
}

// sourceFolder finds the source: where this file lay when the program was built, or the
// current folder, if it is the source's.
func sourceFolder() (string, error) {
	_, file, _, ok := runtime.Caller(0)
	dirs := []string{"."}
	if ok && filepath.IsAbs(file) {
		dirs = append([]string{filepath.Join(filepath.Dir(file), "..", "..", "..")}, dirs...)
	}
	for _, dir := range dirs {
		module, err := os.ReadFile(filepath.Join(dir, "go.mod"))
		if err == nil && strings.HasPrefix(string(module), "module thole\n") {
			return dir, nil
		}
	}
	return "", ErrNoSource
}

// Build builds the engine from the source in a folder.
func Build(source string) (Engine, error) {
	work, err := os.MkdirTemp("", "thole-live")
	if err != nil {
		return Engine{}, err
	}
	defer os.RemoveAll(work)
	root, err := goRoot()
	if err != nil {
		return Engine{}, err
	}
	program := filepath.Join(work, "engine.wasm")
	args := []string{"build", "-trimpath", "-ldflags=-s -w", "-o", program}
	if lean, err := withoutMethods(root, work); err == nil {
		args = append(args, "-overlay", lean)
	}
	c := exec.Command("go", append(args, "./cmd/live")...)
	c.Dir, c.Env = source, append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	if said, err := c.CombinedOutput(); err != nil {
		return Engine{}, errors.New("go build: " + strings.TrimSpace(string(said)))
	}
	packed, err := pack(program)
	if err != nil {
		return Engine{}, err
	}
	loader, err := os.ReadFile(filepath.Join(root, "lib", "wasm", "wasm_exec.js"))
	return Engine{Loader: string(loader), Packed: base64.StdEncoding.EncodeToString(packed)}, err
}

func read(dir string) (Engine, error) {
	loader, err := os.ReadFile(filepath.Join(dir, loaderName))
	if err != nil {
		return Engine{}, err
	}
	packed, err := os.ReadFile(filepath.Join(dir, packedName))
	return Engine{Loader: string(loader), Packed: string(packed)}, err
}

// keep writes the engine beside and renames the folder, so that there is a whole one or none.
func keep(dir string, e Engine) error {
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return err
	}
	half, err := os.MkdirTemp(filepath.Dir(dir), "half")
	if err != nil {
		return err
	}
	defer os.RemoveAll(half)
	if err := os.WriteFile(filepath.Join(half, loaderName), []byte(e.Loader), 0o644); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(half, packedName), []byte(e.Packed), 0o644); err != nil {
		return err
	}
	// what earlier programs kept is of no use to this one
	older, err := filepath.Glob(filepath.Join(filepath.Dir(dir), "[0-9a-f]*[0-9a-f]"))
	if err != nil {
		return err
	}
	for _, old := range older {
		if old != dir && len(filepath.Base(old)) == 16 {
			os.RemoveAll(old)
		}
	}
	if err := os.Rename(half, dir); err != nil && !os.IsExist(err) {
		if _, there := read(dir); there == nil {
			return nil // another run was first
		}
		return err
	}
	return nil
}
