package facts

import (
	"math"

	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

// Scale is what the focus ring of a lens tells the hand.
type Scale uint8

const (
	UnknownScale Scale = iota
	MarkedScale        // distances that hold
	ByWire             // the ring only steers a motor
	NoScale
)

// LensInput is what a lens on the camera gives, adapter and rig included, in SI units.
// NaN stands for unknown throughout.
type LensInput struct {
	FocalLow, FocalHigh float64 // equal for a prime; with the factor of the adapter
	WidestStop          float64 // f-number, with the adapter
	SmallestStop        float64
	WidestT             float64
	CloseFocus          float64 // from the sensor plane
	Magnification       float64 // at its closest focus, with the adapter
	Pupil, Breathing    Ends
	Scale               Scale
	Circle              float64 // diameter
	Projection          optics.Projection
	Squeeze             float64       // 1 for a spherical lens
	WantedSqueeze       float64       // of the production; 0 for any
	Distortion          float64       // share at the edge of the circle, negative for barrel
	Falloff             float64       // stops in the corner of the circle; NaN to use natural fall-off
	Mass                float64       // with the adapter
	Length              float64       // in front of the mount
	Flange              float64       // of the camera
	Delivered           optics.Window // the part of the sensor that is seen
	// Protected are the parts that are kept free around what is delivered, in every ratio: they
	// must be lit.
	Protected   []optics.Window
	Confusion   float64 // NaN for the diagonal rule
	CameraMass  float64 // with accessories
	PayloadLow  float64
	PayloadHigh float64
	Wobble      float64 // of the rig, rad
	DayRate     float64
	// EdgeDistortion and EdgeFalloff give, at a focal length with the adapter, the share by
	// which the worst edge of the frame lies out of its place, and the stops lost in its
	// corner, where they were measured. They take the place of Distortion and Falloff; nil
	// when there is no measurement.
	EdgeDistortion, EdgeFalloff func(focal float64) float64
	// ZoomDistortion gives the share of Distortion that is left at a focal length, where the
	// figure is the worst of a zoom; nil for all of it.
	ZoomDistortion func(focal float64) float64
	Mounts         bool
	Adapted        bool
	Autofocus      bool
	Hired          bool
}

// Ends are a figure at the shortest and at the longest focal length of a lens, and evenly between.
type Ends struct{ Wide, Long float64 }

func (e Ends) at(in *LensInput, focal float64) float64 {
	if e.Wide == e.Long || in.FocalLow == in.FocalHigh {
		return e.Wide
	}
	return e.Wide + (e.Long-e.Wide)*(focal-in.FocalLow)/(in.FocalHigh-in.FocalLow)
}

// lensRows are the facts that the lens gives on the camera and the rig.
func lensRows() map[ID]Fact {
	return map[ID]Fact{
		FocalLength: {
			Name: "focal_length", Dim: lang.Length, Unit: "mm",
			Meaning: "focal length, with the adapter where it has glass",
			Source:  "given: lens",
			dialled: OfLens,
		},
		Squeeze: {
			Name: "squeeze", Dim: lang.Plain,
			Meaning: "how many times more the lens takes in across the width; 1 for a spherical lens",
			Source:  "given: lens squeeze",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Squeeze },
		},
		WantedSqueeze: {
			Name: "wanted_squeeze", Dim: lang.Plain,
			Meaning: "squeeze of all glass of the production",
			Formula: "squeeze unless given",
			Source:  "given: squeeze in the scenario",
			Reads:   []ID{Squeeze},
			ofLens:  wantedSqueeze,
		},
		FrameWidth: {
			Name: "frame_width", Dim: lang.Length, Unit: "mm",
			Meaning: "width of the part of the sensor that is delivered",
			Formula: "sensor mode, cropped to the delivered ratio, less the protection; or the decision of the framing list",
			Source:  "geometry",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Delivered.Width },
		},
		FrameHeight: {
			Name: "frame_height", Dim: lang.Length, Unit: "mm",
			Meaning: "height of the part of the sensor that is delivered",
			Formula: "sensor mode, cropped to the delivered ratio, less the protection; or the decision of the framing list",
			Source:  "geometry",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Delivered.Height },
		},
		FrameDiagonal: {
			Name: "frame_diagonal", Dim: lang.Length, Unit: "mm",
			Meaning: "diagonal of the part of the sensor that is delivered",
			Formula: "hypot(frame_width, frame_height)",
			Source:  "geometry",
			Reads:   []ID{FrameWidth, FrameHeight},
			value:   func(v *Values) float64 { return math.Hypot(v[FrameWidth], v[FrameHeight]) },
		},
		ProtectedDiagonal: {
			Name: "protected_diagonal", Dim: lang.Length, Unit: "mm",
			Meaning: "diameter of the circle about the axis that holds all that is kept free around the delivered frames; the diagonal of one that stands in the middle of the sensor",
			Formula: "twice the way from the middle of the sensor to the farthest corner",
			Source:  "geometry",
			ofLens:  protectedDiagonal,
		},
		AngleLeft: {
			Name: "angle_left", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle from the axis to the left side of the picture, at infinity",
			Formula: "atan(way from the axis squeeze / focal_length) for a rectilinear lens; half of angle_width where the frame stands in the middle of the sensor",
			Source:  "projection formulae",
			Reads:   []ID{FocalLength},
			ofLens:  toSide(func(p *optics.Window) float64 { return p.Width/2 - p.X }),
		},
		AngleRight: {
			Name: "angle_right", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle from the axis to the right side of the picture, at infinity",
			Formula: "as angle_left",
			Source:  "projection formulae",
			Reads:   []ID{FocalLength},
			ofLens:  toSide(func(p *optics.Window) float64 { return p.Width/2 + p.X }),
		},
		AngleAbove: {
			Name: "angle_above", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle from the axis to the upper side of the picture, at infinity",
			Formula: "as angle_left, without squeeze",
			Source:  "projection formulae",
			Reads:   []ID{FocalLength},
			ofLens:  toSide(func(p *optics.Window) float64 { return p.Height/2 + p.Y }),
		},
		AngleBelow: {
			Name: "angle_below", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle from the axis to the lower side of the picture, at infinity",
			Formula: "as angle_above",
			Source:  "projection formulae",
			Reads:   []ID{FocalLength},
			ofLens:  toSide(func(p *optics.Window) float64 { return p.Height/2 - p.Y }),
		},
		AngleWidth: {
			Name: "angle_width", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle of view across the width of the picture, at infinity",
			Formula: "angle_left + angle_right, 2 atan(frame_width squeeze / (2 focal_length)) for a rectilinear lens and a frame in the middle",
			Source:  "projection formulae",
			Reads:   []ID{AngleLeft, AngleRight},
			value:   func(v *Values) float64 { return v[AngleLeft] + v[AngleRight] },
		},
		AngleHeight: {
			Name: "angle_height", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle of view across the height of the picture, at infinity",
			Formula: "angle_above + angle_below, 2 atan(frame_height / (2 focal_length)) for a rectilinear lens and a frame in the middle",
			Source:  "projection formulae",
			Reads:   []ID{AngleAbove, AngleBelow},
			value:   func(v *Values) float64 { return v[AngleAbove] + v[AngleBelow] },
		},
		CornerAngle: {
			Name: "corner_angle", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle from the axis to the farthest corner of the picture, at infinity",
			Formula: "from its way to the middle of the sensor",
			Source:  "projection formulae",
			Reads:   []ID{FocalLength},
			ofLens: func(in *LensInput, v *Values) float64 {
				return optics.Angle(in.Projection, v[FocalLength], picture(in).Reach().Diagonal()/2)
			},
		},
		AngleDiagonal: {
			Name: "angle_diagonal", Dim: lang.Angle, Unit: "deg",
			Meaning: "angle of view across the diagonal of the picture, at infinity",
			Formula: "2 corner_angle for a frame in the middle; else the angle between the farthest corner and the one across",
			Source:  "projection formulae",
			Reads:   []ID{FocalLength, CornerAngle},
			ofLens:  angleDiagonal,
		},
		SpreadWidth: {
			Name: "spread_width", Dim: lang.Plain,
			Meaning: "metres of width in the picture for each metre of distance",
			Formula: "tan(angle_left) + tan(angle_right)",
			Source:  "geometry",
			Reads:   []ID{AngleLeft, AngleRight},
			value:   func(v *Values) float64 { return spread(v[AngleLeft], v[AngleRight]) },
		},
		SpreadHeight: {
			Name: "spread_height", Dim: lang.Plain,
			Meaning: "metres of height in the picture for each metre of distance",
			Formula: "tan(angle_above) + tan(angle_below)",
			Source:  "geometry",
			Reads:   []ID{AngleAbove, AngleBelow},
			value:   func(v *Values) float64 { return spread(v[AngleAbove], v[AngleBelow]) },
		},
		ImageCircle: {
			Name: "image_circle", Dim: lang.Length, Unit: "mm",
			Meaning: "diameter of the circle that the lens lights",
			Source:  "given: lens circle",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Circle },
		},
		CircleMargin: {
			Name: "circle_margin", Dim: lang.Plain, Unit: "%",
			Meaning: "how far the image circle reaches past the corners of the protected frame; negative leaves them dark",
			Formula: "image_circle / protected_diagonal - 1",
			Source:  "geometry",
			Reads:   []ID{ImageCircle, ProtectedDiagonal},
			value:   func(v *Values) float64 { return v[ImageCircle]/v[ProtectedDiagonal] - 1 },
		},
		Confusion: {
			Name: "confusion", Dim: lang.Length, Unit: "um",
			Meaning: "circle of confusion that still counts as sharp",
			Formula: "frame_diagonal / 1500 unless given",
			Source:  "diagonal rule",
			Reads:   []ID{FrameWidth, FrameHeight},
			ofLens:  confusion,
		},
		WidestStop: {
			Name: "widest_stop", Dim: lang.Aperture, Unit: "f/",
			Meaning: "widest f-number",
			Source:  "given: lens aperture",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.WidestStop },
		},
		SmallestStop: {
			Name: "smallest_stop", Dim: lang.Aperture, Unit: "f/",
			Meaning: "smallest opening, as an f-number",
			Source:  "given: lens aperture",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.SmallestStop },
		},
		WidestT: {
			Name: "widest_t", Dim: lang.Aperture, Unit: "T",
			Meaning: "widest T-number, with the adapter where it has glass",
			Source:  "given: lens transmission",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.WidestT },
		},
		CloseFocus: {
			Name: "close_focus", Dim: lang.Length, Unit: "m",
			Meaning: "closest distance from the sensor plane at which the lens focuses",
			Source:  "given: lens close_focus",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.CloseFocus },
		},
		Magnification: {
			Name: "magnification", Dim: lang.Plain,
			Meaning: "largest magnification, which is that at the closest focus, with the adapter where it has glass",
			Source:  "given: lens magnification",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Magnification },
		},
		Pupil: {
			Name: "pupil", Dim: lang.Length, Unit: "mm",
			Meaning: "from the sensor plane to the entrance pupil, towards the subject; unknown of a lens that is taken for a thin one",
			Source:  "given: lens pupil",
			Reads:   []ID{FocalLength},
			ofLens:  func(in *LensInput, v *Values) float64 { return in.Pupil.at(in, v[FocalLength]) },
		},
		Breathing: {
			Name: "breathing", Dim: lang.Plain, Unit: "%",
			Meaning: "by how much more the picture takes in at the closest focus than at infinity, seen from the entrance pupil; negative narrows",
			Source:  "given: lens breathing, or lens magnification",
			Reads:   []ID{FocalLength},
			ofLens:  func(in *LensInput, v *Values) float64 { return in.Breathing.at(in, v[FocalLength]) },
		},
		Bending: {
			Name: "bending", Dim: lang.Plain, Unit: "%",
			Meaning: "how far straight lines bend at the edge of the picture: the departure from a rectilinear picture by projection and by distortion",
			Formula: "mapping function against f tan(angle), and the worst edge by the lens's correction, else distortion * (way to the farthest corner / radius of the image circle)^2",
			Source:  "mapping functions; models of the open lens-correction database; third-order distortion grows with the square of the radius",
			Reads:   []ID{FocalLength, ImageCircle},
			ofLens:  bending,
		},
		CornerStretch: {
			Name: "corner_stretch", Dim: lang.Plain, Unit: "%",
			Meaning: "how much longer than wide a small ball looks in the corner",
			Formula: "radial scale / tangential scale - 1",
			Source:  "mapping functions",
			Reads:   []ID{CornerAngle},
			ofLens:  func(in *LensInput, v *Values) float64 { return optics.EdgeStretch(in.Projection, v[CornerAngle]) },
		},
		CornerFalloff: {
			Name: "corner_falloff", Dim: lang.Stops, Unit: "stops",
			Meaning: "loss of light in the corner",
			Formula: "4 log2(1 / cos(corner_angle)), or the figure of the lens if greater, or its correction at the widest stop",
			Source:  "natural fall-off; given: lens falloff, lens correction",
			Reads:   []ID{FocalLength, CornerAngle},
			ofLens:  cornerFalloff,
		},
		DiffractionStop: {
			Name: "diffraction_stop", Dim: lang.Aperture, Unit: "f/",
			Meaning: "stop beyond which diffraction alone blurs more than the circle of confusion",
			Formula: "confusion / (2.44 * 550 nm)",
			Source:  "Airy disc",
			Reads:   []ID{Confusion},
			value:   func(v *Values) float64 { return optics.DiffractionStop(optics.Wavelength, v[Confusion]) },
		},
		WobbleShare: {
			Name: "wobble_share", Dim: lang.Plain, Unit: "%",
			Meaning: "residual wobble of the rig, held still, as a share of the frame width",
			Formula: "rig wobble / angle_width",
			Source:  "geometry; given: rig wobble",
			Reads:   []ID{AngleWidth},
			ofLens:  func(in *LensInput, v *Values) float64 { return motion.WobbleShare(in.Wobble, v[AngleWidth]) },
		},
		LensMass: {
			Name: "lens_mass", Dim: lang.Mass, Unit: "g",
			Meaning: "mass of the lens with its adapter",
			Source:  "given: lens mass, adapter mass",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Mass },
		},
		LensLength: {
			Name: "lens_length", Dim: lang.Length, Unit: "mm",
			Meaning: "from the sensor plane to the front of the lens",
			Formula: "length of the lens with its adapter + flange",
			Source:  "given: lens length, adapter thickness, mount flange",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Length + in.Flange },
		},
		RigMass: {
			Name: "rig_mass", Dim: lang.Mass, Unit: "kg",
			Meaning: "what the rig carries: camera, lens, adapter and accessories",
			Formula: "sum of the masses",
			Source:  "given: camera, lens, adapter, accessories",
			Reads:   []ID{LensMass},
			ofLens:  func(in *LensInput, v *Values) float64 { return in.CameraMass + v[LensMass] },
		},
		PayloadLow: {
			Name: "payload_low", Dim: lang.Mass, Unit: "kg",
			Meaning: "least mass with which the rig can be trimmed",
			Source:  "given: rig payload",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.PayloadLow },
		},
		PayloadHigh: {
			Name: "payload_high", Dim: lang.Mass, Unit: "kg",
			Meaning: "most that the rig may carry",
			Source:  "given: rig payload",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.PayloadHigh },
		},
		PayloadPlace: {
			Name: "payload_place", Dim: lang.Plain, Unit: "%",
			Meaning: "place of rig_mass in the window of the rig: 0 at its least, 100 % at its most",
			Formula: "(rig_mass - payload_low) / (payload_high - payload_low)",
			Source:  "arithmetic",
			Reads:   []ID{RigMass, PayloadLow, PayloadHigh},
			value:   payloadPlace,
		},
		Mounts: {
			Name: "mounts", Truth: true,
			Meaning: "the lens fits the camera, directly or by an adapter of the catalogue",
			Formula: "flange distances",
			Source:  "geometry",
			ofLens:  func(in *LensInput, _ *Values) float64 { return truth(in.Mounts) },
		},
		Adapted: {
			Name: "adapted", Truth: true,
			Meaning: "the lens needs an adapter",
			Source:  "given: lens mount, camera mount",
			ofLens:  func(in *LensInput, _ *Values) float64 { return truth(in.Adapted) },
		},
		IsZoom: {
			Name: "is_zoom", Truth: true,
			Meaning: "the lens is a zoom",
			Source:  "given: lens focal",
			ofLens:  func(in *LensInput, _ *Values) float64 { return truth(in.FocalLow != in.FocalHigh) },
		},
		Projection: {
			Name: "projection", Dim: lang.Plain,
			Meaning: "how angles map to the picture: 0 rectilinear, 1 stereographic, 2 equidistant, 3 equisolid, 4 orthographic",
			Source:  "given: lens projection",
			ofLens:  func(in *LensInput, _ *Values) float64 { return float64(in.Projection) },
		},
		IsFisheye: {
			Name: "is_fisheye", Truth: true,
			Meaning: "the lens does not draw straight lines straight",
			Source:  "given: lens projection",
			ofLens:  func(in *LensInput, _ *Values) float64 { return truth(in.Projection != optics.Rectilinear) },
		},
		LensAutofocus: {
			Name: "lens_autofocus", Truth: true,
			Meaning: "the lens can be focused by the camera",
			Source:  "given: lens focus",
			ofLens:  func(in *LensInput, _ *Values) float64 { return truth(in.Autofocus) },
		},
		FocusScaleMarked: {
			Name: "focus_scale_marked", Truth: true,
			Meaning: "the focus ring has marks that hold",
			Source:  "given: lens scale, lens focus",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Scale.is(MarkedScale) },
		},
		FocusByWire: {
			Name: "focus_by_wire", Truth: true,
			Meaning: "the focus ring only steers a motor, so that marks do not hold",
			Source:  "given: lens scale, lens focus",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Scale.is(ByWire) },
		},
		FocusScaleAbsent: {
			Name: "focus_scale_absent", Truth: true,
			Meaning: "the focus ring has no distances",
			Source:  "given: lens scale, lens focus",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.Scale.is(NoScale) },
		},
		Hired: {
			Name: "hired", Truth: true,
			Meaning: "the lens must be hired",
			Source:  "given: lens have",
			ofLens:  func(in *LensInput, _ *Values) float64 { return truth(in.Hired) },
		},
		DayRate: {
			Name: "day_rate", Dim: lang.Money, Unit: "money",
			Meaning: "what the lens costs a day; nothing when it is owned or borrowed",
			Source:  "given: lens have",
			ofLens:  func(in *LensInput, _ *Values) float64 { return in.DayRate },
		},
	}
}

