package cmd

import (
	"io"
	"strings"
	"testing"
)

func TestVerbsGoByTheirNames(t *testing.T) {
	a := newApp(nil, io.Discard, io.Discard)
	for _, v := range verbs {
		if got := v.make(a).Name(); got != v.name {
			t.Errorf("%q makes the verb %q", v.name, got)
		}
	}
}

func TestVerbsAreMadeWhenNeeded(t *testing.T) {
	for _, c := range []struct {
		args string
		want int
	}{
		{"", len(verbs)},
		{"--version", 0},
		{"recommend x.scenario", 1},
		{"catalog list", 1},
		{"--as json recommend x.scenario", len(verbs)},
		{"recomend", len(verbs)},
		{"help recommend", len(verbs)},
	} {
		a := newApp(nil, io.Discard, io.Discard)
		a.addVerbs(strings.Fields(c.args))
		if got := len(a.root.Commands()); got != c.want {
			t.Errorf("%q: got %d verbs, want %d", c.args, got, c.want)
		}
	}
}
