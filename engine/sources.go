// Package engine knows which engine this is: a fingerprint made from the text of the
// rooms that compute a stroke. A version number changes when somebody thinks of
// it; the fingerprint changes with the equations, so that a point computed by other
// equations is never taken for one of these.
package engine

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"sync"
)

// Tests have no part in it. A pattern cannot leave them out, so all files that
// end otherwise than _test.go are taken by their last letter, and those that end
// in t by name; a test holds that none is forgotten.
//
//go:embed defaults/*[^t].go num/*[^t].go fluid/*[^t].go blade/*[^t].go oar/*[^t].go hull/*[^t].go crew/*[^t].go
//go:embed stroke/*[^t].go stroke/problem/*[^t].go stroke/general/*[^t].go stroke/fast/*[^t].go
//go:embed stroke/replay/*[^t].go equalload/*[^t].go
//go:embed num/root.go stroke/fast/warmstart.go
var sources embed.FS

// Fingerprint gives sixteen characters made from the engine's text, tests left out.
var Fingerprint = sync.OnceValue(func() string {
	h := sha256.New()
	err := fs.WalkDir(sources, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
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
