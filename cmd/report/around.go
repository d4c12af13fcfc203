package report

import (
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/lang"
)

// A beside is what stands beside the kit: other kits, what changes take, and what is unsure.
type beside struct {
	Kits    []kitLine
	Changes [][2]string
	Unsure  []kitLine
	Says    []string
}

// A kitLine is a kit in words.
type kitLine struct {
	About, Lenses, Score, Note string
	Chosen                     bool
}

func newBeside(a *answer.Answer, p lang.Printer) beside {
	var b beside
	r := a.Recommendation
	for i := range a.Sizes {
		kit := &a.Sizes[i].Kit
		line := kitLine{
			About: wording.Counted(a.Sizes[i].Carry, "lens"), Lenses: wording.Lenses(kit.Lenses), Score: wording.KitScore(r, kit),
			Note: wording.Counted(kit.Swaps, "lens change"), Chosen: a.Sizes[i].Carry == r.Scenario.Limits.Carry,
		}
		if len(kit.Uncovered) > 0 {
			line.Note = "not covered: " + wording.List(kit.Uncovered, "and")
		}
		b.Kits = append(b.Kits, line)
	}
	for i := range r.Runners {
		k := &r.Runners[i]
		line := kitLine{About: "behind it", Lenses: wording.Lenses(k.Lenses), Score: wording.KitScore(r, k), Note: "loses most on " + wording.LosesMost(r, k)}
		if a.Tastes != nil {
			line.Note += "; best for " + wording.TasteOf(k, a.Tastes) + " of all weightings"
		}
		b.Kits = append(b.Kits, line)
	}
	for i := range a.Cameras {
		if c := &a.Cameras[i]; c.Camera != r.Camera {
			b.Kits = append(b.Kits, kitLine{About: c.Camera.Name.Value, Lenses: wording.Lenses(c.Kit.Lenses), Score: wording.CandidateScore(c)})
		}
	}
	b.Changes = wording.SetupChanges(&a.Changes, p)
	for i, change := range a.Changes.All {
		b.Changes[i][0] = "before " + change.Before.ID + ": " + b.Changes[i][0]
	}
	say := func(text string) {
		if text != "" {
			b.Says = append(b.Says, text)
		}
	}
	if a.Second != nil {
		say(wording.Second(a.Second, r))
	}
	if a.Cameras != nil {
		say(wording.Cameras(a.Cameras, a.Best))
	}
	if a.Nearby != nil {
		say(wording.Nearby(a.Nearby, r) + " " + wording.Hurts(a.Hurts, a.Nearby) + " " + wording.Drawn(a.Nearby, r.Scenario, p))
	}
	if a.Tastes != nil {
		say(wording.Tastes(a.Tastes) + " " + wording.HeldTastes(a.Tastes))
	}
	for _, q := range wording.Questions(a.Figures) {
		b.Unsure = append(b.Unsure, kitLine{Lenses: wording.Figure(&q), Note: wording.Otherwise(&q, p)})
	}
	b.Unsure = append(b.Unsure, leftOut(r)...)
	return b
}

// leftOut lists the lenses that stay out for lack of data.
func leftOut(r *engine.Recommendation) []kitLine {
	var all []kitLine
	for i := range r.LeftOut {
		out := &r.LeftOut[i]
		all = append(all, kitLine{Lenses: out.Lens, Note: "the catalogue lacks its " + wording.LeftOut(out)})
	}
	return all
}
