package report

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// mostNumbered is how many shots stand side by side with their scores in numbers; the columns of more
// are narrow, and scores are bars.
const mostNumbered = 16

// A matrix is every lens in every shot: lenses are rows, widest first and zooms last, and shots are
// columns, so that each column shows its window between too wide and too tight.
type matrix struct {
	Narrow   bool
	Shots    []dayShot   // those that have a section
	Rows     []matrixRow // lenses that could stand in
	Replaced []matrixRow // lenses that another does as well as, or that are kept out
	Idle     []matrixRow // lenses that do no shot
	Causes   []cause     // those that there are
	More     string      // says that there are other lenses
}

// A matrixRow is a lens.
type matrixRow struct {
	Lens  string
	Plate place
	Note  string // why it stands back
	All   cause  // what puts it out in every shot, 0 where that differs
	Words string // of that
	Cells []matrixCell
}

// A matrixCell is one lens in one shot: its score, or what puts it out.
type matrixCell struct {
	Score   string
	Bar     share
	Verdict engine.Verdict // whose height a bar has
	Out     cause
	Use     bool // the lens for the shot
}

// A cause is why a lens is out, with a mark of its own.
type cause engine.Cause

var causeWords = [engine.Causes]string{
	engine.TooWide: "too wide", engine.TooTight: "too tight", engine.TooDark: "too dark", engine.TooBright: "too bright",
	engine.TooHeavy: "too heavy", engine.TooLight: "too light for the rig", engine.BendsShapes: "bends shapes", engine.FocusesNoNearer: "focuses no nearer",
	engine.TooShallow: "too little is sharp", engine.Swims: "swims", engine.DarkCorners: "dark corners", engine.NoRoom: "no room before it",
	engine.NoMount: "no mount", engine.Unknown: "too little known", engine.ElseWrong: "out by another rule",
}

func (c cause) String() string { return causeWords[c] }

func newMatrix(r *engine.Recommendation, day []dayShot, columns *Columns, p lang.Printer) matrix {
	m := matrix{Shots: detailed(day)}
	m.Narrow = len(m.Shots) > mostNumbered
	shown, more := r.Shown(wording.MostCompared)
	m.More = wording.NotCompared(more)
	lenses := widestFirst(r, slices.Collect(maps.Keys(shown)))
	var seen [engine.Causes]bool
	of := make([]compared, len(lenses))
	var standing []*compared // those that nothing stands back
	column := columns.of(r)
	for i, lens := range lenses {
		of[i] = compared{lens: lens, worth: make([]float64, len(r.Shots)), cells: make([]matrixCell, len(r.Shots))}
		for s := range r.Shots {
			one := column[s].cell(&r.Shots[s], lens, s == 0)
			if s == 0 {
				of[i].first = one.first
			}
			of[i].cells[s], of[i].worth[s] = one.matrixCell, one.worth
			of[i].cells[s].Use = r.Shots[s].Use != nil && r.Shots[s].Use.Lens == lens && one.Out == 0
			seen[one.Out] = true
		}
		if plateOf(r.Kit.Lenses, lens) > 0 || of[i].first.KeptOut.By == "" {
			standing = append(standing, &of[i])
		}
	}
	for i := range of {
		m.add(&of[i], plateOf(r.Kit.Lenses, of[i].lens), replacing(&of[i], standing), p)
	}
	if len(m.Shots) < len(day) {
		for _, rows := range [][]matrixRow{m.Rows, m.Replaced, m.Idle} {
			for i := range rows {
				rows[i].Cells = cellsOf(rows[i].Cells, m.Shots)
			}
		}
	}
	for c := range seen {
		if seen[c] && c > 0 {
			m.Causes = append(m.Causes, cause(c))
		}
	}
	return m
}

// widestFirst puts lenses in the order of the rows: primes by focal length, then zooms by their wide end.
func widestFirst(r *engine.Recommendation, lenses []string) []string {
	of := func(name string) (zoom int, focal float64) {
		lens, _ := r.Scenario.Catalogue.Lenses.Lookup(name)
		if lens.IsZoom() {
			zoom = 1
		}
		return zoom, lens.Focal.Low.Value
	}
	slices.SortFunc(lenses, func(a, b string) int {
		zoomA, focalA := of(a)
		zoomB, focalB := of(b)
		return cmp.Or(cmp.Compare(zoomA, zoomB), cmp.Compare(focalA, focalB), cmp.Compare(a, b))
	})
	return lenses
}

