package floor

import (
	"fmt"
	"math"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// lightNotes says which reading governs and why, what an estimate is worth, and what is
// missing when the light is less than the highest ISO reaches.
func lightNotes(shot *brief.Shot, j *engine.Judgement, p lang.Printer) []string {
	var notes []string
	if math.IsNaN(shot.Light) {
		return []string{"The brief gives no light: meter it on the day, and set ISO and ND by it (\"glassbrief reckon light\")."}
	}
	if len(shot.Readings) > 1 {
		notes = append(notes, governing(shot, p))
	}
	for _, r := range shot.Readings {
		if r.Sun != nil {
			notes = append(notes, daylight(r, p))
		}
	}
	if short := j.Fact(facts.Short); short > 0 {
		notes = append(notes, tooDark(shot, j, short, p))
	}
	return notes
}

// governing names the darkest place, for which the exposure is set, and how much brighter
// the brightest is.
func governing(shot *brief.Shot, p lang.Printer) string {
	darkest, brightest := shot.Readings[0], shot.Readings[0]
	for _, r := range shot.Readings[1:] {
		if r.Lux < darkest.Lux {
			darkest = r
		}
		if r.Lux > brightest.Lux {
			brightest = r
		}
	}
	return fmt.Sprintf("Of %d readings the darkest governs, %s (%s): all else must be exposed for it too. The brightest is %s over it; ride the iris, or let it go.",
		len(shot.Readings), darkest.Text, p.Quantity(darkest.Lux, "lx"), p.Quantity(math.Log2(brightest.Lux/darkest.Lux), "stops"))
}

func daylight(r brief.Reading, p lang.Printer) string {
	const degree = math.Pi / 180
	return fmt.Sprintf("The sun stands %.0f deg high in the direction %.0f deg from north over east, sky %s: %s is an estimate, good to about one stop. Meter it on the day.",
		r.Sun.Altitude/degree, r.Sun.Azimuth/degree, r.Sun.Sky, p.Quantity(r.Lux, "lx"))
}

// tooDark says how much light is missing and what would make it good.
func tooDark(shot *brief.Shot, j *engine.Judgement, short float64, p lang.Printer) string {
	needed := exposure.Lux(j.Fact(facts.TStop), j.Fact(facts.TopISO), j.Fact(facts.ShutterTime))
	text := fmt.Sprintf("Too dark by %s even at ISO %.0f: bring the light up to %s", p.Quantity(short, "stops"), j.Fact(facts.TopISO), p.Quantity(needed, "lx"))
	if open := math.Log2(2 * math.Pi / shot.Shutter); open > 0.1 {
		text += fmt.Sprintf(", or open the shutter to 360deg for %s", p.Quantity(min(open, short), "stops"))
	}
	if wider := exposure.StopsBetween(j.Fact(facts.WidestStop), j.Fact(facts.Stop)); wider > 0.1 {
		text += fmt.Sprintf(", or pull focus instead of fixing it, which frees up to %s of iris", p.Quantity(min(wider, short), "stops"))
	}
	return text + "."
}
