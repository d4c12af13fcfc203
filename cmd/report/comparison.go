package report

import (
	"io"

	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/compare"
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
	Name  string
	Lens  string // "" when none does it
	Setup []setting
	View  *cameraView
	Strip *stripDrawing
}

// Comparison writes what a changed brief does to the plan: the page, which says it in
// words, and behind it the setups that change, drawn side by side.
func (w Writer) Comparison(to io.Writer, words show.Page, r *compare.Comparison) error {
	page := comparison{Blocks: words.Blocks[1:], Matrix: newMatrix(r.New, w.Printer).unlinked()}
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
	view := newView(r, shot.Shot, j, w.Printer)
	side.View, side.Strip = &view, drawStrip(j, neighbours(j), w.Printer)
	return side
}
