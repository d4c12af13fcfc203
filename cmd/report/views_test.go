package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// matrixOf gives the matrix of a recommendation.
func matrixOf(r *engine.Recommendation) matrix {
	changes := floor.ChangesOf(r)
	return newMatrix(r, newDay(r, &changes, lang.Printer{}), nil, lang.Printer{})
}

func TestMatrixTellsOfEveryLensInEveryShot(t *testing.T) {
	r := demoAnswer(t)
	m := matrixOf(r)
	told := 0
	for _, rows := range [][]matrixRow{m.Rows, m.Replaced, m.Idle} {
		for _, row := range rows {
			for i, cell := range row.Cells {
				j := r.Shots[i].Find(row.Lens)
				told++
				switch {
				case j.Standing == engine.Judged && cell.Score != wording.Tilde(j.ScoreRests())+fmt.Sprintf("%.2f", j.Score):
					t.Errorf("shot %s, %s: says %s, want the score %.2f", m.Shots[i].ID, j.Lens, cell.Score, j.Score)
				case (j.Standing == engine.Judged) != (cell.Out == 0):
					t.Errorf("shot %s, %s: says that it is out: %v", m.Shots[i].ID, j.Lens, cell.Out)
				case cell.Out > 0 && !slices.Contains(m.Causes, cell.Out):
					t.Errorf("shot %s, %s: the key lacks %s", m.Shots[i].ID, j.Lens, cell.Out)
				case cell.Use != (r.Shots[i].Use == j):
					t.Errorf("shot %s, %s: marked as the lens for the shot: %v", m.Shots[i].ID, j.Lens, cell.Use)
				}
			}
		}
	}
	if want := len(r.Shots) * len(r.Shots[0].Ranking); told != want {
		t.Errorf("%d cells tell of a lens in a shot, want %d", told, want)
	}
}

// A lens that is too wide shows the subject smaller than was asked, and one that is too tight larger, by
// the share of the height that it fills.
func TestMatrixTellsTooWideFromTooTight(t *testing.T) {
	r := demoAnswer(t)
	seen := map[engine.Cause]int{}
	m := matrixOf(r)
	for _, row := range slices.Concat(m.Rows, m.Replaced, m.Idle) {
		for i, cell := range row.Cells {
			j := r.Shots[i].Find(row.Lens)
			small := j.Fact(facts.WantNearLow)/j.Fact(facts.FillNear) - 1
			small = max(small, j.Fact(facts.WantFarLow)/j.Fact(facts.FillFar)-1)
			large := max(j.Fact(facts.FillNear)/j.Fact(facts.WantNearHigh), j.Fact(facts.FillFar)/j.Fact(facts.WantFarHigh)) - 1
			switch cause := engine.Cause(cell.Out); {
			case cause == engine.TooWide && !(small >= 0.40), cause == engine.TooTight && !(large >= 0.40):
				t.Errorf("shot %s, %s: said to be %s, and the subject is %.2f smaller and %.2f larger than asked", m.Shots[i].ID, row.Lens, cell.Out, small, large)
			default:
				seen[cause]++
			}
		}
	}
	for _, cause := range []engine.Cause{engine.TooWide, engine.TooTight, engine.TooDark, engine.TooBright, engine.TooHeavy, engine.BendsShapes, engine.FocusesNoNearer, engine.NoMount} {
		if seen[cause] == 0 {
			t.Errorf("no cell says %q", causeWords[cause])
		}
	}
}

// A lens stands back only when the one that is named does every shot as well, and no lens of the kit
// does; of each pair at most one stands back for the other.
func TestReplacedLensesAreReplaced(t *testing.T) {
	r := demoAnswer(t)
	m := matrixOf(r)
	score := func(i int, lens string) float64 {
		if j := r.Shots[i].Find(lens); j.Standing == engine.Judged {
			return j.Score
		}
		return 0
	}
	stands := func(lens string) bool {
		return slices.ContainsFunc(m.Rows, func(row matrixRow) bool { return row.Lens == lens })
	}
	back := 0
	for _, row := range m.Replaced {
		if slices.Contains(r.Kit.Lenses, row.Lens) {
			t.Errorf("%s of the kit stands back", row.Lens)
		}
		if r.Shots[0].Find(row.Lens).KeptOut.By != "" {
			continue
		}
		back++
		if !slices.ContainsFunc(m.Rows, func(other matrixRow) bool {
			for i := range r.Shots {
				if score(i, other.Lens) < score(i, row.Lens) {
					return false
				}
			}
			return stands(other.Lens)
		}) {
			t.Errorf("%s stands back, and no lens does all it does", row.Lens)
		}
	}
	if back == 0 {
		t.Error("no lens stands back for another")
	}
}

// The day names each change of set-up with its minutes, before the shot that it is made for.
func TestDayShowsEachChange(t *testing.T) {
	r := demoAnswer(t)
	changes := floor.ChangesOf(r)
	day := newDay(r, &changes, lang.Printer{})
	got, sum := 0, 0.0
	for i, shot := range day {
		if i > 0 && r.Kit.Uses[i] != r.Kit.Uses[i-1] && shot.Minutes == "" {
			t.Errorf("shot %s: says nothing of a change of lens", shot.ID)
		}
		if shot.Minutes != "" {
			minutes, err := strconv.ParseFloat(strings.TrimPrefix(shot.Minutes, lang.Assumed), 64)
			if err != nil {
				t.Fatal(err)
			}
			got, sum = got+1, sum+minutes
		}
	}
	if got != len(changes.All) || got <= r.Kit.Swaps || sum != r.Kit.Minutes {
		t.Errorf("got %d changes of %g minutes, want %d of %g, more than the %d of lens", got, sum, len(changes.All), r.Kit.Minutes, r.Kit.Swaps)
	}
}

// The pieces of a lane cover the way, and a piece that fails is as long as it is: never wider.
func TestLanesAreToScale(t *testing.T) {
	r := demoAnswer(t)
	fails := 0
	for i := range r.Shots {
		j := r.Shots[i].Use
		w, drawn := floor.WayOf(j), newWay(j, lang.Printer{})
		for l, lane := range drawn.Lanes {
			at := 0.0
			for k, piece := range lane.Pieces {
				of := w.Lanes[l][k]
				length := math.Abs(of.From-of.To) / max(w.Length(), 1e-9)
				if w.Length() == 0 {
					length = 1
				}
				if math.Abs(float64(piece.X)-at) > 1e-6 || math.Abs(float64(piece.Width)-length) > 1e-6 {
					t.Errorf("shot %s, %s: a piece lies at %s and is %s long, want %.4f and %.4f", r.Shots[i].Shot.ID, lane.Name, piece.X, piece.Width, at, length)
				}
				at += length
				if piece.Fails {
					fails++
				}
			}
			if math.Abs(at-1) > 1e-6 {
				t.Errorf("shot %s, %s: the pieces cover %.4f of the way", r.Shots[i].Shot.ID, lane.Name, at)
			}
		}
	}
	if fails == 0 {
		t.Error("nothing fails anywhere")
	}
}
