package floor

import (
	"math"
	"slices"

	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/sun"
)

// A Caution is a hazard of a shot. Where it is one of degree, it holds what is and what that
// is held against, in SI units; else both are 0.
type Caution struct {
	Hazard brief.Hazard
	// HeldOut: the mass that is held, without plates where the rig cannot be trimmed for want of figures,
	// and the guideline. NearFace: the room before the lens,
	// and the least. PulledFace: the distance of the face, and the share by which the nose
	// looks wider. TightPassage: the width that the move takes, and that of the passage.
	Is, Limit float64
}

// Source gives the title of what calls for the caution, or "common practice".
func (c Caution) Source() string {
	switch c.Hazard {
	case brief.Backwards:
		return "\"Camera operations on location\", HSG169"
	case brief.HeldOut:
		return "\"Manual handling at work: a brief guide\", lifting filter; ISO 11228-1:2021 for its scope"
	case brief.PulledFace:
		return "\"Nasal Distortion in Short-Distance Photographs\", 2018"
	case brief.TightPassage:
		return "\"2012 Anthropometric Survey of U.S. Army Personnel\", forearm to forearm, 95th percentile of men"
	}
	return "common practice"
}

// What counts as heavy, near or tight, in SI units. Working assumptions of this project.
const (
	worthCounting = 3.0  // kg from which ISO 11228-1 looks at a load at all
	nearFace      = 0.5  // m between lens and subject
	pulledFace    = 0.8  // m between sensor and face (common practice)
	tightPassage  = 0.10 // m on each side
)

// cautionsFor lists what a shot calls for, in the order of the hazards. A card without a
// lens has neither plan nor rig.
func cautionsFor(c *Card) []Caution {
	var list []Caution
	add := func(on bool, hazard brief.Hazard, is, limit float64) {
		if on {
			list = append(list, Caution{hazard, is, limit})
		}
	}
	move := c.Shot.Move
	add(move.Hazard != brief.NoHazard, move.Hazard, 0, 0)
	add(move.Run, brief.RunningWithRig, 0, 0)
	add(move.Low, brief.LowMode, 0, 0)
	if c.Use != nil {
		held := c.Rig.Held()
		add(c.Shot.Support == facts.Sled && (!c.Rig.Trimmed || held >= worthCounting), brief.HeldOut, held, balance.GuidelineMass(balance.ShoulderToElbow, true))
		add(c.Use.Fact(facts.IsPerson) == 1 && c.Plan.LensRoom < nearFace, brief.NearFace, c.Plan.LensRoom, nearFace)
		add(c.Use.Fact(facts.SubjectNear) < pulledFace && c.Use.Fact(facts.FaceStretch) > 0, brief.PulledFace, c.Use.Fact(facts.SubjectNear), c.Use.Fact(facts.FaceStretch))
		add(c.Plan.Spare < tightPassage, brief.TightPassage, c.Plan.PassageNeeds, c.Shot.Passage)
	}
	for _, hazard := range c.Shot.Beside {
		add(true, hazard, 0, 0)
	}
	add(slices.ContainsFunc(c.Shot.Readings, inSun), brief.SunInLens, 0, 0)
	slices.SortFunc(list, func(a, b Caution) int { return int(a.Hazard) - int(b.Hazard) })
	return slices.Compact(list)
}

// ofTheDay takes the mass that is held out of the cards where several have it: it differs by
// little from one to the next, and the heaviest holds for all.
func ofTheDay(cards []Card) []Caution {
	isHeld := func(c Caution) bool { return c.Hazard == brief.HeldOut }
	var heaviest Caution
	several := 0
	for i := range cards {
		if k := slices.IndexFunc(cards[i].Cautions, isHeld); k >= 0 {
			several++
			if c := cards[i].Cautions[k]; several == 1 || c.Is > heaviest.Is || math.IsNaN(heaviest.Is) {
				heaviest = c
			}
		}
	}
	if several < 2 {
		return nil
	}
	for i := range cards {
		cards[i].Cautions = slices.DeleteFunc(cards[i].Cautions, isHeld)
	}
	return []Caution{heaviest}
}

// inSun reports whether a reading is of a sun that is up in a sky without clouds before it.
func inSun(r brief.Reading) bool {
	return r.Text == "sun" || r.Text == "bright-sun" || r.Text == "hazy-sun" ||
		r.Sun != nil && r.Sun.Sky == sun.Clear && r.Sun.Altitude > sun.Horizon
}
