package facts

import (
	"math"

	"glassbrief/engine/motion"
	"glassbrief/engine/optics"

	"glassbrief/lang"
)

// pairRows are the facts of framing and of the look of motion.
func pairRows() map[ID]Fact {
	return map[ID]Fact{
		NearFromLens: {
			Name: "near_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the lens to the nearest subject",
			Formula: "(D + sqrt(D (D - 4 focal_length))) / 2 with D = subject_near; of a lens that focuses nearer than four focal lengths, f (1 + x) with D = f (2 + x) + k / x, which is close_focus for x = 1 / magnification; without magnification as if it reached life size",
			Source:  "thin lens; for a macro an assumption of this project, which is exact at its closest focus",
			with:    FramingHeld,
		},
		FarFromLens: {
			Name: "far_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the lens to the farthest subject, as near_from_lens",
			Formula: "as near_from_lens, with D = subject_far",
			Source:  "thin lens",
			with:    FramingHeld,
		},
		FrameReach: {
			Name: "frame_reach", Dim: lang.Length, Unit: "m",
			Meaning: "how far beyond the focal length from the lens the subject just fills the frame, by height or by width, whichever is more",
			Formula: "max(subject_height / spread_height, subject_width / spread_width)",
			Source:  "thin lens",
			with:    FramingHeld,
		},
		FillNear: {
			Name: "fill_near", Dim: lang.Plain, Unit: "%",
			Meaning: "share of the frame that the subject fills at its nearest, by height or by width, whichever is more",
			Formula: "frame_reach / (near_from_lens - focal_length)",
			Source:  "thin lens",
			with:    FramingHeld,
		},
		FillFar: {
			Name: "fill_far", Dim: lang.Plain, Unit: "%",
			Meaning: "share of the frame that the subject fills at its farthest",
			Formula: "frame_reach / (far_from_lens - focal_length)",
			Source:  "thin lens",
			with:    FramingHeld,
		},
		FieldNear: {
			Name: "field_near", Dim: lang.Length, Unit: "m",
			Meaning: "height of what the picture shows at the nearest subject",
			Formula: "spread_height * (near_from_lens - focal_length)",
			Source:  "thin lens",
			with:    FramingHeld,
		},
		FieldFar: {
			Name: "field_far", Dim: lang.Length, Unit: "m",
			Meaning: "height of what the picture shows at the farthest subject",
			Formula: "spread_height * (far_from_lens - focal_length)",
			Source:  "thin lens",
			with:    FramingHeld,
		},
		FramingHeld: {
			Name: "framing_held", Dim: lang.Plain, Unit: "%",
			Meaning: "share of the way between nearest and farthest over which the wanted framing holds; of one that changes, the two ends are wanted, and between them anything between",
			Formula: "overlap of the distances that frame it with those of the move; of a framing that changes, against those that reach both of its ends",
			Source:  "thin lens",
			Reads: []ID{
				FocalLength, CloseFocus, Magnification, SubjectNear, SubjectFar, SubjectHeight, SubjectWidth, SpreadHeight, SpreadWidth,
				WantNearLow, WantNearHigh, WantFarLow, WantFarHigh,
			},
			value: framing,
		},
		FramingLost: {
			Name: "framing_lost", Dim: lang.Plain, Unit: "%",
			Meaning: "by how much the subject is too large or too small over the move: of one framing near, in the middle (twice) and far, of one that changes at its two ends",
			Formula: "mean of fill / edge of the band - 1, or its inverse",
			Source:  "arithmetic",
			Reads:   []ID{FillNear, FillFar, FrameReach, NearFromLens, FarFromLens, FocalLength, WantNearLow, WantNearHigh, WantFarLow, WantFarHigh},
			value:   framingLost,
		},
		FramingError: {
			Name: "framing_error", Dim: lang.Plain, Unit: "%",
			Meaning: "by how much the subject is too large or too small at its worst end; 0 inside the wanted band, 41 % is half a doubling",
			Formula: "fill / edge of the band - 1, or its inverse",
			Source:  "arithmetic",
			with:    FramingHeld,
		},
		FramingDistance: {
			Name: "framing_distance", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the sensor plane that would give the middle of the wanted framing",
			Formula: "s = f (1 + subject / image)",
			Source:  "thin lens",
			Reads:   []ID{FrameReach, FocalLength, CloseFocus, Magnification, WantNearLow, WantNearHigh},
			value:   framingDistance,
		},
		FocusMargin: {
			Name: "focus_margin", Dim: lang.Length, Unit: "m",
			Meaning: "room between the nearest subject and the closest focus of the lens",
			Formula: "subject_near - close_focus",
			Source:  "arithmetic",
			Reads:   []ID{SubjectNear, CloseFocus},
			value:   func(v *Values) float64 { return v[SubjectNear] - v[CloseFocus] },
		},
		Clearance: {
			Name: "clearance", Dim: lang.Length, Unit: "m",
			Meaning: "room between the front of the lens and the nearest subject",
			Formula: "subject_near - lens_length",
			Source:  "arithmetic",
			Reads:   []ID{SubjectNear, LensLength},
			value:   func(v *Values) float64 { return v[SubjectNear] - v[LensLength] },
		},
		EdgeStretch: {
			Name: "edge_stretch", Dim: lang.Plain, Unit: "%",
			Meaning: "how much longer than wide the outer part of the subject looks at its place in the frame",
			Formula: "radial scale / tangential scale - 1 at its outer edge",
			Source:  "mapping functions",
			Reads:   []ID{SpreadWidth, SubjectOffset, SubjectWidth, NearFromLens, IsFisheye, AngleDiagonal, CornerStretch},
			value:   edgeStretch,
		},
		BobShare: {
			Name: "bob_share", Dim: lang.Plain, Unit: "%",
			Meaning: "rise and fall of the camera as a share of the frame height at the nearest subject",
			Formula: "bob / field height",
			Source:  "geometry",
			Reads:   []ID{Bob, FieldNear},
			value:   func(v *Values) float64 { return motion.BobShare(v[Bob], v[FieldNear]) },
		},
		Swing: {
			Name: "swing", Dim: lang.Plain, Unit: "%",
			Meaning: "by how much of the frame width the view swings in this move",
			Formula: "wobble_share unrest",
			Source:  "arithmetic",
			Reads:   []ID{WobbleShare, Unrest},
			value:   swing,
		},
		CrossingTime: {
			Name: "crossing_time", Dim: lang.Time, Unit: "s",
			Meaning: "time in which a point of the background crosses the frame through its middle: its width, and its height in a boom, in which the lens stays level",
			Formula: "angle_width / turn_rate; in an orbit about angle_width / (v/r - v/D), with r of the circle and D of the background from the lens; or the width or height of the field / sweep_speed",
			Source:  "geometry; a pan turns about the lens",
			Reads:   []ID{TurnRate, CameraSpeed, AngleWidth, SweepSpeed, Rises, SpreadWidth, SpreadHeight, BackgroundDistance, FocalLength, CrossingLimit, ShutterTime},
			value:   crossing,
		},
		Pace: {
			Name: "pace", Dim: lang.Plain, Unit: "%",
			Meaning: "crossing_time against crossing_limit: under 100 % it strobes",
			Formula: "crossing_time / crossing_limit",
			Source:  "seven-second rule",
			with:    CrossingTime,
		},
		BlurPerFrame: {
			Name: "blur_per_frame", Dim: lang.Plain, Unit: "%",
			Meaning: "motion blur of the background in one frame as a share of what it crosses: the frame width, in a boom its height",
			Formula: "shutter_time / crossing_time",
			Source:  "geometry",
			with:    CrossingTime,
		},
	}
}

