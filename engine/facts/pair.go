package facts

import (
	"math"

	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
	"glassbrief/engine/people"
	"glassbrief/lang"
)

// pairRows are the facts of framing and of the look of motion.
func pairRows() map[ID]Fact {
	return map[ID]Fact{
		NearFromLens: {
			Name: "near_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance to the nearest subject from the thin lens that stands in for this one where the depth of field is computed, whatever its pupil is",
			Formula: "(D + sqrt(D (D - 4 focal_length))) / 2 with D = subject_near; of a lens that focuses nearer than four focal lengths, f (1 + x) with D = f (2 + x) + k / x, which is close_focus for x = 1 / magnification; without magnification as if it reached life size; not known of any other nearer than four focal lengths, where no thin lens forms an image",
			Source:  "thin lens; for a macro an assumption of this project, which is exact at its closest focus",
			with:    FramingHeld,
		},
		FarFromLens: {
			Name: "far_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance from that lens to the farthest subject, as near_from_lens",
			Formula: "as near_from_lens, with D = subject_far",
			Source:  "thin lens",
			with:    FramingHeld,
		},
		NearFromPupil: {
			Name: "near_from_pupil", Dim: lang.Length, Unit: "m",
			Meaning: "distance to the nearest subject from where the perspective of the picture begins",
			Formula: "subject_near - pupil; of a thin lens near_from_lens",
			Source:  "geometry",
			with:    FramingHeld,
		},
		FarFromPupil: {
			Name: "far_from_pupil", Dim: lang.Length, Unit: "m",
			Meaning: "distance from there to the farthest subject, as near_from_pupil",
			Formula: "as near_from_pupil, with subject_far",
			Source:  "geometry",
			with:    FramingHeld,
		},
		FrameReach: {
			Name: "frame_reach", Dim: lang.Length, Unit: "m",
			Meaning: "how far before the tip of its cone of view the subject just fills the frame, by height or by width, whichever is more",
			Formula: "max(subject_height / spread_height, subject_width / spread_width)",
			Source:  "geometry",
			with:    FramingHeld,
		},
		FillNear: {
			Name: "fill_near", Dim: lang.Plain, Unit: "%",
			Meaning: "share of the frame that the subject fills at its nearest, by height or by width, whichever is more",
			Formula: "frame_reach / e with e = near_from_pupil + breathing min(near_from_pupil, close_focus - pupil); of a thin lens e = near_from_lens - focal_length",
			Source:  "pinhole at the entrance pupil; thin lens",
			with:    FramingHeld,
		},
		FillFar: {
			Name: "fill_far", Dim: lang.Plain, Unit: "%",
			Meaning: "share of the frame that the subject fills at its farthest",
			Formula: "as fill_near, with far_from_pupil or far_from_lens",
			Source:  "pinhole at the entrance pupil; thin lens",
			with:    FramingHeld,
		},
		FieldNear: {
			Name: "field_near", Dim: lang.Length, Unit: "m",
			Meaning: "height of what the picture shows at the nearest subject",
			Formula: "spread_height e, with e as in fill_near; a fisheye is taken to narrow at close focus by the same factor of the tangents as any other lens",
			Source:  "pinhole at the entrance pupil; thin lens, and for a fisheye an assumption of this project",
			with:    FramingHeld,
		},
		FieldFar: {
			Name: "field_far", Dim: lang.Length, Unit: "m",
			Meaning: "height of what the picture shows at the farthest subject",
			Formula: "as field_near, at subject_far",
			Source:  "pinhole at the entrance pupil; thin lens",
			with:    FramingHeld,
		},
		FramingHeld: {
			Name: "framing_held", Dim: lang.Plain, Unit: "%",
			Meaning: "share of the way between nearest and farthest over which the wanted framing holds; of one that changes, the two ends are wanted, and between them anything between",
			Formula: "overlap of the distances that frame it with those of the move; of a framing that changes, against those that reach both of its ends",
			Source:  "thin lens",
			Reads: []ID{
				FocalLength, CloseFocus, Magnification, Pupil, Breathing, SubjectNear, SubjectFar, SubjectHeight, SubjectWidth, SpreadHeight, SpreadWidth,
				WantNearLow, WantNearHigh, WantFarLow, WantFarHigh,
			},
			value: framing,
		},
		FramingLost: {
			Name: "framing_lost", Dim: lang.Plain, Unit: "%",
			Meaning: "by how much the subject is too large or too small over the move: of one framing near, in the middle (twice) and far, of one that changes at its two ends",
			Formula: "mean of fill / edge of the band - 1, or its inverse",
			Source:  "arithmetic",
			Reads:   []ID{FillNear, FillFar, WantNearLow, WantNearHigh, WantFarLow, WantFarHigh},
			value:   framingLost,
		},
		FramingOff: {
			Name: "framing_off", Dim: lang.Plain, Unit: "%",
			Meaning: "how far the subject is from the middle of the wanted framing, the mean of near and far: 0 in the middle, 100 % at an edge of the band and beyond",
			Formula: "|log(fill / middle)| / log(edge / middle), the middle being geometric",
			Source:  "arithmetic",
			Reads:   []ID{FillNear, FillFar, WantNearLow, WantNearHigh, WantFarLow, WantFarHigh},
			value: func(v *Values) float64 {
				return (offMiddle(v[FillNear], v[WantNearLow], v[WantNearHigh]) + offMiddle(v[FillFar], v[WantFarLow], v[WantFarHigh])) / 2
			},
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
			Formula: "where fill_near is the geometric mean of want_near_low and want_near_high",
			Source:  "pinhole at the entrance pupil; thin lens: s = f (1 + subject / image)",
			Reads:   []ID{FrameReach, FocalLength, CloseFocus, Magnification, Pupil, Breathing, WantNearLow, WantNearHigh},
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
		FaceStretch: {
			Name: "face_stretch", Dim: lang.Plain, Unit: "%",
			Meaning: "how much wider the nose looks against the face than from far away, at the nearest distance",
			Formula: "head_length / 2 / (near_from_pupil + nose)",
			Source:  "parallel-planes model of a published study of near portraits; the head of a man of that stature, and a nose of 21 mm, of which nothing is published: 3 mm more or less move 30 % by 0.3 points",
			Reads:   []ID{IsPerson, SubjectHeight, NearFromPupil},
			value:   faceStretch,
		},
		EdgeStretch: {
			Name: "edge_stretch", Dim: lang.Plain, Unit: "%",
			Meaning: "how much longer than wide the outer part of the subject looks at its place in the frame",
			Formula: "radial scale / tangential scale - 1 at its outer edge, or at the edge of the frame where it reaches past that, on the side that is farther from the axis; of a fisheye as if its frame were no higher or lower than the axis",
			Source:  "mapping functions",
			Reads: []ID{
				FocalLength, CloseFocus, Magnification, Pupil, Breathing, SubjectNear, NearFromPupil, SubjectOffset, SubjectWidth, SpreadWidth, AngleWidth, FrameWidth, Squeeze,
				IsFisheye, Projection, AngleLeft, AngleRight, AngleAbove, AngleBelow,
			},
			value: edgeStretch,
		},
		BobShare: {
			Name: "bob_share", Dim: lang.Plain, Unit: "%",
			Meaning: "rise and fall of the camera as a share of the frame height at the nearest subject",
			Formula: "bob / field height",
			Source:  "geometry",
			Reads:   []ID{Bob, FieldNear},
			value:   func(v *Values) float64 { return motion.ShiftShare(v[Bob], v[FieldNear]) },
		},
		SwayShare: {
			Name: "sway_share", Dim: lang.Plain, Unit: "%",
			Meaning: "sway of the camera as a share of the frame width at the nearest subject",
			Formula: "sway / field width",
			Source:  "geometry",
			Reads:   []ID{Sway, FieldNear, SpreadWidth, SpreadHeight},
			value:   func(v *Values) float64 { return motion.ShiftShare(v[Sway], fieldWidth(v)) },
		},
		StepShare: {
			Name: "step_share", Dim: lang.Plain, Unit: "%",
			Meaning: "how much of the frame the steps move the picture: bob and sway together",
			Formula: "hypot(bob_share, sway_share / 2), since the sway comes once where the bob comes twice",
			Source:  "geometry; mean square speeds",
			Reads:   []ID{BobShare, SwayShare},
			value:   func(v *Values) float64 { return motion.StepShare(v[BobShare], v[SwayShare]) },
		},
		StepLow:  stepRow("step_low", "the least that step_share is likely to be", BobLow, SwayLow),
		StepHigh: stepRow("step_high", "the most that step_share is likely to be", BobHigh, SwayHigh),
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
			Formula: "angle_width / turn_rate; in an orbit about angle_width / (v/r - v/D), with r of the circle and D of the background from the lens; or the width or height of the field / sweep_speed; all with the focus at infinity: focus close by narrows the picture by its magnification, and shortens the time by as much",
			Source:  "geometry; a pan turns about the lens",
			Reads:   []ID{TurnRate, CameraSpeed, AngleWidth, SweepSpeed, Rises, SpreadWidth, SpreadHeight, BackgroundDistance, FocalLength, Pupil, CrossingLimit, ShutterTime},
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

// fieldWidth gives the width of what the picture shows at the nearest subject.
func fieldWidth(v *Values) float64 { return v[FieldNear] * v[SpreadWidth] / v[SpreadHeight] }

// stepRow is a row of an end of the range of step_share.
func stepRow(name, meaning string, bob, sway ID) Fact {
	return Fact{
		Name: name, Dim: lang.Plain, Unit: "%", Meaning: meaning,
		Formula: "as step_share, of the same ends of the ranges of bob and sway",
		Source:  "geometry; the spread between persons",
		Reads:   []ID{bob, sway, FieldNear, SpreadWidth, SpreadHeight},
		value: func(v *Values) float64 {
			return motion.StepShare(motion.ShiftShare(v[bob], v[FieldNear]), motion.ShiftShare(v[sway], fieldWidth(v)))
		},
	}
}

// framing computes how large the subject is in the picture. At the field distance e it fills the
// share reach/e of the frame.
func framing(v *Values) (held float64) {
	lensNear, pupilNear, near := distances(v, v[SubjectNear])
	lensFar, pupilFar, far := distances(v, v[SubjectFar])
	reach := max(v[SubjectHeight]/v[SpreadHeight], v[SubjectWidth]/v[SpreadWidth])
	atNear, atFar := reach/near, reach/far
	wantNear, wantFar := Band{v[WantNearLow], v[WantNearHigh]}, Band{v[WantFarLow], v[WantFarHigh]}
	v[NearFromLens], v[FarFromLens], v[FrameReach] = lensNear, lensFar, reach
	v[NearFromPupil], v[FarFromPupil] = pupilNear, pupilFar
	v[FillNear], v[FillFar] = atNear, atFar
	v[FieldNear], v[FieldFar] = v[SpreadHeight]*near, v[SpreadHeight]*far
	v[FramingError] = max(outside(atNear, wantNear), outside(atFar, wantFar)) - 1
	if near == far {
		return truth(outside(atNear, wantNear) == 1)
	}
	// So these are the distances of the edges.
	from, to := reach/wantNear.High, reach/wantFar.Low
	nearest, farthest := near, far
	if wantNear != wantFar { // both ends are to be reached
		nearest, farthest = min(near, reach/wantNear.Low), max(far, reach/wantFar.High)
	}
	return clamp01((min(to, far) - max(from, near)) / (farthest - nearest))
}

func framingLost(v *Values) float64 {
	wantNear, wantFar := Band{v[WantNearLow], v[WantNearHigh]}, Band{v[WantFarLow], v[WantFarHigh]}
	near, far := v[FillNear], v[FillFar]
	ends := outside(near, wantNear) + outside(far, wantFar) - 2
	if wantNear != wantFar {
		return ends / 2
	}
	middle := 2 / (1/near + 1/far) // half way between the distances
	return (ends + 2*(outside(middle, wantNear)-1)) / 4
}

// offMiddle gives how far a share lies from the geometric middle of a band, as a share of the way to
// its edge; a band without width has no way.
func offMiddle(share, low, high float64) float64 {
	half := math.Log(high/low) / 2
	if half == 0 {
		return 0 * share // unknown where that is
	}
	return min(1, math.Abs(math.Log(share/low)-half)/half)
}

func framingDistance(v *Values) float64 {
	middle := math.Sqrt(v[WantNearLow] * v[WantNearHigh])
	return AtField(v, v[FrameReach]/middle)
}

// outside is the factor by which a share lies outside a band, 1 inside.
func outside(share float64, band Band) float64 {
	switch {
	case math.IsNaN(share):
		return share
	case share > band.High:
		return share / band.High
	case share < band.Low:
		return band.Low / share
	}
	return 1
}

func clamp01(x float64) float64 { return min(1, max(0, x)) }

// edgeStretch looks at the outer edge of the subject at its nearest, or at the edge of the frame
// when the subject reaches past it. Close focus narrows what the picture shows in the middle and at
// the edge by the same factor of the tangents.
func edgeStretch(v *Values) float64 {
	field, width := FieldDistance(v, v[SubjectNear]), v[SubjectWidth]/2
	narrower := field / v[NearFromPupil]
	if v[IsFisheye] == 0 {
		side := v[SpreadWidth] / 2
		edge := narrower * math.Hypot(aside(v[AngleLeft], v[AngleRight])+min(side, v[SubjectOffset]*side+width/field), aside(v[AngleBelow], v[AngleAbove]))
		// Radial over tangential scale is 1/cos: see optics.EdgeStretch.
		return math.Sqrt(1+edge*edge) - 1
	}
	// Angles as the mapping has them at infinity.
	p := optics.Projection(v[Projection])
	edge := optics.Angle(p, v[FocalLength], v[SubjectOffset]*v[FrameWidth]*v[Squeeze]/2)
	if edge < math.Pi/2 {
		edge = min(v[AngleWidth]/2, math.Atan(math.Tan(edge)+width/field))
	}
	edge += math.Abs(v[AngleRight]-v[AngleLeft]) / 2
	turned := narrower // of a direction across the axis or behind it
	if edge < math.Pi/2 {
		tan := math.Tan(edge)
		turned = math.Sqrt((1 + narrower*narrower*tan*tan) / (1 + tan*tan))
	}
	return (1+optics.EdgeStretch(p, edge))*turned - 1
}

// aside gives how far the middle of the picture lies off the axis, as a tangent, from the angles to
// two sides; 0 where those are the same.
func aside(one, other float64) float64 {
	if one == other {
		return 0
	}
	return math.Abs(math.Tan(other)-math.Tan(one)) / 2
}

// faceStretch is unknown for what has no face.
func faceStretch(v *Values) float64 {
	if v[IsPerson] == 0 {
		return math.NaN()
	}
	head := people.HeadLength.Value() * v[SubjectHeight] / people.Stature.Value()
	return optics.FaceStretch(v[NearFromPupil], head, people.NoseProtrusion.Value())
}

// CrossingAt gives the time in which the background crosses the frame while the camera turns at a
// rate and sweeps across the view at a speed. It is infinite when it does neither.
func CrossingAt(v *Values, turn, sweep float64) float64 {
	time := math.Inf(1)
	entrance := Entrance(v)
	background := v[BackgroundDistance] - entrance
	if turn > 0 {
		circle := v[CameraSpeed] / turn // none in a pan
		time = motion.CircleCrossing(v[AngleWidth], turn, max(0, circle-entrance), background)
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
