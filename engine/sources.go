// Package engine knows which engine this is: a mark made from the text of the
// rooms that compute a stroke. A version number changes when somebody thinks of
// it; the mark changes with the equations, so that a point computed by other
// equations is never taken for one of these.
package engine

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"strings"
	"sync"
)

//go:embed facts/*.go num/*.go fluid/*.go blade/*.go oar/*.go hull/*.go crew/*.go stroke/*.go
var sources embed.FS

// Mark gives sixteen characters made from the engine's text, tests left out.
var Mark = sync.OnceValue(func() string {
	h := sha256.New()
	err := fs.WalkDir(sources, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := sources.ReadFile(path)
		h.Write([]byte(path))
		h.Write([]byte{0})
		h.Write(text)
		h.Write([]byte{0})
		return err
	})
	if err != nil { // an embedded file cannot be missing
		panic(err)
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
})
