package cmd

import (
	"slices"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
)

var balanceFlags = []string{"inertia", "mass", "offset", "drop"}

var reckonBalance = calculation{
	name:  "balance",
	short: "the drop time of a sled, or what gives a wanted one",
	long: `Give three of --inertia, --mass, --offset and --drop, and read the fourth. The
sled is let go horizontal and timed until it first passes the vertical.`,
	example: `  glassbrief reckon balance --inertia 1.5kgm2 --mass 12kg --offset 12.7mm
  glassbrief reckon balance --inertia 0.4kgm2 --mass 4kg --drop 1.8s`,
	takes: balanceFlags,
	run:   balanceOf,
}

func balanceOf(r *reading) reckoning {
	solved := r.left(balanceFlags...)
	inertia := r.quantity("inertia").Value
	mass := r.quantity("mass").Value
	offset := r.quantity("offset").Value
	drop := r.quantity("drop").Value
	if r.failed() {
		return reckoning{}
	}
	switch solved {
	case "inertia":
		inertia = balance.InertiaForDrop(drop, mass, offset)
	case "mass":
		mass = balance.MassForDrop(drop, inertia, offset)
	case "offset":
		offset = balance.OffsetForDrop(drop, inertia, mass)
	case "drop":
		drop = balance.DropTime(inertia, mass, offset)
	}
	usual, verdict, mark := true, "within the usual 1.5 s to 2 s", show.Good
	switch {
	case drop < brief.UsualDrop.Low:
		usual, verdict, mark = false, "bottom-heavy: quicker than the usual 1.5 s to 2 s", show.Warn
	case drop > brief.UsualDrop.High:
		usual, verdict, mark = false, "nearly neutral: slower than the usual 1.5 s to 2 s", show.Warn
	}
	sled := []line{
		{label: "moment of inertia", key: "inertia_kgm2", value: travel.FigureOf(inertia, "kgm2")},
		{label: "mass", key: "mass_kg", value: travel.FigureOf(mass, "kg")},
		{label: "centre of mass", text: r.printer.Quantity(offset, "mm") + " below the axis", key: "offset_mm", value: travel.FigureOf(offset, "mm")},
		{label: "drop time", key: "drop_s", value: travel.FigureOf(drop, "s")},
	}
	solution := &sled[slices.Index(balanceFlags, solved)]
	solution.label, solution.tone = solution.label+" (solved)", show.Strong
	return reckoning{
		title:   "Balance of the sled",
		given:   []line{{key: "solved", value: solved}},
		result:  append(sled, line{label: "verdict", text: verdict, tone: mark, key: "within_usual", value: usual}),
		formula: "T = K(1/√2)·√(I/(m·g·d)), with K the complete elliptic integral, 1.8541, and g = 9.80665 m/s²",
		source:  "physical pendulum let go at 90°; the usual time is common practice",
	}
}
