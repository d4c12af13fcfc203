package exposure

import (
	"testing"

	"pgregory.net/rapid"
)

// The marks are typed in; each must lie by its exact third and be its own nearest mark.
func TestMarksStandByTheirThirds(t *testing.T) {
	for name, l := range map[string]*ladder{"stops": &stopLadder, "ISO": &isoLadder} {
		for i, mark := range l.marks {
			step := l.first + i
			if off := l.place(mark) - float64(step); off <= -0.5 || off >= 0.5 {
				t.Errorf("%s: the mark %g lies %.2f of a third from step %d, want less than half", name, mark, off, step)
			}
			if i > 0 && mark <= l.marks[i-1] {
				t.Errorf("%s: the mark %g follows %g, want them to grow", name, mark, l.marks[i-1])
			}
			if got := l.nearest(mark); got != mark {
				t.Errorf("%s: nearest to the mark %g: got %g", name, mark, got)
			}
		}
	}
}

func TestNextMarkedStopsAtTheFirst(t *testing.T) {
	for _, mark := range stopLadder.marks {
		if got := NextMarked(mark); got != mark {
			t.Errorf("from the mark %g: got %g, want the same", mark, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		stop := rapid.Float64Range(0.1, 1000).Draw(t, "stop")
		got := NextMarked(stop)
		if got < stop*(1-1e-9) {
			t.Errorf("got f/%g, want no less than f/%g", got, stop)
		}
		if back := NextMarked(stop * 0.9999); back > got {
			t.Errorf("got f/%g for a wider stop than f/%g gives", back, got)
		}
		// No two marks are farther apart than 19 %.
		if got > stop*1.2 {
			t.Errorf("got f/%g for f/%g, want the next", got, stop)
		}
	})
}

func TestNamedSteps(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"exact f/5.6 needs more than its mark", NextMarked(5.657), 6.3},
		{"beyond the last mark", NextMarked(95), ThirdStop(40)},
		{"below the first mark", Marked(0.5), ThirdStop(-6)},
		{"ISO 126", MarkedISO(126), 125},
		{"ISO 750", MarkedISO(750), 800},
		{"ISO beyond the marks", MarkedISO(204800), 204800},
	} {
		if !near(c.got, c.want, 1e-12) {
			t.Errorf("%s: got %g, want %g", c.name, c.got, c.want)
		}
	}
}
