package people

import (
	"fmt"
	"math"
	"slices"
)

// A Figure is one row of the table.
type Figure struct {
	Name    string
	Value   float64 // the mean, in SI units
	Spread  float64 // one standard deviation between persons; NaN where it is not published
	Persons int     // that were measured; 0 where the source does not say, and for an assumption
	// Low and High are between what an assumption is taken to lie. For what is measured they are
	// two standard deviations either way.
	Low, High float64
	Unit      string // to show it in
	Source    string
	Moves     string // what it bears on, and for an assumption what its range moves

	men, women float64 // of a mean of the two, each; 0 for others
}

// Assumed reports whether no published figure was found.
func (f *Figure) Assumed() bool { return f.Source == "" }

// An ID is the place of a figure in the table.
type ID uint8

// Value gives the figure.
func (id ID) Value() float64 { return table[id].Value }

// Range gives two standard deviations either way of a measured figure, and the range of an
// assumption.
func (id ID) Range() (low, high float64) { return table[id].Low, table[id].High }

// Figures gives the whole table, in a new slice.
func Figures() []Figure {
	all := slices.Clone(table[:])
	for i := range all {
		if f := &all[i]; f.men > 0 {
			f.Source = fmt.Sprintf("%s; men %.4g %%, women %.4g %%", f.Source, 100*f.men, 100*f.women)
		}
	}
	return all
}

// The figures.
const (
	WalkBob ID = iota
	FastestWalk
	WalkSway
	WalkSwayFalls
	SwayOfShoulders
	RunBob
	SwayDepth
	SwayAcross

	Stature
	StatureOfWomen
	ShoulderBreadth
	ShoulderBreadthOfWomen
	HipBreadth
	ElbowBreadth
	HeadLength
	HeadLengthOfWomen
	Eye // the landmarks, from the top down
	Chin
	Shoulder
	Chest
	Elbow
	Navel
	Hip
	Crotch
	Knee
	Ankle

	StairsBob
	RunSway
	StairsSway
	WalkUnrest
	StairsUnrest
	RunUnrest
	ElbowsLifted
	NoseProtrusion
	figures
)

const (
	walkers  = "derived from walking trials of open data: biomechanics teaching set (CC BY 4.0), musculoskeletal model library, \"An elaborate data set on human gait and the effect of mechanical perturbations\", 2015 (CC0)"
	runners  = "running mechanics of older and young adults, Journal of Experimental Biology, tables 4 and 5; young adults, runners or not"
	stances  = "derived from \"A public data set of human balance evaluations\", 2016 (CC BY 4.0)"
	survey   = "\"2012 Anthropometric Survey of U.S. Army Personnel\", public data file"
	handbook = "\"Biomechanics and Motor Control of Human Movement\", 2009, table of segment lengths"
)

var unpublished = math.NaN()

