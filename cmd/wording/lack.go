package wording

import (
	"strconv"
	"strings"

	"glassbrief/engine/rig"
)

// How to find out what a catalogue lacks.
const (
	byScale   = "Put it on a scale as it is flown, and write it as "
	byPencil  = "Lay it across a round pencil until it tips neither way, measure from the mount's flange to the pencil, and write it as "
	byTape    = "Measure it with a tape and write it as "
	onSide    = "Lay the camera on its side across a round pencil, measure from its base to the pencil, and write it as "
	byCount   = "Count them and write it as "
	byPlacing = "Say where the centre of mass of all of it together is, behind the lens flange and above the camera's base, as in "
	byDrops   = "Time two drops: trim the bare rig so that its base is the heavier end, tip the post level, let go, " +
		"and time it until it hangs plumb; take the mean of five. Fix one plate at a known depth below the gimbal and time it again. " +
		"\"glassbrief reckon drops\" gives the centre of mass and the moment of inertia; write them as "
)

// lacks says what is not known of an item, how to find it out, and how to write it.
var lacks = [rig.Unknowns]struct{ what, how, as string }{
	rig.AxisHeight:       {"the height of the optical axis of ITEM", byTape, "axis_height"},
	rig.ItemMass:         {"the mass of ITEM", byScale, "mass"},
	rig.ItemBalance:      {"the place of the centre of mass of ITEM", byPencil, "balance"},
	rig.BalanceHeight:    {"the height of the centre of mass of ITEM", onSide, "balance_height"},
	rig.Thickness:        {"the thickness of ITEM", byTape, "thickness"},
	rig.LensLength:       {"the length of ITEM", byTape, "length"},
	rig.AccessoriesPlace: {"where the accessories sit", byPlacing, "accessories 350g 60mm x 120mm"},
	rig.SledMass:         {"the mass of ITEM", byScale, "sled_mass"},
	rig.BaseMass:         {"the mass of the base of ITEM", byScale, "base_mass"},
	rig.PostIn:           {"the depth of the plates of ITEM with the post pushed in", byTape, "post"},
	rig.PostOut:          {"the depth of the plates of ITEM with the post drawn out", byTape, "post"},
	rig.PlateMass:        {"the mass of a plate of ITEM", byScale, "plate_mass"},
	rig.PlateReach:       {"how far before and behind the post the plates of ITEM sit", byTape, "plate_reach"},
	rig.PlateCount:       {"the number of plates that ITEM takes", byCount, "plates"},
	rig.SledMechanics:    {"the centre of mass and the moment of inertia of ITEM", byDrops, "sled_balance\" and \"sled_inertia"},
	rig.StageHeight:      {"the height of the stage of ITEM", byTape, "stage_height"},
}

// Lack says what is not known, and how to find it out.
func Lack(l rig.Lack) (what, how string) {
	row := lacks[l.Unknown]
	return strings.ReplaceAll(row.what, "ITEM", strconv.Quote(l.Of)), row.how + "\"" + row.as + "\"."
}
