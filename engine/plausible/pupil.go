package plausible

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// A trace is what ray traces of published lens designs gave for one range of full-frame equivalents:
// the 5th, 50th and 95th percentile.
type trace struct {
	below float64    // up to, in metres
	share [3]float64 // from the sensor plane to the entrance pupil, over that to the front vertex
	place [3]float64 // the first alone, in millimetres times the crop factor
}

// 304 states of primes and 545 of zooms. Of lenses longer than 320 mm nothing was traced: they count as
// those below.
var (
	primePupils = []trace{
		{20e-3, [3]float64{0.76, 0.81, 0.85}, [3]float64{30, 89, 117}},
		{24.5e-3, [3]float64{0.76, 0.79, 0.83}, [3]float64{45, 85, 138}},
		{30e-3, [3]float64{0.72, 0.77, 0.89}, [3]float64{34, 64, 109}},
		{42e-3, [3]float64{0.66, 0.77, 0.89}, [3]float64{29, 65, 105}},
		{65e-3, [3]float64{0.52, 0.69, 0.86}, [3]float64{37, 56, 104}},
		{110e-3, [3]float64{0.14, 0.55, 0.86}, [3]float64{17, 64, 123}},
		{180e-3, [3]float64{-0.05, 0.51, 0.77}, [3]float64{-9, 79, 108}},
		{forever, [3]float64{-0.9, 0.07, 0.9}, [3]float64{-181, 15, 198}},
	}
	zoomPupils = []trace{
		{20e-3, [3]float64{0.79, 0.84, 0.87}, [3]float64{97, 117, 174}},
		{24.5e-3, [3]float64{0.80, 0.84, 0.87}, [3]float64{86, 110, 163}},
		{30e-3, [3]float64{0.76, 0.79, 0.85}, [3]float64{85, 112, 199}},
		{42e-3, [3]float64{0.66, 0.81, 0.87}, [3]float64{78, 105, 169}},
		{65e-3, [3]float64{0.60, 0.71, 0.85}, [3]float64{79, 103, 165}},
		{110e-3, [3]float64{0.37, 0.59, 0.89}, [3]float64{72, 107, 176}},
		{180e-3, [3]float64{0.11, 0.32, 0.55}, [3]float64{22, 70, 146}},
		{forever, [3]float64{-0.54, -0.05, 0.28}, [3]float64{-153, -10, 78}},
	}
	fisheyePupil = trace{share: [3]float64{0.80, 0.85, 0.86}, place: [3]float64{30, 89, 117}}
	// By how much the tangent of half the angle changes, over the focal length as a share of the
	// distance from the pupil.
	primeBreathing = []class{{30e-3, -0.9, -0.4, 0.2}, {42e-3, -1.25, -0.5, 0.1}, {65e-3, -1.1, -0.7, -0.2}, {110e-3, -1.4, -1.1, -0.3}, {forever, -2.2, -1.3, -0.5}}
	zoomBreathing  = []class{{30e-3, -0.1, 0, 0.7}, {42e-3, -0.2, 0, 0.7}, {65e-3, -0.3, 0.2, 1}, {110e-3, -2.5, 0, 0.9}, {forever, -2.3, -0.2, 2.9}}
)

// bezel is how far a barrel stands out before its front vertex, in metres: 2 to 6 mm (common
// practice).
const bezel = 4e-3

// withinFocus is the share of the closest focus, from the sensor plane, before which the pupil lies.
const withinFocus = 0.9

// mostBreathing bounds it: beyond are lenses that nobody makes.
const mostBreathing = 0.6

// pupilAt gives where the entrance pupil lies at a focal length of a lens: at a share of its length
// where that and the flange distance are stated, and else by its class and format.
func pupilAt(l *catalog.Lens, c *Context, focal float64) Range {
	traces := primePupils
	if l.IsZoom() {
		traces = zoomPupils
	}
	t, equivalent := fisheyePupil, c.equivalent(l, focal)
	for i := len(traces) - 1; i >= 0 && !l.IsFisheye(); i-- {
		if equivalent < traces[i].below {
			t = traces[i]
		}
	}
	figures, unit := t.place, 1e-3*c.format(l)/fullFrame
	if mount, ok := c.catalogue.Mounts.Lookup(l.Mount.Value); ok && given(l.Length) && given(mount.Flange) {
		figures, unit = t.share, l.Length.Value+mount.Flange.Value-bezel
	}
	r := Range{Low: figures[0], Middle: figures[1], High: figures[2], Evidence: Computed, Source: traced}
	r = r.times(unit)
	if given(l.CloseFocus) {
		r = r.below(withinFocus * l.CloseFocus.Value)
	}
	return r.framed()
}

