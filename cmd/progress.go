package cmd

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"glassbrief/cmd/show"
)

const (
	progressDelay = 300 * time.Millisecond // before a bar appears: what is quicker needs none
	progressPause = 80 * time.Millisecond  // between two looks of it
	progressCells = 24
)

// A progress shows on standard error how far a long run is, when that is a terminal and
// nobody wants its output for something else. It may be told by several goroutines.
type progress struct {
	w     io.Writer // nil to show nothing
	what  string
	began time.Time
	mutex sync.Mutex
	shown time.Time
}

// progress begins to show a run of something: "judging 20000 lenses".
func (a *app) progress(what string, args ...any) *progress {
	p := &progress{what: fmt.Sprintf(what, args...), began: time.Now()}
	if show.IsTerminal(a.stderr) && os.Getenv("TERM") != "dumb" {
		p.w = a.stderr
		a.bar.end()
		a.bar = p
		time.AfterFunc(progressDelay, func() { p.step(0, 1) }) // that something goes on, when no step comes
	}
	return p
}

// step says that so many of all are done.
func (p *progress) step(done, total int) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	now := time.Now()
	if p.w == nil || total <= 0 || now.Sub(p.began) < progressDelay || now.Sub(p.shown) < progressPause && done < total {
		return
	}
	p.shown = now
	full := progressCells * done / total
	fmt.Fprintf(p.w, "\r%s [%s%s] %d%%\x1b[K", p.what, strings.Repeat("#", full), strings.Repeat(".", progressCells-full), 100*done/total)
}

// end takes the bar away; there may be none, or it may be gone already.
func (p *progress) end() {
	if p == nil {
		return
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	if p.w != nil && !p.shown.IsZero() {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
	p.w = nil
}
