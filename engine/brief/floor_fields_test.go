package brief_test

import (
	"math"
	"strings"
	"testing"

	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"

	"github.com/google/go-cmp/cmp"
)

func TestFloorFields(t *testing.T) {
	s, ds := enginetest.Load(t, enginetest.Trial("accessories 350g 60mm x -20mm\ndrop 2s..3s", "passage 0.8m\nbeside road water\nbeside public"))
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	if a := s.Accessories; math.Abs(a.Mass-0.35) > 1e-12 || a.Behind.OrNaN() != 0.06 || a.Above.OrNaN() != -0.02 || !a.Placed() {
		t.Errorf("accessories: got %+v, want 350 g, 60 mm behind and 20 mm below", a)
	}
	if want := (brief.DropWindow{Low: 2, High: 3}); s.Drop != want {
		t.Errorf("drop: got %v, want %v", s.Drop, want)
	}
	shot := s.Shots[0]
	if shot.Passage != 0.8 {
		t.Errorf("passage: got %g m, want 0.8", shot.Passage)
	}
	if diff := cmp.Diff([]brief.Hazard{brief.ByRoad, brief.ByWater, brief.AmongPublic}, shot.Beside); diff != "" {
		t.Errorf("beside differs (-want +got):\n%s", diff)
	}
}

func TestDropWindow(t *testing.T) {
	for _, c := range []struct {
		line string
		want brief.DropWindow
	}{
		{"", brief.UsualDrop},
		{"drop 1.8s", brief.DropWindow{Low: 1.8, High: 1.8}},
		{"drop 1.8s..", brief.DropWindow{Low: 1.8, High: 2}},
		{"drop 2.5s..", brief.DropWindow{Low: 2.5, High: 2.5}},
		{"drop ..1.2s", brief.DropWindow{Low: 1.2, High: 1.2}},
		{"drop ..3s", brief.DropWindow{Low: 1.5, High: 3}},
	} {
		s, ds := enginetest.Load(t, enginetest.Trial(c.line, ""))
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
		s, ds := enginetest.Load(t, enginetest.Trial(c.line, ""))
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
		{"accessories -1kg", "", `"-1kg" is not possible`},
		{"accessories 350g 60mm", "", "takes a size"},
		{"drop 0s", "", "not possible"},
		{"drop 20s", "", "improbable"},
		{"", "passage 0m", "not possible"},
		{"", "beside cliff", `does not take the word "cliff"`},
	} {
		_, ds := enginetest.Load(t, enginetest.Trial(c.scenario, c.shot))
		var all []string
		for _, d := range ds {
			all = append(all, d.Summary)
		}
		if !strings.Contains(strings.Join(all, "; "), c.want) {
			t.Errorf("%q %q: got %v, want %q", c.scenario, c.shot, all, c.want)
		}
	}
}
