package wording

import (
	"fmt"
	"math"

	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// Closing is what every list of cautions ends with.
const Closing = "The production's risk assessment, local codes and licensed practice come first."

// cautions says of each hazard what is usually done about it. Caution adds the figures of
// those that are a matter of degree.
var cautions = [brief.Hazards]string{
	brief.Backwards:      "Walking backwards: a second person steers the operator by touch, does nothing else, and stops the shot when it is unsafe. Walk and clear the way first.",
	brief.EyesOnPicture:  "Walking with the eyes on the picture: clear the way, and have a second person watch it.",
	brief.Circling:       "Circling: walk the whole circle first without the rig, and clear cables, kerbs and feet off it; part of it goes sideways or backwards, so have it watched.",
	brief.Sideways:       "Walking sideways, looking across the way: have a second person watch it and call what comes.",
	brief.OnStairs:       "Stairs: walk them first without the rig, dry and lit; a second person stays below the operator, with a hand free; no running on them.",
	brief.Lifting:        "Booming: lift from the legs, not from the back, and rest between takes.",
	brief.PassingThrough: "Passing through: take the door off its closer or have it held, and agree on who gives way.",
	brief.RunningWithRig: "Running: only on ground that has been walked, in shoes that grip, with a spotter and a place to run out; few takes.",
	brief.LowMode:        "Low mode: the back is bent and the eyes are down; short takes, and a second person to watch the way.",
	brief.HeldOut: "%s hangs from hand or vest: keep takes short and rest between them. No published figure covers holding a rig; " +
		"by analogy, for lifting at arm's length the guideline is %s for men and less for women.",
	brief.NearFace:     "The lens comes within %s of a person: rehearse it slowly, agree on a word to stop, and never swing the rig towards a face.",
	brief.PulledFace:   "A face at %s is pulled about on any lens: the nose looks %s wider against it than from afar. Stand back where it must look as it is.",
	brief.TightPassage: "%s The passage is %s wide, and operator and rig take about %s with the elbows out: ",
	brief.ByRoad:       "Beside a road or moving vehicles: the road is closed or held by those licensed to hold it, everybody wears bright clothing, nobody shoots from the carriageway, and a lookout faces the traffic.",
	brief.AtHeight:     "At a height: stay behind a fixed rail or be secured by those trained to do it; nothing loose on the rig, and nobody below.",
	brief.ByWater:      "Beside water: life jackets, a rescuer and a throw line; the operator wears no vest that cannot be shed at once.",
	brief.AmongPublic:  "Among the public: permission, barriers or stewards, and a clear way for the move; stop when somebody walks in.",
	brief.SunInLens:    "Sun in a clear sky: never look at it through a lens or a finder with glass, and keep it off a sensor that rests, and off glass set down in the open, which starts fires.",
}

// shortCautions says of each hazard what to do, in two lines of a card at most.
var shortCautions = [brief.Hazards]string{
	brief.Backwards:      "Backwards: a second person steers you by touch, does nothing else, and stops it.",
	brief.EyesOnPicture:  "Eyes on the picture: clear the way; a second person watches it.",
	brief.Circling:       "Walk the circle first, clear cables and kerbs, and have it watched.",
	brief.Sideways:       "Sideways: a second person watches the way and calls.",
	brief.OnStairs:       "Stairs: walk them first, dry and lit; a second person below you, a hand free; no running.",
	brief.Lifting:        "Lift from the legs, and rest between takes.",
	brief.PassingThrough: "Door off its closer or held; agree who gives way.",
	brief.RunningWithRig: "Run on walked ground only, with a spotter and a place to run out; few takes.",
	brief.LowMode:        "Low: back bent, eyes down. Short takes; a second person watches the way.",
	brief.HeldOut:        "%s hangs from you: short takes, rest between them.",
	brief.NearFace:       "The lens comes within %s of a face: rehearse slowly, agree on a word to stop.",
	brief.PulledFace:     "A face at %s: the nose looks %s wider. Stand back where that matters.",
	brief.TightPassage:   "%s Passage %s, you and the rig %s: ",
	brief.ByRoad:         "Road: closed or held by the licensed; bright clothing, a lookout, nobody in the carriageway.",
	brief.AtHeight:       "Height: a fixed rail, or secured by the trained; nothing loose; nobody below.",
	brief.ByWater:        "Water: life jackets, a rescuer, a throw line; no vest that cannot be shed at once.",
	brief.AmongPublic:    "Public: permission, stewards, a clear way; stop when somebody walks in.",
	brief.SunInLens:      "Sun: never look at it through a lens; cap the camera at rest, and glass set down.",
}

// ShortCaution says what to do about a hazard, as it stands on a card; [Caution] says the rest.
func ShortCaution(c floor.Caution, p lang.Printer) string {
	text := shortCautions[c.Hazard]
	switch c.Hazard {
	case brief.HeldOut:
		held := p.Quantity(c.Is, "kg")
		if math.IsNaN(c.Is) {
			held = "A mass that is not known"
		}
		text = fmt.Sprintf(text, held)
		if c.Is > c.Limit {
			text += " Wear a vest and arm, and take turns."
		}
	case brief.NearFace:
		text = fmt.Sprintf(text, p.Quantity(c.Is, "m"))
	case brief.PulledFace:
		text = fmt.Sprintf(text, p.Quantity(c.Is, "m"), fmt.Sprintf("%.0f%%", c.Limit*100))
	case brief.TightPassage:
		spare := (c.Limit - c.Is) / 2
		first, do := tapeCentimetres(math.Abs(spare), p)+" a side.", "half speed first, pad what sticks out."
		if spare < 0 {
			first, do = "Too tight by "+tapeCentimetres(-2*spare, p)+".", "widen it or go another way."
		}
		text = fmt.Sprintf(text, first, p.Quantity(c.Limit, "m"), p.Quantity(c.Is, "m")) + do
	}
	return text
}

// ShortCautions is [ShortCaution] of each of some.
func ShortCautions(of []floor.Caution, p lang.Printer) []string {
	var all []string
	for _, c := range of {
		all = append(all, ShortCaution(c, p))
	}
	return all
}

// Cautions says each of some.
func Cautions(of []floor.Caution, p lang.Printer) []string {
	var all []string
	for _, c := range of {
		all = append(all, Caution(c, p))
	}
	return all
}

// Caution says what can hurt someone in a shot and what is usually done about it.
func Caution(c floor.Caution, p lang.Printer) string {
	text := cautions[c.Hazard]
	switch c.Hazard {
	case brief.HeldOut:
		held := "About " + p.Quantity(c.Is, "kg")
		if math.IsNaN(c.Is) {
			held = "A mass that is not known"
		}
		text = fmt.Sprintf(text, held, p.Quantity(c.Limit, "kg"))
		if c.Is > c.Limit {
			text += " This is beyond it: wear a vest and arm, and take turns."
		}
	case brief.NearFace:
		text = fmt.Sprintf(text, p.Quantity(c.Is, "m"))
	case brief.TightPassage:
		room := func(x float64) string { return tapeCentimetres(math.Abs(x), p) }
		spare := (c.Limit - c.Is) / 2
		if spare < 0 {
			text = fmt.Sprintf(text, "Too tight by "+room(2*spare)+".", p.Quantity(c.Limit, "m"), p.Quantity(c.Is, "m"))
			text += "they do not go through. Widen it, turn the camera along the way, or take another way."
			break
		}
		text = fmt.Sprintf(text, "A tight place: "+room(spare)+" a side.", p.Quantity(c.Limit, "m"), p.Quantity(c.Is, "m"))
		text += "rehearse it at half speed, and pad what sticks out."
	case brief.PulledFace:
		text = fmt.Sprintf(text, p.Quantity(c.Is, "m"), fmt.Sprintf("%.0f%%", c.Limit*100))
	}
	return text
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