// is reports, as 1 or 0, whether the scale is of a kind; NaN when the scale is unknown.
func (s Scale) is(kind Scale) float64 {
	if s == UnknownScale {
		return math.NaN()
	}
	return truth(s == kind)
}

func wantedSqueeze(in *LensInput, v *Values) float64 {
	if in.WantedSqueeze == 0 {
		return v[Squeeze]
	}
	return in.WantedSqueeze
}

// picture is the delivered part, desqueezed.
func picture(in *LensInput) optics.Window { return in.Delivered.Desqueezed(in.Squeeze) }

// toSide gives the function of the angle from the axis to a side of the picture, by the way
// there on the sensor.
func toSide(way func(p *optics.Window) float64) func(in *LensInput, v *Values) float64 {
	return func(in *LensInput, v *Values) float64 {
		p := picture(in)
		return optics.Angle(in.Projection, v[FocalLength], way(&p))
	}
}

func protectedDiagonal(in *LensInput, _ *Values) (diagonal float64) {
	for _, w := range in.Protected {
		diagonal = max(diagonal, w.Reach().Diagonal())
	}
	return diagonal
}

// angleDiagonal takes the angle between the directions to the farthest corner and to the one
// across.
func angleDiagonal(in *LensInput, v *Values) float64 {
	p := picture(in)
	if p.X == 0 && p.Y == 0 {
		return 2 * v[CornerAngle]
	}
	far, across := p.Reach(), optics.Frame{Width: p.Width - 2*math.Abs(p.X), Height: p.Height - 2*math.Abs(p.Y)}
	theta := optics.Angle(in.Projection, v[FocalLength], across.Diagonal()/2)
	turn := math.Pi + math.Atan2(far.Height, far.Width) - math.Atan2(across.Height, across.Width)
	cos := math.Cos(v[CornerAngle])*math.Cos(theta) + math.Sin(v[CornerAngle])*math.Sin(theta)*math.Cos(turn)
	return math.Acos(max(-1, min(1, cos)))
}

