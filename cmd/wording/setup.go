package wording

import (
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A Setting is one thing that is set for a shot.
type Setting uint8

const (
	FocalLength Setting = iota
	Stop
	TStop
	FocusAt
	Sharp
	ISO
	ND
	StandAt

	Settings // how many there are
)

var settings = [Settings]struct {
	name  string
	say   func(*engine.Judgement, lang.Printer) string
	reads []facts.ID // one, or where it begins and ends
	ends  []string   // what each of them is, "" where its number says it
}{
	FocalLength: {"focal length", of(facts.FocalLength), []facts.ID{facts.FocalLength}, []string{"focal length"}},
	Stop:        {"stop", of(facts.Stop), []facts.ID{facts.Stop}, []string{"stop"}},
	TStop:       {"T", of(facts.TStop), []facts.ID{facts.TStop}, []string{""}},
	FocusAt:     {"focus", focusAt, []facts.ID{facts.FocusMark}, []string{"focus"}},
	Sharp:       {"sharp", sharpRange, []facts.ID{facts.NearLimit, facts.FarLimit}, []string{"near limit", "far limit"}},
	ISO:         {"ISO", of(facts.ISO), []facts.ID{facts.ISO}, []string{"ISO"}},
	ND:          {"ND", nd, []facts.ID{facts.ND}, []string{"ND"}},
	StandAt:     {"stand at", standAt, []facts.ID{facts.SubjectNear, facts.SubjectFar}, []string{"stand at", "farthest at"}},
}

// String names the setting.
func (s Setting) String() string { return settings[s].name }

// In writes the setting of a judgement; "" for one that the shot leaves no choice of.
func (s Setting) In(j *engine.Judgement, p lang.Printer) string { return settings[s].say(j, p) }

func of(id facts.ID) func(*engine.Judgement, lang.Printer) string {
	return func(j *engine.Judgement, p lang.Printer) string { return Fact(j, id, p) }
}

func focusAt(j *engine.Judgement, p lang.Printer) string {
	if at := Fact(j, facts.FocusMark, p); j.Fact(facts.Following) == 1 && j.Fact(facts.SubjectNear) < j.Fact(facts.SubjectFar) {
		return "follows from " + at
	} else {
		return at
	}
}

func sharpRange(j *engine.Judgement, p lang.Printer) string {
	return Between(j.Fact(facts.NearLimit), j.Fact(facts.FarLimit), p)
}

// nd says how much light is taken away, and with what.
func nd(j *engine.Judgement, p lang.Printer) string {
	stops := Fact(j, facts.ND, p)
	if !(j.Fact(facts.ND) > 0) {
		return stops
	}
	text := filtersOn(j, p)
	if strings.Contains(" "+text, " "+stops) { // the name of the filter says it
		return text
	}
	return stops + ": " + text
}

// filtersOn names what takes light away in a set-up, "" for nothing. Names of filters have commas in
// them.
func filtersOn(j *engine.Judgement, p lang.Printer) string {
	with := j.Filtering
	if with == nil {
		return ""
	}
	var names []string
	for _, piece := range with.All() {
		names = append(names, piece.Name.Value)
	}
	if with.BuiltIn > 0 {
		names = append(names, p.Quantity(with.BuiltIn, "stops")+" in the camera")
	}
	return strings.Join(names, " + ")
}

// standAt says how far from the subject the camera stands where that is free.
func standAt(j *engine.Judgement, p lang.Printer) string {
	if j.Fact(facts.PlaceFree) != 1 {
		return ""
	}
	return Between(j.Fact(facts.SubjectNear), j.Fact(facts.SubjectFar), p)
}

// Score writes the score of a lens in a shot with its verdict, and a tilde before it where it rests
// on assumed figures.
func Score(j *engine.Judgement) string {
	if j.Standing != engine.Judged {
		return Tilde(j.Turns()) + engine.Out.String()
	}
	text := hundredthsOf(j) + " " + j.Verdict().String()
	if !j.Whole() {
		text += ", in part"
	}
	return text
}

// hundredthsOf writes the score of a lens in a shot, with a tilde where it rests on assumed figures.
func hundredthsOf(j *engine.Judgement) string { return Tilde(j.ScoreRests()) + hundredths(j.Score) }
