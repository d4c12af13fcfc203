package facts

import (
	"math"

	"glassbrief/engine/exposure"
	"glassbrief/engine/optics"
)

// The set-up of a shot is solved and not guessed. Focus comes first: the widest marked
// stop that holds what must be sharp. Light comes second: ISO from the base up, then ND
// when there is too much, and what is missing, in stops, when the highest ISO is not
// enough.

// fillFocus solves stop and mark, and gives the mark as a distance from the lens. near and
// far are the distances of the subject from the lens, which as a rule are those of focus too.
func fillFocus(r *Record, near, far float64, marks bool) (mark float64) {
	focal, confusion := r.Value[FocalLength], r.Value[Confusion]
	if from := r.Value[FocusNear]; from != r.Value[SubjectNear] {
		near = LensDistance(focal, from)
	}
	if from := r.Value[FocusFar]; from != r.Value[SubjectFar] {
		far = LensDistance(focal, from)
	}
	needed := optics.StopFor(focal, confusion, near, far)
	r.Value[NeededStop] = needed
	stop := stopToSet(needed, r.Value[WidestStop], r.Value[SmallestStop])
	r.Value[Stop] = stop
	mark = optics.FocusMark(near, far)
	sharpNear, sharpFar := optics.Limits(focal, stop, confusion, mark)
	r.Value[FocusHeld] = focusHeld(near, far, sharpNear, sharpFar)
	if marks {
		r.Value[FocusMark] = optics.SensorDistance(focal, mark)
		r.Value[NearLimit] = optics.SensorDistance(focal, sharpNear)
		r.Value[FarLimit] = optics.SensorDistance(focal, sharpFar)
		r.Value[Hyperfocal] = optics.Hyperfocal(focal, stop, confusion)
	}
	return mark
}

// stopToSet gives the needed stop, to the next marked third, within the lens's range. An
// unknown end of the range does not limit; without a widest stop nothing can be set.
func stopToSet(needed, widest, smallest float64) float64 {
	if needed <= widest {
		return widest
	}
	if math.IsNaN(widest) {
		return widest
	}
	if needed > smallest {
		return smallest
	}
	stop := exposure.NextMarked(needed)
	if stop > smallest {
		return smallest
	}
	return stop
}

// focusHeld is the share of near..far that is sharp; a single plane is sharp or not.
func focusHeld(near, far, sharpNear, sharpFar float64) float64 {
	if math.IsNaN(sharpNear) {
		return math.NaN()
	}
	if near == far {
		if sharpNear <= near && far <= sharpFar {
			return 1
		}
		return 0
	}
	return clamp01((min(far, sharpFar) - max(near, sharpNear)) / (far - near))
}

// fillExposure solves ISO and ND at the stop. A third of a stop is the finest step of
// either; what lies below it is rounding.
func fillExposure(r *Record, density bool) {
	t := r.Value[Stop] * r.Value[WidestT] / r.Value[WidestStop]
	r.Value[TStop] = t
	needed := exposure.ISO(r.Value[Light], t, r.Value[ShutterTime])
	base, top := r.Value[BaseISO], r.Value[TopISO]
	iso, nd, short := needed+base+top, 0.0, 0.0 // NaN unless all three are known
	switch {
	case needed <= base:
		iso = base
		if density {
			nd = thirds(math.Log2(base / needed))
		}
	case needed > top:
		iso, short = top, thirds(math.Log2(needed/top))
	case needed > base:
		iso = min(top, exposure.MarkedISO(needed))
	}
	r.Value[ISO] = iso
	r.Value[ND] = nd + 0*iso
	r.Value[Short] = short + 0*iso
}

func thirds(stops float64) float64 { return math.Round(stops*3) / 3 }
