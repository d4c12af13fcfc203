package wording

import (
	"fmt"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/doctor"
)

// measures says how to find out a figure of a lens, by its keyword.
var measures = map[string]string{
	"aperture":      "Read it off the barrel or the front ring.",
	"have":          "Ask whose it is, and what it costs a day if it is hired.",
	"focus":         "Turn the ring with the camera off: a ring with stops and marks is manual, one that moves nothing is by wire.",
	"thread":        "Read it inside the front or on the cap, or lay a ruler across.",
	"mass":          "Put it on a kitchen scale, caps off and hood on.",
	"length":        "Lay a tape along it, from the flange to the front, drawn out to its longest.",
	"diameter":      "Lay a tape around it and divide by 3.14.",
	"close_focus":   "Focus as near as it goes, and run a tape from the mark of the sensor plane to what is sharp.",
	"magnification": "Focus as near as it goes on a ruler, and divide the width of the sensor mode by the length of ruler across the picture, as in 1:2.",
	"balance":       "Lay it across a ruler on edge, and measure from the flange to where it tips.",
	"circle":        "On the largest sensor at hand, photograph an even wall at infinity and the widest stop, and lay a ruler across the bright disc: its share of the picture's width, times the width of the sensor.",
	"distortion":    "Photograph a ruler along the long side of the frame: the bow at its middle over half the height of the frame.",
	"transmission":  "Photograph an evenly lit card beside a lens whose T-number is known, both wide open, and count the stops between them.",
	"falloff":       "Photograph an even wall at the widest stop, and count the stops from the middle to the corner.",
}

// Measured lists the figures of a lens that there are words for, in the order of the language.
func Measured() []string {
	return slices.DeleteFunc(catalog.Keywords("lens"), func(keyword string) bool { return measures[keyword] == "" })
}

// Measure says how to find out an unknown figure of a lens.
func Measure(keyword string) string {
	said, ok := measures[keyword]
	if !ok {
		panic(fmt.Sprintf("no words for how to measure %q", keyword))
	}
	return said
}

// With says what comes to another kit.
func With(k doctor.OtherKit) string {
	switch k.All {
	case doctor.MostFavourable:
		return "all in its favour"
	case doctor.LeastFavourable:
		return "all against it"
	}
	return k.With
}
