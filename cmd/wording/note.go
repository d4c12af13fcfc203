package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// Notes says what else to know or do in a shot, or with a rig.
func Notes(notes []floor.Note, p lang.Printer) []string {
	var said []string
	for _, n := range notes {
		said = append(said, note(n, p))
	}
	return said
}

func note(n floor.Note, p lang.Printer) string {
	metres := func(x float64) string { return p.Quantity(x, "m") }
	stops := func(x float64) string { return p.Quantity(x, "stops") }
	switch n := n.(type) {
	case floor.SteeredRing:
		return "The ring of this lens only steers a motor and its marks do not hold: focus on a target at the focus mark, switch the motor off, and check again after every power cut."
	case floor.HoldsNowhere:
		return fmt.Sprintf("Focus and framing hold together nowhere: of the move over %s to %s, focus holds %s and framing %s.",
			metres(n.Near), metres(n.Far), p.Quantity(n.Focus, "%"), p.Quantity(n.Framing, "%"))
	case floor.FallsShort:
		var ends []string
		if n.Near < n.Walk.Near {
			ends = append(ends, fmt.Sprintf("nearer than %s breaks %s", metres(n.Walk.Near), strings.Join(n.Walk.NearBreaks, " and ")))
		}
		if n.Far > n.Walk.Far {
			ends = append(ends, fmt.Sprintf("beyond %s breaks %s", metres(n.Walk.Far), strings.Join(n.Walk.FarBreaks, " and ")))
		}
		return fmt.Sprintf("The move goes over %s to %s, farther than focus and framing hold: %s.", metres(n.Near), metres(n.Far), strings.Join(ends, ", "))
	case floor.NoLens:
		return "No lens of the kit does this shot."
	case floor.Nearest:
		return nearest(n.Judgement, p)
	case floor.NoLight:
		return "The brief gives no light: meter it on the day, and set ISO and ND by it (\"glassbrief reckon light\")."
	case floor.DarkestGoverns:
		return fmt.Sprintf("Of %d readings the darkest governs, %s (%s): all else must be exposed for it too. The brightest is %s over it; ride the iris, or let it go.",
			n.Readings, n.Darkest.Text, p.Quantity(n.Darkest.Lux, "lx"), stops(n.Over))
	case floor.FromSun:
		return fmt.Sprintf("The sun stands %.0f deg high in the direction %.0f deg from north over east, sky %s: %s is an estimate, good to about one stop. Meter it on the day.",
			n.Sun.Altitude*180/math.Pi, n.Sun.Azimuth*180/math.Pi, n.Sun.Sky, p.Quantity(n.Lux, "lx"))
	case floor.TooDark:
		text := fmt.Sprintf("Too dark by %s even at ISO %.0f: bring the light up to %s", stops(n.Short), n.ISO, p.Quantity(n.Needed, "lx"))
		if n.Open > 0 {
			text += ", or open the shutter to 360deg for " + stops(n.Open)
		}
		if n.Wider > 0 {
			text += fmt.Sprintf(", or pull focus instead of fixing it, which frees up to %s of iris", stops(n.Wider))
		}
		return text + "."
	case floor.TooBright:
		return tooBright(n, p)
	case floor.OffPayload:
		return offPayload(n, p)
	case floor.StageTooShort:
		wanted, way := math.Abs(n.Wanted), "forward"
		if n.Wanted < 0 {
			way = "back"
		}
		return fmt.Sprintf("The stage would have to shift %s and goes %s: bolt the camera %s farther %s for this lens.",
			p.Quantity(wanted, "mm"), p.Quantity(n.Travel, "mm"), p.Quantity(wanted-n.Travel, "mm"), way)
	case floor.Untrimmed:
		return untrimmed(n, p)
	}
	panic(fmt.Sprintf("no words for a %T", n))
}

