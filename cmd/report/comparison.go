package report

import (
	"io"

	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/compare"
	"glassbrief/engine/floor"
)

// A comparison is what the template of the same name shows.
type comparison struct {
	Blocks []show.Block
	Shots  []changedShot
	Matrix matrix
}

// A changedShot sets a shot of the old plan beside that of the new.
type changedShot struct {
	ID, Title string
	Sides     []changedSide
}

// A changedSide is a shot in one of the plans.
type changedSide struct {
	Name   string
	Lens   string // "" when none does it
	Setup  []setting
	Frames []frameDrawing
	Strip  *stripDrawing
}

// Comparison writes what a changed brief does to the plan: the page, which says it in
// words, and behind it the setups that change, drawn side by side.
func (w Writer) Comparison(to io.Writer, words show.Page, r *compare.Comparison) error {
	changes := floor.LensChangesOf(r.New)
	page := comparison{Blocks: words.Blocks[1:], Matrix: newMatrix(r.New, newDay(r.New, &changes, w.Printer), w.Printer)}
	page.Matrix.Linked = false
	for _, effect := range r.Effects {
		if effect.Of != compare.Setup {
			continue
		}
		shot := r.Shots[effect.Shot]
		page.Shots = append(page.Shots, changedShot{
			ID: shot.New.Shot.ID, Title: shot.New.Shot.Title,
			Sides: []changedSide{w.side("before", r.Old, shot.Old), w.side("now", r.New, shot.New)},
		})
	}
	return w.write(to, "compare.html", "page", words.Title(), page)
}

func (w Writer) side(name string, r *engine.Recommendation, shot *engine.ShotAnswer) changedSide {
	side := changedSide{Name: name}
	j := shot.Use
	if j == nil {
		return side
	}
	side.Lens = wording.OfLens(j, func(j *engine.Judgement) string { return wording.LensAt(j, w.Printer) })
	side.Setup = setupOf(j, w.Printer)
	side.Frames, side.Strip = framesOf(r, shot.Shot, j, w.Printer), drawStrip(j, neighbours(j), w.Printer)
	return side
}
