package report

import (
	"cmp"
	"fmt"
	"slices"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/lang"
)

// mostNumbered is how many shots stand side by side with their scores in numbers; the columns of more
// are narrow, and scores are bars.
const mostNumbered = 16

// A matrix is every lens in every shot: lenses are rows, widest first and zooms last, and shots are
// columns, so that each column shows its window between too wide and too tight.
type matrix struct {
	Narrow   bool
	Linked   bool // the shots have sections on the page
	Shots    []dayShot
	Rows     []matrixRow // lenses that could stand in
	Replaced []matrixRow // lenses that another does as well as, or that are kept out
	Idle     []matrixRow // lenses that do no shot
	Causes   []cause     // those that there are
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

func newMatrix(r *engine.Recommendation, day []dayShot, p lang.Printer) matrix {
	m := matrix{Narrow: len(r.Shots) > mostNumbered, Linked: true, Shots: day}
	lenses := make([]string, 0, len(r.Shots[0].Ranking))
	for i := range r.Shots[0].Ranking {
		lenses = append(lenses, r.Shots[0].Ranking[i].Lens)
	}
	slices.SortFunc(lenses, func(a, b string) int {
		of := func(name string) (zoom int, focal float64) {
			lens, _ := r.Scenario.Catalogue.Lenses.Lookup(name)
			if lens.IsZoom() {
				zoom = 1
			}
			return zoom, lens.Focal.Low.Value
		}
		zoomA, focalA := of(a)
		zoomB, focalB := of(b)
		return cmp.Or(cmp.Compare(zoomA, zoomB), cmp.Compare(focalA, focalB), cmp.Compare(a, b))
	})
	judged := make([][]*engine.Judgement, len(lenses)) // by lens and shot
	at := map[string]int{}
	for i, lens := range lenses {
		at[lens], judged[i] = i, make([]*engine.Judgement, len(r.Shots))
	}
	for s := range r.Shots {
		for k := range r.Shots[s].Ranking {
			j := &r.Shots[s].Ranking[k]
			judged[at[j.Lens]][s] = j
		}
	}
	var seen [engine.Causes]bool
	var standing [][]*engine.Judgement // those that nothing stands back
	for i, lens := range lenses {
		if in := judged[i]; plateOf(&r.Kit, lens) > 0 || in[0].KeptOut.By == "" {
			standing = append(standing, in)
		}
	}
	for i, lens := range lenses {
		row := matrixRow{Lens: lens, Plate: plateOf(&r.Kit, lens), Cells: make([]matrixCell, len(r.Shots))}
		idle, same := true, true
		for s, j := range judged[i] {
			cell := cellOf(j, &r.Shots[s])
			row.Cells[s], idle = cell, idle && cell.Out > 0
			same, seen[cell.Out] = same && cell.Out == row.Cells[0].Out, true
		}
		switch by := replacing(judged[i], standing); {
		case row.Plate > 0:
			m.Rows = append(m.Rows, row)
		case idle:
			if same {
				row.All, row.Words = row.Cells[0].Out, judged[i][0].Refusal
				if row.Words == "" && judged[i][0].Standing == engine.Undecided {
					row.Words = wording.WhyNot(judged[i][0], nil, p)
				}
			}
			m.Idle = append(m.Idle, row)
		case judged[i][0].KeptOut.By != "":
			row.Note = wording.KeptOut(judged[i][0].KeptOut, p)
			m.Replaced = append(m.Replaced, row)
		case by != "":
			row.Note = by + " does as well or better"
			m.Replaced = append(m.Replaced, row)
		default:
			m.Rows = append(m.Rows, row)
		}
	}
	for c := range seen {
		if seen[c] && c > 0 {
			m.Causes = append(m.Causes, cause(c))
		}
	}
	return m
}

// replacing gives a lens that does every shot as well as another does, or better; "" for none. Of lenses
// that do all alike it is the first.
func replacing(of []*engine.Judgement, standing [][]*engine.Judgement) string {
	worth := func(j *engine.Judgement) float64 {
		if j.Standing != engine.Judged {
			return 0
		}
		return j.Score
	}
	behind := true
	for _, other := range standing {
		if other[0].Lens == of[0].Lens {
			behind = false
			continue
		}
		as, better := true, behind
		for s := range of {
			as = as && worth(other[s]) >= worth(of[s])
			better = better || worth(other[s]) > worth(of[s])
		}
		if as && better {
			return other[0].Lens
		}
	}
	return ""
}

func cellOf(j *engine.Judgement, shot *engine.ShotAnswer) matrixCell {
	if j.Standing != engine.Judged {
		return matrixCell{Out: cause(j.Cause())}
	}
	return matrixCell{
		Score: wording.Tilde(j.ScoreRests()) + fmt.Sprintf("%.2f", j.Score), Bar: share(j.Score), Verdict: j.Verdict(), Use: j == shot.Use,
	}
}
