package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// MostCompared is how many lenses stand side by side in all shots. Of more only the first of each
// ranking and those of the kit do, unless all are asked for.
const MostCompared = 100

// NotCompared says how many lenses are not among them, "" for none.
func NotCompared(more int) string {
	if more == 0 {
		return ""
	}
	return fmt.Sprintf("%s more of the catalogue are not among the first of any shot: --all shows them.", Counted(more, "lens"))
}

// MostDetailed is how many shots have a section and a column on a page. Of more those do first that are
// not done as asked, unless all are asked for.
const MostDetailed = 100

// NotDetailed says how many shots are not among them, "" for none.
func NotDetailed(more int) string {
	if more == 0 {
		return ""
	}
	return fmt.Sprintf("Not drawn here: %s, which the day above names. --all draws them too.", Counted(more, "more shot"))
}

// ShownBehind is how many lenses are shown behind the best in each shot.
const ShownBehind = 2

// Strengths gives the reasons of the criteria that weigh most, which the reader wants to
// see confirmed.
func Strengths(j *engine.Judgement, p lang.Printer) string {
	var said []string
	for _, c := range j.Criteria {
		if c.Applies && len(c.Said) > 0 && c.Weight >= 3 {
			said = append(said, c.Said[0].In(p))
		}
	}
	return strings.Join(said, "; ")
}

// WhyNot says why a lens does not come before the reference.
func WhyNot(j, reference *engine.Judgement, p lang.Printer) string {
	if j.Standing == engine.Excluded {
		if out := WhyOut(j, p); len(out) > 0 {
			return out[0]
		}
	}
	if j.Standing == engine.Undecided {
		return "too little is known of it: " + Unjudged(j.Unjudged()) + " missing"
	}
	if reference == nil {
		return ""
	}
	if lost, won, ok := engine.Behind(j, reference); ok && j.Score <= reference.Score {
		return fmt.Sprintf("loses on %s, %s against %s%s", lost.Name, worth(&lost), worth(&won), saidBy(&lost, p))
	}
	but := "not in the best kit"
	switch {
	case j.InKit:
		but = "to put it on takes more than it brings"
	case j.KeptOut.By != "":
		but = KeptOut(j.KeptOut, p)
	}
	if gained, over, ok := engine.Behind(reference, j); ok {
		return fmt.Sprintf("better here on %s, %s against %s, but %s", gained.Name, worth(&over), worth(&gained), but)
	}
	return "as good here, but " + but
}

// Unjudged names what keeps a lens from being judged.
func Unjudged(lacks []string) string {
	if len(lacks) == 0 {
		return "figures"
	}
	return List(lacks, "and")
}

// LeftOut names what a lens lacks that stays out for lack of data, and which limit asks for it.
func LeftOut(l *engine.LeftOut) string {
	if l.AskedBy != "" {
		return fmt.Sprintf("%s, which %q asks for", List(l.Lacks, "and"), l.AskedBy)
	}
	return Unjudged(l.Lacks)
}

// KeptOut says by which limit a lens cannot come even alone, "" by none.
func KeptOut(b engine.Bar, p lang.Printer) string {
	switch is, allowed := p.Quantity(b.Is, b.Unit), p.Quantity(b.Allowed, b.Unit); {
	case b.Lacks != "" && b.By == "owned_only":
		return fmt.Sprintf("its %s is not known, and %q asks for it", b.Lacks, b.By)
	case b.Lacks != "":
		return fmt.Sprintf("its %s is not known, and %q allows %s", b.Lacks, b.By, allowed)
	case b.By == "rent":
		return fmt.Sprintf("it costs %s a day, and \"rent\" allows %s", is, allowed)
	case b.By == "bag":
		return fmt.Sprintf("it weighs %s, and \"bag\" allows %s", is, allowed)
	case b.By != "":
		return fmt.Sprintf("%q keeps it out", b.By)
	}
	return ""
}

// WhyOut says what excludes a lens: why it does not go on the camera, its vetoes, or the criteria
// that it does nothing of.
func WhyOut(j *engine.Judgement, p lang.Printer) []string {
	if j.Refusal != "" {
		return []string{j.Refusal}
	}
	said := Vetoes(j.Vetoes(), p)
	for i := range j.Criteria {
		if f := &j.Criteria[i]; len(said) == 0 && f.Applies && f.Score == 0 {
			return []string{fmt.Sprintf("%s scores 0%s", f.Name, saidBy(f, p))}
		}
	}
	return said
}

// Vetoes writes the reasons of vetoes.
func Vetoes(raised []rules.Raised, p lang.Printer) []string {
	said := make([]string, len(raised))
	for i, veto := range raised {
		said[i] = veto.In(p)
	}
	return said
}

