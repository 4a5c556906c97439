package main

import (
	"crypto/rand"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"sync"
	"time"
)

// watchServer shows the page of a watched study to browsers of this machine. It
// answers at 127.0.0.1 only, on a port the system chose, under a name nobody can
// guess; a request that was meant for another host (a page of the network that
// points its own name here) is refused. It can be read and not written to.
type watchServer struct {
	host string // "127.0.0.1:4711"
	key  string // the first part of every path
	http *http.Server

	mu      sync.Mutex
	version int    // of the page, counted up
	page    []byte // the last good one
	wrong   string // what is wrong with the study now; "" when nothing is
	news    chan struct{}
	ended   chan struct{}
}

const noPageYet = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">` +
	`<title>No page yet</title></head><body><p>No page yet: the study is being rowed.</p></body></html>`

var (
	//go:embed watch.css
	watchStyle string
	//go:embed watch.js
	watchScript string
)

func newWatchServer(host string) *watchServer {
	key := make([]byte, 16)
	rand.Read(key)
	s := &watchServer{host: host, key: "/" + hex.EncodeToString(key) + "/", news: make(chan struct{}),
		ended: make(chan struct{})}
	s.page = []byte(noPageYet)
	s.http = &http.Server{Handler: s, ReadHeaderTimeout: 5 * time.Second, MaxHeaderBytes: 1 << 14}
	return s
}

func (s *watchServer) address() string { return "http://" + s.host + s.key }

func (s *watchServer) serve(l net.Listener) { _ = s.http.Serve(l) } // ends with close

func (s *watchServer) close() {
	close(s.ended)
	s.http.Close()
}

// show puts a new page up and takes away what was wrong.
func (s *watchServer) show(page []byte) { s.tell(page, "") }

// showWrong says what is wrong, over the last good page.
func (s *watchServer) showWrong(wrong string) { s.tell(nil, wrong) }

func (s *watchServer) tell(page []byte, wrong string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if page != nil {
		s.page = page
		s.version++
	}
	s.wrong = wrong
	close(s.news)
	s.news = make(chan struct{})
}

// state is what a browser has to know, and a channel that closes at the next news.
func (s *watchServer) state() (text []byte, news chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	text, _ = json.Marshal(struct {
		Page  int    `json:"page"`
		Wrong string `json:"wrong"`
	}{s.version, s.wrong})
	return text, s.news
}

func (s *watchServer) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	site := r.Header.Get("Sec-Fetch-Site")
	switch {
	case r.Host != s.host || site == "cross-site" || site == "same-site":
		http.Error(w, "this page is for the browser of this machine: "+s.host, http.StatusForbidden)
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "this page can be read and not written to", http.StatusMethodNotAllowed)
	case r.URL.Path == s.key:
		s.frame(w)
	case r.URL.Path == s.key+"page":
		s.mu.Lock()
		page := s.page
		s.mu.Unlock()
		h.Set("Content-Type", "text/html; charset=utf-8")
		h.Set("Content-Security-Policy", "frame-ancestors 'self'")
		w.Write(page)
	case r.URL.Path == s.key+"news":
		s.follow(w, r)
	default:
		http.NotFound(w, r)
	}
}

// framePage takes the style and the script.
const framePage = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>thole watch</title>
<style>%s</style>
</head>
<body>
<div id="wrong" role="alert" hidden><b>The page below is the last good one.</b><pre></pre></div>
<iframe title="the study’s page" src="page"></iframe>
<script>%s</script>
</body>
</html>
`

// frame is the window around the page: a banner, and the page in a frame, so
// that the page itself stays byte for byte the one a run writes.
func (s *watchServer) frame(w http.ResponseWriter) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Security-Policy", fmt.Sprintf("default-src 'none'; "+
		"style-src '%s'; script-src '%s'; connect-src 'self'; frame-src 'self'; frame-ancestors 'none'; "+
		"base-uri 'none'; form-action 'none'",
		hashOf(watchStyle), hashOf(watchScript)))
	fmt.Fprintf(w, framePage, watchStyle, watchScript)
}

// follow sends the state now and at every change, as server-sent events, until
// the browser goes.
func (s *watchServer) follow(w http.ResponseWriter, r *http.Request) {
	flush, ok := w.(http.Flusher)
	if !ok {
		http.Error(w, "no news here", http.StatusNotImplemented)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	for {
		text, news := s.state()
		fmt.Fprintf(w, "data: %s\n\n", text)
		flush.Flush()
		select {
		case <-news:
		case <-r.Context().Done():
			return
		case <-s.ended:
			return
		}
	}
}

func hashOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
