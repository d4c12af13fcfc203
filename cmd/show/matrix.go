package show

import (
	"fmt"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/lang"

	"github.com/jedib0t/go-pretty/v6/text"
)

// MatrixKey says what the signs in the grids of [MatrixGrids] mean.
const MatrixKey = "In brackets the lens for the shot. A star marks the kit; " +
	"\"-\" is out, and \"?\" too little known. Lenses that do no shot are left out."

// matrixRoom is what the shots of a matrix may take side by side, in cells: 60 without the
// names of the lenses, which wrap.
const matrixRoom = narrowWidth - 18

// MatrixGrids lays the scores of some lenses in the shots out, so many shots side by side
// that 60 cells hold them.
func MatrixGrids(r *engine.Recommendation, of map[string]bool) []Grid {
	lenses, widest := lensesThatDo(r, of), "[1.00]"
	if len(r.Scenario.Assumed) > 0 {
		widest = "[" + lang.Assumed + "1.00]"
	}
	var grids []Grid
	for from, to := 0, 0; from < len(r.Shots); from = to {
		for room := matrixRoom; to < len(r.Shots) && (room > 0 || to == from); to++ {
			if room -= len(gap) + max(len(widest), text.StringWidth(r.Shots[to].Shot.ID)); room < 0 && to > from {
				break
			}
		}
		shots := r.Shots[from:to]
		g := Grid{Columns: []Column{{Title: "lens", Wraps: true}}}
		for i := range shots {
			g.Columns = append(g.Columns, Column{Title: shots[i].Shot.ID, Right: true})
		}
		for _, lens := range lenses {
			name := Cell{Text: lens}
			if slices.Contains(r.Kit.Lenses, lens) {
				name = Cell{Text: lens + " *", Tone: Strong}
			}
			row := []Cell{name}
			for i := range shots {
				row = append(row, matrixCell(shots[i].Find(lens), shots[i].Use))
			}
			g.Rows = append(g.Rows, row)
		}
		grids = append(grids, g)
	}
	return grids
}

func matrixCell(j, use *engine.Judgement) Cell {
	switch {
	case j.Standing == engine.Excluded:
		return Cell{Text: "-", Tone: Faint}
	case j.Standing == engine.Undecided:
		return Cell{Text: "?", Tone: Faint}
	}
	score := fmt.Sprintf("%.2f", j.Score)
	if j.ScoreRests() {
		score = lang.Assumed + score
	}
	if j == use {
		return Cell{Text: "[" + score + "]", Tone: Good}
	}
	return Cell{Text: score}
}

// lensesThatDo gives the lenses of the kit and then those of some that do a shot, in the
// order in which the first shot that each does ranks them.
func lensesThatDo(r *engine.Recommendation, of map[string]bool) []string {
	lenses := slices.Clone(r.Kit.Lenses)
	seen := map[string]bool{}
	for _, lens := range lenses {
		seen[lens] = true
	}
	for i := range r.Shots {
		for _, lens := range r.Shots[i].Doing() {
			if of[lens] && !seen[lens] {
				seen[lens] = true
				lenses = append(lenses, lens)
			}
		}
	}
	return lenses
}

// assume marks what is otherwise with other values of assumed figures.
func (c *Cell) assume(otherwise string) {
	if c.Text != otherwise && !strings.HasPrefix(c.Text, lang.Assumed) {
		c.Text = lang.Assumed + c.Text
	}
}
