package floor

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/rig"
)

// A Rigging is how the rig is trimmed for one set-up.
type Rigging struct {
	*rig.Setup
	Rig      *catalog.Rig
	Mass     float64      // that the rig carries, filters left out
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

	flange float64
}

// PostSetting is how far the post may be off its depth, either way, when it is set by a tape, in
// metres (common practice). The figures of the catalogue, each good to a millimetre and ten grams,
// move the depth by half as much.
const PostSetting = 0.005

// post gives how far the post is ahead of the sensor plane; NaN when it is not known where
// the payload's centre of mass is, and on legs.
func (r *Rigging) post() float64 {
	if r.OnLegs || !r.Placed {
		return math.NaN()
	}
	return r.Payload.Forward + r.flange
}

// Held gives the mass of rig and payload together, without plates where the trim is not
// known; NaN when it is not known at all.
func (r *Rigging) Held() float64 {
	if r.Trimmed {
		return r.Trim.Mass
	}
	return r.Sled.Mass + r.Mass
}

// riggingOf puts a lens on the rig, not trimmed yet.
func riggingOf(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, filters []*catalog.Filter) *Rigging {
	s := r.Scenario
	lens, _ := s.Catalogue.Lenses.Lookup(j.Lens)
	g := &Rigging{
		Setup: rig.New(s, r.Camera, shot, lens, j.Fitting, filters),
		Rig:   s.Rig, Mass: j.Fact(facts.RigMass),
		Bolt: math.NaN(), Shift: math.NaN(), Shortest: math.NaN(), Longest: math.NaN(), Quickest: math.NaN(), Slowest: math.NaN(),
		flange: math.NaN(),
	}
	if mount, ok := s.Catalogue.Mounts.Lookup(r.Camera.Mount.Value); ok {
		g.flange = mount.Flange.OrNaN()
	}
	if g.OnLegs {
		return g
	}
	g.weigh(s)
	if len(g.Lacks) == 0 {
		g.Shortest, g.Longest = g.Sled.Reachable(g.OnStage())
	}
	return g
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
	for _, other := range s.Catalogue.Rigs.All() {
		if other.Payload.Low.Or(0) <= r.Mass && r.Mass <= other.Payload.High.Or(math.Inf(1)) && other != s.Rig {
			n.Others = append(n.Others, other.Name.Value)
		}
	}
	r.Problems = append(r.Problems, n)
}

// trim trims the rig with the other set-ups of the kit. A camera on legs is left as it is.
func (r *Rigging) trim(t *rig.Trim) {
	if r.Trim, r.Trimmed = t.Balance(r.Setup); r.Trimmed {
		r.Quickest, r.Slowest = r.Sled.DropsAround(r.OnStage(), r.Trim.Plates, r.Trim.Post, PostSetting)
	} else if !r.OnLegs && len(r.Lacks) == 0 {
		r.Problems = append(r.Problems, r.untrimmed(r.Window))
	}
	shift, wanted := t.Shift(r.Setup)
	if math.IsNaN(shift) {
		return
	}
	r.Bolt, r.Shift = t.Bolt(), shift
	if shift != wanted {
		if r.Trimmed {
			r.Tilt = balance.Tilt(r.Payload.Mass, shift-wanted, r.Trim.Mass, r.Trim.Offset)
		}
		r.Problems = append(r.Problems, StageTooShort{Wanted: wanted, Travel: math.Abs(shift)})
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
		load := r.OnStage()
		load.Mass += float64(n) * step
		if _, ok := r.Sled.Fewest(load, window.Low, window.High); ok {
			return float64(n) * step
		}
	}
	return 0
}
