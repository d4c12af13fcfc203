package cmd

import (
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

func TestProgressShowsAndGoes(t *testing.T) {
	var b strings.Builder
	synctest.Test(t, func(*testing.T) { // in which no time passes by itself
		p := &progress{w: &b, what: "judging 4 lenses", began: time.Now().Add(-time.Minute)}
		p.step(1, 4)
		p.step(2, 4) // too soon after the first
		p.step(4, 4)
		p.end()
		p.step(4, 4)
		p.end() // as its verb and the bar behind it both do
	})
	want := "\rjudging 4 lenses [######..................] 25%\x1b[K" +
		"\rjudging 4 lenses [########################] 100%\x1b[K" + "\r\x1b[K"
	if b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
}

// A quick run, and one whose standard error is no terminal, show nothing.
func TestProgressKeepsQuiet(t *testing.T) {
	var b strings.Builder
	synctest.Test(t, func(*testing.T) {
		quick := &progress{w: &b, what: "x", began: time.Now()}
		quick.step(1, 2)
		quick.step(0, 0)
		quick.end()
	})
	if b.Len() > 0 {
		t.Errorf("a quick run: got %q", b.String())
	}
	var stderr strings.Builder
	p := newApp(nil, nil, &stderr).progress("reading %s", "x")
	p.began = time.Now().Add(-time.Minute)
	var group sync.WaitGroup
	for i := range 8 {
		group.Go(func() { p.step(i, 8) })
	}
	group.Wait()
	p.end()
	if stderr.Len() > 0 {
		t.Errorf("no terminal: got %q", stderr.String())
	}
}
