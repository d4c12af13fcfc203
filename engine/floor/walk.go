package floor

import (
	"math"
	"slices"
	"sort"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
)

// A Walk is how near to the subject the camera may come and how far it may go, from the
// sensor plane, while focus and framing both hold. Both ends are NaN when they hold
// together nowhere, or where that is unknown.
type Walk struct {
	Near, Far             float64
	NearBreaks, FarBreaks []string // what a step beyond each end loses: "focus", "framing", "room for the lens"
	Covers                bool     // the move of the brief lies within
}

// Known reports whether there is anywhere to walk.
func (w Walk) Known() bool { return !math.IsNaN(w.Near) }

// A hold tells at which distances from the sensor plane focus and framing hold for a lens
// that is set up for a shot.
type hold struct {
	focus                   facts.Focus
	near, far               float64 // of the shot
	wantNear, wantFar       facts.Band
	focal, confusion, stop  float64
	sharpNear, sharpFar     float64
	closest                 float64 // focus; 0 when unknown
	reach                   float64 // distance beyond the focal length at which the subject fills the frame
	body                    float64 // from the sensor plane to the front of the lens; 0 when unknown
	nearFraming, farFraming float64 // beyond which no framing of the shot holds
}

func holdOf(shot *brief.Shot, j *engine.Judgement) hold {
	h := hold{
		focus: shot.Focus, near: shot.Near, far: shot.Far,
		wantNear: shot.Frame.Near, wantFar: shot.Frame.Far,
		focal: j.Fact(facts.FocalLength), confusion: j.Fact(facts.Confusion), stop: j.Fact(facts.Stop),
		sharpNear: j.Fact(facts.NearLimit), sharpFar: j.Fact(facts.FarLimit),
		closest: orZero(j.Fact(facts.CloseFocus)), body: orZero(j.Fact(facts.LensLength)),
		reach: j.Fact(facts.FrameReach),
	}
	h.nearFraming = h.distanceFor(max(h.wantNear.High, h.wantFar.High))
	h.farFraming = h.distanceFor(min(h.wantNear.Low, h.wantFar.Low))
	return h
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// distanceFor gives the distance at which the subject fills a share of the frame.
func (h *hold) distanceFor(share float64) float64 {
	return optics.SensorDistance(h.focal, h.focal+h.reach/share)
}

// rounding is the error allowed between a distance and a limit that come from different
// formulas.
const rounding = 1e-9

// inFocus tells whether the subject is sharp at a distance: within the limits of a fixed
// focus, or over the depth wanted around the subject when focus follows it.
func (h *hold) inFocus(distance float64) bool {
	depth := facts.PulledDepth
	switch h.focus {
	case facts.Fixed:
		return distance >= h.sharpNear*(1-rounding) && distance <= h.sharpFar*(1+rounding)
	case facts.Auto:
		depth = facts.AutoDepth
	}
	if distance < h.closest {
		return false
	}
	near, far := facts.LensDistance(h.focal, distance-depth/2), facts.LensDistance(h.focal, distance+depth/2)
	return optics.StopFor(h.focal, h.confusion, near, far) <= h.stop*(1+rounding)
}

// inFrame tells whether the subject is framed as asked at a distance. A framing that
// changes over the move does so from the nearest to the farthest, by equal factors.
func (h *hold) inFrame(distance float64) bool {
	band := h.wantNear
	if h.far > h.near {
		t := min(1, max(0, (distance-h.near)/(h.far-h.near)))
		band.Low *= math.Pow(h.wantFar.Low/h.wantNear.Low, t)
		band.High *= math.Pow(h.wantFar.High/h.wantNear.High, t)
	}
	share := h.reach / (facts.LensDistance(h.focal, distance) - h.focal)
	return share >= band.Low*(1-rounding) && share <= band.High*(1+rounding)
}

func (h *hold) holds(distance float64) bool {
	return distance > h.body && h.inFocus(distance) && h.inFrame(distance)
}

func (h *hold) broken(distance float64) []string {
	var broken []string
	if !h.inFocus(distance) {
		broken = append(broken, "focus")
	}
	if !h.inFrame(distance) {
		broken = append(broken, "framing")
	}
	if distance <= h.body {
		broken = append(broken, "room for the lens")
	}
	return broken
}

// walkSteps is how many distances between the outermost framings are sampled. Each change
// between two samples is then located by bisection.
const walkSteps = 256

// walk finds the stretch of distances, of those where everything holds, that shares most
// with the move of the brief, or lies nearest to it.
func (h *hold) walk() Walk {
	best := Walk{Near: math.NaN(), Far: math.NaN()}
	bestShared := math.Inf(-1)
	places := h.places()
	for i := 0; i < len(places); i++ {
		if !h.holds(places[i]) {
			continue
		}
		first := i
		for i+1 < len(places) && h.holds(places[i+1]) {
			i++
		}
		w := h.stretch(places, first, i)
		// The length shared with the move; negative, the gap between the two.
		if shared := min(w.Far, h.far) - max(w.Near, h.near); shared > bestShared {
			best, bestShared = w, shared
		}
	}
	best.Covers = best.Near <= h.near*(1+rounding) && best.Far >= h.far*(1-rounding)
	return best
}

// places lists distances to sample, close enough together that at most one change lies
// between two of them: the known limits, and even steps.
func (h *hold) places() []float64 {
	low, high := h.nearFraming*(1-1e-6), h.farFraming*(1+1e-6)
	if !(low > 0 && high >= low) {
		return nil
	}
	places := []float64{low, high}
	for i := 1; i < walkSteps; i++ {
		places = append(places, low*math.Pow(high/low, float64(i)/walkSteps))
	}
	for _, known := range []float64{h.near, h.far, h.sharpNear, h.sharpFar, h.nearFraming, h.farFraming, (h.near + h.far) / 2} {
		if known > low && known < high {
			places = append(places, known)
		}
	}
	sort.Float64s(places)
	return slices.Compact(places)
}

// stretch gives the walk between two samples, extended at each end to where it breaks before
// the next sample.
func (h *hold) stretch(places []float64, first, last int) Walk {
	w := Walk{Near: places[first], Far: places[last]}
	var beyond float64
	if first > 0 {
		w.Near, beyond = h.edge(w.Near, places[first-1])
		w.NearBreaks = h.broken(beyond)
	}
	if last+1 < len(places) {
		w.Far, beyond = h.edge(w.Far, places[last+1])
		w.FarBreaks = h.broken(beyond)
	}
	return w
}

// edge bisects between a distance where everything holds and one where something breaks.
func (h *hold) edge(good, bad float64) (float64, float64) {
	for range 60 {
		middle := (good + bad) / 2
		if h.holds(middle) {
			good = middle
		} else {
			bad = middle
		}
	}
	return good, bad
}
