package engine

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// A page unpacks what was packed, byte by byte: runs, repeats near and far, and noise,
// which between them take every way through the format.
func TestPageUnpacksWhatWasPacked(t *testing.T) {
	for _, tool := range []string{"node", "xz"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skip(tool + " is missing")
		}
	}
	dice := rand.New(rand.NewPCG(1, 2))
	var data []byte
	for len(data) < 3<<20 {
		n := 1 + dice.IntN(3000)
		switch dice.IntN(4) {
		case 0:
			data = append(data, bytes.Repeat([]byte{byte(dice.IntN(256))}, n)...)
		case 1:
			for range n {
				data = append(data, byte(dice.IntN(256)))
			}
		case 2:
			for range n {
				data = append(data, "hand, blade and boat "[dice.IntN(21)])
			}
		default:
			if from := dice.IntN(len(data) + 1); from+n < len(data) {
				data = append(data, data[from:from+n]...)
				data[len(data)-1-dice.IntN(n)]++
			}
		}
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "data")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	packed, err := pack(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file+".packed", packed, 0o644); err != nil {
		t.Fatal(err)
	}
	unpack, err := os.ReadFile("../../../engine/report/assets/unlzma.js")
	if err != nil {
		t.Fatal(err)
	}
	script := string(unpack) + `const fs = require('fs'), f = process.argv[1];
		fs.writeFileSync(f + '.out', unlzma(new Uint8Array(fs.readFileSync(f + '.packed'))));`
	if said, err := exec.Command("node", "-e", script, file).CombinedOutput(); err != nil {
		t.Fatalf("%v: %.500s", err, said)
	}
	if got, err := os.ReadFile(file + ".out"); err != nil || !bytes.Equal(got, data) {
		t.Errorf("%d bytes come back as %d others (%v)", len(data), len(got), err)
	}
}

// The toolchain at hand is one whose template package can be made lean; with another the
// engine would be a quarter larger without a word.
func TestToolchainCanBeMadeLean(t *testing.T) {
	root, err := goRoot()
	if err != nil {
		t.Skip("no Go here: ", err)
	}
	if _, err := withoutMethods(root, t.TempDir()); err != nil {
		t.Error(err)
	}
}
