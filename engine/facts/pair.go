package facts

import (
	"math"

	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
)

// FillPair writes the facts of [OfPair] that are wanted, from those of the other two
// scopes, which the record must hold already. Facts that are not wanted may be left as
// they are: this runs for every lens in every shot, and for a zoom at many focal lengths,
// while most rules read few facts. It writes values alone and marks the unknown ones in
// one go at the end.
func FillPair(r *Record, want *Set) {
	focal := r.Value[FocalLength]
	near, far := LensDistance(focal, r.Value[SubjectNear]), LensDistance(focal, r.Value[SubjectFar])
	fillFraming(r, near, far, want.Has(FramingDistance))
	mark := fillFocus(r, near, far, want.Meets(&focusMarks))
	fillExposure(r, want.Has(ND))
	fillLook(r)
	if want.Has(BackgroundBlur) {
		blur := optics.Blur(focal, r.Value[Stop], mark, LensDistance(focal, r.Value[BackgroundDistance]))
		r.Value[BackgroundBlur] = blur / r.Value[FrameWidth]
	}
	fillPace(r)
	r.markUnknown()
}

// focusMarks are the facts that only say where focus lies, and are not judged by.
var focusMarks = setOf(FocusMark, NearLimit, FarLimit, Hyperfocal)

func setOf(ids ...ID) (s Set) {
	for _, id := range ids {
		s.Add(id)
	}
	return s
}

// Every wants all facts.
var Every = Set{^uint64(0), ^uint64(0)}

// LensDistance turns a distance from the sensor plane into one from the lens. Nearer
// than four focal lengths no thin lens focuses; the closest pair of conjugates, 1:1,
// stands in, and the closest focus of the lens excludes it long before.
func LensDistance(focal, fromSensor float64) float64 {
	if fromSensor <= 4*focal {
		return 2 * focal
	}
	return optics.FromSensor(focal, fromSensor)
}

// Reach gives the distance beyond the focal length at which the subject just fills the
// frame, by height or by width, whichever is more. At a distance s from the lens it fills
// the share reach/(s-f).
func (r *Record) Reach() float64 {
	return max(r.Value[SubjectHeight]/r.Value[SpreadHeight], r.Value[SubjectWidth]/r.Value[SpreadWidth])
}

func fillFraming(r *Record, near, far float64, distance bool) {
	focal := r.Value[FocalLength]
	reach := r.Reach()
	atNear, atFar := reach/(near-focal), reach/(far-focal)
	wantNear := Band{r.Value[WantNearLow], r.Value[WantNearHigh]}
	wantFar := Band{r.Value[WantFarLow], r.Value[WantFarHigh]}
	r.Value[FillNear] = atNear
	r.Value[FillFar] = atFar
	r.Value[FieldNear] = r.Value[SpreadHeight] * (near - focal)
	r.Value[FieldFar] = r.Value[SpreadHeight] * (far - focal)
	r.Value[FramingError] = max(outside(atNear, wantNear), outside(atFar, wantFar)) - 1
	switch {
	case near == far:
		r.Value[FramingHeld] = 0
		if outside(atNear, wantNear) == 1 {
			r.Value[FramingHeld] = 1
		}
	case wantNear == wantFar:
		from, to := focal+reach/wantNear.High, focal+reach/wantNear.Low
		r.Value[FramingHeld] = clamp01((min(to, far) - max(from, near)) / (far - near))
	default:
		r.Value[FramingHeld] = heldInSteps(reach, near-focal, far-focal, wantNear, wantFar)
	}
	if distance {
		middle := math.Sqrt(wantNear.Low * wantNear.High)
		r.Value[FramingDistance] = optics.SensorDistance(focal, focal+reach/middle)
	}
	r.Value[FocusMargin] = r.Value[SubjectNear] - r.Value[CloseFocus]
	r.Value[Clearance] = r.Value[SubjectNear] - r.Value[LensLength]
	r.Value[EdgeStretch] = edgeStretch(r, near)
}

// outside is the factor by which a share lies outside a band, 1 inside.
func outside(share float64, band Band) float64 {
	switch {
	case share > band.High:
		return share / band.High
	case share < band.Low:
		return band.Low / share
	}
	return 1
}

// heldInSteps looks at a framing that changes over the move in equal steps, for its band
// changes with the distance.
func heldInSteps(reach, near, far float64, wantNear, wantFar Band) float64 {
	const steps = 16
	lower, upper := root16(wantFar.Low/wantNear.Low), root16(wantFar.High/wantNear.High)
	band, within := wantNear, 0
	for i := range steps + 1 {
		if outside(reach/(near+float64(i)/steps*(far-near)), band) == 1 {
			within++
		}
		band.Low *= lower
		band.High *= upper
	}
	return float64(within) / (steps + 1)
}

// root16 gives the sixteenth root, for it runs for every focal length of a zoom.
func root16(x float64) float64 { return math.Sqrt(math.Sqrt(math.Sqrt(math.Sqrt(x)))) }

func clamp01(x float64) float64 { return min(1, max(0, x)) }

// edgeStretch looks at the outer edge of the subject at its nearest, or at the edge of
// the frame when the subject reaches past it.
func edgeStretch(r *Record, near float64) float64 {
	// Tangents of the angles from the axis.
	side := r.Value[SpreadWidth] / 2
	edge := min(side, r.Value[SubjectOffset]*side+r.Value[SubjectWidth]/2/near)
	if r.Value[IsFisheye] == 0 {
		// Radial over tangential scale is 1/cos: see optics.EdgeStretch.
		return math.Sqrt(1+edge*edge) - 1
	}
	// From the middle to the corner the stretch of every fisheye mapping grows nearly with
	// the square of the angle.
	share := math.Atan(edge) / (r.Value[AngleDiagonal] / 2)
	return r.Value[CornerStretch] * share * share
}

func fillLook(r *Record) {
	r.Value[DiffractionShare] = r.Value[Stop] / r.Value[DiffractionStop]
	r.Value[BobShare] = motion.BobShare(r.Value[Bob], r.Value[FieldNear])
}

func fillPace(r *Record) {
	crossing := math.Inf(1)
	if turn := r.Value[TurnRate]; turn > 0 {
		crossing = motion.TurnCrossing(r.Value[AngleWidth], turn)
	}
	if sweep := r.Value[SweepSpeed]; sweep > 0 {
		field := r.Value[SpreadWidth] * (r.Value[BackgroundDistance] - r.Value[FocalLength])
		crossing = min(crossing, motion.LateralCrossing(field, sweep))
	}
	r.Value[CrossingTime] = crossing
	r.Value[Pace] = crossing / r.Value[CrossingLimit]
	r.Value[BlurPerFrame] = motion.BlurShare(crossing, r.Value[ShutterTime])
}
