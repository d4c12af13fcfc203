package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/lang/langtest"
)

// few leaves a trial so few set-ups that all of them can be tried. Of a zoom it keeps some
// settings, on both sides of where a turning filter may show a cross if it reaches there.
func (t *drawnTrial) few(d dice) {
	const settings = 3
	if t.filters = t.filters[:min(len(t.filters), 1)]; d.often(0.4) {
		t.filters = append(t.filters, "strength 2stops..3stops")
	}
	t.topISO = min(t.topISO, max(3200, t.bases[len(t.bases)-1]))
	t.lowISO = max(t.lowISO, t.bases[0]/2)
	t.camera = with(t.camera, t.isoRange())
	if t.zoom && t.longest-t.shortest > settings {
		crossing := 28.0
		for i, line := range t.camera {
			if strings.Contains(line, "24mm x 16mm") {
				crossing /= 1.5
			} else if strings.Contains(t.camera[i], "17.3mm") {
				crossing /= 2
			}
		}
		t.shortest = math.Round(min(max(t.shortest, crossing-1), t.longest-settings))
		t.longest = t.shortest + settings
		t.lens = with(without(t.lens, "engraved"), t.focal())
		if d.often(0.3) {
			t.lens = append(t.lens, fmt.Sprintf("engraved %g, %g, %gmm", t.shortest, t.shortest+2, t.longest))
		}
	}
}

// The search finds what trying every set-up finds, of all that there can be: several bases and
// filters of the camera, filters that turn, who focuses, macros, engraved focal lengths, and
// places to stand.
func TestSearchFindsTheBestOfAllThereCanBe(t *testing.T) {
	pairs := langtest.Cases(300)
	covered, with := 0, map[string]int{}
	for n := range pairs {
		d := dice{rand.New(rand.NewPCG(13, uint64(n)))}
		drawn := drawTrial(d)
		drawn.few(d)
		s := loadTrials(t, []named{{"as it is", drawn}})
		shot, lens := s.Shots[0], s.Catalogue.Lenses.All()[0]
		bench := engine.NewBench(s, s.Cameras[0])
		found := bench.Stage(shot).Try(lens)
		plainly := *shot
		plainly.Task = shot.Task.Plainly()
		best := bench.Stage(&plainly).Try(lens)
		if math.Abs(found.Score-best.Score) > 1e-9 || found.Standing != best.Standing {
			t.Errorf("trial %d: got %.12f with %+v, want %.12f with %+v\n%s", n, found.Score, found, best.Score, best, strings.Join(drawn.text(), "\n"))
		}
		if !found.Acceptable() {
			continue
		}
		covered++
		for what, has := range map[string]bool{
			"several bases": len(drawn.bases) > 1, "filters in the camera": len(without(drawn.camera, "built_in_nd")) < len(drawn.camera),
			"a zoom": drawn.zoom, "engraved": len(without(drawn.lens, "engraved")) < len(drawn.lens),
			"a macro":      len(without(drawn.lens, "magnification")) < len(drawn.lens),
			"a free place": drawn.free, "focus that follows": !drawn.fixed,
		} {
			if has {
				with[what]++
			}
		}
	}
	t.Logf("%d of %d pairs can be covered, with %v", covered, pairs, with)
	if covered < pairs/3 {
		t.Errorf("only %d of %d pairs can be covered, so that this says little", covered, pairs)
	}
}
