package brief

import "slices"

// A Hazard is something in a shot that can hurt someone, or the picture, and calls for a
// caution.
type Hazard uint8

const (
	NoHazard Hazard = iota

	// Of the way of a move.
	Backwards
	EyesOnPicture // ahead, with the eyes on the picture
	Circling
	Sideways
	OnStairs
	Lifting
	PassingThrough

	// Of how it is done.
	RunningWithRig
	LowMode
	HeldOut // a mass that hangs from hand or vest
	NearFace
	PulledFace // of the picture: the perspective of a face from close by
	TightPassage

	// Of the place.
	ByRoad
	AtHeight
	ByWater
	AmongPublic
	SunInLens

	Hazards // how many there are
)

// placeWords are the words of "beside".
var placeWords = [Hazards]string{ByRoad: "road", AtHeight: "height", ByWater: "water", AmongPublic: "public"}

// hazardOf gives the hazard of a word of "beside", which the decoder has checked.
func hazardOf(word string) Hazard {
	i := slices.Index(placeWords[:], word)
	if i < 0 {
		panic("no hazard for the place " + word)
	}
	return Hazard(i)
}
