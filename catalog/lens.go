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
	// Whose it is: owned, borrowed, or rent with the price of a day if that is known. Unknown
	// unless given: then "owned_only" and "rent" of a scenario keep the lens out.
	Have Holding `lang:"have"`
	// Name of its mount.
	Mount lang.Text `lang:"mount,required"`
	// Focal length; an interval for a zoom.
	Focal lang.Interval `lang:"focal,required,dim=length,rough"`
	// Focal lengths that are engraved on the ring of a zoom, as "24, 28, 35, 50, 70mm": the
	// only ones that are then dialled. Without the line, every whole millimetre is.
	Engraved lang.List `lang:"engraved,dim=length" absent:"none"`
	// Widest and smallest f-number, as "f/1.8..f/22". A single one is the widest, and the
	// smallest is unknown. For a zoom whose widest stop changes, the one at the long end.
	Aperture lang.Interval `lang:"aperture,dim=aperture,rough"`
	// T-number at the widest stop.
	Transmission lang.Quantity `lang:"transmission,dim=aperture,rough"`
	// Closest distance it focuses to, from the sensor plane.
	CloseFocus lang.Quantity `lang:"close_focus,dim=length,rough"`
	// Largest magnification, which is that at the closest focus, as 1:1 for a macro lens or
	// 1:8.
	Magnification lang.Ratio `lang:"magnification"`
	// Where its entrance pupil lies before the sensor plane, towards the subject: there the
	// perspective of its picture begins. Behind the sensor it is negative. Of a zoom at its wide and
	// at its long end, as "110mm 60mm", and evenly between. "thin" takes the lens for a thin one.
	Pupil Pupil `lang:"pupil"`
	// By how much more or less its picture takes in at the closest focus than at infinity, seen
	// from the entrance pupil, by the tangent of half the angle: negative narrows. Of a zoom at its
	// two ends. Between, it changes evenly with the inverse of the distance.
	Breathing Breathing `lang:"breathing"`
	// Diameter of the image circle at infinity and the widest stop.
	Circle lang.Quantity `lang:"circle,dim=length,rough"`
	// How angles map to the picture. A lens without the line is rectilinear, as every
	// lens is that is not called a fisheye.
	Projection lang.Word `lang:"projection,words=rectilinear|equidistant|equisolid|stereographic|orthographic" absent:"rectilinear"`
	// How much more an anamorphic lens takes in across the width, as 1.33 or 2. A lens
	// without the line is spherical.
	Squeeze lang.Ratio `lang:"squeeze" absent:"1"`
	// How it is focused: manual (a ring with marks that hold), auto (the camera can drive
	// it), wire (a ring that only steers a motor, so that marks do not hold).
	Focus lang.Word `lang:"focus,words=manual|auto|wire"`
	// What its focus ring tells the hand: marked (distances that hold), wire (it only steers
	// a motor, so that marks do not hold), none (a ring without distances). Where "focus" is
	// manual it is marked unless given, where that is wire it is wire, and else unknown.
	Scale lang.Word `lang:"scale,words=marked|wire|none" absent:"as focus"`
	// Mass with the caps off and the hood on.
	Mass lang.Quantity `lang:"mass,dim=mass,rough"`
	// Length from the mount's flange to the front, at its longest.
	Length lang.Quantity `lang:"length,dim=length,rough"`
	// Largest outer diameter.
	Diameter lang.Quantity `lang:"diameter,dim=length,rough"`
	// Filter thread at the front, or "none" when a filter cannot be screwed on.
	Thread Thread `lang:"thread"`
	// Distance of its centre of mass in front of the mount's flange.
	Balance lang.Quantity `lang:"balance,dim=length,rough"`
	// Distortion at the edge of the image circle, as the share by which a point there
	// lies too far out: negative for barrel, positive for pincushion. The worst over the
	// zoom range; for a fisheye, what is left beside its projection.
	Distortion lang.Quantity `lang:"distortion,dim=plain,rough"`
	// Light lost at the edge of the image circle against the middle, at infinity and the
	// widest stop, natural fall-off included.
	Falloff lang.Quantity `lang:"falloff,dim=stops,rough"`
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

// The words for whose a lens is.
const (
	Owned    = "owned"
	Borrowed = "borrowed"
	Hired    = "rent"
)

// A Holding says whose a lens is, as "have owned", "have borrowed" or
// "have rent 35 EUR". Its zero value is unknown.
type Holding struct {
	Kind    string        // Owned, Borrowed, Hired, or "" when unknown
	DayRate lang.Quantity // price of a day; unknown unless hired, and when nobody has asked
	Span    lang.Span
}

// DecodeArgs reads the values of "have".
func (h *Holding) DecodeArgs(args *lang.Args) {
	h.Span = args.Rest()
	kind := args.Word(Owned, Borrowed, Hired).Value
	if kind == Hired && args.More() {
		h.DayRate = args.RoughQuantity(lang.Money)
		h.Span = h.Span.To(h.DayRate.Span)
	}
	if args.Failed() {
		*h = Holding{}
		return
	}
	h.Kind = kind
}

// Known reports whether it is known whose the lens is.
func (h Holding) Known() bool { return h.Kind != "" }

// Show writes the holding for people.
func (h Holding) Show(p lang.Printer) string {
	if h.Kind == Hired && h.DayRate.Known() {
		return Hired + " " + p.Given(h.DayRate) + " a day"
	}
	return h.Kind
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
