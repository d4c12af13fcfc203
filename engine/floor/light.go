package floor

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
)

// lightNotes says which reading governs and why, what an estimate is worth, and what is
// missing when the light is less than the highest ISO reaches.
func lightNotes(shot *brief.Shot, j *engine.Judgement) []Note {
	if math.IsNaN(shot.Light) {
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
	if short := j.Fact(facts.Short); short > 0 {
		notes = append(notes, TooDark{
			Short: short, ISO: j.Fact(facts.TopISO),
			Needed: exposure.Lux(j.Fact(facts.TStop), j.Fact(facts.TopISO), j.Fact(facts.ShutterTime)),
			Open:   helps(math.Log2(2*math.Pi/shot.Shutter), short),
			Wider:  helps(exposure.StopsBetween(j.Fact(facts.WidestStop), j.Fact(facts.Stop)), short),
		})
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
