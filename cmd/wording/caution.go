package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// Closing is what every list of cautions ends with.
const Closing = "The production's risk assessment, local codes and licensed practice come first."

// A saying is what is said of a hazard: in full, and what to do in two lines of a card at most. One
// that is a matter of degree has figures by their numbers, and need not use all of them.
type saying struct{ full, short string }

// cautions says of each hazard what is usually done about it.
var cautions = [brief.Hazards]saying{
	brief.Backwards: {
		"Walking backwards: a second person steers the operator by touch, does nothing else, and stops the shot when it is unsafe. Walk and clear the way first.",
		"Backwards: a second person steers you by touch, does nothing else, and stops it.",
	},
	brief.EyesOnPicture: {
		"Walking with the eyes on the picture: clear the way, and have a second person watch it.",
		"Eyes on the picture: clear the way; a second person watches it.",
	},
	brief.Circling: {
		"Circling: walk the whole circle first without the rig, and clear cables, kerbs and feet off it; part of it goes sideways or backwards, so have it watched.",
		"Walk the circle first, clear cables and kerbs, and have it watched.",
	},
	brief.Sideways: {
		"Walking sideways, looking across the way: have a second person watch it and call what comes.",
		"Sideways: a second person watches the way and calls.",
	},
	brief.OnStairs: {
		"Stairs: walk them first without the rig, dry and lit; a second person stays below the operator, with a hand free; no running on them.",
		"Stairs: walk them first, dry and lit; a second person below you, a hand free; no running.",
	},
	brief.Lifting: {
		"Booming: lift from the legs, not from the back, and rest between takes.",
		"Lift from the legs, and rest between takes.",
	},
	brief.PassingThrough: {
		"Passing through: take the door off its closer or have it held, and agree on who gives way.",
		"Door off its closer or held; agree who gives way.",
	},
	brief.RunningWithRig: {
		"Running: only on ground that has been walked, in shoes that grip, with a spotter and a place to run out; few takes.",
		"Run on walked ground only, with a spotter and a place to run out; few takes.",
	},
	brief.LowMode: {
		"Low mode: the back is bent and the eyes are down; short takes, and a second person to watch the way.",
		"Low: back bent, eyes down. Short takes; a second person watches the way.",
	},
	brief.HeldOut: {
		"%[1]s hangs from hand or vest: keep takes short and rest between them. No published figure covers holding a rig; " +
			"by analogy, for lifting at arm's length the guideline is %[2]s for men and less for women.",
		"%[1]s hangs from you: short takes, rest between them.",
	},
	brief.NearFace: {
		"The lens comes within %[1]s of a person: rehearse it slowly, agree on a word to stop, and never swing the rig towards a face.",
		"The lens comes within %[1]s of a face: rehearse slowly, agree on a word to stop.",
	},
	brief.PulledFace: {
		"A face at %[1]s is pulled about on any lens: the nose looks %[2]s wider against it than from afar. Stand back where it must look as it is.",
		"A face at %[1]s: the nose looks %[2]s wider. Stand back where that matters.",
	},
	brief.TightPassage: {
		"A tight place: %[1]s a side. The passage is %[2]s wide, and operator and rig take about %[3]s with the elbows out: rehearse it at half speed, and pad what sticks out.",
		"%[1]s a side. Passage %[2]s, you and the rig %[3]s: half speed first, pad what sticks out.",
	},
	brief.ByRoad: {
		"Beside a road or moving vehicles: the road is closed or held by those licensed to hold it, everybody wears bright clothing, nobody shoots from the carriageway, and a lookout faces the traffic.",
		"Road: closed or held by the licensed; bright clothing, a lookout, nobody in the carriageway.",
	},
	brief.AtHeight: {
		"At a height: stay behind a fixed rail or be secured by those trained to do it; nothing loose on the rig, and nobody below.",
		"Height: a fixed rail, or secured by the trained; nothing loose; nobody below.",
	},
	brief.ByWater: {
		"Beside water: life jackets, a rescuer and a throw line; the operator wears no vest that cannot be shed at once.",
		"Water: life jackets, a rescuer, a throw line; no vest that cannot be shed at once.",
	},
	brief.AmongPublic: {
		"Among the public: permission, barriers or stewards, and a clear way for the move; stop when somebody walks in.",
		"Public: permission, stewards, a clear way; stop when somebody walks in.",
	},
	brief.SunInLens: {
		"Sun in a clear sky: never look at it through a lens or a finder with glass, and keep it off a sensor that rests, and off glass set down in the open, which starts fires.",
		"Sun: never look at it through a lens; cap the camera at rest, and glass set down.",
	},
}

