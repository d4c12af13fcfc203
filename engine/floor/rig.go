package floor

import (
	"fmt"
	"math"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A Rigging is how the rig is trimmed for one set-up.
type Rigging struct {
	Rig      *catalog.Rig
	Mass     float64 // that the rig carries, filters left out
	Inverted bool    // low mode
	Trimmed  bool    // Trim brings the drop time into the window
	Trim     balance.Trim
	Bolt     float64 // place of the camera that goes over the middle of the stage, behind the lens flange; one for all cards
	Shift    float64 // of the stage, forward from its middle; NaN when not known
	Tilt     float64 // that is left where the travel of the stage ends too early, nose down positive
	Shortest float64 // drop time within reach; NaN when nothing keeps it from tipping over
	Longest  float64
	Problems []string // what is wrong with it, with the remedy
	Lacks    []Lack   // what is not known and must be

	sled    balance.Sled
	payload payload
	flange  float64
}

// post gives how far the post is ahead of the sensor plane; NaN when it is not known where
// the payload's centre of mass is.
func (r *Rigging) post() float64 {
	if len(r.payload.lacks) > 0 {
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

// riggingOf says what is known of a set-up by itself.
func riggingOf(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, filters []*catalog.Filter, p lang.Printer) *Rigging {
	s := r.Scenario
	lens, _ := s.Catalogue.Lenses.Lookup(j.Lens)
	g := &Rigging{
		Rig: s.Rig, Mass: j.Fact(facts.RigMass), Inverted: shot.Move.Low,
		Bolt: math.NaN(), Shift: math.NaN(), Shortest: math.NaN(), Longest: math.NaN(),
		payload: payloadOf(s, r.Camera, lens, j.Fitting, filters), flange: math.NaN(),
	}
	if mount, ok := s.Catalogue.Mounts.Lookup(r.Camera.Mount.Value); ok {
		g.flange = mount.Flange.OrNaN()
	}
	var lacks []Lack
	g.sled, lacks = sledOf(s.Rig)
	g.sled.Inverted = g.Inverted
	g.Lacks = append(append(g.Lacks, g.payload.lacks...), lacks...)
	g.weigh(s, p)
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
func (r *Rigging) weigh(s *brief.Scenario, p lang.Printer) {
	name, low, high := r.Rig.Name.Value, r.Rig.Payload.Low, r.Rig.Payload.High
	switch {
	case low.Known() && r.Mass < low.Value:
		r.Problems = append(r.Problems, fmt.Sprintf("%q is too strong for this: it carries %s and is made for %s and more. Fix %s to the stage, or fly %s.",
			name, p.Quantity(r.Mass, "kg"), p.Quantity(low.Value, "kg"), p.Quantity(low.Value-r.Mass, "kg"), otherRigs(s, r.Mass)))
	case high.Known() && r.Mass > high.Value:
		r.Problems = append(r.Problems, fmt.Sprintf("%q is overloaded: it carries %s and may carry %s. Take %s off, or fly %s.",
			name, p.Quantity(r.Mass, "kg"), p.Quantity(high.Value, "kg"), p.Quantity(r.Mass-high.Value, "kg"), otherRigs(s, r.Mass)))
	}
}

// otherRigs names the rigs of the catalogue that are made for a mass.
func otherRigs(s *brief.Scenario, mass float64) string {
	var names []string
	for _, rig := range s.Catalogue.Rigs.All() {
		if rig.Payload.Low.Or(0) <= mass && mass <= rig.Payload.High.Or(math.Inf(1)) && rig != s.Rig {
			names = append(names, rig.Name.Value)
		}
	}
	if names == nil {
		return "another rig; the catalogue has none for it"
	}
	return lang.Quoted(names)
}

// trimAll settles the trims of all set-ups together: one place to bolt the camera, and
// the same plates where they serve, so that a swap takes as little as it can.
func trimAll(riggings []*Rigging, window brief.DropWindow, p lang.Printer) {
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
				r.Problems = append(r.Problems, r.untrimmed(window, p))
			}
		}
	}
	shiftAll(riggings, p)
}

// platesForAll gives the fewest plates with which every set-up that can be trimmed is.
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

// shiftAll bolts the camera so that the stage's travel serves all set-ups as evenly as it
// can, and gives each its shift.
func shiftAll(riggings []*Rigging, p lang.Printer) {
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
			r.Problems = append(r.Problems, fmt.Sprintf(
				"The stage would have to shift %s and goes %s: bolt the camera %s farther %s for this lens.",
				p.Quantity(math.Abs(wanted), "mm"), p.Quantity(travel.Value, "mm"),
				p.Quantity(math.Abs(wanted)-travel.Value, "mm"), forwardOrBack(wanted)))
		}
	}
}

func forwardOrBack(shift float64) string {
	if shift < 0 {
		return "back"
	}
	return "forward"
}

// untrimmed says why no plates and no post bring the drop time into the window.
func (r *Rigging) untrimmed(window brief.DropWindow, p lang.Printer) string {
	wanted := fmt.Sprintf("%s to %s", p.Quantity(window.Low, "s"), p.Quantity(window.High, "s"))
	switch {
	case math.IsNaN(r.Shortest) && r.Inverted:
		return "In low mode it tips over whatever is done: its base outweighs the camera. Put mass on the stage, or fly it upright."
	case math.IsNaN(r.Shortest):
		return "It tips over whatever is done: with all plates on and the post drawn out it is still top-heavy. Lighten what stands on the stage, or add mass to the base."
	case r.Longest < window.Low:
		text := fmt.Sprintf("It drops in %s at the slowest, and %s is wanted: the base is too heavy for what it carries.", p.Quantity(r.Longest, "s"), wanted)
		if more, ok := r.ballast(window); ok {
			text += fmt.Sprintf(" Put %s on the stage, at the camera.", p.Quantity(more, "g"))
		}
		return text
	case r.Shortest > window.High:
		return fmt.Sprintf("It drops in %s at the quickest, and %s is wanted: it wants more mass at the base, or less on the stage.", p.Quantity(r.Shortest, "s"), wanted)
	}
	return fmt.Sprintf("It can be made to drop in %s or in %s, but not in %s: try plates of another mass.", p.Quantity(r.Shortest, "s"), p.Quantity(r.Longest, "s"), wanted)
}

// ballast gives the least mass, in steps of 10 g, that on the stage, at the height of the
// payload's centre, lets the rig be trimmed without its being overloaded.
func (r *Rigging) ballast(window brief.DropWindow) (float64, bool) {
	const step = 0.010
	most := r.Rig.Payload.High.Or(r.Mass) - r.Mass
	for n := 1; float64(n)*step <= most; n++ {
		load := r.onStage()
		load.Mass += float64(n) * step
		if _, ok := r.sled.Fewest(load, window.Low, window.High); ok {
			return float64(n) * step, true
		}
	}
	return 0, false
}
