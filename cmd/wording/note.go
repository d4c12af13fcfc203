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
	stops := func(x float64) string { return p.Quantity(x, "stops") }
	switch n := n.(type) {
	case floor.SteeredRing:
		return "The ring of this lens only steers a motor and its marks do not hold: focus on a target at the focus mark, switch the motor off, and check again after every power cut."
	case floor.Lost:
		words := map[floor.Lane][2]string{floor.FramingLane: {"tight", "loose"}, floor.FocusLane: {"soft", "soft"}}[n.Lane]
		return fmt.Sprintf("%s %s.", lang.Capital(n.Lane.String()), lostOver(&n.Way, n.Lane, &n.Stretch, words, p))
	case floor.DepthUnknown:
		return "How deep it is sharp so close by is not known: the catalogue lacks the magnification of this lens. Judge it on the monitor, and stop down until it holds."
	case floor.PullerHelps:
		return fmt.Sprintf("One mark for the whole move takes %s and ISO %.0f: with somebody on focus the iris could open and the ISO come down.", p.Quantity(n.Stop, "f/"), n.ISO)
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
		at := "at"
		if n.Highest {
			at = "even at"
		}
		text := fmt.Sprintf("Too dark by %s %s ISO %.0f: bring the light up to %s", stops(n.Short), at, n.ISO, p.Quantity(n.Needed, "lx"))
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
	switch out := WhyOut(j, p); {
	case len(out) > 0:
		return fmt.Sprintf("The nearest to it is %q: %s.", j.Lens, out[0])
	case j.Standing == engine.Undecided:
		return fmt.Sprintf("Too little is known of %q to say whether it does: find out its %s.", j.Lens, Unjudged(j.Unjudged()))
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
	nd := fmt.Sprintf("ND of %s", p.Quantity(n.Bring, "stops"))
	var remedies []string
	switch {
	case n.Lens.Thread.None:
		remedies = append(remedies, "use another lens, or a camera with "+nd+" built in")
	case !n.Lens.Thread.Known():
		remedies = append(remedies, "measure its thread and bring or hire "+nd)
	default:
		remedies = append(remedies, fmt.Sprintf("bring or hire %s, %s", nd, thread))
	}
	if n.Angle > 0 {
		remedies = append(remedies, fmt.Sprintf("narrow the shutter to %.0fdeg (1/%.0f s)", n.Angle*180/math.Pi, 1/n.Time))
	}
	return fmt.Sprintf("Too much light for %q by %s: %s. To mend it, %s.", n.Lens.Name.Value, p.Quantity(n.Left, "stops"), why, strings.Join(remedies, ", or "))
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
