package cmd

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"glassbrief/engine/answer"
	"glassbrief/lang"
)

// A livePage is a page that browsers on this machine show, and load anew whenever there
// is a newer one.
type livePage struct {
	mu      sync.Mutex
	number  int // of the page
	html    []byte
	changed chan struct{} // closed when a newer page comes
	// last is the last answer that the files gave, written with the printer; nil before the first.
	// Only who makes pages reads and sets them.
	last    *answer.Answer
	printer lang.Printer
}

func newLivePage() *livePage { return &livePage{changed: make(chan struct{})} }

// next gives the address of the script for the page that is shown next.
func (l *livePage) next() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return fmt.Sprintf("/live.js?%d", l.number+1)
}

// show puts a newer page in the place of the old one.
func (l *livePage) show(html []byte) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.number++
	l.html = html
	close(l.changed)
	l.changed = make(chan struct{})
}

func (l *livePage) now() (number int, html []byte, changed <-chan struct{}) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.number, l.html, l.changed
}

// liveScript loads the page anew when the server has one with a higher number. What was open stays
// open, and the reader stays at the same part of the page, which may have moved.
const liveScript = `const number = new URL(document.currentScript.src).search;
const name = d => (d.closest("[id]")?.id ?? "") + " " + d.querySelector("summary").textContent.replace(/[0-9]+/, "");
const folded = () => [...document.querySelectorAll("details")];
const kept = JSON.parse(sessionStorage.getItem("kept") ?? "null");
history.scrollRestoration = "manual";
if (kept) {
	for (const d of folded()) d.open = kept.open.includes(name(d));
	const at = document.getElementById(kept.part);
	scrollTo(kept.x, at ? kept.y + at.getBoundingClientRect().top + scrollY : kept.y);
}
const events = new EventSource("/events" + number);
events.onmessage = () => {
	events.close();
	const part = [...document.querySelectorAll("section[id]")].findLast(s => s.getBoundingClientRect().top <= 0);
	const from = part ? part.getBoundingClientRect().top + scrollY : 0;
	sessionStorage.setItem("kept", JSON.stringify({open: folded().filter(d => d.open).map(name), part: part?.id, x: scrollX, y: scrollY - from}));
	location.reload();
};
`

// serve answers browsers until the context ends.
func (l *livePage) serve(ctx context.Context, listener net.Listener) error {
	server := &http.Server{
		Handler:           localOnly(listener.Addr().String(), l.handler()),
		ReadHeaderTimeout: 10 * time.Second,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	stop := context.AfterFunc(ctx, func() { server.Close() })
	defer stop()
	if err := server.Serve(listener); ctx.Err() == nil {
		return err
	}
	return nil
}

func (l *livePage) handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, _ *http.Request) {
		_, html, _ := l.now()
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write(html) // whoever asked is gone
	})
	mux.HandleFunc("GET /live.js", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
		_, _ = w.Write([]byte(liveScript)) // as above
	})
	mux.HandleFunc("GET /favicon.ico", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) })
	mux.HandleFunc("GET /events", l.events)
	return mux
}

// events tells a browser of a page newer than the one whose number it names.
func (l *livePage) events(w http.ResponseWriter, r *http.Request) {
	seen, err := strconv.Atoi(r.URL.RawQuery)
	if err != nil {
		http.Error(w, "which page is it?", http.StatusBadRequest)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	stream := http.NewResponseController(w)
	for {
		number, _, changed := l.now()
		if number > seen {
			fmt.Fprintf(w, "data: %d\n\n", number)
			seen = number
		}
		if stream.Flush() != nil {
			return
		}
		select {
		case <-changed:
		case <-r.Context().Done():
			return
		}
	}
}

// localOnly lets in only what a person opens in a browser on this machine, and what such
// a page asks for: no page of another site, not even one whose name was made to point
// here.
func localOnly(address string, next http.Handler) http.Handler {
	_, port, _ := net.SplitHostPort(address)
	return http.NewCrossOriginProtection().Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		site, opened := r.Header.Get("Sec-Fetch-Site"), r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
		switch {
		case r.Host != address && r.Host != net.JoinHostPort("localhost", port):
			http.Error(w, "this is not a name of this page", http.StatusMisdirectedRequest)
			return
		case site != "" && site != "none" && site != "same-origin" && !opened:
			http.Error(w, "this page is not for other sites", http.StatusForbidden)
			return
		}
		for name, value := range map[string]string{
			"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Resource-Policy": "same-origin", "Content-Security-Policy": "frame-ancestors 'none'",
		} {
			w.Header().Set(name, value)
		}
		next.ServeHTTP(w, r)
	}))
}
