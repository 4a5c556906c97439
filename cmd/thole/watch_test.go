package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"thole/engine/term"
)

// heard collects what a watch says on stderr.
type heard struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (h *heard) Write(p []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.Write(p)
}

func (h *heard) String() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.String()
}

// within waits until a condition holds, and says what it waited for.
func within(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if holds() {
			return
		}
	}
	t.Fatalf("not within 20 s: %s", what)
}

// startWatch watches a study of that text in a folder of its own.
func startWatch(t *testing.T, text string) (study, address string, said *heard) {
	t.Helper()
	study = filepath.Join(t.TempDir(), "day.star")
	save(t, study, text)
	said = &heard{}
	tty := &terminal{term.Terminal{Window: term.Window{Width: 100}, Out: io.Discard, Err: said}}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- tty.watch(ctx, study, runOptions{limit: 60, memory: 2048}) }()
	t.Cleanup(func() {
		cancel()
		if err := <-ended; err != nil {
			t.Errorf("watch ended with %v", err)
		}
	})
	at := regexp.MustCompile(`http://127\.0\.0\.1:\d+/[0-9a-f]{32}/`)
	within(t, "an address", func() bool { address = at.FindString(said.String()); return address != "" })
	within(t, "a first page", func() bool { return strings.Contains(said.String(), "the page is new") })
	return study, address, said
}

