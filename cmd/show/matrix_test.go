package show

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"

	"github.com/jedib0t/go-pretty/v6/text"
)

// recommended recommends for a scenario that uses the demo catalogue.
func recommended(t *testing.T, text string) *engine.Recommendation {
	t.Helper()
	return enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
}

// longDay has forty shots, some with long and wide names.
func longDay() string {
	var b strings.Builder
	b.WriteString("use demo\nscenario \"Long day\" {\n camera \"House body A\"\n rig \"Short sled\"\n}\n")
	for i := range 40 {
		name := fmt.Sprint(i + 1)
		switch i % 5 {
		case 1:
			name += "-second-unit"
		case 3:
			name += "甲板の場面"
		}
		fmt.Fprintf(&b, "shot %q {\n subject person 1.7m\n frame medium-full\n distance %.1fm..%.1fm\n light 300lx\n}\n", name, 1.5+float64(i)/20, 2.5+float64(i)/20)
	}
	return b.String()
}

func TestMatrixHoldsInEightyCells(t *testing.T) {
	r := recommended(t, longDay())
	var p Page
	lenses, _ := r.Shown(1000)
	for _, g := range MatrixGrids(r, lenses) {
		p.Grid(g)
	}
	p.Grid(RingGrid(r, lang.Printer{}))
	var b bytes.Buffer
	if err := p.Text(&b, NewPalette(false), plainWidth); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(b.String()) {
		if width := text.StringWidth(strings.TrimSuffix(line, "\n")); width > plainWidth {
			t.Errorf("a line has %d cells, want at most %d: %s", width, plainWidth, line)
		}
	}
	if strings.Contains(b.String(), "\x1b") {
		t.Error("a matrix without colour holds escapes")
	}
	for i := range r.Shots {
		if got := strings.Count(b.String(), r.Shots[i].Shot.ID); got < 2 {
			t.Errorf("shot %s stands there %d times, want once in the matrix and once in the strips", r.Shots[i].Shot.ID, got)
		}
	}
}

// Each character of a ring stands for an equal part of the axis of dioptres.
func TestRingShowsTheLimits(t *testing.T) {
	r := recommended(t, longDay())
	for i := range r.Shots {
		j := r.Shots[i].Use
		if j == nil {
			continue
		}
		ring, _ := floor.RingOf(j)
		drawn := drawRing(&ring, ringCells)
		if len(drawn) != ringCells {
			t.Fatalf("the ring has %d cells, want %d", len(drawn), ringCells)
		}
		step := (1/ring.Near - 1/ring.Far) / ringCells
		first, last := strings.IndexAny(drawn, ".=|"), strings.LastIndexAny(drawn, ".=|")
		for _, end := range []struct {
			name      string
			got, want float64
		}{
			{"near limit", 1/ring.Near - step*(float64(first)+0.5), 1 / j.Fact(facts.NearLimit)},
			{"far limit", 1/ring.Near - step*(float64(last)+0.5), 1 / j.Fact(facts.FarLimit)},
		} {
			if off := end.got - end.want; off > step || off < -step {
				t.Errorf("shot %d, %s: drawn at %.4f dioptres, want %.4f within %.4f", i, end.name, end.got, end.want, step)
			}
		}
		if at := 1/ring.Near - step*(float64(strings.IndexByte(drawn, '|'))+0.5); math.Abs(at-1/j.Fact(facts.FocusMark)) > step {
			t.Errorf("shot %d: the mark is drawn at %.4f dioptres, want %.4f within %.4f", i, at, 1/j.Fact(facts.FocusMark), step)
		}
	}
}
