package show

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"

	"github.com/jedib0t/go-pretty/v6/text"
)

const MatrixKey = "Scores in hundredths; in brackets the lens for the shot. A star marks the kit; " +
	"\"-\" is out, and \"?\" too little known. Lenses that do no shot are left out."

// matrixRoom is what the shots of a matrix may take side by side, in cells: 60 without the
// names of the lenses, which wrap.
const matrixRoom = narrowWidth - 18

// MatrixGrids lays the scores of the lenses in the shots out, so many shots side by side
// that 60 cells hold them.
func MatrixGrids(r *engine.Recommendation) []Grid {
	lenses, widest := lensesThatDo(r), "[100]"
	if len(r.Scenario.Assumed) > 0 {
		widest = "[" + lang.Assumed + "100]"
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
	score := fmt.Sprintf("%.0f", j.Score*100)
	if j.ScoreRests() {
		score = lang.Assumed + score
	}
	if j == use {
		return Cell{Text: "[" + score + "]", Tone: Good}
	}
	return Cell{Text: score}
}

// lensesThatDo gives the lenses of the kit and then the others that do a shot, in the
// order in which the first shot that each does ranks them.
func lensesThatDo(r *engine.Recommendation) []string {
	lenses := slices.Clone(r.Kit.Lenses)
	seen := map[string]bool{}
	for _, lens := range lenses {
		seen[lens] = true
	}
	for i := range r.Shots {
		for k := range r.Shots[i].Ranking {
			if j := &r.Shots[i].Ranking[k]; j.Standing == engine.Judged && !seen[j.Lens] {
				seen[j.Lens] = true
				lenses = append(lenses, j.Lens)
			}
		}
	}
	return lenses
}

// stripCells is the length of a focus strip, with which 60 cells hold the distances at its ends
// too, in feet and inches as well.
const stripCells = 26

const FocusKey = "Far on the left, near on the right, in equal turns of the focus ring: # the subject, sharp; ! the subject, " +
	"not sharp; = sharp besides; - reserve that is wanted and not there; | the mark. A focus that follows is drawn at its nearest."

// FocusGrid draws a focus strip for each shot.
func FocusGrid(r *engine.Recommendation, p lang.Printer) Grid {
	g := Grid{Columns: []Column{{Title: "shot"}, {Title: "far", Right: true}, {Title: "focus"}, {Title: "near"}}}
	for i := range r.Shots {
		if j := r.Shots[i].Use; j != nil {
			far, strip, near := focusStrip(j)
			row := []Cell{{Text: r.Shots[i].Shot.ID}, {Text: p.Quantity(far, "m")}, {Text: strip}, {Text: p.Quantity(near, "m")}}
			for _, other := range j.Worlds().All() {
				if far, _, near := focusStrip(other); other.Standing == j.Standing {
					row[1].assume(p.Quantity(far, "m"))
					row[3].assume(p.Quantity(near, "m"))
				}
			}
			g.Rows = append(g.Rows, row)
		}
	}
	return g
}

// assume marks what is otherwise with other values of assumed figures.
func (c *Cell) assume(otherwise string) {
	if c.Text != otherwise && !strings.HasPrefix(c.Text, lang.Assumed) {
		c.Text = lang.Assumed + c.Text
	}
}

// focusStrip draws what should be sharp against what is, on an axis of dioptres, and gives
// the distances at its ends. Without a known stop it is empty.
func focusStrip(j *engine.Judgement) (far float64, strip string, near float64) {
	sharpNear, sharpFar, mark := j.Fact(facts.NearLimit), j.Fact(facts.FarLimit), j.Fact(facts.FocusMark)
	need := j.FocusNeed()
	if math.IsNaN(sharpNear + sharpFar + mark) {
		return math.NaN(), "", math.NaN()
	}
	low, high := 1/max(sharpFar, need.WithReserve[1]), 1/min(sharpNear, need.WithReserve[0])
	room := (high - low) / 10
	low, high = max(0, low-room), high+room
	step := (high - low) / stripCells
	var b strings.Builder
	for i := range stripCells {
		from, to := low+float64(i)*step, low+float64(i+1)*step
		middle := 2 / (from + to)
		subject, sharp := from <= 1/need.Near && 1/need.Far < to, sharpNear <= middle && middle <= sharpFar
		switch {
		case from <= 1/mark && 1/mark < to:
			b.WriteByte('|')
		case subject && sharp:
			b.WriteByte('#')
		case sharp:
			b.WriteByte('=')
		case subject:
			b.WriteByte('!')
		case need.WithReserve[0] <= middle && middle <= need.WithReserve[1]:
			b.WriteByte('-')
		default:
			b.WriteByte('.')
		}
	}
	return 1 / low, b.String(), 1 / high
}
