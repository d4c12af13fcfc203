package floor

import (
	"fmt"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/engine/facts"
	"glassbrief/engine/sun"
	"glassbrief/lang"
)

// A Caution is what can hurt someone in a shot and what is usually done about it.
type Caution struct {
	Text   string
	Source string
}

// Closing is what every list of cautions ends with.
const Closing = "The production's risk assessment, local codes and licensed practice come first."

const commonPractice = "common practice"

// Sources of cautions that are published.
const (
	backwatcher = "BBC Academy, guidance on camera operations; HSE HSG169, \"Camera operations on location\""
	handling    = "HSE lifting filter; ISO 11228-1:2021 for its scope"
)

// What counts as heavy, near or tight, in SI units. Working assumptions of this project.
const (
	worthCounting = 3.0  // kg from which ISO 11228-1 looks at a load at all
	nearFace      = 0.5  // m between lens and subject
	tightPassage  = 0.10 // m on each side
)

// cautionsFor lists what a shot calls for. A card without a lens has neither plan nor rig.
func cautionsFor(c *Card, p lang.Printer) []Caution {
	var list []Caution
	add := func(source, format string, args ...any) {
		list = append(list, Caution{Text: fmt.Sprintf(format, args...), Source: source})
	}
	move := c.Shot.Move
	switch move.Word {
	case "lead", "pull-out":
		add(backwatcher, "Walking backwards: a second person steers the operator by touch, does nothing else, and stops the shot when it is unsafe. Walk and clear the way first.")
	case "follow", "push-in":
		add(commonPractice, "Walking with the eyes on the picture: clear the way, and have a second person watch it.")
	case "orbit":
		add(commonPractice, "Circling: walk the whole circle first without the rig, and clear cables, kerbs and feet off it; part of it goes sideways or backwards, so have it watched.")
	case "side":
		add(commonPractice, "Walking sideways, looking across the way: have a second person watch it and call what comes.")
	case "stairs":
		add(commonPractice, "Stairs: walk them first without the rig, dry and lit; a second person stays below the operator, with a hand free; no running on them.")
	case "boom":
		add(commonPractice, "Booming: lift from the legs, not from the back, and rest between takes.")
	case "pass-through":
		add(commonPractice, "Passing through: take the door off its closer or have it held, and agree on who gives way.")
	}
	if move.Run {
		add(commonPractice, "Running: only on ground that has been walked, in shoes that grip, with a spotter and a place to run out; few takes.")
	}
	if move.Low {
		add(commonPractice, "Low mode: the back is bent and the eyes are down; short takes, and a second person to watch the way.")
	}
	if c.Rig != nil {
		carried(c, add, p)
	}
	if c.Use != nil && c.Use.Fact(facts.IsPerson) == 1 && c.Plan.LensRoom < nearFace {
		add(commonPractice, "The lens comes within %s of a person: rehearse it slowly, agree on a word to stop, and never swing the rig towards a face.", p.Quantity(c.Plan.LensRoom, "m"))
	}
	if spare := c.Plan.Spare(); c.Use != nil && spare < tightPassage {
		text := fmt.Sprintf("The narrowest place is %s wide and the move takes about %s: ", p.Quantity(c.Plan.Passage, "m"), p.Quantity(c.Plan.PassageNeeds, "m"))
		if spare < 0 {
			text += "it does not go through. Widen it, turn the camera along the way, or take another way."
		} else {
			text += "rehearse it at half speed, and pad what sticks out."
		}
		add(commonPractice, "%s", text)
	}
	list = append(list, besides(c.Shot)...)
	return list
}

// carried is about the mass that is held out.
func carried(c *Card, add func(source, format string, args ...any), p lang.Printer) {
	held := c.Rig.Held()
	if !(held >= worthCounting) {
		return
	}
	limit := balance.GuidelineMass(balance.ShoulderToElbow, true)
	text := fmt.Sprintf("About %s hangs from hand or vest: keep takes short and rest between them. No published figure covers holding a rig; "+
		"by analogy, for lifting at arm's length the guideline is %s for men and less for women.", p.Quantity(held, "kg"), p.Quantity(limit, "kg"))
	if held > limit {
		text += " This is beyond it: wear a vest and arm, and take turns."
	}
	add(handling, "%s", text)
}

// besides is about the place, and about the sun.
func besides(shot *engine.Shot) []Caution {
	var list []Caution
	for _, c := range []struct{ word, text string }{
		{"road", "Beside a road or moving vehicles: the road is closed or held by those licensed to hold it, everybody wears bright clothing, nobody shoots from the carriageway, and a lookout faces the traffic."},
		{"height", "At a height: stay behind a fixed rail or be secured by those trained to do it; nothing loose on the rig, and nobody below."},
		{"water", "Beside water: life jackets, a rescuer and a throw line; the operator wears no vest that cannot be shed at once."},
		{"public", "Among the public: permission, barriers or stewards, and a clear way for the move; stop when somebody walks in."},
	} {
		if slices.Contains(shot.Beside, c.word) {
			list = append(list, Caution{c.text, commonPractice})
		}
	}
	for _, r := range shot.Readings {
		if r.Text == "sun" || r.Text == "bright-sun" || r.Text == "hazy-sun" || r.Sun != nil && r.Sun.Sky == sun.Clear && r.Sun.Altitude > sun.Horizon {
			list = append(list, Caution{"Sun in a clear sky: never look at it through a lens or a finder with glass, and keep it off a sensor that rests, and off glass set down in the open, which starts fires.", commonPractice})
			break
		}
	}
	return list
}