// add puts the row of a lens where it belongs; by is a lens that does as well in every shot, "" for none.
func (m *matrix) add(of *compared, plate place, by string, p lang.Printer) {
	row, first := matrixRow{Lens: of.lens, Plate: plate, Cells: of.cells}, of.first
	switch {
	case row.Plate > 0:
		m.Rows = append(m.Rows, row)
	case !slices.ContainsFunc(row.Cells, func(c matrixCell) bool { return c.Out == 0 }):
		if !slices.ContainsFunc(row.Cells, func(c matrixCell) bool { return c.Out != row.Cells[0].Out }) {
			row.All, row.Words = row.Cells[0].Out, first.Refusal
			if row.Words == "" && first.Standing == engine.Undecided {
				row.Words = wording.WhyNot(first, nil, p)
			}
		}
		m.Idle = append(m.Idle, row)
	case first.KeptOut.By != "":
		row.Note = wording.KeptOut(first.KeptOut, p)
		m.Replaced = append(m.Replaced, row)
	case by != "":
		row.Note = by + " does as well or better"
		m.Replaced = append(m.Replaced, row)
	default:
		m.Rows = append(m.Rows, row)
	}
}

// cellsOf gives those of a row's cells that belong to some shots.
func cellsOf(cells []matrixCell, shots []dayShot) []matrixCell {
	some := make([]matrixCell, len(shots))
	for i, shot := range shots {
		some[i] = cells[shot.Index-1]
	}
	return some
}

// compared is a lens with what it is worth in each shot.
type compared struct {
	lens  string
	first *engine.Judgement // in the first shot
	worth []float64
	cells []matrixCell
}

// replacing gives a lens that does every shot as well as another does, or better; "" for none. Of lenses
// that do all alike it is the first.
func replacing(of *compared, standing []*compared) string {
	behind := true
	for _, other := range standing {
		if other == of {
			behind = false
			continue
		}
		as, better := true, behind
		for s := range of.worth {
			as = as && other.worth[s] >= of.worth[s]
			better = better || other.worth[s] > of.worth[s]
		}
		if as && better {
			return other.lens
		}
	}
	return ""
}

// Columns keep what stands in the columns of a matrix, for the next matrix about the same shots: of a
// lens that is out it takes long to find why. The zero value is ready for use, and nil keeps nothing.
type Columns struct{ kept map[*brief.Shot]matrixColumn }

// A matrixColumn is what each lens does in one shot, by its name.
type matrixColumn map[string]columnCell

type columnCell struct {
	matrixCell
	worth float64
	first *engine.Judgement // that it was made from, in the first column
}

// of gives the column of each shot of a recommendation. Those of other shots are not kept any more.
func (c *Columns) of(r *engine.Recommendation) []matrixColumn {
	all, kept := make([]matrixColumn, len(r.Shots)), map[*brief.Shot]matrixColumn{}
	for i, shot := range r.Table.Scenario.Shots {
		if c != nil {
			all[i] = c.kept[shot]
		}
		if all[i] == nil {
			all[i] = matrixColumn{}
		}
		kept[shot] = all[i]
	}
	if c != nil {
		c.kept = kept
	}
	return all
}

// cell gives what a lens does in the shot of the column.
func (c matrixColumn) cell(shot *engine.ShotAnswer, lens string, first bool) columnCell {
	one, known := c[lens]
	if !known {
		j := shot.Find(lens)
		if one = (columnCell{matrixCell: cellOf(j)}); j.Standing == engine.Judged {
			one.worth = j.Score
		}
		if first {
			one.first = j
		}
		c[lens] = one
	}
	return one
}

func cellOf(j *engine.Judgement) matrixCell {
	if j.Standing != engine.Judged {
		return matrixCell{Out: cause(j.Cause())}
	}
	return matrixCell{Score: wording.Tilde(j.ScoreRests()) + fmt.Sprintf("%.2f", j.Score), Bar: share(j.Score), Verdict: j.Verdict()}
}
