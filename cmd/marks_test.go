package cmd_test

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"
	"testing"
)

// weightless leaves the masses out of the lenses of a catalogue.
func weightless(catalogue []byte) []byte {
	var kept bytes.Buffer
	within := false
	for line := range bytes.Lines(catalogue) {
		keyword, _, _ := strings.Cut(strings.TrimSpace(string(line)), " ")
		switch {
		case bytes.HasPrefix(line, []byte("lens ")):
			within = true
		case keyword == "}":
			within = false
		}
		if !within || keyword != "mass" {
			kept.Write(line)
		}
	}
	return kept.Bytes()
}

// says fails where no line of a text has the shape of a pattern.
func says(t *testing.T, text, pattern string) {
	t.Helper()
	if !regexp.MustCompile("(?m)" + pattern).MatchString(text) {
		t.Errorf("nothing like %q in:\n%s", pattern, text)
	}
}

// What a change of lens takes hangs on the masses of both lenses.
func TestLensChangesOfAssumedMasses(t *testing.T) {
	scenario := copied(t, "night-ferry.scenario", weightless)
	_, text := run(t, "recommend", "--width", "200", scenario)
	says(t, text, `^2B +Normal 35 to Wide 18, post out ~\d+ mm.*, stage ~\d+ mm back +~4\.5 \(4\.5 to 5\.5\)$`)
	_, text = run(t, "recommend", "--width", "200", "../scenarios/night-ferry.scenario")
	says(t, text, `^2B +Normal 35 to Wide 18, [^~]* 4\.5$`)
	var said struct {
		Changes []struct {
			Minutes float64
			Assumed map[string]struct{ Low, High float64 }
		}
	}
	_, text = run(t, "recommend", "--as", "json", scenario)
	if err := json.Unmarshal([]byte(text), &said); err != nil {
		t.Fatal(err)
	}
	for _, c := range said.Changes {
		if s := c.Assumed["minutes"]; len(c.Assumed) < 4 || s.Low > c.Minutes || s.High < c.Minutes || s.Low == s.High {
			t.Errorf("got %+v, want ranges of minutes, plates, post and stage", c)
		}
	}
	if len(said.Changes) != 2 {
		t.Errorf("got %d changes of lens, want 2", len(said.Changes))
	}
}