func confusion(in *LensInput, v *Values) float64 {
	if math.IsNaN(in.Confusion) {
		return optics.Confusion(optics.Frame{Width: v[FrameWidth], Height: v[FrameHeight]}, optics.ConfusionDivisor)
	}
	return in.Confusion
}

func payloadPlace(v *Values) float64 {
	return (v[RigMass] - v[PayloadLow]) / (v[PayloadHigh] - v[PayloadLow])
}

// spread gives metres of picture for each metre of distance from the angles to two sides,
// infinite from 90 degrees on.
func spread(one, other float64) float64 {
	if one >= math.Pi/2 || other >= math.Pi/2 {
		return math.Inf(1)
	}
	return math.Tan(one) + math.Tan(other)
}

// bending joins what the projection bends at the farther side of the picture with what the lens
// itself distorts. The figure of the lens is for the edge of its circle; distortion of
// the third order falls with the square of the radius.
func bending(in *LensInput, v *Values) float64 {
	focal := v[FocalLength]
	by := math.Abs(optics.Bend(in.Projection, focal, picture(in).Reach().Width/2))
	if in.Projection != optics.Rectilinear {
		return by
	}
	if in.EdgeDistortion != nil {
		return by + math.Abs(in.EdgeDistortion(focal))
	}
	reach, share := in.Delivered.Reach().Diagonal()/v[ImageCircle], 1.0
	if in.ZoomDistortion != nil {
		share = in.ZoomDistortion(focal)
	}
	return by + share*math.Abs(in.Distortion)*reach*reach
}

// cornerFalloff takes what was measured, or else the greater of the figure of the lens and
// natural fall-off.
func cornerFalloff(in *LensInput, v *Values) float64 {
	if in.EdgeFalloff != nil {
		if measured := in.EdgeFalloff(v[FocalLength]); !math.IsNaN(measured) {
			return measured
		}
	}
	natural := optics.NaturalFalloff(v[CornerAngle])
	if math.IsNaN(in.Falloff) {
		return natural
	}
	return max(natural, in.Falloff)
}
