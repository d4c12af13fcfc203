package catalog

import (
	"glassbrief/lang"
)

// The words for how a lens is focused.
const (
	FocusManual = "manual"
	FocusAuto   = "auto"
	FocusWire   = "wire"
)

// The words for what its focus ring tells the hand.
const (
	ScaleMarked = "marked"
	ScaleWire   = "wire"
	ScaleNone   = "none"
)

// A Lens is one lens, prime or zoom. Figures of a lens that change with focal length,
// focus or stop are given for the worst case that the field's comment names, so that a
// judgement on them is on the safe side.
type Lens struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// Whose it is: owned, borrowed, or rent with the price of a day if that is known. Behind it,
	// where there are several days: what a week costs, what it costs to fetch it, and how many days
	// are paid at least, as "have rent 70 EUR week 210 EUR fetch 40 EUR least 2 days". Unknown
	// unless given: then "owned_only" and "rent" of a scenario keep the lens out.
	Have Holding `lang:"have,usual=1..5000,possible=0.01..1000000000"`
	// From when to when it can be had, as "2027-04-28..2027-05-31", with either end left out.
	Available Availability `lang:"available,own" absent:"always"`
	// Name of its mount.
	Mount lang.Text `lang:"mount,required"`
	// Focal length; an interval for a zoom.
	Focal lang.Interval `lang:"focal,required,dim=length,rough,usual=2mm..2m,possible=0.1mm..20m"`
	// Focal lengths that are engraved on the ring of a zoom, as "24, 28, 35, 50, 70mm": the
	// only ones that are then dialled. Without the line, every whole millimetre is.
	Engraved lang.List `lang:"engraved,dim=length,usual=2mm..2m,possible=0.1mm..20m" absent:"none"`
	// Widest and smallest f-number, as "f/1.8..f/22". A single one is the widest, and the
	// smallest is unknown. For a zoom whose widest stop changes, the one at the long end.
	Aperture lang.Interval `lang:"aperture,dim=aperture,rough,usual=f/0.7..f/64,possible=f/0.3..f/1000"`
	// T-number at the widest stop.
	Transmission lang.Quantity `lang:"transmission,dim=aperture,rough,usual=T0.7..T22,possible=T0.3..T1000"`
	// Closest distance it focuses to, from the sensor plane.
	CloseFocus lang.Quantity `lang:"close_focus,dim=length,rough,usual=10mm..10m,possible=1mm..1km"`
	// Largest magnification, which is that at the closest focus, as 1:1 for a macro lens or
	// 1:8.
	Magnification lang.Ratio `lang:"magnification,usual=1:100..5,possible=1:10000..100"`
	// Where its entrance pupil lies before the sensor plane, towards the subject: there the
	// perspective of its picture begins. Behind the sensor it is negative. Of a zoom at its wide and
	// at its long end, as "110mm 60mm", and evenly between. "thin" takes the lens for a thin one.
	Pupil Pupil `lang:"pupil,usual=-500mm..400mm,possible=-5m..5m"`
	// By how much more or less its picture takes in at the closest focus than at infinity, seen
	// from the entrance pupil, by the tangent of half the angle: negative narrows. Of a zoom at its
	// two ends. Between, it changes evenly with the inverse of the distance. Of a prime it may be told
	// by the angles of view at two distances from the sensor plane, as "0.45m 71deg infinity 75deg".
	Breathing Breathing `lang:"breathing,usual=-50%..30%,possible=-99%..500%"`
	// Diameter of the image circle at infinity and the widest stop.
	Circle lang.Quantity `lang:"circle,dim=length,rough,usual=5mm..100mm,possible=0.5mm..1m"`
	// How angles map to the picture. A lens without the line is rectilinear, as every
	// lens is that is not called a fisheye.
	Projection lang.Word `lang:"projection,words=rectilinear|equidistant|equisolid|stereographic|orthographic" absent:"rectilinear"`
	// How much more an anamorphic lens takes in across the width, as 1.33 or 2. A lens
	// without the line is spherical.
	Squeeze lang.Ratio `lang:"squeeze,usual=1..2,possible=0.25..4" absent:"1"`
	// How it is focused: manual (a ring with marks that hold), auto (the camera can drive
	// it), wire (a ring that only steers a motor, so that marks do not hold).
	Focus lang.Word `lang:"focus,words=manual|auto|wire"`
	// What its focus ring tells the hand: marked (distances that hold), wire (it only steers
	// a motor, so that marks do not hold), none (a ring without distances). Where "focus" is
	// manual it is marked unless given, where that is wire it is wire, and else unknown.
	Scale lang.Word `lang:"scale,words=marked|wire|none" absent:"as focus"`
	// Mass with the caps off and the hood on.
	Mass lang.Quantity `lang:"mass,dim=mass,rough,usual=20g..15kg,possible=1g..200kg"`
	// Length from the mount's flange to the front, at its longest.
	Length lang.Quantity `lang:"length,dim=length,rough,usual=5mm..1m,possible=1mm..10m"`
	// Largest outer diameter.
	Diameter lang.Quantity `lang:"diameter,dim=length,rough,usual=15mm..300mm,possible=1mm..3m"`
	// Filter thread at the front, or "none" when a filter cannot be screwed on.
	Thread Thread `lang:"thread,usual=15mm..150mm,possible=1mm..2m"`
	// Distance of its centre of mass in front of the mount's flange.
	Balance lang.Quantity `lang:"balance,dim=length,rough,usual=-50mm..500mm,possible=-1m..5m"`
	// Distortion at the edge of the image circle, as the share by which a point there
	// lies too far out: negative for barrel, positive for pincushion. The worst over the
	// zoom range; for a fisheye, what is left beside its projection.
	Distortion lang.Quantity `lang:"distortion,dim=plain,rough,usual=-15%..15%,possible=-100%..100%"`
	// Light lost at the edge of the image circle against the middle, at infinity and the
	// widest stop, natural fall-off included.
	Falloff lang.Quantity `lang:"falloff,dim=stops,rough,usual=0 stops..6 stops,possible=0 stops..20 stops"`
	// What was measured of its picture: models of distortion and shading by focal length,
	// with where they come from. They are used in place of the two lines above.
	Correction Correction `lang:"correction"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// IsZoom reports whether the focal length can be changed.
func (l *Lens) IsZoom() bool { return l.Focal.Low.Value != l.Focal.High.Value }

// WidestStop gives the smallest f-number.
func (l *Lens) WidestStop() lang.Quantity { return l.Aperture.Low }

// SmallestStop gives the largest f-number, unknown when the file names only the widest.
func (l *Lens) SmallestStop() lang.Quantity {
	if l.Aperture.High.Value == l.Aperture.Low.Value {
		return lang.Quantity{}
	}
	return l.Aperture.High
}

// IsFisheye reports whether the projection is other than rectilinear.
func (l *Lens) IsFisheye() bool {
	return l.Projection.Value != "" && l.Projection.Value != "rectilinear"
}

// FocusScale gives what the focus ring tells the hand, [ScaleMarked], [ScaleWire] or
// [ScaleNone], or "" when that is not known.
func (l *Lens) FocusScale() string {
	switch {
	case l.Scale.Value != "":
		return l.Scale.Value
	case l.Focus.Value == FocusManual:
		return ScaleMarked
	case l.Focus.Value == FocusWire:
		return ScaleWire
	}
	return ""
}

// SqueezeFactor gives the anamorphic squeeze, 1 for a spherical lens.
func (l *Lens) SqueezeFactor() float64 {
	if l.Squeeze.Known() {
		return l.Squeeze.Value
	}
	return 1
}

// A Thread is a filter thread, as "thread 77mm", or "thread none" for a front that takes
// no screwed filter. Its zero value is unknown, which is not the same as none.
type Thread struct {
	None     bool
	Diameter lang.Quantity // unknown when there is none
}

// DecodeArgs reads the value of "thread".
func (t *Thread) DecodeArgs(args *lang.Args) {
	if args.PeekKind() == lang.WordPart && !args.PeekWord(lang.About) {
		t.None = args.Word("none").Value != ""
		return
	}
	t.Diameter = args.RoughQuantity(lang.Length)
}

// Known reports whether it is known which thread there is, if any.
func (t Thread) Known() bool { return t.None || t.Diameter.Known() }

// Show writes the thread for people.
func (t Thread) Show(p lang.Printer) string {
	if t.None {
		return "none"
	}
	return p.Given(t.Diameter)
}
