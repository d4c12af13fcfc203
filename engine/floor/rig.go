package floor

import (
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// A Rigging is how the rig is trimmed for one set-up.
type Rigging struct {
	Rig      *catalog.Rig
	Mass     float64      // that the rig carries, filters left out
	Inverted bool         // low mode
	OnLegs   bool         // the camera stands on legs, and nothing is trimmed
	Trimmed  bool         // Trim brings the drop time into the window
	Trim     balance.Trim // its quantities are NaN while Trimmed is false
	Bolt     float64      // place of the camera that goes over the middle of the stage, behind the lens flange; one for all cards
	Shift    float64      // of the stage, forward from its middle; NaN when not known
	Tilt     float64      // that is left where the travel of the stage ends too early, nose down positive
	Shortest float64      // drop time within reach; NaN when nothing keeps it from tipping over
	Longest  float64
	Quickest float64 // drop time with the post off by PostSetting; NaN while Trimmed is false
	Slowest  float64 // the same; +Inf where the rig may then tip over
	Problems []Note  // what is wrong with it, with the remedy
	Lacks    []Lack  // what is not known and must be

	sled    balance.Sled
	payload payload
	flange  float64
}

// PostSetting is how far the post may be off its depth, either way, when it is set by a tape, in
// metres (common practice). The figures of the catalogue, each good to a millimetre and ten grams,
// move the depth by half as much.
const PostSetting = 0.005

var unknownTrim = balance.Trim{Post: math.NaN(), Mass: math.NaN(), Offset: math.NaN(), Inertia: math.NaN(), Drop: math.NaN()}

// post gives how far the post is ahead of the sensor plane; NaN when it is not known where
// the payload's centre of mass is, and on legs.
func (r *Rigging) post() float64 {
	if r.OnLegs || len(r.payload.lacks) > 0 {
		return math.NaN()
	}
	return r.payload.load.Forward + r.flange
}

// Held gives the mass of rig and payload together, without plates where the trim is not
// known; NaN when it is not known at all.
func (r *Rigging) Held() float64 {
	if r.Trimmed {
		return r.Trim.Mass
	}
	return r.sled.Mass + r.Mass
}

// riggingOf puts a lens on the rig, not trimmed yet.
func riggingOf(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, filters []*catalog.Filter) *Rigging {
	s := r.Scenario
	lens, _ := s.Catalogue.Lenses.Lookup(j.Lens)
	g := &Rigging{
		Rig: s.Rig, Mass: j.Fact(facts.RigMass), Inverted: shot.Move.Low, OnLegs: shot.Support == facts.Legs,
		Bolt: math.NaN(), Shift: math.NaN(), Shortest: math.NaN(), Longest: math.NaN(), Quickest: math.NaN(), Slowest: math.NaN(), Trim: unknownTrim,
		payload: payloadOf(s, r.Camera, lens, j.Fitting, filters), flange: math.NaN(),
	}
	if mount, ok := s.Catalogue.Mounts.Lookup(r.Camera.Mount.Value); ok {
		g.flange = mount.Flange.OrNaN()
	}
	var lacks []Lack
	g.sled, lacks = sledOf(s.Rig)
	g.sled.Inverted = g.Inverted
	if g.OnLegs {
		return g
	}
	g.Lacks = slices.Concat(g.payload.lacks, lacks)
	g.weigh(s)
	if len(g.Lacks) == 0 {
		g.Shortest, g.Longest = g.sled.Reachable(g.onStage())
	}
	return g
}

// onStage gives the payload as it stands over the post.
func (r *Rigging) onStage() balance.Load {
	load := r.payload.load
	load.Height += r.Rig.StageHeight.OrNaN()
	load.Forward = 0
	return load
}

// weigh compares what the rig carries with what it is made for.
func (r *Rigging) weigh(s *brief.Scenario) {
	low, high := r.Rig.Payload.Low, r.Rig.Payload.High
	n := OffPayload{Rig: r.Rig.Name.Value, Mass: r.Mass}
	switch {
	case low.Known() && r.Mass < low.Value:
		n.Limit = low.Value
	case high.Known() && r.Mass > high.Value:
		n.Limit = high.Value
	default:
		return
	}
	for _, rig := range s.Catalogue.Rigs.All() {
		if rig.Payload.Low.Or(0) <= r.Mass && r.Mass <= rig.Payload.High.Or(math.Inf(1)) && rig != s.Rig {
			n.Others = append(n.Others, rig.Name.Value)
		}
	}
	r.Problems = append(r.Problems, n)
}

// trimAll trims all set-ups together, with one place to bolt the camera and the same plates
// where possible, so that swaps are short. A camera on legs is left out.
func trimAll(riggings []*Rigging, window brief.DropWindow) {
	riggings = slices.DeleteFunc(slices.Clone(riggings), func(r *Rigging) bool { return r.OnLegs })
	for _, inverted := range []bool{false, true} {
		var group []*Rigging
		for _, r := range riggings {
			if len(r.Lacks) == 0 && r.Inverted == inverted {
				group = append(group, r)
			}
		}
		plates, together := platesForAll(group, window)
		for _, r := range group {
			if together {
				r.Trim, r.Trimmed = r.sled.Within(r.onStage(), plates, window.Low, window.High)
			} else {
				r.Trim, r.Trimmed = r.sled.Fewest(r.onStage(), window.Low, window.High)
			}
			if !r.Trimmed {
				r.Trim = unknownTrim
				r.Problems = append(r.Problems, r.untrimmed(window))
				continue
			}
			r.Quickest, r.Slowest = r.sled.DropsAround(r.onStage(), r.Trim.Plates, r.Trim.Post, PostSetting)
		}
	}
	shiftAll(riggings)
}

// platesForAll gives the fewest plates that trim every set-up that can be trimmed at all.
func platesForAll(group []*Rigging, window brief.DropWindow) (plates int, ok bool) {
	if len(group) == 0 {
		return 0, false
	}
	var able []*Rigging
	for _, r := range group {
		if _, can := r.sled.Fewest(r.onStage(), window.Low, window.High); can {
			able = append(able, r)
		}
	}
	for plates = 0; plates <= group[0].sled.MaxPlates; plates += 2 {
		ok = true
		for _, r := range able {
			_, does := r.sled.Within(r.onStage(), plates, window.Low, window.High)
			ok = ok && does
		}
		if ok {
			return plates, true
		}
	}
	return 0, false
}

// shiftAll bolts the camera in the middle of what the set-ups need, and gives each its shift
// of the stage.
func shiftAll(riggings []*Rigging) {
	least, most := math.Inf(1), math.Inf(-1)
	for _, r := range riggings {
		if centre := r.payload.load.Forward; len(r.payload.lacks) == 0 {
			least, most = min(least, centre), max(most, centre)
		}
	}
	middle := (least + most) / 2
	for _, r := range riggings {
		if len(r.payload.lacks) > 0 {
			continue
		}
		r.Bolt = -middle
		wanted := middle - r.payload.load.Forward
		r.Shift = wanted
		if travel := r.Rig.StageTravel; travel.Known() && math.Abs(wanted) > travel.Value {
			r.Shift = math.Copysign(travel.Value, wanted)
			if r.Trimmed {
				r.Tilt = balance.Tilt(r.payload.load.Mass, r.Shift-wanted, r.Trim.Mass, r.Trim.Offset)
			}
			r.Problems = append(r.Problems, StageTooShort{Wanted: wanted, Travel: travel.Value})
		}
	}
}

// untrimmed says why no plates and no post bring the drop time into the window.
func (r *Rigging) untrimmed(window brief.DropWindow) Untrimmed {
	n := Untrimmed{Window: window, Shortest: r.Shortest, Longest: r.Longest, Inverted: r.Inverted}
	if r.Longest < window.Low {
		n.Ballast = r.ballast(window)
	}
	return n
}

// ballast gives the least mass, in steps of 10 g, that makes the rig trimmable when it is
// added at the payload's centre; 0 when the payload limit is reached first.
func (r *Rigging) ballast(window brief.DropWindow) float64 {
	const step = 0.010
	most := r.Rig.Payload.High.Or(r.Mass) - r.Mass
	for n := 1; float64(n)*step <= most; n++ {
		load := r.onStage()
		load.Mass += float64(n) * step
		if _, ok := r.sled.Fewest(load, window.Low, window.High); ok {
			return float64(n) * step
		}
	}
	return 0
}
