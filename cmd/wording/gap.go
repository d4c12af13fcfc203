package wording

import (
	"fmt"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/doctor"
)

const (
	onAScale  = "Put it on a kitchen scale"
	atTheWall = "Photograph an even wall at the widest stop, and count the stops from the middle to the corner."
)

// measures says how to find out a figure that nobody has stated, by its owner and keyword.
var measures = map[brief.Owner]map[string]string{
	brief.OfShot: {
		"light": "Hold a meter at the place of the subject, or a grey card before the camera: at ISO 800, 1/50 s and f/4 it is right at 250 lx; write \"90lx\", or a level as \"office\".",
	},
	brief.OfCamera: {
		"iso":       "Its manual names the base ISO, or both of two; or it is the lowest ISO without a mark beside it in the menu.",
		"iso_range": "Film a dim room at each ISO, and take the highest whose noise you would deliver; write it as \"200..6400\".",
		"mass":      onAScale + ", with battery and card.",
	},
	brief.OfRig: {
		"payload":   "Load it with as little as it still trims with, put what stands on the stage on a scale, and write it in front of the most, as \"0.9kg..3kg\".",
		"wobble":    "No published figure was found. Film a point 50 m away or more with a long lens, for ten seconds as you stand: the largest swing in pixels, times the angle of a pixel. Or over 20 steps at 1.2 m/s: half the median of the largest swing in each step.",
		"isolation": "No published figure was found. Film a mark at the height of the camera, 2 m ahead, as you walk in place beside a scale on the wall: once on the rig and once with the camera strapped to the chest. One less the ratio of the rises.",
	},
	brief.OfMount: {
		"flange": "A table of flange distances has it by the name of the mount; or measure from the mount's face to the mark of the sensor plane.",
	},
	brief.OfAdapter: {
		"mass":      onAScale + ".",
		"thickness": "Measure it from face to face with a caliper.",
	},
	brief.OfFilter: {
		"strength": "Read it off the rim: 0.3 of density, or a factor of 2, is one stop; or meter an even wall with it and without, and count the stops between.",
	},
	brief.OfLens: {
		"aperture":      "Read it off the barrel or the front ring.",
		"have":          "Ask whose it is, and what it costs a day if it is hired.",
		"focus":         "Turn the ring with the camera off: a ring with stops and marks is manual, one that moves nothing is by wire.",
		"scale":         "Look at the ring: distances that hold are marked, and a ring without them is none.",
		"projection":    "Photograph a door frame at the edge of the picture: a fisheye bends it, and a rectilinear lens leaves it straight.",
		"magnification": "Focus as near as it goes on a ruler, and divide the width of the sensor mode by the length of ruler across the picture, as in 1:2.",
		"thread":        "Read it inside the front or on the cap, or lay a ruler across.",
		"mass":          onAScale + ", caps off and hood on.",
		"length":        "Lay a tape along it, from the flange to the front, drawn out to its longest.",
		"diameter":      "Lay a tape around it and divide by 3.14.",
		"close_focus":   "Focus as near as it goes, and run a tape from the mark of the sensor plane to what is sharp.",
		"balance":       "Lay it across a ruler on edge, and measure from the flange to where it tips.",
		"circle":        "On the largest sensor at hand, photograph an even wall at infinity and the widest stop, and lay a ruler across the bright disc: its share of the picture's width, times the width of the sensor.",
		"distortion":    "Photograph a ruler along the long side of the frame: the bow at its middle over half the height of the frame.",
		"transmission":  "Photograph an evenly lit card beside a lens whose T-number is known, both wide open, and count the stops between them.",
		"falloff":       atTheWall,
		"pupil":         "Put the camera on a plate that slides, with one edge near before one far off: slide it until the two no longer shift against each other as the camera turns, and measure from the mark of the sensor plane forward to the axis of the turn.",
		"breathing":     "Photograph a tape across the frame from a few metres off, focused at infinity and then as near as the lens goes: the length that the second shows over that of the first, less 1.",
	},
}

// Measure says how to find out an unknown figure.
func Measure(of brief.Owner, keyword string) string {
	said, ok := measures[of][keyword]
	if !ok {
		panic(fmt.Sprintf("no words for how to measure %q of a %s", keyword, of))
	}
	return said
}

// Measured lists the figures of a lens that there are words for and that mean nothing by being
// left out, in the order of the language.
func Measured() []string {
	var keywords []string
	for _, f := range catalog.Fields(&catalog.Lens{}) {
		if !f.Settled && measures[brief.OfLens][f.Keyword] != "" {
			keywords = append(keywords, f.Keyword)
		}
	}
	return keywords
}

// Owner names whose figure it is: a lens by its name alone.
func Owner(of brief.Owner, name string) string {
	if of == brief.OfLens {
		return name
	}
	return of.String() + " " + name
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
