package cmd

import (
	"slices"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/exposure"
	"glassbrief/engine/optics"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// flagRow is one flag of the calculations. The word between back quotes in its usage stands
// for the value in the help, and the shell offers the words.
type flagRow struct {
	usage string
	dim   lang.Dimension // of a flag that takes one quantity
	words []string
}

var reckonFlags = map[string]flagRow{
	"added":      {"`mass` that is fixed to it for the second drop, as 60g", lang.Mass, nil},
	"aperture":   {"`stop`, as f/4 or T2.8", lang.Aperture, []string{"f/1.4", "f/2", "f/2.8", "f/4", "f/5.6", "f/8", "f/11", "f/16"}},
	"background": {"`distance` from the lens to the background of an orbit, as 6m (default far away)", lang.Length, nil},
	"by":         {usage: "`side` that is matched: diagonal, width or height (default diagonal)", words: optics.BasisNames()},
	"confusion":  {"circle of confusion on the sensor as a `length`, as 0.025mm", lang.Length, []string{"0.025mm", "0.03mm"}},
	"deliver":    {usage: "delivered aspect `ratio`, as 2.39:1", words: []string{"2.39:1", "1.85:1", "16:9", "9:16", "1:1"}},
	"depth":      {"`distance` of that mass below the gimbal's axis, as 300mm", lang.Length, nil},
	"distance":   {"`distance` from the lens, as 2m or 6ft 6in", lang.Length, nil},
	"drop":       {"drop time from horizontal to vertical as a `time`, as 1.8s", lang.Time, nil},
	"first":      {"drop `time` of the sled as it is, as 2.1s", lang.Time, nil},
	"focal":      {"focal `length` as engraved, as 35mm", lang.Length, nil},
	"from":       {usage: "`size` of the frame that the focal length is known on, as \"36mm x 24mm\"", words: sensorSizes},
	"inertia":    {"moment of `inertia` about the gimbal's axis, as 1.5kgm2", lang.Inertia, nil},
	"infinity":   {usage: "focus at infinity"},
	"iso":        {"exposure index as a `number`, as 800", lang.Plain, []string{"100", "200", "400", "800", "1600", "3200"}},
	"light":      {"incident `light`, as 320lx, 30fc, EV7 or a named level such as office", lang.Illuminance, exposure.LevelNames()},
	"mass":       {"`mass` that swings, as 12kg", lang.Mass, nil},
	"offset":     {"`distance` of the centre of mass below the gimbal's axis, as 13mm", lang.Length, nil},
	"orbit":      {"`radius` of a circle walked around the subject, as 2m", lang.Length, nil},
	"projection": {usage: "`word` for how the lens draws: rectilinear, stereographic, equidistant, equisolid or orthographic", words: optics.Projections()},
	"range":      {usage: "distances from the lens that must be sharp as an `interval`, as 2m.. or 2m..4m"},
	"rate":       {"frame `rate`, as 25fps", lang.Rate, []string{"24fps", "25fps", "30fps", "50fps", "60fps"}},
	"second":     {"drop `time` with the added mass, as 1.7s", lang.Time, nil},
	"sensor":     {usage: "`size` of the sensor mode, as \"36mm x 24mm\"", words: sensorSizes},
	"shutter":    {"shutter as an `angle` or a time, as 180deg or 1/50s", lang.Angle, []string{"180deg", "172.8deg", "144deg", "90deg"}},
	"speed":      {"`speed` of the camera, or of the subject past it, as 1.4m/s", lang.Speed, nil},
	"squeeze":    {"anamorphic squeeze as a `number`, as 1.33", lang.Plain, []string{"1.33", "1.5", "1.8", "2"}},
	"to":         {usage: "`size` of the frame to match it on, as \"24.89mm x 18.67mm\"", words: sensorSizes},
	"watch":      {"`time` by which either drop may be off, as 0.05s (default 0.1s)", lang.Time, nil},
	"turn":       {"`speed` of a pan, as 4deg/s", lang.AngularSpeed, nil},
}

// sensorSizes are frame sizes of the common formats, for the shell to offer.
var sensorSizes = []string{
	"36mm x 24mm\tfull frame", "24.89mm x 18.67mm\tSuper 35, four perforations",
	"17.3mm x 13mm\tFour Thirds", "13.2mm x 8.8mm\tone-inch type", "12.52mm x 7.41mm\tSuper 16",
}

// reckon is the group of single calculations.
func (a *app) reckon() *cobra.Command {
	c := group("reckon", "one calculation, with its formula and source",
		`Each verb takes quantities with their units and prints one answer, the formula
and where it comes from. Distances run from the lens, not from the sensor.`,
		`  glassbrief reckon field --focal 24mm --sensor "36mm x 24mm" --distance 2m
  glassbrief reckon light --light 320lx --iso 800 --rate 25fps --shutter 180deg`)
	for _, calculation := range calculations {
		c.AddCommand(a.calculate(calculation))
	}
	return c
}

var calculations = []calculation{
	reckonField, reckonMatch, reckonLight, reckonPace, reckonBalance, reckonDrops, reckonFocus,
}

// A calculation is one verb of reckon.
type calculation struct {
	name, short, long, example string
	needs, takes               []string                 // the flags that must, and that may be given
	run                        func(*reading) reckoning // a reading that failed gives none
	extend                     func(*app, *cobra.Command)
}

// A reckoning is the outcome of a calculation. Its lines stand in the order in which programs
// read them.
type reckoning struct {
	kind, title     string
	given, result   []line
	formula, source string
	notes           []string
}

// A line is one value of a calculation: people read it under its label, and programs under
// its key. A line without a label or without a key is for the others alone.
type line struct {
	label    string
	text     string // what people read where the value alone does not say it
	tone     show.Tone
	key      string
	value    any  // a travel.Figure, a string or a bool
	optional bool // without a value, which is unknown or false, there is no key
}

// object gives what programs read, the header first.
func (o reckoning) object() travel.Object {
	all := travel.Object{{Key: "schema", Value: travel.HeaderOf("reckon-" + o.kind).Schema}, {Key: "kind", Value: o.kind}}
	for _, l := range slices.Concat(o.given, o.result) {
		if l.key != "" {
			all = append(all, travel.Member{Key: l.key, Value: l.value, Optional: l.optional})
		}
	}
	return all
}

func (a *app) calculate(c calculation) *cobra.Command {
	verb := &cobra.Command{
		Use: c.name, Short: c.short, Long: c.long, Example: c.example, Args: noArguments,
		RunE: func(verb *cobra.Command, _ []string) error {
			if err := a.loadSettings(""); err != nil {
				return err
			}
			outcome, err := c.of(&reading{flags: verb.Flags(), printer: a.printer()})
			if err != nil {
				return err
			}
			return a.show(outcome.view())
		},
	}
	verb.Flags().SortFlags = false
	for _, name := range slices.Concat(c.needs, c.takes) {
		flag := reckonFlags[name]
		if name == "infinity" {
			verb.Flags().Bool(name, false, flag.usage)
			continue
		}
		verb.Flags().String(name, "", flag.usage)
		if flag.words != nil {
			complete(verb, name, flag.words)
		}
	}
	if c.extend != nil {
		c.extend(a, verb)
	}
	return verb
}

// of runs the calculation on what the flags say.
func (c calculation) of(r *reading) (reckoning, error) {
	r.need(c.needs...)
	outcome := c.run(r)
	outcome.kind = c.name
	if r.failed() {
		return reckoning{}, r.found
	}
	return outcome, nil
}

func (o reckoning) view() view {
	return view{data: o.object(), rows: rowsOf([]travel.Object{o.object()}), page: func(p lang.Printer) show.Page {
		var out show.Page
		out.Heading(o.title)
		out.Pairs(spoken(o.given, p), spoken(o.result, p), []show.Pair{{Name: "formula", Value: o.formula}, {Name: "source", Value: o.source}})
		for _, note := range o.notes {
			out.Paragraph(note)
		}
		return out
	}}
}

// spoken gives the lines that people read.
func spoken(lines []line, p lang.Printer) []show.Pair {
	var pairs []show.Pair
	for _, l := range lines {
		if f, ok := l.value.(travel.Figure); ok && l.text == "" {
			l.text = p.Quantity(f.SI, f.Unit)
		}
		if l.label != "" {
			pairs = append(pairs, show.Pair{Name: l.label, Value: l.text, Tone: l.tone})
		}
	}
	return pairs
}
