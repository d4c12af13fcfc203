package facts

import (
	"math"

	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
)

// LensInput is what a lens on the camera gives, adapter and rig included, in SI units.
// NaN stands for unknown throughout.
type LensInput struct {
	FocalLow, FocalHigh float64 // equal for a prime; with the factor of the adapter
	WidestStop          float64 // f-number, with the adapter
	SmallestStop        float64
	WidestT             float64
	CloseFocus          float64 // from the sensor plane
	Circle              float64 // diameter
	Projection          optics.Projection
	Squeeze             float64      // 1 for a spherical lens
	Distortion          float64      // share at the edge of the circle, negative for barrel
	Falloff             float64      // stops in the corner of the circle; NaN to use natural fall-off
	Mass                float64      // with the adapter
	Length              float64      // in front of the mount
	Flange              float64      // of the camera
	Sensor              optics.Frame // the mode used
	Ratio               float64      // delivered; 0 for the whole sensor
	Confusion           float64      // NaN for the diagonal rule
	CameraMass          float64      // with accessories
	PayloadLow          float64
	PayloadHigh         float64
	Wobble              float64 // of the rig, rad
	DayRate             float64
	// EdgeDistortion and EdgeFalloff give, at a focal length with the adapter, the share by
	// which the worst edge of the frame lies out of its place, and the stops lost in its
	// corner, where they were measured. They take the place of Distortion and Falloff; nil
	// when there is no measurement.
	EdgeDistortion, EdgeFalloff func(focal float64) float64
	Mounts                      bool
	Adapted                     bool
	Autofocus                   bool
	Hired                       bool
}

// FillLens writes the facts of [OfLens] for one focal length of the lens.
func FillLens(r *Record, in *LensInput, focal float64) {
	frame := optics.Delivered(in.Sensor, in.Squeeze, in.Ratio)
	diagonal := frame.Diagonal()
	r.Set(FrameWidth, frame.Width)
	r.Set(FrameHeight, frame.Height)
	r.Set(FrameDiagonal, diagonal)
	r.Set(ImageCircle, in.Circle)
	r.Set(CircleMargin, in.Circle/diagonal-1)
	confusion := in.Confusion
	if math.IsNaN(confusion) {
		confusion = optics.Confusion(frame, optics.ConfusionDivisor)
	}
	r.Set(Confusion, confusion)
	r.Set(WidestStop, in.WidestStop)
	r.Set(SmallestStop, in.SmallestStop)
	r.Set(WidestT, in.WidestT)
	r.Set(CloseFocus, in.CloseFocus)
	r.Set(DiffractionStop, optics.DiffractionStop(optics.Wavelength, confusion))

	r.Set(LensMass, in.Mass)
	r.Set(LensLength, in.Length+in.Flange)
	mass := in.CameraMass + in.Mass
	r.Set(RigMass, mass)
	r.Set(PayloadLow, in.PayloadLow)
	r.Set(PayloadHigh, in.PayloadHigh)
	r.Set(PayloadPlace, (mass-in.PayloadLow)/(in.PayloadHigh-in.PayloadLow))
	r.SetTruth(Mounts, in.Mounts)
	r.SetTruth(Adapted, in.Adapted)
	r.SetTruth(IsZoom, in.FocalLow != in.FocalHigh)
	r.SetTruth(IsFisheye, in.Projection != optics.Rectilinear)
	r.SetTruth(LensAutofocus, in.Autofocus)
	r.SetTruth(Hired, in.Hired)
	r.Set(DayRate, in.DayRate)
	FillFocal(r, in, focal)
}

// FillFocal writes those facts of [OfLens] that change with the focal length of a zoom
// into a record that holds the others.
func FillFocal(r *Record, in *LensInput, focal float64) {
	picture := optics.Frame{Width: r.Value[FrameWidth] * in.Squeeze, Height: r.Value[FrameHeight]}
	width := optics.AngleOfView(in.Projection, focal, picture.Width, 0)
	height := optics.AngleOfView(in.Projection, focal, picture.Height, 0)
	corner := optics.Angle(in.Projection, focal, picture.Diagonal()/2)
	r.Set(FocalLength, focal)
	r.Set(AngleWidth, width)
	r.Set(AngleHeight, height)
	r.Set(AngleDiagonal, 2*corner)
	r.Set(SpreadWidth, spread(width))
	r.Set(SpreadHeight, spread(height))
	r.Set(Bending, bending(in, focal, picture, r.Value[FrameDiagonal]))
	r.Set(CornerStretch, optics.EdgeStretch(in.Projection, corner))
	r.Set(CornerFalloff, cornerFalloff(in, focal, corner))
	r.Set(WobbleShare, motion.WobbleShare(in.Wobble, width))
}

// A Focal holds the facts that [FillFocal] writes, for a zoom is set to the same focal
// lengths in shot after shot.
type Focal [len(ofFocal)]float64

var ofFocal = [...]ID{
	FocalLength, AngleWidth, AngleHeight, AngleDiagonal, SpreadWidth, SpreadHeight,
	Bending, CornerStretch, CornerFalloff, WobbleShare,
}

// Focal gives the facts of the record that change with the focal length.
func (r *Record) Focal() (f Focal) {
	for i, id := range ofFocal {
		f[i] = r.Value[id]
	}
	return f
}

// SetFocal puts the facts of a focal length into a record of the same lens.
func (r *Record) SetFocal(f *Focal) {
	for i, id := range ofFocal {
		r.Set(id, f[i])
	}
}

// spread gives metres of picture for each metre of distance, without bound from 180
// degrees on.
func spread(angle float64) float64 {
	if angle >= math.Pi {
		return math.Inf(1)
	}
	return 2 * math.Tan(angle/2)
}

// bending joins what the projection bends at the side of the picture with what the lens
// itself distorts. The figure of the lens is for the edge of its circle; distortion of
// the third order falls with the square of the radius.
func bending(in *LensInput, focal float64, picture optics.Frame, diagonal float64) float64 {
	by := math.Abs(optics.Bend(in.Projection, focal, picture.Width/2))
	if in.Projection != optics.Rectilinear {
		return by
	}
	if in.EdgeDistortion != nil {
		return by + math.Abs(in.EdgeDistortion(focal))
	}
	reach := diagonal / in.Circle
	return by + math.Abs(in.Distortion)*reach*reach
}

// cornerFalloff takes what was measured, or else the greater of the figure of the lens and
// natural fall-off.
func cornerFalloff(in *LensInput, focal, corner float64) float64 {
	if in.EdgeFalloff != nil {
		if measured := in.EdgeFalloff(focal); !math.IsNaN(measured) {
			return measured
		}
	}
	natural := optics.NaturalFalloff(corner)
	if math.IsNaN(in.Falloff) {
		return natural
	}
	return max(natural, in.Falloff)
}
