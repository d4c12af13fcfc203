package cmd

import (
	"glassbrief/engine/exposure"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// reckonFlags lists the flags of the calculations: what each gives, with the words for
// the shell to offer. The word between back quotes stands for the value in the help.
var reckonFlags = map[string]struct {
	usage string
	words []string
}{
	"added":      {"`mass` that is fixed to it for the second drop, as 60g", nil},
	"aperture":   {"`stop`, as f/4 or T2.8", []string{"f/1.4", "f/2", "f/2.8", "f/4", "f/5.6", "f/8", "f/11", "f/16"}},
	"by":         {"`side` that is matched: diagonal, width or height (default diagonal)", basisNames},
	"confusion":  {"circle of confusion on the sensor as a `length`, as 0.025mm", []string{"0.025mm", "0.03mm"}},
	"deliver":    {"delivered aspect `ratio`, as 2.39:1", []string{"2.39:1", "1.85:1", "16:9", "9:16", "1:1"}},
	"depth":      {"`distance` of that mass below the gimbal's axis, as 300mm", nil},
	"distance":   {"`distance` from the lens, as 2m or 6ft 6in", nil},
	"drop":       {"drop time from horizontal to vertical as a `time`, as 1.8s", nil},
	"first":      {"drop `time` of the sled as it is, as 2.1s", nil},
	"focal":      {"focal `length` as engraved, as 35mm", nil},
	"from":       {"`size` of the frame that the focal length is known on, as \"36mm x 24mm\"", sensorSizes},
	"inertia":    {"moment of `inertia` about the gimbal's axis, as 1.5kgm2", nil},
	"infinity":   {"focus at infinity", nil},
	"iso":        {"exposure index as a `number`, as 800", []string{"100", "200", "400", "800", "1600", "3200"}},
	"light":      {"incident `light`, as 320lx, 30fc, EV7 or a named level such as office", nil},
	"mass":       {"`mass` that swings, as 12kg", nil},
	"offset":     {"`distance` of the centre of mass below the gimbal's axis, as 13mm", nil},
	"orbit":      {"`radius` of a circle walked around the subject, as 2m", nil},
	"projection": {"`word` for how the lens draws: rectilinear, stereographic, equidistant, equisolid or orthographic", projections},
	"range":      {"distances from the lens that must be sharp as an `interval`, as 2m.. or 2m..4m", nil},
	"rate":       {"frame `rate`, as 25fps", []string{"24fps", "25fps", "30fps", "50fps", "60fps"}},
	"second":     {"drop `time` with the added mass, as 1.7s", nil},
	"sensor":     {"`size` of the sensor mode, as \"36mm x 24mm\"", sensorSizes},
	"shutter":    {"shutter as an `angle` or a time, as 180deg or 1/50s", []string{"180deg", "172.8deg", "144deg", "90deg"}},
	"speed":      {"`speed` of the camera, or of the subject past it, as 1.4m/s", nil},
	"squeeze":    {"anamorphic squeeze as a `number`, as 1.33", []string{"1.33", "1.5", "1.8", "2"}},
	"to":         {"`size` of the frame to match it on, as \"24.89mm x 18.67mm\"", sensorSizes},
	"turn":       {"`speed` of a pan, as 4deg/s", nil},
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
	for _, calculation := range []calculation{
		reckonField, reckonMatch, reckonLight, reckonPace, reckonBalance, reckonDrops,
	} {
		c.AddCommand(a.calculate(calculation))
	}
	c.AddCommand(a.focus())
	return c
}

// A calculation is one verb of reckon.
type calculation struct {
	name, short, long, example string
	flags                      []string
	run                        func(*reading) reckoning // a reading that failed gives none
}

// A reckoning is the outcome of a calculation.
type reckoning struct {
	title   string
	data    any                         // begins with a reckonHeader
	given   func(p lang.Printer) []pair // nil when the result shows what was given too
	result  func(p lang.Printer) []pair
	formula string
	source  string
	notes   []string
}

type reckonHeader struct {
	header
	Kind string `json:"kind"`
}

func reckonHeaderOf(kind string) reckonHeader { return reckonHeader{headerOf("reckon"), kind} }

func (a *app) calculate(c calculation) *cobra.Command {
	verb := &cobra.Command{
		Use: c.name, Short: c.short, Long: c.long, Example: c.example, Args: noArguments,
		RunE: func(verb *cobra.Command, _ []string) error {
			if err := a.loadSettings(""); err != nil {
				return err
			}
			r := &reading{flags: verb.Flags()}
			outcome := c.run(r)
			if r.failed() {
				return r.found
			}
			return a.show(outcome.view())
		},
	}
	verb.Flags().SortFlags = false
	for _, name := range c.flags {
		flag := reckonFlags[name]
		if name == "infinity" {
			verb.Flags().Bool(name, false, flag.usage)
			continue
		}
		verb.Flags().String(name, "", flag.usage)
		switch words := flag.words; {
		case name == "light":
			complete(verb, name, exposure.LevelNames())
		case words != nil:
			complete(verb, name, words)
		}
	}
	return verb
}

func (r reckoning) view() view {
	return view{data: r.data, rows: []any{r.data}, page: func(p lang.Printer) page {
		var out page
		out.heading(r.title)
		var given []pair
		if r.given != nil {
			given = r.given(p)
		}
		out.pairs(given, r.result(p), []pair{{name: "formula", value: r.formula}, {name: "source", value: r.source}})
		for _, note := range r.notes {
			out.paragraph(note)
		}
		return out
	}}
}
