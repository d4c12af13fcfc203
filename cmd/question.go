package cmd

import "strings"

// A question is one thing that matters about an item: its keyword, what is asked in a terminal,
// and the usage of its flag.
type question struct {
	keyword string
	ask     string
	usage   string
	needed  bool
	named   string // of the flag, where that is not the keyword
	upper   bool   // a single figure is the upper end: people know that one
	written string // what a file says, where that is not what is answered
}

// unknown gives the comment in a file about a figure that nobody has given.
func (q question) unknown() string {
	if q.written != "" {
		return q.keyword + ": " + q.written
	}
	return q.keyword + ": " + strings.ToLower(q.ask[:1]) + q.ask[1:]
}

// picked gives the questions of some keywords, under other names of their flags where "=" gives
// one: "name=camera".
func picked(questions []question, keywords ...string) []question {
	var out []question
	for _, keyword := range keywords {
		keyword, named, _ := strings.Cut(keyword, "=")
		for _, q := range questions {
			if q.keyword == keyword {
				if named != "" {
					q.named = named
				}
				out = append(out, q)
			}
		}
	}
	return out
}

func (q question) flag() string {
	if q.named != "" {
		return q.named
	}
	return strings.ReplaceAll(q.keyword, "_", "-")
}

// The questions about an item are asked in this order: what it is first, then what is quick to
// read off it, then what has to be measured.
var (
	lensQuestions = []question{
		{keyword: "name", ask: "Name, as on the barrel", usage: "`name`, unique in the catalogue", needed: true},
		{keyword: "mount", ask: "Mount", usage: "`name` of the mount", needed: true},
		{keyword: "focal", ask: "Focal length, as 35mm or 24-70mm", usage: "focal `length`, as 35mm or 24-70mm", needed: true},
		{keyword: "have", ask: "Whose is it: owned, borrowed, or rent with the price of a day", usage: "whose it is, as a `word`: owned, borrowed, or \"rent 35 EUR\""},
		{keyword: "aperture", ask: "Widest and smallest f-number, as f/2.8-22", usage: "`stops`, as f/2.8 or f/2.8-22"},
		{keyword: "transmission", ask: "T-number at the widest stop, as T3.1", usage: "`T-number` at the widest stop, as T3.1"},
		{keyword: "focus", ask: "Focus: manual, auto or wire", usage: "how it is focused, as a `word`: manual, auto or wire"},
		{keyword: "close_focus", ask: "Closest focus from the sensor plane, as 0.45m or 1ft 6in", usage: "closest `distance` from the sensor plane, as 0.45m"},
		{keyword: "circle", ask: "Image circle, as 43mm", usage: "`diameter` of the image circle, as 43mm"},
		{keyword: "mass", ask: "Mass with the hood on, as 640g", usage: "`mass` with the hood on, as 640g"},
		{keyword: "length", ask: "Length from the flange, as 95mm", usage: "`length` from the flange, as 95mm"},
		{keyword: "diameter", ask: "Outer diameter, as 80mm", usage: "outer `diameter`, as 80mm"},
		{keyword: "thread", ask: "Filter thread, as 77mm, or none", usage: "filter `thread`, as 77mm, or none"},
		{keyword: "balance", ask: "Balance point in front of the flange, as 40mm", usage: "`distance` of the balance point in front of the flange"},
		{keyword: "distortion", ask: "Distortion at the edge, as -1.5%", usage: "`share` of distortion at the edge, as -1.5%"},
		{keyword: "pupil", ask: "Entrance pupil before the sensor plane, where two edges stop shifting when the camera turns about it, as 95mm, of a zoom 110mm 60mm", usage: "`distance` of the entrance pupil before the sensor plane, as 95mm, or of the two ends of a zoom"},
		{keyword: "breathing", ask: "How much less of a tape it shows at the closest focus than at infinity, as -8%", usage: "`share` by which the picture changes from infinity to the closest focus, as -8%"},
		remarks,
	}
	cameraQuestions = []question{
		{keyword: "name", ask: "Name of the camera", usage: "`name`, unique in the catalogue", needed: true},
		{keyword: "mount", ask: "Its mount", usage: "`name` of the mount", needed: true},
		{keyword: "size", named: "sensor", ask: "Width and height of the sensor, or of the part that is recorded, from its specifications, as 36mm x 24mm",
			usage: "`size` of the sensor or of the part that is recorded, as \"36mm x 24mm\"", needed: true},
		{keyword: "iso", ask: "Base ISO, from its specifications, as 800, or 800 or 4000", usage: "base ISO as a `number`, or two as \"800 or 4000\""},
		{keyword: "iso_range", ask: "Highest ISO of which you would still show the picture, as 12800", usage: "highest usable ISO as a `number`, or a range as 100..12800", upper: true,
			written: "the ISO range of which you would still show the picture, as ..12800"},
		{keyword: "mass", ask: "Mass with battery and card, off a kitchen scale, as 740g", usage: "`mass` with battery and card, as 740g"},
		{keyword: "built_in_nd", ask: "Strengths of built-in ND filters, as 2, 4, 6 stops", usage: "strengths of built-in ND filters as a `list`, as \"2, 4, 6 stops\""},
		{keyword: "autofocus", ask: "Does it focus a lens by itself: yes or no", usage: "whether it focuses a lens by itself, as a `word`: yes or no",
			written: "a line with this word alone, if it focuses a lens by itself"},
		{keyword: "length", ask: "Length from the flange to the back, as 72mm", usage: "`length` from the flange to the back, as 72mm"},
		{keyword: "axis_height", ask: "Height of the optical axis above its base, as 50mm", usage: "`height` of the optical axis above its base, as 50mm"},
		{keyword: "balance", ask: "Balance point behind the flange: lay it across a pencil, as 30mm", usage: "`distance` of the balance point behind the flange, as 30mm"},
		{keyword: "balance_height", ask: "Balance point above its base, on its side across the pencil, as 48mm", usage: "`height` of the balance point above its base, as 48mm"},
		remarks,
	}
	rigQuestions = []question{
		{keyword: "name", ask: "Name of the rig", usage: "`name`, unique in the catalogue", needed: true},
		{keyword: "payload", ask: "Least and greatest mass that it carries, from its papers, as 0.5kg..3kg, or the greatest as 3kg", usage: "least and greatest `mass` that it carries, as 0.5kg..3kg, or the greatest as 3kg", needed: true, upper: true},
		{keyword: "wobble", ask: "How far the view still swings while you stand, peak to peak, off a far point filmed with a long lens, as 0.25deg", usage: "`angle` that the view still swings while you stand, peak to peak, as 0.25deg"},
		{keyword: "isolation", ask: "Share of a step that does not reach the camera: one less its rise on the rig over its rise strapped to the chest, as 65%", usage: "`share` of a step that does not reach the camera, as 65%"},
		{keyword: "sled_mass", ask: "Mass of the rig without camera and plates, as 1.1kg", usage: "`mass` of the rig without camera and plates, as 1.1kg"},
		{keyword: "base_mass", ask: "Part of that mass that goes down with the post, as 0.6kg", usage: "the `mass` of it that goes down with the post, as 0.6kg"},
		{keyword: "stage_height", ask: "Height of the stage above the gimbal, as 95mm", usage: "`height` of the stage above the gimbal, as 95mm"},
		{keyword: "stage_travel", ask: "How far the stage can be shifted forward from the middle, as 30mm", usage: "`distance` by which the stage can be shifted from the middle, as 30mm"},
		{keyword: "post", ask: "Depth of the plates below the gimbal, post in and out, as 240mm..330mm", usage: "`depth` of the plates below the gimbal, post in and out, as 240mm..330mm"},
		{keyword: "plate_mass", ask: "Mass of one plate, as 60g", usage: "`mass` of one plate, as 60g"},
		{keyword: "plates", ask: "How many plates it takes, as 14", usage: "`number` of plates that it takes"},
		{keyword: "plate_reach", ask: "How far before and behind the post the plates sit, as 80mm", usage: "`distance` of the plates from the post, as 80mm"},
		{keyword: "sled_balance", ask: "Depth of its centre of mass below the gimbal, of which \"glassbrief reckon drops\" tells, as 90mm", usage: "`depth` of its centre of mass below the gimbal, as 90mm"},
		{keyword: "sled_inertia", ask: "Its moment of inertia, of which \"glassbrief reckon drops\" tells, as 0.042kgm2", usage: "moment of `inertia` about the axis of tilt, as 0.042kgm2"},
		remarks,
	}
	mountQuestions = []question{
		{keyword: "name", ask: "Name of the mount", usage: "`name`, unique in the catalogue", needed: true},
		{keyword: "flange", ask: "Distance from the flange to the sensor, from a table of mounts, as 44mm", usage: "`distance` from the flange to the sensor, as 44mm"},
		{keyword: "throat", ask: "Inner diameter, as 50mm", usage: "inner `diameter`, as 50mm"},
		remarks,
	}
	filterQuestions = []question{
		{keyword: "name", ask: "Name of the filter", usage: "`name`, unique in the catalogue", needed: true},
		{keyword: "kind", ask: "What it does: nd, diffusion, polar or step-up", usage: "`kind` of filter: nd, diffusion, polar or step-up", needed: true},
		{keyword: "thread", ask: "Thread that it screws into, off its edge, as 77mm", usage: "`thread` that it screws into, as 77mm", needed: true},
		{keyword: "strength", ask: "Light that it takes away, as 3 stops, 2..8 stops or ND 0.9", usage: "`stops` that it takes away, as \"3 stops\", or its density, as 0.9"},
		{keyword: "front", ask: "Thread at its front, of a step-up ring, as 82mm", usage: "`thread` at its front, of a step-up ring, as 82mm"},
		{keyword: "mass", ask: "Mass, as 25g", usage: "`mass`, as 25g"},
		remarks,
	}
	remarks = question{keyword: "about", ask: "Remarks", usage: "remarks as a `text`"}
)
