package report

import (
	"fmt"
	"math"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/lang"
)

// An anatomy shows what the scores of the best lenses in a shot are made of.
type anatomy struct {
	Lenses []anatomyLens
	Rows   []anatomyRow
}

type anatomyLens struct {
	Name, Score, Why string
	Kit              bool
}

// An anatomyRow is one criterion: its weight, and its score for each lens.
type anatomyRow struct {
	Name   string
	Weight float64
	Cells  []anatomyCell
}

// An anatomyCell is a bar as long as the score, and as wide as the row's weight, with what the
// limits of the criterion leave of the whole score beside it.
type anatomyCell struct {
	Text  string
	Score px
	Known bool
	Lost  bool // the criterion on which the lens loses most
}

func newAnatomy(shot *engine.ShotAnswer, p lang.Printer) anatomy {
	var a anatomy
	shown := shot.Foremost(wording.ShownBehind)
	if len(shown) == 0 {
		return a
	}
	lost, scores := make([]string, len(shown)), make([][]string, len(shown))
	for i, j := range shown {
		lens := anatomyLens{Name: j.Lens, Score: wording.Tilde(j.ScoreRests()) + fmt.Sprintf("%.2f", j.Score), Kit: j == shot.Use}
		lens.Why = wording.OfLenses(j, shown[0], func(j, first *engine.Judgement) string { return wording.WhyNot(j, first, p) })
		if j.Standing != engine.Judged {
			lens.Score = "out"
		}
		if i == 0 {
			lens.Why = wording.OfLens(j, func(j *engine.Judgement) string { return wording.WhyNot(j, nil, p) })
		} else if behind, _, ok := engine.Behind(j, shown[0]); ok && j.Standing == shown[0].Standing && j.Score <= shown[0].Score {
			lost[i] = behind.Name
		}
		a.Lenses, scores[i] = append(a.Lenses, lens), wording.FindingScores(j)
	}
	for c := range shown[0].Criteria {
		row := anatomyRow{Name: shown[0].Criteria[c].Name, Weight: shown[0].Criteria[c].Weight}
		said := false
		for i, j := range shown {
			f := &j.Criteria[c]
			cell := anatomyCell{Known: !math.IsNaN(f.Score), Score: px(f.Score * 100), Lost: f.Name == lost[i]}
			switch {
			case cell.Known:
				cell.Text = scores[i][c]
			case !f.Applies && len(f.Unknown) == 0:
				cell.Text = "–"
			case len(f.Unknown) > 0:
				cell.Text = "unknown"
			}
			if len(f.Raised) > 0 {
				cell.Text, cell.Lost = "out", true
			}
			said = said || f.Applies || len(f.Unknown) > 0
			row.Cells = append(row.Cells, cell)
		}
		if said {
			a.Rows = append(a.Rows, row)
		}
	}
	return a
}
