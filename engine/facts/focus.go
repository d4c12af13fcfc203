package facts

import (
	"math"

	"glassbrief/engine/optics"
	"glassbrief/lang"
)

// Stop, focus mark and who follows are dialled: package setup chooses them by the rules.

// focusRows are the facts of what is sharp. How deep a macro is sharp close by is not known without
// its magnification, and next to nothing whatever it is: the reserve of focus, by which it is
// judged, is then that of a macro that reaches life size, as the framing is.
func focusRows() map[ID]Fact {
	return map[ID]Fact{
		NeededStop: {
			Name: "needed_stop", Dim: lang.Aperture, Unit: "f/",
			Meaning: "widest stop that holds everything from focus_near to focus_far",
			Formula: "f^2 (far - near) / (c (far (near - f) + near (far - f))) with near, far from the lens",
			Source:  "thin lens, exact",
			Reads:   []ID{FocalLength, Confusion, FocusNear, FocusFar, CloseFocus, Magnification},
			value: func(v *Values) float64 {
				if DepthUnknown(v, v[FocusNear]) {
					return math.NaN()
				}
				return optics.StopFor(v[FocalLength], v[Confusion], LensDistance(v, v[FocusNear]), LensDistance(v, v[FocusFar]))
			},
		},
		Stop: {
			Name: "stop", Dim: lang.Aperture, Unit: "f/",
			Meaning: "stop to set",
			Formula: "chosen with the rest of the set-up by the rules, of the stops that the lens has in thirds",
			Source:  "set-up",
			dialled: OfPair,
		},
		FocusMark: {
			Name: "focus_mark", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the sensor plane to focus at; where the subject is followed, at its nearest",
			Formula: "reserve near and far alike as shares r of subject_near = n and subject_far = F: the harmonic mean of a = near_from_lens - r n and b = far_from_lens + r F, with b (1 + d f) - a (1 - d f) = 2 d a b and d = stop confusion / focal_length^2",
			Source:  "set-up",
			dialled: OfPair,
		},
		Following: {
			Name: "following", Truth: true,
			Meaning: "the focus is kept on the subject over the move by a hand or by the camera",
			Formula: "chosen with the rest of the set-up by the rules, where focus is not fixed",
			Source:  "set-up",
			dialled: OfPair,
		},
		MarkFromLens: {
			Name: "mark_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the lens to the focus mark",
			Formula: "as near_from_lens, with D = focus_mark",
			Source:  "thin lens",
			Reads:   []ID{FocalLength, FocusMark, CloseFocus, Magnification},
			value:   func(v *Values) float64 { return LensDistance(v, v[FocusMark]) },
		},
		NearLimit: {
			Name: "near_limit", Dim: lang.Length, Unit: "m",
			Meaning: "nearest sharp distance from the sensor plane at that stop and mark",
			Formula: "s h / (h + s - f) from the lens; of a macro close by that is focus_mark - stop c (1 + m) / m^2; not known nearer than four focal lengths without magnification",
			Source:  "thin lens",
			with:    FarLimit,
		},
		FarLimit: {
			Name: "far_limit", Dim: lang.Length, Unit: "m",
			Meaning: "farthest sharp distance from the sensor plane at that stop and mark",
			Formula: "s h / (h - s + f) from the lens; of a macro close by that is focus_mark + stop c (1 + m) / m^2; not known nearer than four focal lengths without magnification",
			Source:  "thin lens",
			Reads:   []ID{FocalLength, Stop, Confusion, FocusMark, MarkFromLens, CloseFocus, Magnification},
			value:   sharpLimits,
		},
		ReserveNear: {
			Name: "reserve_near", Dim: lang.Plain, Unit: "%",
			Meaning: "how much nearer than planned the subject may come and stay sharp, as a share of the distance; negative when it is not sharp as planned; where near_limit is not known, as of a macro that reaches life size",
			Formula: "(subject_near - near_limit) / subject_near",
			Source:  "arithmetic",
			Reads:   []ID{SubjectNear, NearLimit, FocalLength, Stop, Confusion, FocusMark, MarkFromLens, CloseFocus},
			value: func(v *Values) float64 {
				near := v[NearLimit]
				if math.IsNaN(near) {
					near, _ = LimitsAt(v, v[Stop])
				}
				return 1 - near/v[SubjectNear]
			},
		},
		ReserveFar: {
			Name: "reserve_far", Dim: lang.Plain, Unit: "%",
			Meaning: "how much farther than planned the subject may go and stay sharp, as a share of the distance; as reserve_near",
			Formula: "(far_limit - subject_far) / subject_far; where the subject is followed, with subject_near, for there it is hardest",
			Source:  "arithmetic",
			Reads:   []ID{SubjectNear, SubjectFar, Following, FarLimit, FocalLength, Stop, Confusion, FocusMark, MarkFromLens, CloseFocus},
			value: func(v *Values) float64 {
				far, farthest := v[FarLimit], v[SubjectFar]
				if math.IsNaN(far) {
					_, far = LimitsAt(v, v[Stop])
				}
				if v[Following] == 1 {
					farthest = v[SubjectNear]
				}
				return far/farthest - 1
			},
		},
		ReserveWanted: {
			Name: "reserve_wanted", Dim: lang.Plain, Unit: "%",
			Meaning: "reserve of focus that is comfortable",
			Formula: "following ? reserve_followed : reserve_kept",
			Source:  "arithmetic",
			Reads:   []ID{Following, ReserveKept, ReserveFollowed},
			value: func(v *Values) float64 {
				if v[Following] == 1 {
					return v[ReserveFollowed]
				}
				return v[ReserveKept]
			},
		},
		FocusEase: {
			Name: "focus_ease", Dim: lang.Plain, Unit: "%",
			Meaning: "the lesser reserve against the one wanted: 100 % is comfortable, 0 % a gamble",
			Formula: "min(reserve_near, reserve_far) / reserve_wanted",
			Source:  "arithmetic",
			Reads:   []ID{ReserveNear, ReserveFar, ReserveWanted},
			value:   func(v *Values) float64 { return min(v[ReserveNear], v[ReserveFar]) / v[ReserveWanted] },
		},
		FocusSpare: {
			Name: "focus_spare", Dim: lang.Length, Unit: "cm",
			Meaning: "the lesser reserve as a length: how far the subject may leave the plan and stay sharp",
			Formula: "focus_ease reserve_wanted times subject_near where reserve_near is the lesser or the subject is followed, else subject_far",
			Source:  "arithmetic",
			Reads:   []ID{FocusEase, FocusSpareWanted},
			value:   func(v *Values) float64 { return v[FocusEase] * v[FocusSpareWanted] },
		},
		FocusSpareWanted: {
			Name: "focus_spare_wanted", Dim: lang.Length, Unit: "cm",
			Meaning: "what that is where it is comfortable",
			Formula: "reserve_wanted times the same distance",
			Source:  "arithmetic",
			Reads:   []ID{ReserveNear, ReserveFar, ReserveWanted, Following, SubjectNear, SubjectFar},
			value: func(v *Values) float64 {
				if v[ReserveNear] <= v[ReserveFar]+1e-6 || v[Following] == 1 {
					return v[ReserveWanted] * v[SubjectNear]
				}
				return v[ReserveWanted] * v[SubjectFar]
			},
		},
		SceneSharp: {
			Name: "scene_sharp", Dim: lang.Plain, Unit: "%",
			Meaning: "how far into the background the picture is sharp; 100 % is all of it",
			Formula: "far_limit / background_distance, of what is followed with the focus on it, although the lens may focus no nearer than behind it",
			Source:  "arithmetic",
			Reads:   []ID{FarLimit, BackgroundDistance, Following, FocusMark, SubjectNear, NearFromLens, FocalLength, Stop, Confusion, CloseFocus},
			value:   sceneSharp,
		},
		FocusHeld: {
			Name: "focus_held", Dim: lang.Plain, Unit: "%",
			Meaning: "share of what must be sharp that is sharp",
			Formula: "overlap of near_limit..far_limit with focus_near..focus_far",
			Source:  "arithmetic",
			Reads:   []ID{NearLimit, FarLimit, FocusNear, FocusFar},
			value:   focusHeld,
		},
		Hyperfocal: {
			Name: "hyperfocal", Dim: lang.Length, Unit: "m",
			Meaning: "hyperfocal distance at that stop, from the lens",
			Formula: "f^2 / (N c) + f",
			Source:  "thin lens",
			Reads:   []ID{FocalLength, Stop, Confusion},
			value:   func(v *Values) float64 { return optics.Hyperfocal(v[FocalLength], v[Stop], v[Confusion]) },
		},
		BackgroundBlur: {
			Name: "background_blur", Dim: lang.Plain, Unit: "%",
			Meaning: "blur disc of a point in the background, along the height, as a share of the width of the picture",
			Formula: "abs(x - s) / x * f^2 / (N (s - f)) / (frame_width squeeze)",
			Source:  "thin lens; the squeeze leaves the height of the disc as it is and widens the picture",
			Reads:   []ID{FocalLength, Stop, MarkFromLens, BackgroundDistance, FrameWidth, Squeeze, CloseFocus, Magnification},
			value: func(v *Values) float64 {
				behind := LensDistance(v, v[BackgroundDistance])
				return optics.Blur(v[FocalLength], v[Stop], v[MarkFromLens], behind) / (v[FrameWidth] * v[Squeeze])
			},
		},
		BackgroundBlurWidth: {
			Name: "background_blur_width", Dim: lang.Plain, Unit: "%",
			Meaning: "the same along the width, of a lens with its squeeze in front, whose discs are ovals; one that squeezes behind the stop draws them round, as background_blur",
			Formula: "background_blur / squeeze",
			Source:  "thin lens; a squeeze in front narrows the pupil",
			Reads:   []ID{BackgroundBlur, Squeeze},
			value:   func(v *Values) float64 { return v[BackgroundBlur] / v[Squeeze] },
		},
		DiffractionShare: {
			Name: "diffraction_share", Dim: lang.Plain, Unit: "%",
			Meaning: "Airy disc at that stop as a share of the circle of confusion",
			Formula: "2.44 * 550 nm * stop / confusion",
			Source:  "Airy disc",
			Reads:   []ID{Stop, DiffractionStop},
			value:   func(v *Values) float64 { return v[Stop] / v[DiffractionStop] },
		},
	}
}

