package cmd

import (
	"math"

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
	flags: []string{"first", "second", "added", "depth", "mass"},
	run:   dropsOf,
}

type dropsData struct {
	reckonHeader
	First   number `json:"first_s"`
	Second  number `json:"second_s"`
	Offset  number `json:"offset_mm"` // of the centre of mass below the gimbal
	Inertia number `json:"inertia_kgm2"`
}

func dropsOf(r *reading) reckoning {
	r.need("first", "second", "added", "depth", "mass")
	first, second := r.quantity("first", lang.Time), r.quantity("second", lang.Time)
	added, depth := r.quantity("added", lang.Mass), r.quantity("depth", lang.Length)
	mass := r.quantity("mass", lang.Mass)
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
		data: dropsData{
			reckonHeader: reckonHeaderOf("drops"), First: number(first.Value), Second: number(second.Value),
			Offset: in(offset, "mm"), Inertia: number(inertia),
		},
		given: func(p lang.Printer) []pair {
			return []pair{
				{name: "first drop", value: p.Quantity(first.Value, "s")},
				{name: "second drop", value: p.Quantity(second.Value, "s") + ", with " + p.Quantity(added.Value, "g") + " more " + p.Quantity(depth.Value, "mm") + " below"},
				{name: "mass", value: p.Quantity(mass.Value, "kg")},
			}
		},
		result: func(p lang.Printer) []pair {
			return []pair{
				{name: "centre of mass", value: p.Quantity(offset, "mm") + " below the axis", tone: toneStrong},
				{name: "moment of inertia", value: p.Quantity(inertia, "kgm2"), tone: toneStrong},
			}
		},
		formula: "M·d = m·r·(b−r)/(a−b), I = a·M·d, with a and b = g·(T/K)² of the two drops and K = 1.8541",
		source:  "physical pendulum let go at 90°, without friction",
		notes:   []string{"A tenth of a second more or less on either watch moves the result: repeat it and take the mean."},
	}
}
