package report

import (
	"slices"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
)

// detail picks the shots of a day that have a section and a column, those first that are not done as
// asked, and takes the place on the page from the others. It counts these.
func detail(day []dayShot, shots []engine.ShotAnswer, all bool) (left int) {
	if all || len(day) <= wording.MostDetailed {
		return 0
	}
	var first, then []int
	for i := range shots {
		if falls(shots[i].Use) {
			first = append(first, i)
		} else {
			then = append(then, i)
		}
	}
	behind := append(first, then...)[wording.MostDetailed:]
	for _, i := range behind {
		day[i].Index = 0
	}
	return len(behind)
}

// falls reports whether a shot is not done, in part or poor with the lens that takes it, nil for none.
func falls(use *engine.Judgement) bool {
	return use == nil || !use.Whole() || use.Verdict() >= engine.Poor
}

// detailed gives the shots of a day that have a section on the page.
func detailed(day []dayShot) []dayShot {
	return slices.DeleteFunc(slices.Clone(day), func(d dayShot) bool { return d.Index == 0 })
}
