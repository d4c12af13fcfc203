package facts

import (
	"math"

	"glassbrief/engine/exposure"
	"glassbrief/engine/optics"

	"glassbrief/lang"
)

// The set-up of a shot is solved and not guessed. Focus comes first: the widest marked
// stop that holds what must be sharp. Light comes second: ISO from the base up, then ND
// when there is too much, and what is missing, in stops, when the highest ISO is not
// enough.

// setupRows are the facts of focus and light.
func setupRows() map[ID]Fact {
	return map[ID]Fact{
		FocusNearFromLens: {
			Name: "focus_near_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the lens to the nearest that must be sharp, as near_from_lens",
			Formula: "(D + sqrt(D (D - 4 focal_length))) / 2 with D = focus_near",
			Source:  "thin lens",
			with:    NeededStop,
		},
		FocusFarFromLens: {
			Name: "focus_far_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the lens to the farthest that must be sharp, as near_from_lens",
			Formula: "(D + sqrt(D (D - 4 focal_length))) / 2 with D = focus_far",
			Source:  "thin lens",
			with:    NeededStop,
		},
		MarkFromLens: {
			Name: "mark_from_lens", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the lens to focus at, between near = focus_near_from_lens and far = focus_far_from_lens",
			Formula: "2 near far / (near + far)",
			Source:  "split focus, exact for the thin lens",
			with:    NeededStop,
		},
		NeededStop: {
			Name: "needed_stop", Dim: lang.Aperture, Unit: "f/",
			Meaning: "widest stop that holds everything from focus_near to focus_far",
			Formula: "f^2 (far - near) / (c (far (near - f) + near (far - f))) with near = focus_near_from_lens, far = focus_far_from_lens",
			Source:  "thin lens, exact",
			Reads:   []ID{FocalLength, Confusion, NearFromLens, FarFromLens, SubjectNear, SubjectFar, FocusNear, FocusFar},
			value:   focusing,
		},
		Stop: {
			Name: "stop", Dim: lang.Aperture, Unit: "f/",
			Meaning: "stop to set: the widest marked one that holds the focus, within what the lens has",
			Formula: "needed_stop, up to the next third of a stop",
			Reads:   []ID{NeededStop, WidestStop, SmallestStop},
			value:   func(v *Values) float64 { return stopToSet(v[NeededStop], v[WidestStop], v[SmallestStop]) },
		},
		TStop: {
			Name: "t_stop", Dim: lang.Aperture, Unit: "T",
			Meaning: "the stop as a T-number",
			Formula: "stop widest_t / widest_stop",
			Reads:   []ID{Stop, WidestT, WidestStop, Light, ShutterTime, BaseISO, TopISO},
			value:   exposing,
		},
		FocusMark: {
			Name: "focus_mark", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the sensor plane to focus at",
			Formula: "s + f s / (s - f) with s = mark_from_lens",
			Source:  "thin lens",
			Reads:   []ID{FocalLength, MarkFromLens},
			value:   func(v *Values) float64 { return optics.SensorDistance(v[FocalLength], v[MarkFromLens]) },
		},
		NearLimit: {
			Name: "near_limit", Dim: lang.Length, Unit: "m",
			Meaning: "nearest sharp distance from the sensor plane at that stop and mark",
			Formula: "s h / (h + s - f)",
			Source:  "thin lens",
			Reads:   []ID{FocalLength, Stop, Confusion, MarkFromLens},
			value:   nearLimit,
		},
		FarLimit: {
			Name: "far_limit", Dim: lang.Length, Unit: "m",
			Meaning: "farthest sharp distance from the sensor plane at that stop and mark",
			Formula: "s h / (h - s + f)",
			Source:  "thin lens",
			Reads:   []ID{FocalLength, Stop, Confusion, MarkFromLens},
			value:   farLimit,
		},
		FocusHeld: {
			Name: "focus_held", Dim: lang.Plain, Unit: "%",
			Meaning: "share of what must be sharp that is sharp",
			Formula: "overlap of near_limit..far_limit with focus_near..focus_far",
			Source:  "arithmetic",
			Reads:   []ID{FocalLength, Stop, Confusion, MarkFromLens, FocusNearFromLens, FocusFarFromLens},
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
			Meaning: "blur disc of a point in the background as a share of the frame width",
			Formula: "abs(x - s) / x * f^2 / (N (s - f)) / frame_width",
			Source:  "thin lens",
			Reads:   []ID{FocalLength, Stop, MarkFromLens, BackgroundDistance, FrameWidth},
			value:   backgroundBlur,
		},
		DiffractionShare: {
			Name: "diffraction_share", Dim: lang.Plain, Unit: "%",
			Meaning: "Airy disc at that stop as a share of the circle of confusion",
			Formula: "2.44 * 550 nm * stop / confusion",
			Source:  "Airy disc",
			Reads:   []ID{Stop, DiffractionStop},
			value:   func(v *Values) float64 { return v[Stop] / v[DiffractionStop] },
		},
		ISO: {
			Name: "iso", Dim: lang.Plain,
			Meaning: "ISO to set at that stop",
			Formula: "C T^2 / (light shutter_time), to the next third, from base_iso up",
			Source:  "incident-light equation",
			with:    TStop,
		},
		ND: {
			Name: "nd", Dim: lang.Stops, Unit: "stops",
			Meaning: "neutral density needed at base_iso",
			Formula: "log2(base_iso / ISO needed), to a third",
			Source:  "incident-light equation",
			Reads:   []ID{Light, TStop, ShutterTime, BaseISO, ISO},
			value:   density,
		},
		Short: {
			Name: "short", Dim: lang.Stops, Unit: "stops",
			Meaning: "stops of light missing at top_iso",
			Formula: "log2(ISO needed / top_iso)",
			Source:  "incident-light equation",
			with:    TStop,
		},
	}
}

