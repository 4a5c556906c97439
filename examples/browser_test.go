package examples

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"thole/engine/document"
	"thole/engine/report"
)

// openBrowser starts a Chromium that reaches nothing but files, and closes it
// with the test. Without one the test is skipped, but where it may not be.
func openBrowser(t *testing.T) context.Context {
	t.Helper()
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("THOLE_NEED_BROWSER") != "" {
			t.Fatal("Chromium is missing, and THOLE_NEED_BROWSER is set")
		}
		t.Skip("Chromium is missing")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(allocator)
	t.Cleanup(cancel)
	ctx, late := context.WithTimeout(ctx, 5*time.Minute)
	t.Cleanup(late)
	return ctx
}

// pageFile writes a document's page and gives its address.
func pageFile(t *testing.T, doc *document.Document) string {
	t.Helper()
	var page bytes.Buffer
	if err := report.WritePage(&page, doc); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(file, page.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	return "file://" + file
}
