package audit

import (
	"fmt"
	"math"
	"os"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"

	"pgregory.net/rapid"
)

var scenarios = os.DirFS("../../scenarios")

func load(t testing.TB, name string) *brief.Scenario {
	t.Helper()
	return enginetest.ReadFile(t, scenarios, name)
}

func read(t testing.TB, text string) *brief.Scenario {
	t.Helper()
	return enginetest.Read(t, text, brief.Files{Tree: scenarios})
}

// drawBench draws a shot of the demo, nearer or farther, darker or brighter, on a camera.
func drawBench(t *rapid.T, demo []*brief.Scenario) *bench {
	s := demo[rapid.IntRange(0, len(demo)-1).Draw(t, "scenario")]
	shot := *s.Shots[rapid.IntRange(0, len(s.Shots)-1).Draw(t, "shot")]
	stretch := rapid.Float64Range(0.5, 2).Draw(t, "distance")
	shot.Near, shot.Far, shot.Background = shot.Near*stretch, shot.Far*stretch, math.NaN()
	shot.Light *= math.Exp2(rapid.Float64Range(-4, 3).Draw(t, "light"))
	camera := s.Cameras[rapid.IntRange(0, len(s.Cameras)-1).Draw(t, "camera")]
	return newBench(engine.NewBench(s, camera), s, camera, &shot)
}

// outside is how far beyond an edge a lens is made, by factor.
const outside = 1e-5

// checkEdges makes lenses just outside each edge of a window, which must fail, and just
// inside, which must pass; where nothing bounds an axis, the last one looked at must pass.
func checkEdges(t rapid.TB, w *Window, passes func(*Trial) bool) {
	t.Helper()
	if !passes(&w.Middle) {
		t.Fatalf("the lens in the middle, %v, does not do the shot", w.Middle)
	}
	for axis := range axes {
		for _, edge := range []struct {
			at, out, end float64
		}{{w.Axes[axis].Low, 1 - outside, scales[axis].domain.Low}, {w.Axes[axis].High, 1 + outside, scales[axis].domain.High}} {
			lens := w.Middle
			if math.IsNaN(edge.at) {
				if lens[axis] = edge.end; !passes(&lens) {
					t.Errorf("%s: nothing is said to bound it, and %g does not do the shot", axis, lens[axis])
				}
				continue
			}
			if lens[axis] = edge.at * edge.out; passes(&lens) {
				t.Errorf("%s: %g is outside the edge %g and does the shot", axis, lens[axis], edge.at)
			}
			if lens[axis] = edge.at / edge.out; !passes(&lens) {
				t.Errorf("%s: %g is inside the edge %g and does not do the shot", axis, lens[axis], edge.at)
			}
		}
	}
}

// A lens made at the middle of a window does the shot, and lenses just outside each edge
// do not.
func TestWindowIsRight(t *testing.T) {
	demo := []*brief.Scenario{load(t, "night-ferry.scenario"), load(t, "orchard.scenario")}
	windows := 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBench(t, demo)
		start, ok := b.start()
		if !ok {
			return
		}
		windows++
		w := check(b.passes).window(start)
		checkEdges(t, &w, b.passes)
		if w.Axes[Focal].Open() || w.Axes[Circle].Open() {
			t.Errorf("got a window without an edge for focal length or circle: %v", w.Axes)
		}
	})
	if windows == 0 {
		t.Error("no shot had a window")
	}
}

const insertText = `use demo
scenario "Insert" {
  camera "House body A"
  rig    "Short sled"
}
shot "1" {
  subject  object %dcm x %dcm
  frame    full
  distance %.3fm
  move     hold
  light    5000lx
}
`

// No lens is asked for that would have to focus nearer than any thin lens of its focal length forms
// an image, wherever it stands between subject and sensor.
func TestThinLensesCanFocus(t *testing.T) {
	windows := 0
	rapid.Check(t, func(t *rapid.T) {
		near := rapid.Float64Range(0.15, 0.6).Draw(t, "near")
		size := rapid.IntRange(2, 15).Draw(t, "size")
		s := enginetest.Read(t, fmt.Sprintf(insertText, size, size, near), brief.Files{})
		b := newBench(engine.NewBench(s, s.Cameras[0]), s, s.Cameras[0], s.Shots[0])
		start, ok := b.start()
		if !ok {
			return
		}
		windows++
		w := check(b.passes).window(start)
		focal, focuses := w.Axes[Focal].High, false
		for share := 0.001; share < 1 && !focuses; share += 0.001 {
			image := share * s.Shots[0].Near
			focuses = 1/image+1/(s.Shots[0].Near-image) <= 1/focal*(1+1e-6)
		}
		if !focuses {
			t.Errorf("up to %g m of focal length is asked for at %g m", focal, near)
		}
	})
	if windows == 0 {
		t.Error("no shot had a window")
	}
}
