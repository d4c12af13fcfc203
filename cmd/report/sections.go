package report

import (
	"fmt"
	"io"
	"slices"
	"sync"

	"glassbrief/cmd/wording"
	"glassbrief/engine/answer"
	"glassbrief/engine/floor"
)

// Sections are the parts of the report of an answer that an edit of the brief can change. Each is
// worked out when it is asked for, so that one shot can be drawn without the others.
type Sections struct {
	w        Writer
	of       *answer.Answer
	day      []dayShot
	sections []dayShot // those of the day that have a section
	left     int       // that have none
	matrix   func() matrix
	deck     func() *floor.Deck
	said     func() wording.Deck
	pages    map[int]shotPage
	was      *answer.Answer // that it is set against; nil for none
}

// Beside gives what the section of a shot takes from the others: with the same of it, and the same shot
// with the same lens, a section is the same.
func (s *Sections) Beside(i int) string {
	said := s.said().Cards[i]
	var brought []bool // of the lenses that come next in rank
	for n, lens := range s.of.Shots[i].Doing() {
		if n <= wording.ShownBehind {
			brought = append(brought, slices.Contains(s.of.Kit.Lenses, lens))
		}
	}
	return fmt.Sprint(s.day[i].Plate, brought, "\n", said.Short, "\n", said.Cautions)
}

// Against sets the sections against another answer about the same shots: what differs is marked.
func (s *Sections) Against(was *answer.Answer) *Sections {
	s.was = was
	return s
}

// Sections gives the parts of the report of an answer. Of the shots that are asked for the whole
// ranking is looked at as far as the answer holds it.
func (w Writer) Sections(a *answer.Answer) *Sections {
	s := &Sections{w: w, of: a, day: newDay(a.Recommendation, &a.Changes, w.Printer)}
	s.left = detail(s.day, a.Shots, w.All)
	s.sections = detailed(s.day)
	s.matrix = sync.OnceValue(func() matrix { return newMatrix(a.Recommendation, s.day, w.Columns, w.Printer) })
	s.deck = sync.OnceValue(func() *floor.Deck { return floor.NewDeck(a.Recommendation) })
	s.said = sync.OnceValue(func() wording.Deck { return wording.CautionsOf(s.deck(), w.Printer) })
	return s
}

// Top writes what stands below the title: the kit, what is not done as asked, and the day.
func (s *Sections) Top(to io.Writer) error {
	return parts().ExecuteTemplate(to, "top", newTop(s.of, s.day, s.w.Printer))
}

// Run writes camera and rig.
func (s *Sections) Run(to io.Writer) error {
	return parts().ExecuteTemplate(to, "run", top{Run: runOf(s.of.Camera, s.of.Scenario)})
}

// Now writes the lenses of the kit in small, for what stays in view.
func (s *Sections) Now(to io.Writer) error {
	return parts().ExecuteTemplate(to, "now", newKit(&s.of.Kit, s.day))
}

// Cautions writes those of the whole day.
func (s *Sections) Cautions(to io.Writer) error {
	return parts().ExecuteTemplate(to, "cautions", s.said().Short)
}

// Matrix writes every lens in every shot.
func (s *Sections) Matrix(to io.Writer) error {
	return parts().ExecuteTemplate(to, "matrix", s.matrix())
}

// Shots lists the places of the shots that have a section, in the order of the page.
func (s *Sections) Shots() []int {
	all := make([]int, len(s.sections))
	for n, day := range s.sections {
		all[n] = day.Index - 1
	}
	return all
}

// Stands writes what the section of a shot begins with: its lens, its set-up and its way. The shot is
// given by its place in the brief, which is one of [Sections.Shots].
func (s *Sections) Stands(to io.Writer, i int) error {
	return parts().ExecuteTemplate(to, "stands", s.shot(i))
}

// Behind writes the rest of the section of a shot: what it lacks, and the drawings.
func (s *Sections) Behind(to io.Writer, i int) error {
	return parts().ExecuteTemplate(to, "behind", s.shot(i))
}

// shot gives all about a shot, worked out once.
func (s *Sections) shot(i int) shotPage {
	if s.pages == nil {
		s.pages = map[int]shotPage{}
	}
	shot, made := s.pages[i]
	if !made {
		shot = s.newShot(i)
		s.pages[i] = shot
	}
	return shot
}

func (s *Sections) newShot(i int) shotPage {
	shot := newShotPage(s.of, i, s.deck, s.w.Printer)
	said := s.said().Cards[i]
	s.mark(&shot, i)
	shot.dayShot, shot.Cautions, shot.Sources = s.day[i], said.Short, sourced(s.deck().Cards[i].Cautions, said.Cautions)
	for n := range s.sections {
		if s.sections[n].Index != i+1 {
			continue
		}
		if n > 0 {
			shot.Before = &s.sections[n-1]
		}
		if n+1 < len(s.sections) {
			shot.After = &s.sections[n+1]
		}
	}
	return shot
}

// mark sets a shot against what it was.
func (s *Sections) mark(shot *shotPage, i int) {
	if s.was == nil {
		return
	}
	was := s.was.Shots[i].Use
	old := newDayShot(s.was.Shots[i].Shot, was, &s.was.Kit)
	if old.Lens != s.day[i].Lens || old.Verdict != s.day[i].Verdict {
		shot.Old = &changedSide{LensAt: old.Lens, Verdict: old.Verdict, Plate: old.Plate}
	}
	if was != nil {
		markSetup(shot.Setup, setupOf(was, s.w.Printer))
	}
}
