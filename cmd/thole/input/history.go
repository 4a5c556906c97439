package input

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
)

// History is what was typed, whole blocks, over all sessions: a file with one
// JSON text a line, readable by its owner alone. It is written before a block
// runs, so that no line is lost with what it did.
type History struct {
	path   string // "": nothing is kept
	blocks []string
}

// mostHistory is how many blocks are kept.
const mostHistory = 1000

// HistoryPath is where the history lies: beside the user's settings, or where
// THOLE_HISTORY says.
func HistoryPath() string {
	if path := os.Getenv("THOLE_HISTORY"); path != "" {
		return path
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "thole", "history")
}

// OpenHistory reads what earlier sessions kept. Lines that cannot be read are
// left out.
func OpenHistory(path string) *History {
	h := &History{path: path}
	h.blocks = h.read()
	return h
}

func (h *History) read() []string {
	if h.path == "" {
		return nil
	}
	data, err := os.ReadFile(h.path)
	if err != nil {
		return nil
	}
	var blocks []string
	lines := bufio.NewScanner(bytes.NewReader(data))
	lines.Buffer(nil, len(data)+1)
	for lines.Scan() {
		var block string
		if json.Unmarshal(lines.Bytes(), &block) == nil && block != "" {
			blocks = append(blocks, block)
		}
	}
	return blocks
}

// Add keeps a block. What another session wrote meanwhile stays. Where the file
// cannot be written the error says so once; from then on nothing is kept.
func (h *History) Add(block string) error {
	block = strings.TrimRight(block, " \t\n")
	if block == "" {
		return nil
	}
	if n := len(h.blocks); n > 0 && h.blocks[n-1] == block {
		return nil
	}
	h.blocks = append(h.blocks, block)
	if h.path == "" {
		return nil
	}
	all := append(h.read(), block)
	err := h.write(all[max(len(all)-mostHistory, 0):])
	if err != nil {
		h.path = ""
	}
	return err
}

// write puts the file in place at once: whoever reads it sees the old or the
// new one, whole.
func (h *History) write(blocks []string) error {
	var b bytes.Buffer
	lines := json.NewEncoder(&b) // one a line
	lines.SetEscapeHTML(false)
	for _, block := range blocks {
		if err := lines.Encode(block); err != nil {
			return err
		}
	}
	dir := filepath.Dir(h.path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	temp, err := os.CreateTemp(dir, ".history-*") // 0600
	if err != nil {
		return err
	}
	defer os.Remove(temp.Name())
	if _, err = temp.Write(b.Bytes()); err == nil {
		err = temp.Sync()
	}
	if closeErr := temp.Close(); err == nil {
		err = closeErr
	}
	if err != nil {
		return err
	}
	return os.Rename(temp.Name(), h.path)
}
