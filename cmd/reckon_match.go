package cmd

import (
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

var basisNames = []string{"diagonal", "width", "height"}

var reckonMatch = calculation{
	name:  "match",
	short: "the focal length for the same field on another frame",
	long: `Frames of different shape cannot match in every direction: choose the side that
matters with --by.`,
	example: `  glassbrief reckon match --focal 24mm --from "36mm x 24mm" \
    --to "24.89mm x 18.67mm"
  glassbrief reckon match --focal 50mm --from "36mm x 24mm" \
    --to "17.3mm x 13mm" --by width`,
	flags: []string{"focal", "from", "to", "by"},
	run:   matchOf,
}

type matchData struct {
	reckonHeader
	Focal    number `json:"focal_mm"` // on the second frame
	Crop     number `json:"crop"`     // the first frame against the second
	By       string `json:"by"`
	FromCrop number `json:"from_crop"` // each against 36 mm x 24 mm
	ToCrop   number `json:"to_crop"`
}

func matchOf(r *reading) reckoning {
	r.need("focal", "from", "to")
	focal := r.quantity("focal", lang.Length)
	from, to := r.frame("from"), r.frame("to")
	by := r.word("by", basisNames)
	if r.failed() {
		return reckoning{}
	}
	basis, _ := optics.ParseBasis(by)
	match := optics.Match(focal.Value, frameOf(from), frameOf(to), basis)
	crop := focal.Value / match
	fromCrop, toCrop := optics.Crop(frameOf(from), basis), optics.Crop(frameOf(to), basis)
	return reckoning{
		title: "Matching focal length",
		data: matchData{
			reckonHeader: reckonHeaderOf("match"), Focal: in(match, "mm"), Crop: number(crop), By: by,
			FromCrop: number(fromCrop), ToCrop: number(toCrop),
		},
		given: func(p lang.Printer) []pair {
			return []pair{
				{name: "focal length", value: p.Quantity(focal.Value, "mm") + " on " + sizeText(p, frameOf(from))},
				{name: "wanted on", value: sizeText(p, frameOf(to))},
				{name: "matched by", value: by},
			}
		},
		result: func(p lang.Printer) []pair {
			return []pair{
				{name: "same field with", value: p.Quantity(match, "mm"), tone: toneStrong},
				{name: "crop between them", value: p.Quantity(crop, "")},
				{name: "against full frame", value: p.Quantity(fromCrop, "") + " and " + p.Quantity(toCrop, "") + " are their crop factors"},
			}
		},
		formula: "f₂ = f₁·d₂/d₁, with d the " + by + " of each frame; crop = d₁/d₂",
		source:  "geometry: equal angles of view; 43.27 mm is the diagonal of full frame",
	}
}