func save(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func get(t *testing.T, url string) string {
	t.Helper()
	r, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	data, _ := io.ReadAll(r.Body)
	return string(data)
}

const dayStudy = "title(\"What does it say?\")\nfor line in read_csv(\"crews.csv\", columns=[\"crew\", " +
	"\"mass (kg)\"]):\n    note(line.crew)\nanswer(\"Now %s.\")\n"

// A save of the study or of a file it reads makes a new page; an error leaves the
// last good page and is told over it; its mending takes it away.
func TestWatchFollowsSaves(t *testing.T) {
	study, address, said := startWatch(t, "title(\"What does it say?\")\nanswer(\"Now one.\")\n")
	if page := get(t, address+"page"); !strings.Contains(page, "Now <b>") &&
		!strings.Contains(page, "Now one.") {
		t.Fatalf("the first page says %.200s", page)
	}
	save(t, filepath.Join(filepath.Dir(study), "crews.csv"), "crew,mass (kg)\nOtters,80\n")
	save(t, study, fmt.Sprintf(dayStudy, "two"))
	within(t, "the second page", func() bool { return strings.Contains(get(t, address+"page"), "Now two.") })
	save(t, filepath.Join(filepath.Dir(study), "crews.csv"), "crew,mass (kg)\nHerons,80\n")
	within(t, "a page after the data were saved",
		func() bool { return strings.Contains(get(t, address+"page"), "Herons") })

	news, err := http.Get(address + "news")
	if err != nil {
		t.Fatal(err)
	}
	defer news.Body.Close()
	lines := bufio.NewReader(news.Body)
	next := func() string {
		for {
			line, err := lines.ReadString('\n')
			if err != nil {
				t.Fatal(err)
			}
			if text, ok := strings.CutPrefix(line, "data: "); ok {
				return text
			}
		}
	}
	if first := next(); !strings.Contains(first, `"wrong":""`) {
		t.Errorf("at first: %s", first)
	}
	save(t, study, "title(\"What does it say?\")\nanswer(nothing_of_this_name)\n")
	if wrong := next(); !strings.Contains(wrong, "nothing_of_this_name") ||
		strings.Contains(wrong, `\u001b`) {
		t.Errorf("the banner says %s", wrong)
	}
	if page := get(t, address+"page"); !strings.Contains(page, "Herons") {
		t.Error("the last good page is gone")
	}
	if !strings.Contains(said.String(), "nothing_of_this_name") {
		t.Error("stderr does not say what is wrong")
	}
	save(t, study, fmt.Sprintf(dayStudy, "three"))
	if mended := next(); !strings.Contains(mended, `"wrong":""`) {
		t.Errorf("once mended: %s", mended)
	}
	if entries, _ := os.ReadDir(filepath.Dir(study)); len(entries) != 2 {
		t.Errorf("watching left something behind: %v", entries)
	}
}

// The server answers this machine's browser only, at its own address, and takes
// nothing.
func TestWatchServerIsShut(t *testing.T) {
	_, address, _ := startWatch(t, "title(\"What does it say?\")\nanswer(\"Now one.\")\n")
	host := strings.TrimSuffix(strings.TrimPrefix(address, "http://"), "/")
	host, key, _ := strings.Cut(host, "/")
	for _, c := range []struct {
		name, method, path, host, site string
		want                           int
	}{
		{"its own", "GET", "/" + key + "/", host, "", 200},
		{"its own page", "GET", "/" + key + "/page", host, "same-origin", 200},
		{"head", "HEAD", "/" + key + "/page", host, "none", 200},
		{"a name of the network that points here", "GET", "/" + key + "/", "rowing.example:80", "", 403},
		{"localhost by name", "GET", "/" + key + "/", strings.Replace(host, "127.0.0.1", "localhost", 1), "",
			403},
		{"a page of the network", "GET", "/" + key + "/page", host, "cross-site", 403},
		{"writing", "POST", "/" + key + "/page", host, "", 405},
		{"putting", "PUT", "/" + key + "/page", host, "", 405},
		{"deleting", "DELETE", "/" + key + "/", host, "", 405},
		{"no key", "GET", "/", host, "", 404},
		{"a wrong key", "GET", "/0123456789abcdef0123456789abcdef/", host, "", 404},
		{"a file of the folder", "GET", "/" + key + "/day.star", host, "", 404},
		{"out of the folder", "GET", "/" + key + "/../../etc/passwd", host, "", 404},
	} {
		r, err := http.NewRequest(c.method, "http://"+host+c.path, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = c.host
		if c.site != "" {
			r.Header.Set("Sec-Fetch-Site", c.site)
		}
		got, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		got.Body.Close()
		if got.StatusCode != c.want {
			t.Errorf("%s: %d, want %d", c.name, got.StatusCode, c.want)
		}
	}
}

// In a browser: the page follows in place with the scroll kept, and an error is a
// banner over the last good page.
func TestWatchInTheBrowser(t *testing.T) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("THOLE_NEED_BROWSER") != "" {
			t.Fatal("Chromium is missing, and THOLE_NEED_BROWSER is set")
		}
		t.Skip("Chromium is missing")
	}
	long := "title(\"What does it say?\")\nfor i in range(60):\n    note(\"Line \" + " +
		"str(i))\nanswer(\"%s\")\n"
	study, address, _ := startWatch(t, fmt.Sprintf(long, "Now one."))
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking",
			true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	defer stop()
	ctx, cancel := chromedp.NewContext(allocator)
	defer cancel()
	ctx, late := context.WithTimeout(ctx, time.Minute)
	defer late()
	if err := chromedp.Do(ctx, chromedp.Navigate(address)); err != nil {
		t.Fatal(err)
	}
	sees := func(expression string) string {
		v, err := chromedp.Run(ctx, chromedp.Evaluate[string](expression))
		if err != nil {
			return err.Error()
		}
		return v
	}
	const frame = `document.querySelector('iframe:not(.next)')`
	within(t, "the first page", func() bool {
		return strings.Contains(sees(frame+`.contentDocument.querySelector('.answer')?.textContent || ''`),
			"Now one")
	})
	within(t, "a scrolled page", func() bool {
		return sees(frame+`.contentWindow.scrollTo({top: 700, behavior: 'instant'}), String(Math.round(`+frame+`.contentWindow.scrollY))`) == "700"
	})
	save(t, study, fmt.Sprintf(long, "Now two."))
	within(t, "the new page where the old one was", func() bool {
		return sees(frame+`.contentDocument.querySelector('.answer').textContent + ' ' + Math.round(`+frame+`.contentWindow.scrollY) + ' ' + document.querySelectorAll('iframe').length`) == "Now two. 700 1"
	})
	save(t, study, "answer(nowhere)\n")
	within(t, "a banner", func() bool {
		return strings.Contains(sees(`document.getElementById('wrong').hidden + document.getElementById('wrong').textContent`), "falseThe page below is the last good one.") &&
			strings.Contains(sees(`document.getElementById('wrong').textContent`), "nowhere") &&
			sees(frame+`.contentDocument.querySelector('.answer').textContent`) == "Now two."
	})
	save(t, study, fmt.Sprintf(long, "Now three."))
	within(t, "the banner gone", func() bool {
		return sees(`String(document.getElementById('wrong').hidden)`) == "true" &&
			sees(frame+`.contentDocument.querySelector('.answer').textContent`) == "Now three."
	})
}
