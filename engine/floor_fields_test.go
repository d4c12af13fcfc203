package engine_test

import (
	"math"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// briefWith is a brief with further lines in its scenario and its shot.
func briefWith(scenario, shot string) string {
	return `use demo
scenario "Trial" {
  camera "House body A"
  rig "Short sled"
  ` + scenario + `
}
shot "1" {
  subject person 1.78m
  frame medium
  distance 2m..3m
  move lead
  ` + shot + `
}
`
}

func load(t *testing.T, text string) (*engine.Scenario, lang.Diagnostics) {
	t.Helper()
	src, ds := lang.NewSource("trial.scenario", []byte(text))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return engine.Load(src, engine.Files{})
}

func TestFloorFields(t *testing.T) {
	s, ds := load(t, briefWith("accessories 350g 60mm x -20mm\ndrop 2s..3s", "passage 0.8m\nbeside road water\nbeside public"))
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	if a := s.Accessories; math.Abs(a.Mass-0.35) > 1e-12 || a.Behind.OrNaN() != 0.06 || a.Above.OrNaN() != -0.02 || !a.Placed() {
		t.Errorf("accessories: got %+v, want 350 g, 60 mm behind and 20 mm below", a)
	}
	if want := (engine.Window{Low: 2, High: 3}); s.Drop != want {
		t.Errorf("drop: got %v, want %v", s.Drop, want)
	}
	shot := s.Shots[0]
	if shot.Passage != 0.8 {
		t.Errorf("passage: got %g m, want 0.8", shot.Passage)
	}
	if diff := cmp.Diff([]engine.Hazard{engine.ByRoad, engine.ByWater, engine.AmongPublic}, shot.Beside); diff != "" {
		t.Errorf("beside differs (-want +got):\n%s", diff)
	}
}

func TestDropWindow(t *testing.T) {
	for _, c := range []struct {
		line string
		want engine.Window
	}{
		{"", engine.UsualDrop},
		{"drop 1.8s", engine.Window{Low: 1.8, High: 1.8}},
		{"drop 1.8s..", engine.Window{Low: 1.8, High: 2}},
		{"drop 2.5s..", engine.Window{Low: 2.5, High: 2.5}},
		{"drop ..1.2s", engine.Window{Low: 1.2, High: 1.2}},
		{"drop ..3s", engine.Window{Low: 1.5, High: 3}},
	} {
		s, ds := load(t, briefWith(c.line, ""))
		if len(ds) > 0 {
			t.Errorf("%q: %v", c.line, ds)
			continue
		}
		if s.Drop != c.want {
			t.Errorf("%q: got %v, want %v", c.line, s.Drop, c.want)
		}
	}
}

func TestAccessoriesWithoutAPlace(t *testing.T) {
	for _, c := range []struct {
		line   string
		placed bool
	}{{"", true}, {"accessories 350g", false}, {"accessories 350g 0mm x 20mm", true}} {
		s, ds := load(t, briefWith(c.line, ""))
		if len(ds) > 0 {
			t.Fatal(ds)
		}
		if got := s.Accessories.Placed(); got != c.placed {
			t.Errorf("%q: got placed %t, want %t", c.line, got, c.placed)
		}
	}
}

func TestFloorFieldFaults(t *testing.T) {
	for _, c := range []struct{ scenario, shot, want string }{
		{"accessories -1kg", "", "more than nothing"},
		{"accessories 350g 60mm", "", "takes a size"},
		{"drop 0s", "", "above zero"},
		{"drop 20s", "", "improbable drop time"},
		{"", "passage 0m", "above zero"},
		{"", "beside cliff", `does not take the word "cliff"`},
	} {
		_, ds := load(t, briefWith(c.scenario, c.shot))
		var all []string
		for _, d := range ds {
			all = append(all, d.Summary)
		}
		if !strings.Contains(strings.Join(all, "; "), c.want) {
			t.Errorf("%q %q: got %v, want %q", c.scenario, c.shot, all, c.want)
		}
	}
}
