package floor

import (
	"fmt"
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A Lack is something that is not known and has to be, and how to find it out.
type Lack struct {
	What string // "the place of the centre of mass of \"Old 28\""
	How  string // what to weigh or measure
}

// A payload is what stands on the stage: where its common centre of mass is, ahead of the
// mount's flange and above the stage, or what is lacking to know.
type payload struct {
	load  balance.Load
	lacks []Lack
}

// How to find out what a catalogue lacks.
const (
	howToWeigh   = "Put it on a scale as it is flown, and write it as \"%s\"."
	howToBalance = "Lay it across a round pencil until it tips neither way, measure from the mount's flange to the pencil, and write it as \"balance\"."
	howToMeasure = "Measure it with a tape and write it as \"%s\"."
	howToUpright = "Lay the camera on its side across a round pencil, measure from its base to the pencil, and write it as \"balance_height\"."
	howToPlace   = "Say where the centre of mass of all of it together is, behind the lens flange and above the camera's base, as in \"accessories 350g 60mm x 120mm\"."
	howToDrop    = "Time two drops: trim the bare rig so that its base is the heavier end, tip the post level, let go, " +
		"and time it until it hangs plumb; take the mean of five. Fix one plate at a known depth below the gimbal and time it again. " +
		"\"glassbrief reckon drops\" gives the centre of mass and the moment of inertia; write them as \"sled_balance\" and \"sled_inertia\"."
)

// payloadOf puts together what stands on the stage with a lens and filters.
func payloadOf(s *brief.Scenario, camera *catalog.Camera, lens *catalog.Lens, fitting catalog.Fitting, filters []*catalog.Filter) payload {
	var p payload
	var loads []balance.Load
	axis := p.need(camera.AxisHeight, fmt.Sprintf("the height of the optical axis of %q", camera.Name.Value), fmt.Sprintf(howToMeasure, "axis_height"))
	add := func(mass, ahead, up float64) {
		loads = append(loads, balance.Load{Mass: mass, Forward: ahead, Height: up})
	}
	add(
		p.need(camera.Mass, fmt.Sprintf("the mass of %q", camera.Name.Value), fmt.Sprintf(howToWeigh, "mass")),
		-p.need(camera.Balance, fmt.Sprintf("the place of the centre of mass of %q", camera.Name.Value), howToBalance),
		p.need(camera.BalanceHeight, fmt.Sprintf("the height of the centre of mass of %q", camera.Name.Value), howToUpright),
	)
	thickness := 0.0
	if a := fitting.Adapter; a != nil {
		thickness = p.known(fitting.Thickness, fmt.Sprintf("the thickness of %q", a.Name.Value), fmt.Sprintf(howToMeasure, "thickness"))
		add(p.need(a.Mass, fmt.Sprintf("the mass of %q", a.Name.Value), fmt.Sprintf(howToWeigh, "mass")), thickness/2, axis)
	}
	add(
		p.need(lens.Mass, fmt.Sprintf("the mass of %q", lens.Name.Value), fmt.Sprintf(howToWeigh, "mass")),
		thickness+p.need(lens.Balance, fmt.Sprintf("the place of the centre of mass of %q", lens.Name.Value), howToBalance),
		axis,
	)
	for _, f := range filters {
		add(
			p.need(f.Mass, fmt.Sprintf("the mass of %q", f.Name.Value), fmt.Sprintf(howToWeigh, "mass")),
			thickness+p.need(lens.Length, fmt.Sprintf("the length of %q", lens.Name.Value), fmt.Sprintf(howToMeasure, "length")),
			axis,
		)
	}
	if a := s.Accessories; !a.Placed() {
		p.lacks = append(p.lacks, Lack{"where the accessories sit", howToPlace})
	} else if a.Mass > 0 {
		add(a.Mass, -a.Behind.Value, a.Above.Value)
	}
	p.load = balance.Join(loads...)
	return p
}

// need gives a quantity, or notes that it is lacking.
func (p *payload) need(q lang.Quantity, what, how string) float64 {
	return p.known(q.OrNaN(), what, how)
}

func (p *payload) known(value float64, what, how string) float64 {
	if math.IsNaN(value) {
		p.lacks = append(p.lacks, Lack{what, how})
	}
	return value
}

// sledOf gives the mechanics of a rig, and what its entry in the catalogue lacks for them.
func sledOf(rig *catalog.Rig) (balance.Sled, []Lack) {
	var p payload
	name := rig.Name.Value
	s := balance.Sled{
		Mass:      p.need(rig.SledMass, fmt.Sprintf("the mass of %q", name), fmt.Sprintf(howToWeigh, "sled_mass")),
		Base:      p.need(rig.BaseMass, fmt.Sprintf("the mass of the base of %q", name), fmt.Sprintf(howToWeigh, "base_mass")),
		PostIn:    p.need(rig.Post.Low, fmt.Sprintf("the depth of the plates of %q with the post pushed in", name), fmt.Sprintf(howToMeasure, "post")),
		PostOut:   p.need(rig.Post.High, fmt.Sprintf("the depth of the plates of %q with the post drawn out", name), fmt.Sprintf(howToMeasure, "post")),
		Plate:     p.need(rig.PlateMass, fmt.Sprintf("the mass of a plate of %q", name), fmt.Sprintf(howToWeigh, "plate_mass")),
		Reach:     p.need(rig.PlateReach, fmt.Sprintf("how far before and behind the post the plates of %q sit", name), fmt.Sprintf(howToMeasure, "plate_reach")),
		MaxPlates: int(orZero(p.need(rig.Plates, fmt.Sprintf("the number of plates that %q takes", name), "Count them and write it as \"plates\"."))),
		Offset:    rig.SledBalance.OrNaN(), Inertia: rig.SledInertia.OrNaN(),
	}
	if !rig.SledBalance.Known() || !rig.SledInertia.Known() {
		p.lacks = append(p.lacks, Lack{fmt.Sprintf("the centre of mass and the moment of inertia of %q", name), howToDrop})
	}
	p.need(rig.StageHeight, fmt.Sprintf("the height of the stage of %q", name), fmt.Sprintf(howToMeasure, "stage_height"))
	return s, p.lacks
}