// nearest says what stands against the lens that comes nearest to a shot.
func nearest(j *engine.Judgement, p lang.Printer) string {
	switch vetoes := j.Vetoes(); {
	case j.Refusal != "":
		return fmt.Sprintf("The nearest to it is %q: %s.", j.Lens, j.Refusal)
	case len(vetoes) > 0:
		return fmt.Sprintf("The nearest to it is %q: %s.", j.Lens, vetoes[0].In(p))
	case j.Standing == engine.Undecided:
		return fmt.Sprintf("Too little is known of %q to say whether it does: find out its %s.", j.Lens, strings.Join(j.Missing, ", "))
	}
	return fmt.Sprintf("%q would do it, and is not in the kit.", j.Lens)
}

// tooBright says why light is left over, and what takes it away.
func tooBright(n floor.TooBright, p lang.Printer) string {
	thread := p.Quantity(n.Lens.Thread.Diameter.OrNaN(), "mm")
	why := fmt.Sprintf("the ND filters of the catalogue that fit its %s thread take no more", thread)
	switch {
	case n.Lens.Thread.None:
		why = "it takes no screwed filter"
	case !n.Lens.Thread.Known():
		why = "its filter thread is not known"
	case !n.On:
		why = fmt.Sprintf("no ND filter of the catalogue fits its %s thread", thread)
	}
	remedy := "bring ND for a matte box or a camera's own"
	if n.Shutter > 0 {
		remedy += fmt.Sprintf(", or shut the shutter to 1/%.0f s", 1/n.Shutter)
	}
	if n.Stop > 0 {
		remedy += ", or stop down to " + p.Quantity(n.Stop, "f/") + ", which sharpens the background"
	}
	return fmt.Sprintf("Too much light for %q by %s: %s; %s.", n.Lens.Name.Value, p.Quantity(n.Left, "stops"), why, remedy)
}

func offPayload(n floor.OffPayload, p lang.Printer) string {
	kilos := func(x float64) string { return p.Quantity(x, "kg") }
	others := "another rig; the catalogue has none for it"
	if n.Others != nil {
		others = lang.Quoted(n.Others)
	}
	if n.Mass < n.Limit {
		return fmt.Sprintf("%q is too strong for this: it carries %s and is made for %s and more. Fix %s to the stage, or fly %s.",
			n.Rig, kilos(n.Mass), kilos(n.Limit), kilos(n.Limit-n.Mass), others)
	}
	return fmt.Sprintf("%q is overloaded: it carries %s and may carry %s. Take %s off, or fly %s.",
		n.Rig, kilos(n.Mass), kilos(n.Limit), kilos(n.Mass-n.Limit), others)
}

// untrimmed says why no plates and no post bring the drop time into the window.
func untrimmed(n floor.Untrimmed, p lang.Printer) string {
	seconds := func(x float64) string { return p.Quantity(x, "s") }
	wanted := seconds(n.Window.Low) + " to " + seconds(n.Window.High)
	switch {
	case math.IsNaN(n.Shortest) && n.Inverted:
		return "In low mode it tips over whatever is done: its base outweighs the camera. Put mass on the stage, or fly it upright."
	case math.IsNaN(n.Shortest):
		return "It tips over whatever is done: with all plates on and the post drawn out it is still top-heavy. Lighten what stands on the stage, or add mass to the base."
	case n.Longest < n.Window.Low:
		text := fmt.Sprintf("It drops in %s at the slowest, and %s is wanted: the base is too heavy for what it carries.", seconds(n.Longest), wanted)
		if n.Ballast > 0 {
			text += fmt.Sprintf(" Put %s on the stage, at the camera.", p.Quantity(n.Ballast, "g"))
		}
		return text
	case n.Shortest > n.Window.High:
		return fmt.Sprintf("It drops in %s at the quickest, and %s is wanted: it wants more mass at the base, or less on the stage.", seconds(n.Shortest), wanted)
	}
	return fmt.Sprintf("It can be made to drop in %s or in %s, but not in %s: try plates of another mass.", seconds(n.Shortest), seconds(n.Longest), wanted)
}