// table holds the figures. Of an assumption only the range and its middle or usual value are
// known; of what is measured the range follows from the spread.
var table = ranged([figures]Figure{
	WalkBob: {
		Name: "rise and fall of a walk at 1 m/s, in proportion to the speed", Unit: "mm",
		Value: 0.0314, Spread: 0.0078, Persons: 5, Source: walkers,
		Moves: "steadiness: bob; from 0.8 m/s on the spread is that at any speed",
	},
	FastestWalk: {
		Name: "fastest walk, from which on people run", Unit: "m/s",
		Value: 2.0, Spread: unpublished, Source: "study of the preferred transition cadence, 2021",
		Moves: "steadiness: above it bob and swing of a walk rise no more",
	},
	WalkSway: {
		Name: "sway of the pelvis to the sides in a walk at 1 m/s", Unit: "mm",
		Value: 0.063, Spread: 0.007, Persons: 5, Source: walkers,
		Moves: "steadiness: sway, once where the bob comes twice",
	},
	WalkSwayFalls: {
		Name: "by how much that sway falls with each m/s, from 0.8 m/s to 1.5 m/s", Unit: "mm",
		Value: 0.050, Spread: unpublished, Persons: 5, Source: walkers,
		Moves: "steadiness: sway; below and above it is taken to stay",
	},
	SwayOfShoulders: {
		Name:  "sway of the shoulders, where a rig hangs, as many times that of the pelvis",
		Value: 1.3, Spread: 0.2, Persons: 3, Source: walkers,
		Moves: "steadiness: sway",
	},
	RunBob: {
		Name: "rise and fall of a run", Unit: "mm",
		Value: 0.090, Spread: 0.013, Persons: 19, Source: runners,
		Moves: "steadiness: bob; no trend with speed from 2.7 m/s to 4 m/s",
	},
	SwayDepth: {
		Name: "sway fore and aft of who stands for a minute", Unit: "mm",
		Value: 0.0220, Spread: 0.0108, Persons: 16, Source: stances,
		Moves: "depth of field: the focus must hold what 95 % of people stay below, 44 mm",
	},
	SwayAcross: {
		Name: "sway to the sides of who stands for a minute", Unit: "mm",
		Value: 0.0133, Spread: 0.0065, Persons: 16, Source: stances,
		Moves: "nothing: slower than one in two seconds, it is a drift that is framed out",
	},

	Stature: {
		Name: "stature of men", Unit: "m",
		Value: 1.7562, Spread: 0.0686, Persons: 4082, Source: survey, Moves: "face stretch: the head grows with the stature",
	},
	StatureOfWomen: {
		Name: "stature of women", Unit: "m",
		Value: 1.6285, Spread: 0.0642, Persons: 1986, Source: survey, Moves: "nothing: stands beside that of men",
	},
	ShoulderBreadth: {
		Name: "breadth over the upper arms as a share of stature, men", Unit: "%",
		Value: 0.2909, Spread: 0.0184, Persons: 4082, Source: survey,
		Moves: "width of a person, for whom the broader of both sexes is taken",
	},
	ShoulderBreadthOfWomen: {
		Name: "breadth over the upper arms as a share of stature, women", Unit: "%",
		Value: 0.2767, Spread: 0.0171, Persons: 1986, Source: survey,
		Moves: "nothing: a woman is 5 % narrower than a person is taken to be",
	},
	HipBreadth: {
		Name: "breadth of the hips as a share of stature, men", Unit: "%",
		Value: 0.1970, Spread: 0.0129, Persons: 4082, Source: survey, Moves: "the drawn person; women 21.7 %",
	},
	ElbowBreadth: {
		Name: "forearm to forearm, elbows at the sides, of which 95 % of men are narrower", Unit: "mm",
		Value: 0.667, Spread: unpublished, Persons: 4082, Source: survey + "; mean 580 mm, spread 51 mm; 99 % are below 700 mm; of women 95 % below 564 mm",
		Moves: "room that an operator needs in a passage",
	},
	HeadLength: {
		Name: "head from brow to back, men", Unit: "mm",
		Value: 0.1995, Spread: 0.0070, Persons: 4082, Source: survey, Moves: "face stretch",
	},
	HeadLengthOfWomen: {
		Name: "head from brow to back, women", Unit: "mm",
		Value: 0.1898, Spread: 0.0074, Persons: 1986, Source: survey, Moves: "nothing: for her stature a woman's is 3 % longer, which moves a face stretch of 30 % by 0.8 points",
	},

	// The handbook agrees with the survey on eye and shoulder, and not on chest and knee.
	Eye:      landmark("eye", 0.936, 0.0050, handbook+"; "+survey+": men 93.52 %, women 93.31 %"),
	Chin:     landmark("chin", 0.870, unpublished, handbook),
	Shoulder: landmark("shoulder", 0.818, 0.0096, handbook+"; "+survey+": men 82.03 %, women 81.98 %"),
	Chest:    between("chest", 0.7351, 0.7194, 0.0140),
	Elbow:    landmark("elbow", 0.630, unpublished, handbook),
	Navel:    between("navel", 0.6014, 0.6017, 0.0135),
	Hip:      landmark("hip", 0.530, unpublished, handbook),
	Crotch:   between("crotch", 0.4815, 0.4802, 0.0151),
	Knee:     between("knee", 0.2780, 0.2756, 0.0092),
	Ankle:    landmark("ankle", 0.039, unpublished, handbook),

	StairsBob: {
		Name: "rise and fall about a steady climb of stairs", Unit: "mm",
		Value: 0.060, Low: 0.016, High: 0.180,
		Moves: "steadiness on stairs: from that of a stroll to the whole riser",
	},
	RunSway: {
		Name: "sway to the sides in a run, at the shoulders", Unit: "mm",
		Value: 0.050, Low: 0.020, High: 0.080,
		Moves: "steadiness of a run: its bob is 90 mm and comes twice as often, so the range moves a step by 5 %",
	},
	StairsSway: {
		Name: "sway to the sides on stairs, at the shoulders", Unit: "mm",
		Value: 0.095, Low: 0.050, High: 0.140,
		Moves: "steadiness on stairs; taken as that of the slowest walk measured",
	},
	WalkUnrest: {
		Name:  "how many times more than held still a view swings in a walk of 1 m/s or more",
		Value: 2, Low: 1, High: 3, Moves: "steadiness and the limit of swing of a walk, in proportion",
	},
	StairsUnrest: {
		Name:  "how many times more than held still a view swings on stairs",
		Value: 2.5, Low: 1.5, High: 4, Moves: "steadiness and the limit of swing on stairs, in proportion",
	},
	RunUnrest: {
		Name:  "how many times more than held still a view swings in a run",
		Value: 3, Low: 2, High: 5, Moves: "steadiness and the limit of swing of a run, in proportion",
	},
	ElbowsLifted: {
		Name: "what lifted elbows and what they hold add to the breadth from forearm to forearm", Unit: "mm",
		Value: 0.020, Low: 0, High: 0.080, Moves: "room that an operator needs in a passage: up to 3 cm on each side; common practice has 65 cm to 75 cm in all",
	},
	NoseProtrusion: {
		Name: "how far the tip of the nose stands out from its base", Unit: "mm",
		Value: 0.021, Low: 0.018, High: 0.024, Moves: "face stretch: one of 30 % by 0.3 points",
	},
})

// landmark is the height of one on a person who stands, as a share of stature.
func landmark(name string, share, spread float64, source string) Figure {
	return Figure{
		Name: "height of the " + name + " as a share of stature", Unit: "%", Value: share, Spread: spread,
		Source: source, Moves: "what a drawn frame is said to show of a person",
	}
}

// between is a landmark of the survey, half between its men and its women.
func between(name string, men, women, spread float64) Figure {
	f := landmark(name, (men+women)/2, spread, survey)
	f.Persons, f.men, f.women = 4082+1986, men, women
	return f
}

// ranged puts in the ranges of what is measured.
func ranged(rows [figures]Figure) [figures]Figure {
	for i := range rows {
		f := &rows[i]
		if f.Assumed() {
			f.Spread = unpublished
			continue
		}
		f.Low, f.High = f.Value, f.Value
		if !math.IsNaN(f.Spread) {
			f.Low, f.High = f.Value-2*f.Spread, f.Value+2*f.Spread
		}
	}
	return rows
}
