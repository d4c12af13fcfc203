package rig

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A Lack is a figure that the trim needs and the catalogue or the brief does not give.
type Lack struct {
	Unknown Unknown
	Of      string // name of the item
}

// An Unknown is a figure that may be missing.
type Unknown uint8

const (
	AxisHeight    Unknown = iota // of a camera
	ItemMass                     // of a camera, lens, adapter or filter
	ItemBalance                  // of a camera or lens
	BalanceHeight                // of a camera
	Thickness                    // of an adapter
	LensLength
	AccessoriesPlace // of the brief
	SledMass         // this and those below: of a rig
	BaseMass
	PostIn
	PostOut
	PlateMass
	PlateReach
	PlateCount
	SledMechanics // centre of mass and moment of inertia
	StageHeight

	Unknowns // how many there are
)

// A payload is what stands on the stage, as [Setup.Payload] has it.
type payload struct {
	load  balance.Load
	lacks []Lack
}

// figures are what a payload takes of its lens, by the places below.
type figures [lensFigures]lang.Quantity

const (
	lensMass = iota
	lensBalance
	lensLength
	lensFigures // how many there are
)

func figuresOf(lens *catalog.Lens) figures {
	return figures{lensMass: lens.Mass, lensBalance: lens.Balance, lensLength: lens.Length}
}

// Alike reports whether two lenses hang on the rig alike with the same adapter and the same filters.
func Alike(one, other *catalog.Lens) bool {
	a, b := figuresOf(one), figuresOf(other)
	return slices.EqualFunc(a[:], b[:], func(a, b lang.Quantity) bool { return cmp.Compare(a.OrNaN(), b.OrNaN()) == 0 })
}

// payloadOf puts together what stands on the stage with a lens and filters.
func payloadOf(s *brief.Scenario, camera *catalog.Camera, lens string, of figures, fitting catalog.Fitting, filters []*catalog.Filter) payload {
	var p payload
	var loads []balance.Load
	add := func(mass, ahead, up float64) {
		loads = append(loads, balance.Load{Mass: mass, Forward: ahead, Height: up})
	}
	name := camera.Name.Value
	axis := p.need(camera.AxisHeight, AxisHeight, name)
	add(p.need(camera.Mass, ItemMass, name), -p.need(camera.Balance, ItemBalance, name), p.need(camera.BalanceHeight, BalanceHeight, name))
	thickness := 0.0
	if a := fitting.Adapter; a != nil {
		thickness = p.known(fitting.Thickness, Thickness, a.Name.Value)
		add(p.need(a.Mass, ItemMass, a.Name.Value), thickness/2, axis)
	}
	add(p.need(of[lensMass], ItemMass, lens), thickness+p.need(of[lensBalance], ItemBalance, lens), axis)
	for _, f := range filters {
		add(p.need(f.Mass, ItemMass, f.Name.Value), thickness+p.need(of[lensLength], LensLength, lens), axis)
	}
	if a := s.Accessories; !a.Placed() {
		p.lacks = append(p.lacks, Lack{Unknown: AccessoriesPlace})
	} else if a.Mass > 0 {
		add(a.Mass, -a.Behind.Value, a.Above.Value)
	}
	p.load = balance.Join(loads...)
	return p
}

// need gives a quantity, or notes that it is lacking.
func (p *payload) need(q lang.Quantity, what Unknown, of string) float64 {
	return p.known(q.OrNaN(), what, of)
}

func (p *payload) known(value float64, what Unknown, of string) float64 {
	if math.IsNaN(value) {
		p.lacks = append(p.lacks, Lack{what, of})
	}
	return value
}

// sledOf gives the mechanics of a rig, and what its entry in the catalogue lacks for them.
func sledOf(rig *catalog.Rig) (balance.Sled, []Lack) {
	var p payload
	need := func(q lang.Quantity, what Unknown) float64 { return p.need(q, what, rig.Name.Value) }
	s := balance.Sled{
		Mass: need(rig.SledMass, SledMass), Base: need(rig.BaseMass, BaseMass),
		PostIn: need(rig.Post.Low, PostIn), PostOut: need(rig.Post.High, PostOut),
		Plate: need(rig.PlateMass, PlateMass), Reach: need(rig.PlateReach, PlateReach), MaxPlates: int(rig.Plates.Or(0)),
		Offset: rig.SledBalance.OrNaN(), Inertia: rig.SledInertia.OrNaN(),
	}
	need(rig.Plates, PlateCount)
	p.known(s.Offset+s.Inertia, SledMechanics, rig.Name.Value)
	need(rig.StageHeight, StageHeight)
	return s, p.lacks
}
