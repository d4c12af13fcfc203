package cmd

import (
	"fmt"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/exposure"
	"glassbrief/lang"
)

var reckonLight = calculation{
	name:  "light",
	short: "the stop, ISO or light that the other two ask for",
	long: `Give two of --light, --iso and --aperture, and read the third. The light is
what falls on the subject. The stop is a T-number: a lens that loses light needs
it on its T scale.`,
	example: `  glassbrief reckon light --light 320lx --iso 800 --rate 25fps --shutter 180deg
  glassbrief reckon light --light office --aperture T2.8 --shutter 1/50s
  glassbrief reckon light --aperture T2 --iso 1600 --shutter 1/50s`,
	takes: []string{"light", "iso", "aperture", "rate", "shutter"},
	run:   lightOf,
}

func lightOf(r *reading) reckoning {
	p, level := r.printer, r.light()
	iso, stop := r.quantity("iso"), r.quantity("aperture")
	shutter := r.shutter("", "")
	solved := r.left("light", "iso", "aperture")
	if r.failed() {
		return reckoning{}
	}
	lux, n, index, t := level.lux.Value, stop.Value, iso.Value, shutter.time
	switch solved {
	case "aperture":
		n = exposure.Stop(lux, index, t)
	case "iso":
		index = exposure.ISO(lux, n, t)
	case "light":
		solved, lux = "illuminance", exposure.Lux(n, index, t)
	}
	ev := exposure.EV(lux)
	lines := map[string]*line{
		"aperture":    {label: "stop", key: "aperture", value: travel.FigureOf(n, "T")},
		"iso":         {label: "ISO", text: fmt.Sprintf("%.0f", index), key: "iso", value: travel.FigureOf(index, "")},
		"illuminance": {label: "light", text: p.Quantity(lux, "lx") + ", " + p.Quantity(ev, "EV") + " at ISO 100", key: "illuminance_lx", value: travel.FigureOf(lux, "lx")},
	}
	lines[solved].tone = show.Strong
	switch solved {
	case "aperture":
		lines[solved].text = markedStop(p, exposure.Marked(n), n, "T")
	case "iso":
		lines[solved].text = fmt.Sprintf("%.0f (exactly %.3g)", exposure.MarkedISO(index), index)
	}
	if level.name != "" {
		lines["illuminance"].text += " (" + level.name + ")"
	}
	outcome := reckoning{
		title: "Exposure",
		given: []line{{label: "shutter", text: shutter.text(p)}},
		result: []line{
			{key: "solved", value: solved}, *lines["aperture"], *lines["iso"], *lines["illuminance"],
			{key: "ev100", value: travel.FigureOf(ev, "EV")}, {key: "shutter_s", value: travel.FigureOf(t, "s")},
		},
		formula: "T² = E·S·t/C with C = 250; E = 2.5·2^EV lx",
		source:  "incident-light equation of ISO 2720, which permits C from 240 to 400",
	}
	if level.source != "" {
		outcome.notes = append(outcome.notes, "Named levels are classes, good to about a stop. This one: "+level.source+".")
	}
	if stop.Unit == "f/" {
		outcome.notes = append(outcome.notes, "The f-number is taken for the T-number: a lens that loses light passes less than this.")
	}
	return outcome
}

// lightLevel is an amount of light, and the name it was given by, if it was.
type lightLevel struct {
	lux          lang.Quantity
	name, source string
}

// light takes an amount of light, or the name of a level: a text without digits.
func (r *reading) light() lightLevel {
	name := r.text("light")
	if !r.given("light") || strings.ContainsAny(name, "0123456789") {
		return lightLevel{lux: r.quantity("light")}
	}
	level, ok := exposure.NamedLevel(name)
	if !ok {
		names := exposure.LevelNames()
		r.complain(usage(lang.UnknownName, "the level of light %q is not known", name).
			or(lang.Nearest(name, names)).because("The levels are %s; or write an amount like \"320lx\".", lang.Quoted(names)).at(r.span("light")))
	}
	return lightLevel{lux: lang.NewQuantity(level.Lux, lang.Illuminance), name: name, source: level.Source}
}

// left gives the one of some flags that is not given, or reports that one too many or
// too few is.
func (r *reading) left(flags ...string) string {
	var missing []string
	for _, flag := range flags {
		if !r.given(flag) {
			missing = append(missing, flag)
		}
	}
	switch {
	case len(missing) == 1:
		return missing[0]
	case len(missing) == 0:
		r.complain(usage(lang.Contradiction, "nothing is left to solve for").
			because("Give all but one of %s.", flagList(flags)))
	default:
		r.complain(usage(lang.MissingValue, "too little is given to solve for anything").
			because("Give all but one of %s.", flagList(flags)))
	}
	return ""
}
