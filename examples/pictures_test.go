package examples

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// README.md shows each example's question, its answer and a picture of its page,
// all taken from the runs themselves by
//
//	go test ./examples -run TestReadmeOfExamples -update
//
// where there is a Chromium. Without -update the test holds the README to the
// recorded answers and the pictures to their size.
func TestReadmeOfExamples(t *testing.T) {
	studies, _ := filepath.Glob("*/study.*")
	if *update {
		takePictures(t, studies)
	}
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range studies {
		dir := filepath.Dir(path)
		data, err := os.ReadFile(filepath.Join(dir, "recorded.json"))
		if err != nil {
			t.Error(err)
			continue
		}
		var r recorded
		if err := json.Unmarshal(data, &r); err != nil {
			t.Error(err)
		}
		if !strings.Contains(string(readme), plainAnswer(r.Answer)) || !strings.Contains(string(readme), "("+dir+"/page.png)") {
			t.Errorf("README.md is not up to date with %s", dir)
		}
		if info, err := os.Stat(filepath.Join(dir, "page.png")); err != nil || info.Size() > 90<<10 {
			t.Errorf("%s: no picture of its page, or one over 90 kB: %v", dir, err)
		}
	}
}

// plainAnswer is an answer as it stands in Markdown.
func plainAnswer(s string) string {
	return strings.NewReplacer("<", "&lt;", "*", `\*`, "_", `\_`).Replace(s)
}

// screens says which part of a page is its picture, where that is not the top.
var screens = map[string]string{"gearing-lesson": "s2"}

func takePictures(t *testing.T, studies []string) {
	ctx := openBrowser(t)
	var b strings.Builder
	b.WriteString("# Examples\n\nWorked studies of the Sallow Reach Boat Club, which is invented with all its people and oars. Each lies in a folder with the\nstudy, its data and what the tests expect of it. Run one, change a number in it, run it again:\n\n    go run ./cmd/thole run examples/outboard/study.star\n\nThe pictures show the tops of their pages. This file is made by `go test ./examples -run TestReadmeOfExamples -update`.\n")
	for _, study := range studies {
		dir := filepath.Dir(study)
		text, err := os.ReadFile(study)
		if err != nil {
			t.Fatal(err)
		}
		out := runExample(dir, filepath.Base(study), text)
		if len(out.Errors) > 0 {
			t.Fatalf("%s: %s", study, out.Errors.Error())
		}
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(1000, 700), chromedp.Navigate(pageFile(t, out.Document)+"#"+screens[dir])); err != nil {
			t.Fatal(err)
		}
		if _, err := chromedp.Run(ctx, chromedp.Evaluate[any](`document.querySelectorAll('.rev').forEach(b => b.click())`)); err != nil {
			t.Fatal(err)
		}
		shot, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		small, err := fewColours(shot)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "page.png"), small, 0o666); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "\n## [%s](%s/)\n\n**%s**\n%s\n\n![The top of its page](%s/page.png)\n", dir, dir, plainAnswer(out.Document.Title), plainAnswer(out.Document.Answer), dir)
	}
	if err := os.WriteFile("README.md", []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
}

// fewColours writes a screenshot with the 48 colours it uses most, every other
// pixel in the nearest of them: a page has few, and a repository keeps each byte
// for ever.
func fewColours(shot []byte) ([]byte, error) {
	im, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		return nil, err
	}
	count := map[color.RGBA]int{}
	box := im.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, b, _ := im.At(x, y).RGBA()
			count[color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 255}]++
		}
	}
	used := make([]color.RGBA, 0, len(count))
	for c := range count {
		used = append(used, c)
	}
	slices.SortFunc(used, func(a, b color.RGBA) int {
		if count[a] != count[b] {
			return count[b] - count[a]
		}
		return int(a.R)<<16 + int(a.G)<<8 + int(a.B) - int(b.R)<<16 - int(b.G)<<8 - int(b.B)
	})
	var palette color.Palette
	for _, c := range used[:min(len(used), 48)] {
		palette = append(palette, c)
	}
	out := image.NewPaletted(box, palette)
	draw.Draw(out, box, im, box.Min, draw.Src)
	var b bytes.Buffer
	err = (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, out)
	return b.Bytes(), err
}
