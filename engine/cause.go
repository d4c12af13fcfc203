package engine

import (
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A Cause says in a word why a lens is out in a shot.
type Cause uint8

const (
	NoCause  Cause = iota // it is not out
	TooWide               // it shows more than was asked
	TooTight              // it shows less
	TooDark
	TooBright
	TooHeavy // for the rig
	TooLight
	BendsShapes
	FocusesNoNearer
	TooShallow // no stop keeps all of the subject sharp
	Swims      // the picture does, in the hands
	DarkCorners
	NoRoom // between the lens and the subject
	NoMount
	Unknown   // too little is known of it
	ElseWrong // what no word above says, such as a rule of the house

	Causes // how many there are
)

// causes tells the cause of a veto, or of a limit at 0, by the first of these facts that it reads.
var causes = []struct {
	fact facts.ID
	of   func(j *Judgement) Cause
}{
	{facts.Mounts, is(NoMount)},
	{facts.CircleMargin, is(DarkCorners)},
	{facts.FramingError, (*Judgement).misframed},
	{facts.Bending, is(BendsShapes)}, {facts.EdgeStretch, is(BendsShapes)}, {facts.CornerStretch, is(BendsShapes)}, {facts.Squeeze, is(BendsShapes)},
	{facts.ReserveNear, (*Judgement).unsharp}, {facts.ReserveFar, (*Judgement).unsharp},
	{facts.Over, is(TooBright)}, {facts.Short, is(TooDark)},
	{facts.Swing, is(Swims)}, {facts.StepShare, is(Swims)},
	{facts.PayloadLow, is(TooLight)}, {facts.PayloadHigh, is(TooHeavy)},
	{facts.Clearance, is(NoRoom)},
	{facts.SubjectNear, is(FocusesNoNearer)}, // nearer than a lens without the figure is known to focus
}

func is(c Cause) func(*Judgement) Cause { return func(*Judgement) Cause { return c } }

// misframed tells by the greater of the errors at both ends of a move.
func (j *Judgement) misframed() Cause {
	p := Part{Aspect: Framing}
	if p.locate(j); max(p.Near, p.Far) > -min(p.Near, p.Far) {
		return TooTight
	}
	return TooWide
}

func (j *Judgement) unsharp() Cause {
	if j.Fact(facts.SubjectNear) < j.Fact(facts.CloseFocus) {
		return FocusesNoNearer
	}
	return TooShallow
}

// Cause gives the cause of the first criterion that excludes a lens that is explained.
func (j *Judgement) Cause() Cause {
	switch {
	case j.Refusal != "":
		return NoMount
	case j.Standing == Undecided:
		return Unknown
	case j.Standing == Judged:
		return NoCause
	}
	for i := range j.Criteria {
		f := &j.Criteria[i]
		if len(f.Raised) == 0 {
			continue
		}
		reads := readsOf(f, f.Raised[0].Code)
		for _, c := range causes {
			if slices.Contains(reads, int(c.fact)) {
				return c.of(j)
			}
		}
		break
	}
	return ElseWrong
}

// readsOf gives the facts that a veto or a limit reads.
func readsOf(f *rules.Finding, code string) []int {
	for i := range f.Vetoes {
		if f.Vetoes[i].Code == code {
			return f.Vetoes[i].Reads
		}
	}
	for i := range f.Limits {
		if f.Limits[i].Code == code {
			return f.Limits[i].Reads
		}
	}
	return nil
}
