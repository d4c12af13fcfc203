package card

import (
	"math"
	"slices"

	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
)

// How far the numbers of a card may be off. Text and report say each of them in the digits that are
// known, and programs get all digits.
//
//	number                       may be off by, and why
//	lens, stop, ISO, ND, mark    nothing: they are set, in the steps that the gear has
//	start, end, circle, passage  nothing: they are as the brief gives them, and taped
//	near and far limit           blurSlack, and half a millimetre of focal length, as focal lengths are engraved;
//	                             the circle of confusion is a convention, which the card states
//	walk                         as the limit that ends it; where framing does, half a millimetre of focal length
//	room, room of the rig        a centimetre: where the front of lens and plates are follows from lengths in the catalogue
//	width that a move takes      half the arms' width between one person and the next
//	light of the sun             half of it: an estimate of a sky, good to about a stop
//	bob, sway                    half of what lies between people, as the card says
//	swing                        a quarter: no figure of a rig is published to more than a digit
//	crossing, trail              as the distance, which the brief varies by a tenth unless it says otherwise
//	slowest crossing             half a second: a rule of thumb that is told in whole ones
//	mass                         ten grams for each item that is weighed
//	post                         floor.PostSetting, which the range of the drop is for; it is said to the millimetre,
//	                             since the drop test begins there and differences of posts are set by it
//	stage                        a millimetre: the drop test corrects it
//	drop                         what the setting of the post leaves of it
//	tilt                         a third: as the height of the centre of mass, which the post sets
//	minutes                      a minute: people differ by more in each step
const (
	halfMillimetre = 0.5e-3 // of focal length: they are engraved in whole ones
	blurSlack      = 0.03   // of the f-number: by so much marked stops lie off their exact values, f/22 of 22.6
	roomSlack      = 0.01   // m
	bodySlack      = 0.05   // m: spread of forearm to forearm, ANSUR II
	skySlack       = 0.5    // of the light: a stop
	rigSlack       = 0.25   // of the swing (this project's judgement)
	ruleSlack      = 0.5    // s
	scaleSlack     = 0.01   // kg
	tiltSlack      = 1.0 / 3
	minutesSlack   = 0.5 // of a change, which is counted in halves: so what is shown adds up
)

// An off gives by how much a number of a card may be off.
type off = func(c on, value float64) float64

func constant(by float64) off { return func(on, float64) float64 { return by } }

// partly is of a number that is known to a part of itself.
func partly(part float64) off {
	return func(_ on, value float64) float64 { return part * math.Abs(value) }
}

// focalSlack is the share of a focal length that half a millimetre is.
func focalSlack(c on) float64 { return halfMillimetre / Focal.Number(c) }

// limitOff is of a limit of focus: the blur goes with the stop and the square of the focal length,
// and the limit is off the more the farther it lies from the mark.
func limitOff(c on, limit float64) float64 {
	return limit * math.Abs(limit/FocusAt.Number(c)-1) * (blurSlack + 2*focalSlack(c))
}

// walkOff is of an end of the walk: it is known as what is lost there.
func walkOff(loses func(on) []floor.Aspect) off {
	return func(c on, end float64) float64 {
		switch {
		case slices.Contains(loses(c), floor.Focus) && c.Use.Fact(facts.Following) == 0:
			return limitOff(c, end)
		case slices.Contains(loses(c), floor.Framing):
			return end * focalSlack(c)
		}
		return 0
	}
}

// asDistance is of a number that goes with the distances of the brief.
func asDistance(c on, value float64) float64 { return c.Of.Scenario.Tolerances.Distance * value }

// between is of a number that goes with one that lies between two others from person to person.
func between(low, middle, high facts.ID) off {
	return func(c on, value float64) float64 {
		return value * (c.Use.Fact(high) - c.Use.Fact(low)) / 2 / c.Use.Fact(middle)
	}
}

// ofSky is of the light: where it was metered, it is as it was read.
func ofSky(sky off) off {
	return func(c on, value float64) float64 {
		if !slices.ContainsFunc(c.Shot.Readings, func(r brief.Reading) bool { return r.Sun != nil }) {
			return 0
		}
		return sky(c, value)
	}
}

// dropOff is of the drop time: what the setting of the post leaves of it.
func dropOff(c on, _ float64) float64 { return (c.Rig.Slowest - c.Rig.Quickest) / 2 }
