package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/lang"
)

// matrixWidth is how many lenses stand side by side: as many as a phone and a sheet of
// paper hold.
const matrixWidth = 12

// A matrix is the kit matrix: every lens that does a shot, in every shot.
type matrix struct {
	Blocks []matrixBlock
	Codes  []matrixCode // why a lens is out
	Never  []outLens    // lenses that are out in every shot
}

// A matrixBlock is as much of the matrix as stands side by side.
type matrixBlock struct {
	Lenses []matrixLens
	Rows   []matrixRow
}

type matrixLens struct {
	Name string
	Kit  bool
}

type matrixRow struct {
	ID    string
	Index int // of the shot's section on the page; 0 for none
	Cells []matrixCell
}

// A matrixCell is one lens in one shot: its score in hundredths, or a letter for what
// excludes it. Tone runs with the score from 0 to 10.
type matrixCell struct {
	Text string
	Tone int
	Out  bool
	Use  bool
}

type matrixCode struct{ Letter, Criterion string }

type outLens struct{ Name, Why string }

func newMatrix(r *engine.Recommendation, p lang.Printer) matrix {
	var m matrix
	columns := m.columns(r, p)
	letters := m.letters(r)
	for from := 0; from < len(columns); from += matrixWidth {
		part := columns[from:min(len(columns), from+matrixWidth)]
		block := matrixBlock{Lenses: make([]matrixLens, len(part)), Rows: make([]matrixRow, len(r.Shots))}
		for i, name := range part {
			block.Lenses[i] = matrixLens{name, slices.Contains(r.Kit.Lenses, name)}
		}
		m.Blocks = append(m.Blocks, block)
	}
	place := map[string]int{}
	for i, name := range columns {
		place[name] = i
	}
	for i := range r.Shots {
		shot := &r.Shots[i]
		for b := range m.Blocks {
			m.Blocks[b].Rows[i] = matrixRow{ID: shot.Shot.ID, Index: i + 1, Cells: make([]matrixCell, len(m.Blocks[b].Lenses))}
		}
		for k := range shot.Ranking {
			if at, ok := place[shot.Ranking[k].Lens]; ok {
				m.Blocks[at/matrixWidth].Rows[i].Cells[at%matrixWidth] = cellOf(&shot.Ranking[k], shot.Use, letters)
			}
		}
	}
	return m
}

// unlinked gives the matrix for a page without sections of shots.
func (m matrix) unlinked() matrix {
	for _, block := range m.Blocks {
		for i := range block.Rows {
			block.Rows[i].Index = 0
		}
	}
	return m
}

func cellOf(j, use *engine.Judgement, letters map[string]string) matrixCell {
	switch j.Standing {
	case engine.Judged:
		return matrixCell{Text: wording.Tilde(j.ScoreRests()) + fmt.Sprintf("%.0f", j.Score*100), Tone: int(math.Round(j.Score * 10)), Use: j == use}
	case engine.Undecided:
		return matrixCell{Text: "?", Out: true}
	}
	cell := matrixCell{Text: "–", Out: true}
	for i := range j.Criteria {
		if len(j.Criteria[i].Raised) > 0 {
			cell.Text = letters[j.Criteria[i].Name]
			break
		}
	}
	return cell
}

// columns gives the lenses that do a shot: those of the kit first, then by their sum of
// scores. The others go to Never.
func (m *matrix) columns(r *engine.Recommendation, p lang.Printer) []string {
	sums := map[string]float64{}
	does := map[string]bool{}
	for i := range r.Shots {
		for k := range r.Shots[i].Ranking {
			j := &r.Shots[i].Ranking[k]
			sums[j.Lens] += 0
			if j.Standing == engine.Judged {
				does[j.Lens] = true
				sums[j.Lens] += j.Score * r.Shots[i].Shot.Weight
			}
		}
	}
	var columns []string
	for name := range sums {
		if does[name] || slices.Contains(r.Kit.Lenses, name) {
			columns = append(columns, name)
			continue
		}
		m.Never = append(m.Never, outLens{name, wording.WhyNot(r.Shots[0].Find(name), nil, p)})
	}
	rank := func(name string) int {
		if i := slices.Index(r.Kit.Lenses, name); i >= 0 {
			return i
		}
		return len(r.Kit.Lenses)
	}
	slices.SortFunc(columns, func(a, b string) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(sums[b], sums[a]), cmp.Compare(a, b))
	})
	slices.SortFunc(m.Never, func(a, b outLens) int { return cmp.Compare(a.Name, b.Name) })
	return columns
}

// letters gives each criterion a letter, in the order of the rules, and lists them.
func (m *matrix) letters(r *engine.Recommendation) map[string]string {
	letters := map[string]string{}
	for i := range r.Shots {
		for k := range r.Shots[i].Ranking {
			for _, c := range r.Shots[i].Ranking[k].Criteria {
				if _, ok := letters[c.Name]; ok || len(letters) == 26 {
					continue
				}
				letters[c.Name] = string(rune('a' + len(letters)))
				m.Codes = append(m.Codes, matrixCode{letters[c.Name], c.Name})
			}
		}
	}
	return letters
}
