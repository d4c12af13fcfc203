package engine

import (
	"math"
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// An Aspect is what of the picture a limit is about.
type Aspect uint8

const (
	AnyAspect Aspect = iota // none of those below: the reason of the limit says what
	Framing
	Focus
	Light
	Steadiness
)

// String gives the word, as it stands in JSON.
func (a Aspect) String() string {
	return [...]string{"", "framing", "focus", "light", "steadiness"}[a]
}

// aspects tells the aspect of a limit or a score by the facts that it reads.
var aspects = [facts.Capacity]Aspect{
	facts.FramingError: Framing, facts.FramingLost: Framing, facts.FramingHeld: Framing,
	facts.ReserveNear: Focus, facts.ReserveFar: Focus, facts.FocusEase: Focus, facts.FocusHeld: Focus,
	facts.Over: Light, facts.Short: Light, facts.ExposureGap: Light, facts.ExposureError: Light,
	facts.Swing: Steadiness, facts.BobShare: Steadiness, facts.StepShare: Steadiness,
}

// besides are facts by which a score, and no limit, is about an aspect: what shapes and softens what is
// in the frame, what light costs, and what strobes.
var besides = [facts.Capacity]Aspect{
	facts.Bending: Framing, facts.EdgeStretch: Framing, facts.CornerStretch: Framing,
	facts.SceneSharp: Focus, facts.BackgroundBlur: Focus, facts.DiffractionShare: Focus,
	facts.Noise: Light, facts.Pull: Light, facts.FilterCross: Light,
	facts.Pace: Steadiness,
}

// isAbout reports whether a limit or a score of a criterion reads a fact of an aspect.
func isAbout(f *rules.Finding, a Aspect) bool {
	is := func(index int) bool { return besides[index] == a }
	return isLimiting(f, a) ||
		slices.ContainsFunc(f.Limits, func(l rules.Limit) bool { return slices.ContainsFunc(l.Reads, is) }) ||
		slices.ContainsFunc(f.Scores, func(s rules.Score) bool {
			return slices.ContainsFunc(s.Reads, func(index int) bool { return is(index) || aspects[index] == a })
		})
}

// isLimiting reports whether a criterion limits an aspect.
func isLimiting(f *rules.Finding, a Aspect) bool {
	return slices.ContainsFunc(f.Limits, func(l rules.Limit) bool {
		return slices.ContainsFunc(l.Reads, func(index int) bool { return aspects[index] == a })
	})
}

// FramingSlack is by what share a framing may be off before anybody sees a difference (an
// assumption of this project). The limit of the standard rules begins there.
const FramingSlack = 0.05

// A Part is a limit that bites: what of a shot is not done whole, and where.
type Part struct {
	Criterion string
	rules.Raised
	Aspect Aspect
	// Near and Far say by how much it is out at the nearest and the farthest of the move, 0
	// for not at all: framing as a share, too tight above 0 and too loose below; focus as
	// the share of the distance that lacks; light in stops, too much above 0 and too little
	// below.
	Near, Far float64
	Held      float64 // share of the way that is done; NaN where nothing moves or that is not told
}

// InPart gives the limits that bite: where they do, the shot is not done whole. There are
// none for a lens that is out.
func (j *Judgement) InPart() []Part {
	if j.Standing != Judged {
		return nil
	}
	var all []Part
	for i := range j.Criteria {
		f := &j.Criteria[i]
		for _, bite := range f.Bites {
			p := Part{Criterion: f.Name, Raised: bite, Held: math.NaN()}
			k := slices.IndexFunc(f.Limits, func(l rules.Limit) bool { return l.Code == bite.Code })
			for _, index := range f.Limits[k].Reads {
				p.Aspect = max(p.Aspect, aspects[facts.ID(index)])
			}
			p.locate(j)
			all = append(all, p)
		}
	}
	return all
}

// Whole reports whether no limit is below 1 anywhere on the way.
func (j *Judgement) Whole() bool { return j.Standing == Judged && len(j.InPart()) == 0 }

// locate says where a part is out, and by how much.
func (p *Part) locate(j *Judgement) {
	v := &j.Facts.Value
	moves := v[facts.SubjectFar] > v[facts.SubjectNear]
	switch p.Aspect {
	case Framing:
		p.Near, p.Far = beyond(v[facts.FillNear], v[facts.WantNearLow], v[facts.WantNearHigh]), beyond(v[facts.FillFar], v[facts.WantFarLow], v[facts.WantFarHigh])
		if moves {
			p.Held = v[facts.FramingHeld]
		}
	case Focus:
		p.Near, p.Far = max(0, -v[facts.ReserveNear]), max(0, -v[facts.ReserveFar])
		if from, to := v[facts.NearLimit], v[facts.FarLimit]; moves {
			if v[facts.Following] == 1 { // it waits where the lens focuses nearest
				to = math.Inf(1)
			}
			p.Held = max(0, min(to, v[facts.SubjectFar])-max(from, v[facts.SubjectNear])) / (v[facts.SubjectFar] - v[facts.SubjectNear])
		}
	case Light:
		p.Near = v[facts.Over] - v[facts.Short]
		p.Far = p.Near
	}
}

// beyond gives by what share a value lies outside a band, negative below it.
func beyond(value, low, high float64) float64 {
	switch {
	case value > high:
		return value/high - 1
	case value < low:
		return 1 - low/value
	}
	return 0
}
