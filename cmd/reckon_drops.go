package cmd

import (
	"math"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/balance"
	"glassbrief/lang"
)

var reckonDrops = calculation{
	name:  "drops",
	short: "a sled's centre of mass and inertia, from two drops",
	long: `Trim the sled so that its base is the heavier end, tip its post level, let go,
and time it until it hangs plumb for the first time; the mean of five is
--first. Fix a small mass, such as one plate, at a known depth below the gimbal
and time it again: that is --second. --mass is what the sled weighs without it.`,
	example: `  glassbrief reckon drops --first 2.2s --second 1.6s --mass 2.4kg \
    --added 60g --depth 300mm`,
	needs: []string{"first", "second", "added", "depth", "mass"},
	run:   dropsOf,
}

func dropsOf(r *reading) reckoning {
	p := r.printer
	first, second := r.quantity("first"), r.quantity("second")
	added, depth := r.quantity("added"), r.quantity("depth")
	mass := r.quantity("mass")
	if r.failed() {
		return reckoning{}
	}
	moment, inertia := balance.FromDrops(first.Value, second.Value, added.Value, depth.Value)
	if math.IsNaN(moment) {
		r.complain(usage(lang.Contradiction, "no sled drops in %q and then in %q", first.Span.Text(), second.Span.Text()).
			because("The added mass makes it drop quicker, by more than the watch errs. Check the times, and the depth, which counts from the gimbal downwards.").at(second.Span))
		return reckoning{}
	}
	offset := moment / mass.Value
	return reckoning{
		title: "Sled from two drops",
		given: []line{
			{label: "first drop", key: "first_s", value: travel.FigureOf(first.Value, "s")},
			{label: "second drop", key: "second_s", value: travel.FigureOf(second.Value, "s"),
				text: p.Quantity(second.Value, "s") + ", with " + p.Quantity(added.Value, "g") + " more " + p.Quantity(depth.Value, "mm") + " below"},
			{label: "mass", value: travel.FigureOf(mass.Value, "kg")},
		},
		result: []line{
			{label: "centre of mass", text: p.Quantity(offset, "mm") + " below the axis", tone: show.Strong, key: "offset_mm", value: travel.FigureOf(offset, "mm")},
			{label: "moment of inertia", tone: show.Strong, key: "inertia_kgm2", value: travel.FigureOf(inertia, "kgm2")},
		},
		formula: "M·d = m·r·(b−r)/(a−b), I = a·M·d, with a and b = g·(T/K)² of the two drops and K = 1.8541",
		source:  "physical pendulum let go at 90°, without friction",
		notes:   []string{"A tenth of a second more or less on either watch moves the result: repeat it and take the mean."},
	}
}
