package floor

import (
	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
)

// A Note is something else to know or to do in a shot: one of the types below. Quantities
// are in SI units. A remedy that does not help is 0.
type Note interface{ isNote() }

// IsFault reports whether a note says that something is not as asked, rather than what helps or how
// it was worked out.
func IsFault(n Note) bool {
	switch n.(type) {
	case SteeredRing, PullerHelps, DarkestGoverns, FromSun:
		return false
	}
	return true
}

type note struct{}

func (note) isNote() {}

// Of focus and framing.
type (
	// SteeredRing: the focus ring only steers a motor, and its marks do not hold.
	SteeredRing struct{ note }
	// Lost: focus or framing does not hold over a part of the way.
	Lost struct {
		note
		Lane
		Way
		Stretch // where it holds
	}
	// DepthUnknown: how deep the picture is sharp so close by hangs on the magnification of
	// the lens, which is not known.
	DepthUnknown struct{ note }
	// PullerHelps: one mark for the whole move takes a small stop and a high ISO.
	PullerHelps struct {
		note
		Stop, ISO float64
	}
)

// Of a shot that no lens of the kit does.
type (
	NoLens struct{ note }
	// Nearest is the lens that comes nearest to doing it. Its judgement says what is in the
	// way; a lens with nothing in the way is just not in the kit.
	Nearest struct {
		note
		*engine.Judgement
	}
)

// Of light.
type (
	NoLight struct{ note }
	// DarkestGoverns: of several readings the exposure is set for the darkest.
	DarkestGoverns struct {
		note
		Readings int
		Darkest  brief.Reading
		Over     float64 // stops of the brightest over it
	}
	// FromSun: the light is an estimate from the height of the sun.
	FromSun struct {
		note
		brief.Reading
	}
	// TooDark: light is missing at the ISO that is set.
	TooDark struct {
		note
		Short, ISO  float64 // stops, and that ISO
		Highest     bool    // the camera has none above
		Needed      float64 // light, lux
		Open, Wider float64 // stops that a full shutter gives, and that pulled focus may free
	}
	// TooBright: light is left over with all filters that there are.
	TooBright struct {
		note
		Lens  *catalog.Lens
		Left  float64 // stops
		On    bool    // a filter is on the lens
		Bring float64 // stops of an ND that would leave iris and ISO where they belong
		Angle float64 // of the shutter that takes the rest away, rad, with its time in s
		Time  float64
	}
)

// Of the rig.
type (
	// OffPayload: the rig carries less or more than it is made for.
	OffPayload struct {
		note
		Rig         string
		Mass, Limit float64
		Others      []string // rigs that are made for it
	}
	// StageTooShort: the travel of the stage ends before the camera is over the post.
	StageTooShort struct {
		note
		Wanted, Travel float64 // Wanted is positive forward
	}
	// Untrimmed: no plates and no post bring the drop time into the window.
	Untrimmed struct {
		note
		Window            brief.DropWindow
		Shortest, Longest float64 // within reach; NaN when it tips over whatever is done
		Inverted          bool
		Ballast           float64 // mass on the stage that would let it be trimmed
	}
)
