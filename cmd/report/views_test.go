package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/rules"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

func TestMatrixTellsOfEveryLensInEveryShot(t *testing.T) {
	r := demoAnswer(t)
	m := newMatrix(r, lang.Printer{})
	told := map[string]int{}
	for _, block := range m.Blocks {
		if len(block.Lenses) > matrixWidth {
			t.Errorf("%d lenses stand side by side, want at most %d", len(block.Lenses), matrixWidth)
		}
		for i, row := range block.Rows {
			for k, cell := range row.Cells {
				j := r.Shots[i].Find(block.Lenses[k].Name)
				told[j.Lens]++
				switch {
				case j.Standing == engine.Judged && cell.Text != wording.Tilde(j.ScoreRests())+fmt.Sprintf("%.0f", j.Score*100):
					t.Errorf("shot %s, %s: says %s, want the score %.2f", row.ID, j.Lens, cell.Text, j.Score)
				case j.Standing == engine.Excluded && !slices.ContainsFunc(m.Codes, func(c matrixCode) bool { return c.Letter == cell.Text }):
					t.Errorf("shot %s, %s: says %q, want the letter of what excludes it", row.ID, j.Lens, cell.Text)
				case cell.Use != (r.Shots[i].Use == j):
					t.Errorf("shot %s, %s: marked as the lens for the shot: %v", row.ID, j.Lens, cell.Use)
				}
			}
		}
	}
	for i := range r.Shots[0].Ranking {
		lens := r.Shots[0].Ranking[i].Lens
		never := slices.ContainsFunc(m.Never, func(out outLens) bool { return out.Name == lens && out.Why != "" })
		if want := len(r.Shots); never == (told[lens] == want) {
			t.Errorf("%s: in %d shots, and among those that do none: %v", lens, told[lens], never)
		}
	}
}

func TestTimelineShowsEachChange(t *testing.T) {
	r := demoAnswer(t)
	day := newTimeline(r)
	swaps, bars := 0, 0
	for _, row := range day.Rows {
		swaps += strings.Count(row.Swaps.String(), "M")
		bars += len(row.Bars)
	}
	if swaps != r.Kit.Swaps {
		t.Errorf("got %d changes, want %d", swaps, r.Kit.Swaps)
	}
	if bars != len(r.Shots) {
		t.Errorf("got %d shots with a lens, want %d", bars, len(r.Shots))
	}
}

// A day that is longer than a row goes on in the next, with the lens that is on.
func TestTimelineGoesOnInTheNextRow(t *testing.T) {
	r := demoAnswer(t)
	for len(r.Shots) < 3*timelineShots {
		r.Shots, r.Kit.Uses = append(r.Shots, r.Shots...), append(r.Kit.Uses, r.Kit.Uses...)
	}
	changes := 0
	for i := range r.Kit.Uses[1:] {
		if r.Kit.Uses[i] != r.Kit.Uses[i+1] {
			changes++
		}
	}
	got := 0
	for _, row := range newTimeline(r).Rows {
		got += strings.Count(row.Swaps.String(), "M")
	}
	if got != changes {
		t.Errorf("got %d changes, want %d", got, changes)
	}
}

func TestAnatomyBarsAreScores(t *testing.T) {
	r := demoAnswer(t)
	for i := range r.Shots {
		a := newAnatomy(&r.Shots[i], lang.Printer{})
		if len(a.Lenses) != wording.ShownBehind+1 || a.Lenses[0].Name != r.Shots[i].Use.Lens {
			t.Fatalf("shot %s: shows %v, want the lens of the kit and %d more", r.Shots[i].Shot.ID, a.Lenses, wording.ShownBehind)
		}
		for _, row := range a.Rows {
			for k, cell := range row.Cells {
				j := r.Shots[i].Find(a.Lenses[k].Name)
				at := slices.IndexFunc(j.Criteria, func(f rules.Finding) bool { return f.Name == row.Name })
				f := j.Criteria[at]
				if row.Weight != f.Weight || cell.Known == math.IsNaN(f.Score) || cell.Known && math.Abs(float64(cell.Score)/100-f.Score) > 0.001 {
					t.Errorf("shot %s, %s, %s: a bar of %v by %g, want %.3f by %g", r.Shots[i].Shot.ID, j.Lens, row.Name, cell.Score, row.Weight, f.Score, f.Weight)
				}
			}
		}
	}
}

func TestCurveRisesWithTheScore(t *testing.T) {
	r := demoAnswer(t)
	nearby, err := sure.Draw(t.Context(), r.Table, &r.Kit, 40, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sizes := r.Table.Sizes(engine.Options{})
	c := newCurve(&answer.Answer{Recommendation: r, Sizes: sizes, Nearby: nearby}, lang.Printer{})
	for i, at := range c.Points {
		want := curveBottom - sizes[i].Kit.Mean*(curveBottom-curveTop)
		if math.Abs(float64(at.Y)-want) > halfPixel || at.Chosen != (sizes[i].Carry == r.Scenario.Limits.Carry) {
			t.Errorf("%s: drawn at %v, want %.1f; chosen %v", at.Count, at.Y, want, at.Chosen)
		}
	}
	whole := c.Sure.Same.Width
	for _, other := range c.Sure.Others {
		whole += other.Width
	}
	if want := curveRight - curveLeft; math.Abs(float64(whole)-want) > halfPixel {
		t.Errorf("the shares of nearby briefs take %v px, want %g", whole, want)
	}
}
