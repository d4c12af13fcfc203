package cmd

import (
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/optics"
)

var reckonMatch = calculation{
	name:  "match",
	short: "the focal length for the same field on another frame",
	long: `Frames of different shape cannot match in every direction: choose the side that
matters with --by.`,
	example: `  glassbrief reckon match --focal 24mm --from "36mm x 24mm" \
    --to "24.89mm x 18.67mm"
  glassbrief reckon match --focal 50mm --from "36mm x 24mm" \
    --to "17.3mm x 13mm" --by width`,
	needs: []string{"focal", "from", "to"},
	takes: []string{"by"},
	run:   matchOf,
}

func matchOf(r *reading) reckoning {
	p, focal := r.printer, r.quantity("focal")
	from, to := r.frame("from"), r.frame("to")
	by := r.word("by", optics.BasisNames())
	if r.failed() {
		return reckoning{}
	}
	basis, _ := optics.ParseBasis(by)
	match := optics.Match(focal.Value, frameOf(from), frameOf(to), basis)
	crop := focal.Value / match
	fromCrop, toCrop := optics.Crop(frameOf(from), basis), optics.Crop(frameOf(to), basis)
	return reckoning{
		title: "Matching focal length",
		given: []line{
			{label: "focal length", text: p.Quantity(focal.Value, "mm") + " on " + sizeText(p, frameOf(from))},
			{label: "wanted on", text: sizeText(p, frameOf(to))},
			{label: "matched by", text: by},
		},
		result: []line{
			{label: "same field with", tone: show.Strong, key: "focal_mm", value: travel.FigureOf(match, "mm")},
			{label: "crop between them", key: "crop", value: travel.FigureOf(crop, "")},
			{key: "by", value: by},
			{label: "against full frame", text: p.Quantity(fromCrop, "") + " and " + p.Quantity(toCrop, "") + " are their crop factors",
				key: "from_crop", value: travel.FigureOf(fromCrop, "")},
			{key: "to_crop", value: travel.FigureOf(toCrop, "")},
		},
		formula: "f₂ = f₁·d₂/d₁, with d the " + by + " of each frame; crop = d₁/d₂",
		source:  "geometry: equal angles of view; 43.27 mm is the diagonal of full frame",
	}
}
