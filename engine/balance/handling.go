package balance

import "math"

// LiftLimit gives the mass, in kg, that is recommended at most for a single two-handed
// lift: 23 kg, less the farther the hands are in front of the ankles, the farther they
// start from 75 cm above the floor, and the farther they travel upwards. All in metres:
// reach above 0, height from 0 to 1.75, travel not negative. It is 0 beyond a reach of
// 63 cm or a travel of 1.75 m.
//
// It covers lifting, not holding: for a held rig it is an analogy and no more. Twisting,
// repetition and grip, which lower it further, are left out.
//
// Source: NIOSH lifting equation of 1991. Of the ends of its ranges only that of the height was read.
func LiftLimit(reach, height, travel float64) float64 {
	const (
		constant   = 23
		idealReach = 0.25
		longReach  = 0.63
		idealStart = 0.75
		farTravel  = 1.75
		nearTravel = 0.25
	)
	switch {
	case !(reach > 0 && height >= 0 && height <= farTravel && travel >= 0):
		return math.NaN()
	case reach > longReach || travel > farTravel:
		return 0
	}
	horizontal := min(1, idealReach/reach)
	vertical := 1 - 0.3*math.Abs(height-idealStart)
	distance := min(1, 0.82+0.045/max(travel, nearTravel))
	return constant * horizontal * vertical * distance
}

// A Zone is a height at which hands hold a load.
type Zone uint8

const (
	AboveShoulder   Zone = iota
	ShoulderToElbow      // where a rig is held before the chest
	ElbowToKnuckle
	KnuckleToShin
)

var zoneNames = [...]string{"above shoulder", "shoulder to elbow", "elbow to knuckle", "knuckle to mid lower leg"}

// ParseZone gives the zone of a name, and whether there is one.
func ParseZone(name string) (Zone, bool) {
	for i, known := range zoneNames {
		if known == name {
			return Zone(i), true
		}
	}
	return 0, false
}

// GuidelineMass gives the mass, in kg, below which a lift by a man needs no closer look,
// close to the body or at arm's length. For women the guideline is lower.
//
// It is for lifting, up to about 30 times an hour, and for carrying against the body over
// about 10 m without rest; it says nothing of holding a load out. NaN for no zone.
//
// Source: HSE guidance on manual handling, lifting and carrying filter.
func GuidelineMass(zone Zone, atArmsLength bool) float64 {
	masses := [...][2]float64{{10, 5}, {20, 10}, {25, 15}, {20, 10}}
	if int(zone) >= len(masses) {
		return math.NaN()
	}
	if atArmsLength {
		return masses[zone][1]
	}
	return masses[zone][0]
}
