package exposure

// A Level is a light that a published list puts a figure on.
type Level struct {
	Name   string
	Lux    float64
	Source string
}

const (
	exposureTable   = "encyclopaedia, \"Exposure value\", table 2"
	illuminanceList = "encyclopaedia, \"Orders of magnitude (illuminance)\""
	lightSheet      = "sheet of physical light units"
	luxList         = "list of lux levels"
)

// The lists disagree in places, so a name says which light is meant: night-street is the
// light that falls on the street, shop-window-street the exposure for lamps and windows
// in view, four stops above it. "overcast" follows the exposure table and the newer
// illuminance list; older lists give 1000 lx. A figure printed as a range is taken in its
// middle.
var levels = [...]Level{
	{"full-moon", 0.25, illuminanceList},
	{"civil-dusk", 3.4, luxList},
	{"night-street", 30, lightSheet},
	{"overcast-sunrise", 40, illuminanceList},
	{"living-room", 50, luxList},
	{"hallway", 80, luxList},
	{"dark-overcast", 100, luxList},
	{"bedroom", 225, lightSheet},
	{"office", 400, lightSheet},
	{"classroom", 400, lightSheet},
	{"sunrise", 400, illuminanceList},
	{"shop-window-street", Illuminance(7.5), exposureTable},
	{"bright-street", Illuminance(8), exposureTable},
	{"open-shade", Illuminance(12), exposureTable},
	{"overcast", Illuminance(12), exposureTable},
	{"clear-sky-shade", 20_000, illuminanceList},
	{"cloudy-bright", Illuminance(13), exposureTable},
	{"hazy-sun", Illuminance(14), exposureTable},
	{"sun", Illuminance(15), exposureTable},
	{"bright-sun", 110_000, illuminanceList},
}

// NamedLevel gives the level of a name, and whether there is one.
func NamedLevel(name string) (Level, bool) {
	for _, l := range levels {
		if l.Name == name {
			return l, true
		}
	}
	return Level{}, false
}

// LevelNames lists the names of the levels from dark to bright, in a new slice.
func LevelNames() []string {
	names := make([]string, len(levels))
	for i, l := range levels {
		names[i] = l.Name
	}
	return names
}