// Macros. A thin lens with an image 1/x as large as the object stands f (2 + x + 1/x) from the
// sensor to the object, and so never focuses nearer than 4 f, at life size. A lens that does
// shortens its focal length on the way. It is taken to stand at f (2 + x) + k/x, with k such
// that its largest magnification comes out at its closest focus: far away that is the thin
// lens. Where its magnification is not known it counts as one that reaches life size, as most
// macros do: at a closest focus of four focal lengths that is the thin lens.

// isMacro reports whether the lens at its focal length focuses nearer than a thin lens of that
// focal length can.
func isMacro(v *Values) bool { return optics.TooNear(v[FocalLength], v[CloseFocus]) }

// macroTerm gives k.
func macroTerm(v *Values) float64 {
	m := v[Magnification]
	if math.IsNaN(m) {
		m = 1
	}
	return (v[CloseFocus] - v[FocalLength]*(2+1/m)) / m
}

// DepthUnknown reports whether how deep a lens is sharp, focused at a distance from the sensor
// plane, hangs on a magnification that is not known.
func DepthUnknown(v *Values, fromSensor float64) bool {
	return math.IsNaN(v[Magnification]) && optics.TooNear(v[FocalLength], fromSensor)
}

// LensDistance turns a distance from the sensor plane into the one from the lens that gives
// the size of the image, f (1 + x). What is nearer than the lens focuses counts as at its
// closest.
func LensDistance(v *Values, fromSensor float64) float64 {
	focal := v[FocalLength]
	switch {
	case isMacro(v):
		between := max(fromSensor, v[CloseFocus]) - 2*focal
		return focal + (between+math.Sqrt(max(0, between*between-4*focal*macroTerm(v))))/2
	case fromSensor <= 4*focal:
		return 2 * focal
	}
	return optics.FromSensor(focal, fromSensor)
}

// SensorDistance is the inverse of [LensDistance].
func SensorDistance(v *Values, fromLens float64) float64 {
	focal := v[FocalLength]
	if isMacro(v) {
		return focal + fromLens + macroTerm(v)*focal/(fromLens-focal)
	}
	return optics.SensorDistance(focal, fromLens)
}

