package why

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/lang"
)

// A Figure is a figure of the brief that can be changed alone.
type Figure uint8

const (
	Distance Figure = iota // all distances of the shot, by the same length
	Light
	Framing // by words of framing, or by steps of the share that the subject fills
	ISO     // the highest to use, up to that of the camera
	Speed   // of the camera, or of its pan
	Mass    // of the accessories on the rig
	figures
)

// String names the figure.
func (f Figure) String() string {
	return [figures]string{"distance", "light", "framing", "iso", "speed", "mass"}[f]
}

// What else counts as one step, beside the tolerances of the scenario: by it changes of
// different figures are compared. This project's judgement.
const (
	speedStep = 0.25 // share of the speed
	massStep  = 0.10 // share of what the rig carries
)

// A knob changes one figure of a shot. Values are in SI units; that of Distance is by how
// far the subject is moved away.
type knob struct {
	figure    Figure
	now       float64
	low, high float64 // how far it may be turned
	step      float64 // of a change that counts as one
	ratio     bool    // it is turned by factors: steps are stops
	turn      func(to float64) (*brief.Scenario, *brief.Shot)
	clicks    []click // the only places that it has, the smallest change first; nil where it has any
}

// A click is a place of a knob that has only some.
type click struct {
	to, size float64
	turn     func() (*brief.Scenario, *brief.Shot)
}

// How far figures may be turned. They are bounds of the search, far beyond what a
// production would change.
const (
	nearest     = 0.2 // metres from the sensor plane to the subject
	farther     = 3   // of the farthest distance
	stopsAway   = 10
	speedFactor = 4
	fastest     = 3 // m/s, of whoever carries the rig
)

// knobs gives what can be turned for a shot on a camera.
func knobs(s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot) []knob {
	ofShot := func(change func(*brief.Shot, float64)) func(float64) (*brief.Scenario, *brief.Shot) {
		return func(to float64) (*brief.Scenario, *brief.Shot) {
			changed := *shot
			change(&changed, to)
			return s, &changed
		}
	}
	var all []knob
	if shot.Room == nil {
		all = append(all, knob{
			figure: Distance, low: min(0, nearest-shot.Near), high: farther * shot.Far,
			step: s.Tolerances.Distance * (shot.Near + shot.Far) / 2,
			turn: ofShot(move),
		})
	}
	if light := shot.Light; !math.IsNaN(light) {
		all = append(all, knob{
			figure: Light, now: light, low: light, high: math.Ldexp(light, stopsAway),
			step: s.Tolerances.Light, ratio: true,
			turn: ofShot(func(shot *brief.Shot, to float64) { shot.Light = to }),
		})
	}
	all = append(all, framingKnob(s, shot))
	if k, turns := isoKnob(s, camera, shot); turns {
		all = append(all, k)
	}
	if k, moves := pace(shot, ofShot); moves {
		all = append(all, k)
	}
	carried := s.Accessories.Mass + camera.Mass.Or(0)
	return append(all, knob{
		figure: Mass, now: s.Accessories.Mass, high: s.Accessories.Mass + s.Rig.Payload.High.Or(0), step: massStep * carried,
		turn: func(to float64) (*brief.Scenario, *brief.Shot) {
			changed := *s
			changed.Accessories.Mass = to
			return &changed, shot
		},
	})
}

// isoKnob turns the highest ISO to those that a camera has. No brief makes a camera go beyond
// its own range.
func isoKnob(s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot) (knob, bool) {
	top := s.TopISO(camera)
	k := knob{figure: ISO, now: top}
	if math.IsNaN(top) {
		return k, false
	}
	for _, iso := range exposure.ISOsWithin(camera.LowestBase().Or(top), max(top, camera.ISORange.High.Or(top))) {
		if iso != top {
			k.clicks = append(k.clicks, click{iso, math.Abs(math.Log2(iso / top)), func() (*brief.Scenario, *brief.Shot) { return s.WithTopISO(iso), shot }})
		}
	}
	slices.SortStableFunc(k.clicks, func(a, b click) int { return cmp.Compare(a.size, b.size) })
	return k, k.clicks != nil // a camera may have no other
}

// move puts the whole move farther from the subject.
func move(shot *brief.Shot, by float64) { shot.Place(shot.Near+by, shot.Far+by) }

// pace gives the knob of the speed, of a pan when the camera stands.
func pace(shot *brief.Shot, ofShot func(func(*brief.Shot, float64)) func(float64) (*brief.Scenario, *brief.Shot)) (knob, bool) {
	now, change := shot.Move.Pace(), func(shot *brief.Shot, to float64) {
		shot.Move.Speed = lang.NewQuantity(to, lang.Speed)
	}
	if now == 0 {
		now, change = shot.Move.Turn.Or(0), func(shot *brief.Shot, to float64) {
			shot.Move.Turn = lang.NewQuantity(to, lang.AngularSpeed)
		}
	}
	return knob{
		figure: Speed, now: now, low: now / speedFactor, high: min(now*speedFactor, fastestOf(shot, now)), step: speedStep * now,
		turn: ofShot(change),
	}, now > 0
}

// fastestOf gives how fast a move may become: a walk no faster than people carry a rig.
func fastestOf(shot *brief.Shot, now float64) float64 {
	if shot.Move.Pace() == 0 {
		return math.Inf(1)
	}
	return max(now, fastest)
}

// at gives the value a share of the way from now to an end, by factors where it goes by
// them.
func (k *knob) at(end, share float64) float64 {
	if k.ratio {
		return k.now * math.Pow(end/k.now, share)
	}
	return k.now + share*(end-k.now)
}

// size gives how large a change is, in steps.
func (k *knob) size(to float64) float64 {
	switch {
	case k.step == 0:
		return math.Inf(1)
	case k.ratio:
		return math.Abs(math.Log2(to/k.now)) / k.step
	}
	return math.Abs(to-k.now) / k.step
}