// framed marks the range as one of a figure that bears on the framing.
func (r Range) framed() Range {
	r.Peaked = true
	return r
}

// breathingAt gives the breathing at a focal length of a lens, as a share at the closest focus.
func breathingAt(l *catalog.Lens, c *Context, focal float64, pupil float64) Range {
	classes := primeBreathing
	if l.IsZoom() {
		classes = zoomBreathing
	}
	closest := closeFocus(l, c).Middle
	if given(l.CloseFocus) {
		closest = l.CloseFocus.Value
	}
	r := classed(classes, c.equivalent(l, focal), traced).times(focal / max(closest-pupil, focal))
	r.Evidence = Computed
	for _, v := range []*float64{&r.Low, &r.Middle, &r.High} {
		*v = min(max(*v, -mostBreathing), mostBreathing)
	}
	return r.framed()
}

// given reports whether a figure stands in a file, if roughly, and was not assumed.
func given(q lang.Quantity) bool { return q.Known() && (q.Span.Known() || !q.Rough) }

// pupil gives where the entrance pupil lies, of a zoom at its wide end.
func pupil(l *catalog.Lens, c *Context) Range { return pupilAt(l, c, l.Focal.Low.Value) }

// breathing gives it, of a zoom at its wide end. A prime of known magnification shows at its closest
// focus what that says.
func breathing(l *catalog.Lens, c *Context) Range {
	if l.Pupil.Thin || !l.IsZoom() && l.Magnification.Known() {
		return Range{}
	}
	return breathingAt(l, c, l.Focal.Low.Value, statedPupil(l, c, l.Focal.Low.Value, l.Pupil.Wide))
}

// statedPupil gives where the pupil lies as far as is known: as stated, or in the middle.
func statedPupil(l *catalog.Lens, c *Context, focal float64, stated lang.Quantity) float64 {
	if given(stated) {
		return stated.Value
	}
	return pupilAt(l, c, focal).Middle
}

// Perspective gives the entrance pupil and the breathing of a lens at the two ends of its zoom, in
// metres and as a share. Of a zoom whose figures are assumed at the wide end, those at the long end lie
// at the same place of their ranges.
func Perspective(l *catalog.Lens, c *Context) (pupils, breaths [2]float64) {
	low, high := l.Focal.Low.Value, l.Focal.High.Value
	long := func(e catalog.Ends, at func(focal float64) Range) [2]float64 {
		if !e.Known() || !l.IsZoom() || e.Long.Known() || given(e.Wide) {
			return [2]float64{e.Wide.OrNaN(), e.LongEnd().OrNaN()}
		}
		return [2]float64{e.Wide.Value, at(high).At(at(low).place(e.Wide.Value))}
	}
	pupils = long(l.Pupil.Ends, func(focal float64) Range { return pupilAt(l, c, focal) })
	breaths = long(l.Breathing.Ends, func(focal float64) Range {
		stated := l.Pupil.Wide
		if focal == high {
			stated = l.Pupil.LongEnd()
		}
		return breathingAt(l, c, focal, statedPupil(l, c, focal, stated))
	})
	return pupils, breaths
}

// place is the inverse of [Range.At] for a figure without steps.
func (r Range) place(value float64) float64 {
	end, sign := r.High, 1.0
	if value < r.Middle {
		end, sign = r.Low, -1
	}
	share := (value - r.Middle) / (end - r.Middle)
	if r.Middle > 0 && end > 0 {
		share = math.Log(value/r.Middle) / math.Log(end/r.Middle)
	}
	if math.IsNaN(share) { // nothing lies between
		return 0
	}
	return sign * min(max(share, 0), 1)
}
