package cmd

import (
	"fmt"
	"math"
	"strings"

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
and time it again: that is --second. --mass is what the sled weighs without it,
and --watch how far either time may be off: 0.1 s unless given.`,
	example: `  glassbrief reckon drops --first 2.2s --second 1.6s --mass 2.4kg \
    --added 60g --depth 300mm
  glassbrief reckon drops --first 2.24s --second 1.63s --mass 2.4kg \
    --added 60g --depth 300mm --watch 0.03s`,
	needs: []string{"first", "second", "added", "depth", "mass"},
	takes: []string{"watch"},
	run:   dropsOf,
}

// usualWatch is how far a time is off that a hand stops (common practice).
const usualWatch = "0.1s"

func dropsOf(r *reading) reckoning {
	p := r.printer
	if !r.given("watch") {
		r.preset("watch", usualWatch)
	}
	first, second := r.quantity("first"), r.quantity("second")
	added, depth := r.quantity("added"), r.quantity("depth")
	mass, watch := r.quantity("mass"), r.quantity("watch")
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
	moments, inertias := balance.FromDropsWithin(first.Value, second.Value, added.Value, depth.Value, watch.Value)
	within := func(value, low, high float64, unit string) string {
		off := (high - low) / 2
		if math.IsInf(high, 1) {
			off = value - low
			return fmt.Sprintf("%s, at least %s,", p.Quantity(value, unit), p.Within(low, off, unit))
		}
		return fmt.Sprintf("%s, between %s and %s,", p.Quantity(value, unit), p.Within(low, off, unit), p.Within(high, off, unit))
	}
	return reckoning{
		title: "Sled from two drops",
		given: []line{
			{label: "first drop", key: "first_s", value: travel.FigureOf(first.Value, "s")},
			{label: "second drop", key: "second_s", value: travel.FigureOf(second.Value, "s"),
				text: p.Quantity(second.Value, "s") + ", with " + p.Quantity(added.Value, "g") + " more " + p.Quantity(depth.Value, "mm") + " below"},
			{label: "mass", value: travel.FigureOf(mass.Value, "kg")},
			{label: "watch", text: p.Quantity(watch.Value, "s") + " off either way", key: "watch_s", value: travel.FigureOf(watch.Value, "s")},
		},
		result: []line{
			{label: "centre of mass", text: within(offset, moments.Low/mass.Value, moments.High/mass.Value, "mm") + " below the axis", tone: show.Strong, key: "offset_mm", value: travel.FigureOf(offset, "mm")},
			{key: "offset_low_mm", value: travel.FigureOf(moments.Low/mass.Value, "mm")},
			{key: "offset_high_mm", value: travel.FigureOf(moments.High/mass.Value, "mm")}, // null without bound
			{label: "moment of inertia", text: strings.TrimSuffix(within(inertia, inertias.Low, inertias.High, "kgm2"), ","), tone: show.Strong, key: "inertia_kgm2", value: travel.FigureOf(inertia, "kgm2")},
			{key: "inertia_low_kgm2", value: travel.FigureOf(inertias.Low, "kgm2")},
			{key: "inertia_high_kgm2", value: travel.FigureOf(inertias.High, "kgm2")},
		},
		formula: "M·d = m·r·(b−r)/(a−b), I = a·M·d, with a and b = g·(T/K)² of the two drops and K = 1.8541",
		source:  "physical pendulum let go at 90°, without friction",
		notes:   []string{"The range is what the error of the watch leaves open: time each drop five times and take the means, and give a smaller --watch."},
	}
}
