package facts

import (
	"math"

	"glassbrief/engine/exposure"
	"glassbrief/lang"
)

// ISO and filters are dialled as the stop is.

// cleanISO is the ISO up to which a picture counts as clean on any camera. It is the same for
// all, so that a lower base ISO takes nothing away (an assumption of this project).
const cleanISO = 800

// secondBase is the step of noise that a camera's higher base ISO counts, in stops: cleaner
// than what is pushed up to it from below, and not as clean as the lower one (an assumption
// of this project).
const secondBase = 0.5

// exposingRows are the facts of light on the sensor.
func exposingRows() map[ID]Fact {
	return map[ID]Fact{
		TStop: {
			Name: "t_stop", Dim: lang.Aperture, Unit: "T",
			Meaning: "the stop as a T-number",
			Formula: "stop widest_t / widest_stop",
			Reads:   []ID{Stop, WidestT, WidestStop},
			value:   func(v *Values) float64 { return TStopAt(v, v[Stop]) },
		},
		ISO: {
			Name: "iso", Dim: lang.Plain,
			Meaning: "ISO to set",
			Formula: "chosen with the rest of the set-up by the rules, of what the camera has in thirds",
			Source:  "set-up",
			dialled: OfPair,
		},
		StandsOn: {
			Name: "stands_on", Dim: lang.Plain,
			Meaning: "base ISO of the camera that the ISO stands on",
			Formula: "the highest base that is not above iso, or the lowest",
			Source:  "set-up",
			dialled: OfPair,
		},
		ND: {
			Name: "nd", Dim: lang.Stops, Unit: "stops",
			Meaning: "neutral density in use, on the lens and in the camera",
			Formula: "chosen with the rest of the set-up by the rules, of the filters that fit",
			Source:  "set-up",
			dialled: OfPair,
		},
		Filters: {
			Name: "filters", Dim: lang.Plain,
			Meaning: "pieces of glass on the lens for that; a step-up ring or a filter of the camera counts a quarter",
			Formula: "of those that are chosen with the rest of the set-up by the rules",
			Source:  "set-up",
			dialled: OfPair,
		},
		FilterCross: {
			Name: "filter_cross", Dim: lang.Stops, Unit: "stops",
			Meaning: "how far a turning filter stands in the last stop of its range on a wide lens, where it shows a cross",
			Formula: "strength - (strongest - 1 stop), below 28 mm full-frame equivalent",
			Source:  "set-up; the limits are common practice",
			dialled: OfPair,
		},
		ISONeeded: {
			Name: "iso_needed", Dim: lang.Plain,
			Meaning: "ISO that the light asks for at that stop, without a filter",
			Formula: "C T^2 / (light shutter_time) with C = 250",
			Source:  "incident-light equation",
			Reads:   []ID{Light, TStop, ShutterTime},
			value:   func(v *Values) float64 { return exposure.ISO(v[Light], v[TStop], v[ShutterTime]) },
		},
		ExposureGap: {
			Name: "exposure_gap", Dim: lang.Stops, Unit: "stops",
			Meaning: "stops of light too much, or too little when negative",
			Formula: "log2(iso / iso_needed) - nd",
			Source:  "arithmetic",
			Reads:   []ID{ISO, ISONeeded, ND},
			value:   func(v *Values) float64 { return math.Log2(v[ISO]/v[ISONeeded]) - v[ND] },
		},
		Over: {
			Name: "over", Dim: lang.Stops, Unit: "stops",
			Meaning: "stops of light too much",
			Formula: "max(0, exposure_gap)",
			Source:  "arithmetic",
			Reads:   []ID{ExposureGap},
			value:   func(v *Values) float64 { return max(0, v[ExposureGap]) },
		},
		Short: {
			Name: "short", Dim: lang.Stops, Unit: "stops",
			Meaning: "stops of light missing",
			Formula: "max(0, -exposure_gap)",
			Source:  "arithmetic",
			Reads:   []ID{ExposureGap},
			value:   func(v *Values) float64 { return max(0, -v[ExposureGap]) },
		},
		ExposureError: {
			Name: "exposure_error", Dim: lang.Stops, Unit: "stops",
			Meaning: "stops by which the exposure is off, either way",
			Formula: "abs(exposure_gap)",
			Source:  "arithmetic",
			Reads:   []ID{ExposureGap},
			value:   func(v *Values) float64 { return math.Abs(v[ExposureGap]) },
		},
		Noise: {
			Name: "noise", Dim: lang.Stops, Unit: "stops",
			Meaning: "stops of ISO above what counts as clean, or above a higher base of the camera",
			Formula: "max(0, log2(iso / 800)), and where stands_on is above base_iso at most 1/2 + log2(iso / stands_on)",
			Source:  "assumption of this project",
			Reads:   []ID{ISO, BaseISO, StandsOn},
			value: func(v *Values) float64 {
				noise := max(0, math.Log2(v[ISO]/cleanISO))
				if v[StandsOn] > v[BaseISO] {
					noise = min(noise, secondBase+math.Log2(v[ISO]/v[StandsOn]))
				}
				return noise
			},
		},
		Pull: {
			Name: "pull", Dim: lang.Stops, Unit: "stops",
			Meaning: "stops of ISO below the base of the camera, which costs highlights",
			Formula: "max(0, log2(base_iso / iso))",
			Source:  "arithmetic",
			Reads:   []ID{ISO, BaseISO},
			value:   func(v *Values) float64 { return max(0, math.Log2(v[BaseISO]/v[ISO])) },
		},
	}
}

// TStopAt gives the T-number at a stop, of a lens whose T-number at the widest is known.
func TStopAt(v *Values, stop float64) float64 { return stop * v[WidestT] / v[WidestStop] }
