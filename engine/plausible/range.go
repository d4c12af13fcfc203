package plausible

import "math"

// Evidence is what a range rests on.
type Evidence uint8

const (
	Practice Evidence = iota // common practice of the trade, without a published source
	Data                     // percentiles of an open data set
	Computed                 // a formula on such data
	Read                     // a published figure
)

// String gives the word, as it stands in JSON.
func (e Evidence) String() string { return [...]string{"practice", "data", "computed", "read"}[e] }

// The sources of ranges.
const (
	corrections   = "open lens-correction database, 832 interchangeable lenses"
	prescriptions = "formula on ray traces of published lens designs, and common practice"
	traced        = "ray traces of 542 published lens designs"
	specified     = "open data set of lens specifications, 2,220 lenses for stills"
	byTrade       = "common practice"
	byLuminance   = "tables of illuminance, and common practice"
)

// A Range is where a figure lies that is not known, in SI units: between Low and High, and
// at Middle when one value must be taken.
type Range struct {
	Low, Middle, High float64
	// Tried are the values between the ends that are tried too, where the figure does not act
	// one way.
	Tried []float64
	// Peaked is of a figure by which a lens may do best anywhere between, as a framing is met at one
	// place and missed to both sides.
	Peaked bool
	Steps  bool // the figure is one of the ends, the middle and those tried
	Evidence
	Source string
}

// Known reports whether there is a range.
func (r Range) Known() bool { return r.High > 0 || r.Low < 0 }

// Probes gives the values to try for what the figure can do: the ends, and what lies between
// where that matters.
func (r Range) Probes() []float64 {
	probes := []float64{r.Low, r.High}
	for _, v := range r.Tried {
		if v > r.Low && v < r.High {
			probes = append(probes, v)
		}
	}
	return probes
}

// At gives the value at a place of the range, from -1 at the low end over 0 in the middle to
// 1 at the high end. Between them values grow by equal factors where all are above 0, for
// the ranges are factors on a middle, and evenly otherwise. A figure that comes in steps takes
// the nearest.
func (r Range) At(place float64) float64 {
	v := between(r.Middle, r.High, place)
	if place < 0 {
		v = between(r.Middle, r.Low, -place)
	}
	if !r.Steps {
		return v
	}
	best := r.Middle
	for _, step := range append([]float64{r.Low, r.High}, r.Tried...) {
		if math.Abs(step-v) < math.Abs(best-v) {
			best = step
		}
	}
	return best
}

func between(from, to, share float64) float64 {
	if from > 0 && to > 0 {
		return from * math.Pow(to/from, share)
	}
	return from + (to-from)*share
}

// grown gives the range of a middle by two factors.
func grown(middle, low, high float64, e Evidence, source string) Range {
	return Range{Low: middle * low, Middle: middle, High: middle * high, Evidence: e, Source: source}
}
