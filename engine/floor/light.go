package floor

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/engine/why"
)

// lightNotes says which reading governs and why, what an estimate is worth, and what helps
// where light is missing or left over.
func lightNotes(r *engine.Recommendation, shot *brief.Shot, lens *catalog.Lens, j *engine.Judgement) []Note {
	if !shot.Metered() {
		return []Note{NoLight{}}
	}
	var notes []Note
	if len(shot.Readings) > 1 {
		byLight := func(a, b brief.Reading) int { return cmp.Compare(a.Lux, b.Lux) }
		darkest, brightest := slices.MinFunc(shot.Readings, byLight), slices.MaxFunc(shot.Readings, byLight)
		notes = append(notes, DarkestGoverns{Readings: len(shot.Readings), Darkest: darkest, Over: math.Log2(brightest.Lux / darkest.Lux)})
	}
	for _, r := range shot.Readings {
		if r.Sun != nil {
			notes = append(notes, FromSun{Reading: r})
		}
	}
	if short, iso := j.Fact(facts.Short), j.Fact(facts.ISO); short > saidShort {
		top := j.Fact(facts.TopISO)
		if above := short - math.Log2(top/iso); above > saidShort {
			short, iso = above, top
		}
		notes = append(notes, TooDark{
			Short: short, ISO: iso, Highest: iso == top,
			Needed: exposure.Lux(j.Fact(facts.TStop), iso, j.Fact(facts.ShutterTime)),
			Open:   helps(math.Log2(2*math.Pi/shot.Shutter), short),
			Wider:  helps(exposure.StopsBetween(j.Fact(facts.WidestStop), j.Fact(facts.Stop)), short),
		})
	}
	if j.TooBright() {
		notes = append(notes, tooBright(r, shot, lens, j))
	}
	return notes
}

// helps gives what of the stops that are short a remedy gives; 0 when that is next to nothing.
func helps(stops, short float64) float64 {
	if !(stops > 0.1) {
		return 0
	}
	return min(stops, short)
}

// mostShut is by how many stops the shutter may be narrowed before motion looks choppy (an
// assumption of this project).
const mostShut = 2.0

// saidShort is how many stops too little pass unsaid: what the steps of the ISO leave.
const saidShort = 1.0/5 + 1e-9

// NeededND gives how many stops too much light falls at the base ISO and the stop of a
// set-up; 0 when it is not too much, NaN when that is not known.
func NeededND(j *engine.Judgement) float64 {
	return max(0, math.Log2(j.Fact(facts.BaseISO)/j.Fact(facts.ISONeeded)))
}

// ndToBring gives the whole stops of the filter that is lacking where too much light is left:
// those with which the lens does the shot best. Where no thread takes one, or none is enough by
// itself, it is by how much the ISO would stand at its base, and the iris no smaller than where
// diffraction begins to show.
func ndToBring(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement) float64 {
	// In a free place, shot is another than the scenario's own.
	place := slices.IndexFunc(r.Scenario.Shots, func(of *brief.Shot) bool { return of.ID == shot.ID })
	if want := why.FilterFor(r.Table, place, r.Table.Place(j.Lens)); want != nil {
		return want.Stops
	}
	closed := math.Log2(j.Fact(facts.DiffractionShare) / smallStop)
	return max(math.Ceil(j.Fact(facts.Over)), math.Round(NeededND(j)+2*max(0, closed)))
}

// tooBright says what takes away the light that is left over.
func tooBright(r *engine.Recommendation, shot *brief.Shot, lens *catalog.Lens, j *engine.Judgement) TooBright {
	left := j.Fact(facts.Over)
	n := TooBright{Lens: lens, Left: left, On: j.Filtering.Put != nil, Bring: ndToBring(r, shot, j)}
	if left <= mostShut {
		n.Angle = shot.Shutter * math.Exp2(-left)
		n.Time = exposure.ShutterTime(n.Angle, shot.Rate)
	}
	return n
}