// Said gives what a criterion has to say: its vetoes, or else its reasons.
func Said(f *rules.Finding, p lang.Printer) []string {
	if len(f.Raised) > 0 || !f.Applies {
		return Vetoes(f.Raised, p)
	}
	return Reasons(f, p)
}

// Reasons writes the reasons of a criterion.
func Reasons(f *rules.Finding, p lang.Printer) []string {
	said := make([]string, len(f.Said))
	for i, reason := range f.Said {
		said[i] = reason.In(p)
	}
	return said
}

// Because says in one text why a criterion scores as it does: what its limits have to say, then what it
// always says, unless a limit says the same and more.
func Because(f *rules.Finding, p lang.Printer) string {
	if len(f.Raised) > 0 {
		return strings.Join(Said(f, p), "; ")
	}
	said := Vetoes(f.Bites, p)
	for _, text := range Said(f, p) {
		if !slices.ContainsFunc(said, func(before string) bool { return strings.Contains(before, text) }) {
			said = append(said, text)
		}
	}
	return strings.Join(said, "; ")
}

// Limited says what the limits of a criterion leave of the whole score, "" for all of it.
func Limited(f *rules.Finding) string {
	if left := f.Leaves(); left < 1 {
		return fmt.Sprintf(" × %.2f", left)
	}
	return ""
}

// worth says the score of a criterion and what its limits leave of the whole.
func worth(f *rules.Finding) string {
	if math.IsNaN(f.Score) {
		return fmt.Sprintf("a limit of %.2f", f.Leaves())
	}
	return fmt.Sprintf("%.2f%s", f.Score, Limited(f))
}

// saidBy gives the reason of a criterion, that of a limit first, then what it lacks, or what it
// asks when it has no words for it.
func saidBy(f *rules.Finding, p lang.Printer) string {
	switch lacking := f.Lacking(); {
	case len(f.Bites) > 0:
		return ": " + f.Bites[0].In(p)
	case lacking != nil:
		return ": " + lacking.In(p)
	case len(f.Said) > 0:
		return ": " + f.Said[0].In(p)
	case len(f.Scores) > 0:
		return ": " + f.Scores[0].Text()
	}
	return ""
}

// LosesMost names the shot that costs a kit most against the best one, and on what, or the minutes
// where those cost it more.
func LosesMost(r *engine.Recommendation, k *engine.Kit) string {
	shot, j, minutes := mostLost(r, k)
	switch {
	case minutes > 0:
		return "changes, " + halfMinutes(minutes) + " minutes more"
	case shot == nil:
		return "nothing but swaps or mass"
	case j == nil:
		return "shot " + shot.Shot.ID + ", which it does not cover"
	}
	return "shot " + shot.Shot.ID + OfLenses(j, shot.Use, func(j, use *engine.Judgement) string {
		lost, won, ok := engine.Behind(j, use)
		if !ok {
			return ""
		}
		return fmt.Sprintf(" with %s, on %s: %s against %s", j.Lens, lost.Name, worth(&lost), worth(&won))
	})
}

// LosesMostIn is [LosesMost] in a few words.
func LosesMostIn(r *engine.Recommendation, k *engine.Kit) string {
	shot, j, minutes := mostLost(r, k)
	switch {
	case minutes > 0:
		return "changes take " + halfMinutes(minutes) + " minutes more"
	case shot == nil:
		return "loses nothing but by swaps or mass"
	case j == nil:
		return "does not cover shot " + shot.Shot.ID
	}
	text := "loses most in shot " + shot.Shot.ID
	if lost, _, ok := engine.Behind(j, shot.Use); ok {
		text += ", on " + lost.Name
	}
	return text
}

// mostLost gives the shot that costs a kit most against the best one, and the lens that it has for it;
// nil for none. Where changes cost it more than that, it gives their minutes instead.
func mostLost(r *engine.Recommendation, k *engine.Kit) (shot *engine.ShotAnswer, j *engine.Judgement, minutes float64) {
	most := 0.0
	for i := range r.Shots {
		of := &r.Shots[i]
		if of.Use == nil {
			continue
		}
		with, loss := of.Find(k.Uses[i]), of.Use.Score
		if with != nil {
			loss -= with.Score
		}
		if loss *= of.Shot.Weight; loss > most {
			shot, j, most = of, with, loss
		}
	}
	if more := k.Minutes - r.Kit.Minutes; more*r.Scenario.Prices.Change > most {
		minutes = more
	}
	return shot, j, minutes
}