// stopToSet gives the needed stop, to the next marked third, within the lens's range. An
// unknown end of the range does not limit; without a widest stop nothing can be set.
func stopToSet(needed, widest, smallest float64) float64 {
	if needed <= widest {
		return widest
	}
	if math.IsNaN(widest) {
		return widest
	}
	if needed > smallest {
		return smallest
	}
	stop := exposure.NextMarked(needed)
	if stop > smallest {
		return smallest
	}
	return stop
}

func nearLimit(v *Values) float64 {
	near, _ := optics.Limits(v[FocalLength], v[Stop], v[Confusion], v[MarkFromLens])
	return optics.SensorDistance(v[FocalLength], near)
}

func farLimit(v *Values) float64 {
	_, far := optics.Limits(v[FocalLength], v[Stop], v[Confusion], v[MarkFromLens])
	return optics.SensorDistance(v[FocalLength], far)
}

// focusHeld gives how much of what must be sharp is sharp. A single plane is sharp or not.
func focusHeld(v *Values) float64 {
	near, far := v[FocusNearFromLens], v[FocusFarFromLens]
	sharpNear, sharpFar := optics.Limits(v[FocalLength], v[Stop], v[Confusion], v[MarkFromLens])
	switch {
	case math.IsNaN(sharpNear):
		return math.NaN()
	case near == far:
		return truth(sharpNear <= near && far <= sharpFar)
	}
	return clamp01((min(far, sharpFar) - max(near, sharpNear)) / (far - near))
}

func backgroundBlur(v *Values) float64 {
	behind := LensDistance(v[FocalLength], v[BackgroundDistance])
	return optics.Blur(v[FocalLength], v[Stop], v[MarkFromLens], behind) / v[FrameWidth]
}

// focusing solves the mark and the stop that holds what must be sharp.
func focusing(v *Values) (stop float64) {
	focal := v[FocalLength]
	near, far := v[NearFromLens], v[FarFromLens]
	if v[FocusNear] != v[SubjectNear] {
		near = LensDistance(focal, v[FocusNear])
	}
	if v[FocusFar] != v[SubjectFar] {
		far = LensDistance(focal, v[FocusFar])
	}
	v[FocusNearFromLens], v[FocusFarFromLens] = near, far
	v[MarkFromLens] = optics.FocusMark(near, far)
	return optics.StopFor(focal, v[Confusion], near, far)
}

// exposing solves ISO at the stop. It needs the highest ISO only where the light asks for more
// than the base.
func exposing(v *Values) (t float64) {
	t = v[Stop] * v[WidestT] / v[WidestStop]
	needed := exposure.ISO(v[Light], t, v[ShutterTime])
	base, top := v[BaseISO], v[TopISO]
	iso, missing := math.NaN(), 0.0
	switch {
	case needed <= base:
		iso = base
	case needed > top:
		iso, missing = top, thirds(math.Log2(needed/top))
	case needed > base:
		iso = min(top, exposure.MarkedISO(needed))
	}
	v[ISO], v[Short] = iso, missing+0*iso
	return t
}

func density(v *Values) float64 {
	if needed := exposure.ISO(v[Light], v[TStop], v[ShutterTime]); needed <= v[BaseISO] {
		return thirds(math.Log2(v[BaseISO] / needed))
	}
	return 0 * v[ISO] // not known when ISO is not
}

// thirds rounds to a third of a stop, the finest step of ISO and of ND.
func thirds(stops float64) float64 { return math.Round(stops*3) / 3 }