// framing computes how large the subject is in the picture. At the distance s from the lens
// it fills the share reach/(s-f) of the frame.
func framing(v *Values) (held float64) {
	focal := v[FocalLength]
	near, far := LensDistance(v, v[SubjectNear]), LensDistance(v, v[SubjectFar])
	reach := max(v[SubjectHeight]/v[SpreadHeight], v[SubjectWidth]/v[SpreadWidth])
	atNear, atFar := reach/(near-focal), reach/(far-focal)
	wantNear, wantFar := Band{v[WantNearLow], v[WantNearHigh]}, Band{v[WantFarLow], v[WantFarHigh]}
	v[NearFromLens], v[FarFromLens], v[FrameReach] = near, far, reach
	v[FillNear], v[FillFar] = atNear, atFar
	v[FieldNear], v[FieldFar] = v[SpreadHeight]*(near-focal), v[SpreadHeight]*(far-focal)
	v[FramingError] = max(outside(atNear, wantNear), outside(atFar, wantFar)) - 1
	if near == far {
		return truth(outside(atNear, wantNear) == 1)
	}
	// The subject fills the share reach/(s-f), so these are the distances of the edges.
	from, to := focal+reach/wantNear.High, focal+reach/wantFar.Low
	nearest, farthest := near, far
	if wantNear != wantFar { // both ends are to be reached
		nearest, farthest = min(near, focal+reach/wantNear.Low), max(far, focal+reach/wantFar.High)
	}
	return clamp01((min(to, far) - max(from, near)) / (farthest - nearest))
}

func framingLost(v *Values) float64 {
	wantNear, wantFar := Band{v[WantNearLow], v[WantNearHigh]}, Band{v[WantFarLow], v[WantFarHigh]}
	ends := outside(v[FillNear], wantNear) + outside(v[FillFar], wantFar) - 2
	if wantNear != wantFar {
		return ends / 2
	}
	middle := v[FrameReach] / ((v[NearFromLens]+v[FarFromLens])/2 - v[FocalLength])
	return (ends + 2*(outside(middle, wantNear)-1)) / 4
}

func framingDistance(v *Values) float64 {
	middle := math.Sqrt(v[WantNearLow] * v[WantNearHigh])
	return SensorDistance(v, v[FocalLength]+v[FrameReach]/middle)
}

// outside is the factor by which a share lies outside a band, 1 inside.
func outside(share float64, band Band) float64 {
	switch {
	case share > band.High:
		return share / band.High
	case share < band.Low:
		return band.Low / share
	}
	return 1
}

func clamp01(x float64) float64 { return min(1, max(0, x)) }

// edgeStretch looks at the outer edge of the subject at its nearest, or at the edge of
// the frame when the subject reaches past it.
func edgeStretch(v *Values) float64 {
	// Tangents of the angles from the axis.
	side := v[SpreadWidth] / 2
	edge := min(side, v[SubjectOffset]*side+v[SubjectWidth]/2/v[NearFromLens])
	if v[IsFisheye] == 0 {
		// Radial over tangential scale is 1/cos: see optics.EdgeStretch.
		return math.Sqrt(1+edge*edge) - 1
	}
	// From the middle to the corner the stretch of every fisheye mapping grows nearly with
	// the square of the angle.
	share := math.Atan(edge) / (v[AngleDiagonal] / 2)
	return v[CornerStretch] * share * share
}

// CrossingAt gives the time in which the background crosses the frame while the camera turns at a
// rate and sweeps across the view at a speed. It is infinite when it does neither.
func CrossingAt(v *Values, turn, sweep float64) float64 {
	time := math.Inf(1)
	background := v[BackgroundDistance] - v[FocalLength] // from the lens
	if turn > 0 {
		circle := v[CameraSpeed] / turn // none in a pan
		time = motion.CircleCrossing(v[AngleWidth], turn, max(0, circle-v[FocalLength]), background)
	}
	if sweep > 0 {
		spread := v[SpreadWidth]
		if v[Rises] == 1 {
			spread = v[SpreadHeight]
		}
		time = min(time, motion.LateralCrossing(spread*background, sweep))
	}
	return time
}

// crossing computes how fast the background moves through the frame where the move is hardest.
func crossing(v *Values) float64 {
	time := CrossingAt(v, v[TurnRate], v[SweepSpeed])
	v[Pace] = time / v[CrossingLimit]
	v[BlurPerFrame] = motion.BlurShare(time, v[ShutterTime])
	return time
}

// swing is 0 where a dock or legs hold the camera, even when the wobble of the rig is unknown.
func swing(v *Values) float64 {
	if v[Unrest] == 0 {
		return 0
	}
	return v[WobbleShare] * v[Unrest]
}
