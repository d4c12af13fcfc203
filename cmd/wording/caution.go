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
