package floor

import (
	"math"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/motion"
	"glassbrief/engine/people"
)

// A Plan is the move on the floor. Distances are from the subject to the sensor plane
// unless said otherwise.
type Plan struct {
	Path         motion.Path
	Start, End   float64 // marks
	Circle       float64 // radius of the circle to walk; NaN for a move that is none
	LensCircle   float64 // the same for the front of the lens
	LensRoom     float64 // from the front of the lens to the subject at its nearest
	RigRoom      float64 // from the foremost plates to the subject at its nearest
	PassageNeeds float64 // width that operator and rig take in the narrowest place
	Spare        float64 // room there on each side; negative when it is too narrow, NaN when the brief gives no passage
}

// pathOf gives the path of a shot's camera.
func pathOf(shot *brief.Shot, j *engine.Judgement) motion.Path {
	return motion.Path{
		Way: shot.Move.Way, Near: shot.Near, Far: shot.Far,
		Speed: j.Fact(facts.CameraSpeed), Turn: j.Fact(facts.TurnRate),
	}
}

func planOf(shot *brief.Shot, j *engine.Judgement, r *Rigging) Plan {
	path := pathOf(shot, j)
	p := Plan{
		Path: path, Start: path.At(0).Distance, End: path.At(1).Distance,
		Circle: math.NaN(), LensCircle: math.NaN(),
		LensRoom: j.Fact(facts.Clearance), RigRoom: shot.Near - r.post() - r.Sled.Reach,
		PassageNeeds: passageNeeds(path.Way, j, r),
	}
	p.Spare = (shot.Passage - p.PassageNeeds) / 2
	if path.Way == motion.Circling {
		p.Circle, p.LensCircle = shot.Near, shot.Near-j.Fact(facts.LensLength)
	}
	return p
}

// Depths of the operator in a passage, in metres: assumptions of this project.
const (
	armsOut    = 0.35 // from the chest to the post of a rig that is carried
	chestDepth = 0.25
)

// passageNeeds gives the width that a move takes: elbow to elbow of a large operator who lifts
// the elbows to hold the rig before the body, or the rig where it is wider, when the operator walks in line
// with the view, and the depth from the operator's back to the front of lens or plates when
// the camera looks across the way.
func passageNeeds(way motion.Way, j *engine.Judgement, r *Rigging) float64 {
	if way != motion.Beside && way != motion.Circling {
		return max(people.ElbowBreadth.Value()+people.ElbowsLifted.Value(), 2*orZero(r.Sled.Reach))
	}
	return chestDepth + armsOut + max(j.Fact(facts.LensLength)-r.post(), r.Sled.Reach)
}