// tooTight is said of a passage that is narrower than what goes through it.
var tooTight = saying{
	"Too tight by %[1]s. The passage is %[2]s wide, and operator and rig take about %[3]s with the elbows out: they do not go through. Widen it, turn the camera along the way, or take another way.",
	"Too tight by %[1]s. Passage %[2]s, you and the rig %[3]s: widen it or go another way.",
}

// beyondGuideline is said besides of a mass that is.
var beyondGuideline = saying{" This is beyond it: wear a vest and arm, and take turns.", " Wear a vest and arm, and take turns."}

// Caution says what can hurt someone in a shot and what is usually done about it.
func Caution(c floor.Caution, p lang.Printer) string {
	said, figures := sayingOf(c, p)
	return fmt.Sprintf(said.full, figures...)
}

// ShortCaution says what to do about a hazard, as it stands on a card; [Caution] says the rest.
func ShortCaution(c floor.Caution, p lang.Printer) string {
	said, figures := sayingOf(c, p)
	return strings.TrimPrefix(fmt.Sprintf(said.short, figures...), about)
}

// about stands before a mass in full.
const about = "About "

// sayingOf gives what is said of a caution, and its figures.
func sayingOf(c floor.Caution, p lang.Printer) (said saying, figures []any) {
	said = cautions[c.Hazard]
	switch c.Hazard {
	case brief.HeldOut:
		held := about + p.Quantity(c.Is, "kg")
		if math.IsNaN(c.Is) {
			held = "A mass that is not known"
		}
		if c.Is > c.Limit {
			said = saying{said.full + beyondGuideline.full, said.short + beyondGuideline.short}
		}
		return said, []any{held, p.Quantity(c.Limit, "kg")}
	case brief.NearFace:
		return said, []any{p.Quantity(c.Is, "m")}
	case brief.PulledFace:
		return said, []any{p.Quantity(c.Is, "m"), fmt.Sprintf("%.0f%%", c.Limit*100)}
	case brief.TightPassage:
		spare := (c.Limit - c.Is) / 2
		room := tapeCentimetres(spare, p)
		if spare < 0 {
			said, room = tooTight, tapeCentimetres(-2*spare, p)
		}
		return said, []any{room, p.Quantity(c.Limit, "m"), p.Quantity(c.Is, "m")}
	}
	return said, nil
}

// Cautions says each of some.
func Cautions(of []floor.Caution, p lang.Printer) []string { return eachCaution(of, p, Caution) }

// ShortCautions is [ShortCaution] of each of some.
func ShortCautions(of []floor.Caution, p lang.Printer) []string {
	return eachCaution(of, p, ShortCaution)
}

func eachCaution(of []floor.Caution, p lang.Printer, say func(floor.Caution, lang.Printer) string) []string {
	var all []string
	for _, c := range of {
		all = append(all, say(c, p))
	}
	return all
}

// tapeCentimetres writes a length as a tape shows it, in whole centimetres or as inches.
func tapeCentimetres(length float64, p lang.Printer) string {
	if length < 0.005 {
		return "nothing"
	}
	if p.System == lang.Imperial {
		return p.Quantity(length, "cm")
	}
	return p.Quantity(math.Round(length*100)/100, "cm")
}
