package floor

import (
	"math"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/motion"
)

// An Aspect is what the camera may lose by going nearer or farther.
type Aspect uint8

const (
	Focus Aspect = iota
	Framing
	LensRoom

	aspects
)

// String names the aspect.
func (a Aspect) String() string {
	return [...]string{Focus: "focus", Framing: "framing", LensRoom: "room for the lens"}[a]
}

// A Stretch is all the distances from the sensor plane at which an aspect holds. Both ends
// are NaN when that is not known; far may be without bound.
type Stretch struct {
	Holds     Aspect
	Near, Far float64
}

// rounding is the error allowed between a distance and a limit that come from different
// formulas.
const rounding = 1e-9

func (s Stretch) has(distance float64) bool {
	return distance >= s.Near*(1-rounding) && distance <= s.Far*(1+rounding)
}

// A Walk is how near to the subject the camera may come and how far it may go, from the
// sensor plane. Its limits are those of all aspects that hold at the end of the move and at
// the focus mark, so that they never forbid either: a framing that is off by no more than anybody
// sees reaches as far as the move does. Both are NaN where neither focus nor framing holds there.
type Walk struct {
	Stretches           []Stretch // one for each aspect
	Near, Far           float64
	NearLoses, FarLoses []Aspect // what a step beyond each end loses
	Covers              bool     // focus and framing hold over the whole move
}

// Known reports whether there is anywhere to walk.
func (w *Walk) Known() bool { return !math.IsNaN(w.Near) }

// walkOf finds the limits of a move along a path.
func walkOf(shot *brief.Shot, j *engine.Judgement, path motion.Path) Walk {
	w := Walk{Stretches: []Stretch{focusStretch(j), framingStretch(shot, j), {LensRoom, orZero(j.Fact(facts.LensLength)), math.Inf(1)}}}
	var must []float64
	if directed(path.Way) {
		must = append(must, path.At(1).Distance)
	}
	if mark := j.Fact(facts.FocusMark); mark >= path.Near && mark <= path.Far {
		must = append(must, mark)
	}
	w.limit(must, path)
	w.Covers = true
	for _, s := range w.Stretches {
		w.Covers = w.Covers && s.has(path.Near) && s.has(path.Far)
	}
	return w
}

// directed reports whether a move has a beginning and an end, rather than distances that it
// keeps between.
func directed(way motion.Way) bool {
	return way == motion.Approaching || way == motion.Retreating || way == motion.Rising
}

// limit intersects the stretches that have all of some distances.
func (w *Walk) limit(must []float64, path motion.Path) {
	var kept [aspects]bool
	w.Near, w.Far = 0, math.Inf(1)
	var allowed []Stretch
	for _, s := range w.Stretches {
		slack := 0.0
		if s.Holds == Framing {
			slack = engine.FramingSlack
		}
		wide := Stretch{s.Holds, s.Near / (1 + slack), s.Far * (1 + slack)}
		kept[s.Holds] = !math.IsNaN(s.Near + s.Far)
		for _, distance := range must {
			kept[s.Holds] = kept[s.Holds] && wide.has(distance)
		}
		for _, distance := range append([]float64{path.Near, path.Far}, must...) {
			if wide.has(distance) {
				s.Near, s.Far = min(s.Near, distance), max(s.Far, distance)
			}
		}
		if kept[s.Holds] {
			w.Near, w.Far = max(w.Near, s.Near), min(w.Far, s.Far)
			allowed = append(allowed, s)
		}
	}
	if !kept[Focus] && !kept[Framing] || w.Near > w.Far*(1+rounding) {
		w.Near, w.Far = math.NaN(), math.NaN()
		return
	}
	for _, s := range allowed {
		if s.Near == w.Near {
			w.NearLoses = append(w.NearLoses, s.Holds)
		}
		if s.Far == w.Far && !math.IsInf(s.Far, 1) {
			w.FarLoses = append(w.FarLoses, s.Holds)
		}
	}
}

// focusStretch is where the subject is sharp: from the near to the far limit of the mark, or,
// where the focus follows it, as near as the lens focuses.
func focusStretch(j *engine.Judgement) Stretch {
	if j.Fact(facts.Following) == 1 {
		return Stretch{Focus, orZero(j.Fact(facts.CloseFocus)), math.Inf(1)}
	}
	return Stretch{Focus, j.Fact(facts.NearLimit), j.Fact(facts.FarLimit)}
}

// framingStretch is where the subject is framed as asked. Where the framing changes over the
// move, its two ends are the shot, and between them the picture may be anything between.
func framingStretch(shot *brief.Shot, j *engine.Judgement) Stretch {
	v := &j.Facts.Value
	at := func(share float64) float64 {
		return facts.AtField(v, v[facts.FrameReach]/share)
	}
	return Stretch{Framing, at(shot.Frame.Near.High), at(shot.Frame.Far.Low)}
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