// sharpLimits writes both limits of what is sharp, from the sensor plane.
func sharpLimits(v *Values) (far float64) {
	if DepthUnknown(v, v[FocusMark]) {
		v[NearLimit] = math.NaN()
		return math.NaN()
	}
	v[NearLimit], far = LimitsAt(v, v[Stop])
	return far
}

// LimitsAt gives the limits of what is sharp at a stop and the focus mark, from the sensor
// plane: the distances that would be the marks of what is sharp there. The marks of a macro
// close by crowd together while its depth does not, so of one the lens is left where it is.
func LimitsAt(v *Values, stop float64) (near, far float64) {
	return limits(v, stop, v[FocusMark], v[MarkFromLens])
}

// limits gives them for a mark by its distance from the sensor plane and from the lens.
func limits(v *Values, stop, mark, fromLens float64) (near, far float64) {
	near, far = optics.Limits(v[FocalLength], stop, v[Confusion], fromLens)
	if isMacro(v) {
		behind := mark - fromLens
		return near + behind, far + behind
	}
	return SensorDistance(v, near), SensorDistance(v, far)
}

func sceneSharp(v *Values) float64 {
	far := v[FarLimit]
	if v[Following] == 1 && v[FocusMark] > v[SubjectNear] {
		_, on := limits(v, v[Stop], v[SubjectNear], v[NearFromLens])
		far = min(far, on)
	}
	return far / v[BackgroundDistance]
}

// focusHeld is the share of what must be sharp that is; a single plane is sharp or not.
func focusHeld(v *Values) float64 {
	near, far := v[FocusNear], v[FocusFar]
	switch {
	case math.IsNaN(v[NearLimit] + near + far):
		return math.NaN()
	case near == far:
		return truth(v[NearLimit] <= near && far <= v[FarLimit])
	}
	return clamp01((min(far, v[FarLimit]) - max(near, v[NearLimit])) / (far - near))
}
