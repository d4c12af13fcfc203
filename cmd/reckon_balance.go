package cmd

import (
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/lang"
)

var balanceFlags = []string{"inertia", "mass", "offset", "drop"}

var reckonBalance = calculation{
	name:  "balance",
	short: "the drop time of a sled, or what gives a wanted one",
	long: `Give three of --inertia, --mass, --offset and --drop, and read the fourth. The
sled is let go horizontal and timed until it first passes the vertical.`,
	example: `  glassbrief reckon balance --inertia 1.5kgm2 --mass 12kg --offset 12.7mm
  glassbrief reckon balance --inertia 0.4kgm2 --mass 4kg --drop 1.8s`,
	flags: balanceFlags,
	run:   balanceOf,
}

type balanceData struct {
	reckonHeader
	Solved  string `json:"solved"` // which of the four is the answer
	Inertia number `json:"inertia_kgm2"`
	Mass    number `json:"mass_kg"`
	Offset  number `json:"offset_mm"`
	Drop    number `json:"drop_s"`
	Usual   bool   `json:"within_usual"` // between 1.5 s and 2 s
}

func balanceOf(r *reading) reckoning {
	solved := r.left(balanceFlags...)
	inertia := r.quantity("inertia", lang.Inertia).Value
	mass := r.quantity("mass", lang.Mass).Value
	offset := r.quantity("offset", lang.Length).Value
	drop := r.quantity("drop", lang.Time).Value
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
	usual, verdict, mark := true, "within the usual 1.5 s to 2 s", toneGood
	switch {
	case drop < engine.UsualDrop.Low:
		usual, verdict, mark = false, "bottom-heavy: quicker than the usual 1.5 s to 2 s", toneWarn
	case drop > engine.UsualDrop.High:
		usual, verdict, mark = false, "nearly neutral: slower than the usual 1.5 s to 2 s", toneWarn
	}
	return reckoning{
		title: "Balance of the sled",
		data: balanceData{
			reckonHeader: reckonHeaderOf("balance"), Solved: solved, Inertia: number(inertia),
			Mass: number(mass), Offset: in(offset, "mm"), Drop: number(drop), Usual: usual,
		},
		result: func(p lang.Printer) []pair {
			result := []pair{
				{name: "moment of inertia", value: p.Quantity(inertia, "kgm2")},
				{name: "mass", value: p.Quantity(mass, "kg")},
				{name: "centre of mass", value: p.Quantity(offset, "mm") + " below the axis"},
				{name: "drop time", value: p.Quantity(drop, "s")},
			}
			solution := slices.Index(balanceFlags, solved)
			result[solution].name, result[solution].tone = result[solution].name+" (solved)", toneStrong
			return append(result, pair{name: "verdict", value: verdict, tone: mark})
		},
		formula: "T = K(1/√2)·√(I/(m·g·d)), with K the complete elliptic integral, 1.8541, and g = 9.80665 m/s²",
		source:  "physical pendulum let go at 90°; the usual time is common practice",
	}
}
