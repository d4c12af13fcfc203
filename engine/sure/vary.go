package sure

import (
	"math"

	"glassbrief/engine/brief"
	"glassbrief/engine/kit"
)

// An Input is a figure of a shot that may turn out otherwise.
type Input uint8

const (
	Distance Input = iota // of the subject, nearest and farthest alike
	Light
	Subject // its size
	Weight
	inputs // how many there are
)

// String names the input as a scenario does.
func (i Input) String() string {
	return [inputs]string{"distance", "light", "subject", "weight"}[i]
}

// tolerance gives how far the input may vary: a share, or stops for light.
func (i Input) tolerance(t brief.Tolerances) float64 {
	return [inputs]float64{t.Distance, t.Light, t.Subject, t.Weight}[i]
}

// varied changes one figure of a shot by a share, or by stops for light.
func varied(shot *brief.Shot, input Input, by float64) {
	switch input {
	case Distance:
		shot.Place(shot.Near*(1+by), shot.Far*(1+by))
	case Light:
		shot.Light *= math.Exp2(by)
	case Subject:
		shot.Subject.Width.Value *= 1 + by
		shot.Subject.Height.Value *= 1 + by
	case Weight:
		shot.Weight = min(shot.Weight*(1+by), kit.MaxWeight)
	}
}
