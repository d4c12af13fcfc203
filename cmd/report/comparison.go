package report

import (
	"fmt"
	"io"
	"slices"

	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/compare"
	"glassbrief/engine/floor"
)

// A comparison is what the template of the same name shows: what is now, over what was.
type comparison struct {
	Run          []string
	Kit          []kitLens
	Gone         []string // lenses that are no longer brought
	Sum, Was     string
	Lost, Gained []shortfall
	Day          []dayShot
	Blocks       []show.Block // in words
	Shots        []changedShot
}

// A changedShot is a shot that is taken otherwise, now over before.
type changedShot struct {
	dayShot
	Title, LensAt string
	Old           *changedSide // nil for a shot that is new
	Because       string
	Setup         []setting
	Doubt         string
	Way           *way
	Frames        []frameDrawing
	Strip         *stripDrawing
	rank          int // more for one that is lost
}

// A changedSide is what a shot was; Plate is its place in the kit of then.
type changedSide struct {
	LensAt, Verdict string
	Plate           place
}

// Comparison writes what a changed brief does to the plan: the page, which says it in
// words, and the shots that change, drawn over what they were.
func (w Writer) Comparison(to io.Writer, words show.Page, r *compare.Comparison) error {
	p := w.Printer
	changes, before := floor.ChangesOf(r.New), floor.ChangesOf(r.Old)
	page := comparison{
		Run: runOf(r.New.Camera, r.New.Scenario), Blocks: words.Blocks[1:],
		Sum: wording.Wholeness(r.New), Was: wording.Wholeness(r.Old), Day: newDay(r.New, &changes, p),
	}
	because := map[int]string{}
	for _, effect := range r.Effects {
		if effect.Of == compare.Setup {
			var numbers []string
			for _, at := range effect.Because {
				numbers = append(numbers, fmt.Sprint(at+1))
			}
			because[effect.Shot] = "otherwise"
			if numbers != nil {
				because[effect.Shot] = "by change " + wording.List(numbers, "and")
			}
		}
	}
	for i := range page.Day {
		page.Day[i].Minutes = "" // what changed stands in their place
	}
	was := newDay(r.Old, &before, p)
	for i, pair := range r.Shots {
		if pair.New == nil {
			continue
		}
		shot := changedShot{dayShot: page.Day[i], Title: pair.New.Shot.Title, Because: because[i]}
		if pair.Old != nil {
			shot.rank = rankOf(pair.New) - rankOf(pair.Old)
		}
		if pair.Old != nil && because[i] == "" && shot.rank == 0 {
			page.Day[i].Index = 0
			continue
		}
		page.Day[i].Changed = true
		shot.fill(w, r, pair)
		if pair.Old != nil {
			old := &was[slices.IndexFunc(was, func(d dayShot) bool { return d.ID == pair.Old.Shot.ID })]
			shot.Old = &changedSide{LensAt: old.Lens, Verdict: old.Verdict, Plate: old.Plate}
			if says := (shortfall{dayShot: page.Day[i], Says: old.Verdict + " before, now " + shot.Verdict}); shot.rank > 0 {
				page.Lost = append(page.Lost, says)
			} else if shot.rank < 0 {
				page.Gained = append(page.Gained, says)
			}
		}
		page.Shots = append(page.Shots, shot)
	}
	// What is lost comes first, then what is gained.
	order := func(s changedShot) int {
		switch {
		case s.rank > 0:
			return 0
		case s.rank < 0:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(page.Shots, func(a, b changedShot) int { return order(a) - order(b) })
	page.Kit = newKit(&r.New.Kit, page.Day)
	for i := range page.Kit {
		page.Kit[i].Reason = "is new"
		if slices.Contains(r.Old.Kit.Lenses, page.Kit[i].Name) {
			page.Kit[i].Reason = "stays"
		}
	}
	for _, name := range r.Old.Kit.Lenses {
		if !slices.Contains(r.New.Kit.Lenses, name) {
			page.Gone = append(page.Gone, name)
		}
	}
	return w.write(to, "compare.html", "page", words.Title(), page)
}

// rankOf orders how well a shot is done, 0 for good and whole.
func rankOf(shot *engine.ShotAnswer) int {
	switch j := shot.Use; {
	case j == nil:
		return 8
	case !j.Whole():
		return 4 + int(j.Verdict())
	default:
		return int(j.Verdict())
	}
}

// fill draws a shot that some lens of the new kit does.
func (s *changedShot) fill(w Writer, r *compare.Comparison, pair compare.Shots) {
	p, j := w.Printer, pair.New.Use
	s.Doubt = wording.Doubt(pair.New, p)
	if j == nil {
		return
	}
	s.LensAt = wording.OfLens(j, func(j *engine.Judgement) string { return wording.LensAt(j, p) })
	s.Setup, s.Frames, s.Strip, s.Way = setupOf(j, p), framesOf(r.New, pair.New.Shot, j, p), drawStrip(j, neighbours(j), p), newWay(j, p)
	if pair.Old == nil || pair.Old.Use == nil {
		return
	}
	old := pair.Old.Use
	markSetup(s.Setup, setupOf(old, p))
	s.Way = overWay(old, j, p)
	distances := ends(pair.Old.Shot)
	for i, distance := range ends(pair.New.Shot) {
		s.Frames[i].over(newEye(r.New, pair.New.Shot, j, distance), newEye(r.Old, pair.Old.Shot, old, distances[min(i, len(distances)-1)]))
	}
}
