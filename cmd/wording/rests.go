package wording

import (
	"fmt"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// HowSure says beside a kit that it rests on assumed figures, and whether another could be
// better for it; "" where it rests on none.
func HowSure(f *sure.Figures) string {
	switch {
	case f == nil:
		return ""
	case f.Sure:
		return fmt.Sprintf("; %s, and the kit is sure whatever %s", ofFigures(f), map[bool]string{true: "it turns out to be", false: "they turn out to be"}[f.Bear == 1])
	case f.Same == f.Draws:
		return fmt.Sprintf("; %s, and the kit is not sure: all of %d draws of them give it, which is no proof", ofFigures(f), f.Draws)
	}
	return fmt.Sprintf("; %s, and the kit is not sure: %d of %d draws of them give it", ofFigures(f), f.Same, f.Draws)
}

// ofFigures counts the figures that bear on the choice of a kit. Of most lenses nobody knows where they begin to
// see and how they breathe, so those are told apart.
func ofFigures(f *sure.Figures) string {
	said := bearOn(f.Bear, "the choice")
	switch f.Perspective {
	case 0:
		return said
	case f.Bear:
		return said + ", all of pupils and breathing of lenses"
	}
	return said + fmt.Sprintf(", %d of them pupils and breathing of lenses", f.Perspective)
}

// assumed says how many assumed figures bear on a kit, and on what it stands on; "" for none.
func assumed(s *brief.Scenario, camera *catalog.Camera, lenses []string) string {
	return countAssumed(len(s.AssumedOf(camera.Name.Value, lenses)))
}

// countAssumed is said of what is brought: fewer figures than bear on the choice, since those of the other
// lenses are none of them.
func countAssumed(n int) string {
	if n == 0 {
		return ""
	}
	return "; " + bearOn(n, "this kit")
}

func bearOn(n int, what string) string {
	return fmt.Sprintf("%s %s on %s", Counted(n, "assumed figure"), verb(n, "bears", "bear"), what)
}

// shownQuestions is how many figures are asked for beside a kit at most, and worthAsking by how much
// one must move its score that settles nothing.
const (
	shownQuestions = 5
	worthAsking    = 0.001
)

// Questions gives the figures to find out first: those that settle something, and
// those that move the score of the kit.
func Questions(f *sure.Figures) []sure.Question {
	n := 0
	for f != nil && n < len(f.Ask) && n < shownQuestions && (f.Ask[n].Settles > 0 || f.Ask[n].Moves >= worthAsking) {
		n++
	}
	if n == 0 {
		return nil
	}
	return f.Ask[:n]
}

// Figure names an assumed figure by its keyword and whose it is.
func Figure(q *sure.Question) string { return ofAssumed(q.Assumption) }

func ofAssumed(a *brief.Assumption) string {
	return fmt.Sprintf("%s of %s %s", a.Keyword, a.Of, a.Name)
}

// Taken gives the value that is taken for an assumed figure, and its range.
func Taken(a *brief.Assumption, p lang.Printer) (middle, between string) {
	return p.Quantity(a.Middle, a.Unit), p.Quantity(a.Low, a.Unit) + " to " + p.Quantity(a.High, a.Unit)
}

// Otherwise says what becomes of the kit for values of a figure.
func Otherwise(q *sure.Question, p lang.Printer) string {
	var said []string
	for _, k := range q.Kits {
		said = append(said, fmt.Sprintf("%s gives %s", p.Quantity(k.Value, q.Unit), Lenses(k.Kit)))
	}
	switch {
	case said != nil:
		return strings.Join(said, "; ")
	case q.Settles >= q.Moves:
		return "beside others it changes the kit; knowing it gains " + lossOf(q.Settles)
	}
	return "moves the score of the kit by " + lossOf(q.Moves)
}
