package catalog

import (
	"math"

	"glassbrief/lang"
)

// The words for kinds of filter.
const (
	FilterND        = "nd"
	FilterDiffusion = "diffusion"
	FilterPolar     = "polar"
	FilterStepUp    = "step-up"
)

// A Filter screws onto the front of a lens. A step-up ring counts as one: it has no glass,
// and takes filters of a larger thread.
type Filter struct {
	// Name, unique in the catalogue.
	Name lang.Text `lang:",label"`
	// Remarks for people.
	About lang.Text `lang:"about" absent:""`
	// What it is for: nd takes light away, diffusion softens, polar takes reflections away,
	// step-up lets a larger filter fit.
	Kind lang.Word `lang:"kind,required,words=nd|diffusion|polar|step-up"`
	// Thread that it screws into.
	Thread lang.Quantity `lang:"thread,required,dim=length,rough,usual=15mm..150mm,possible=1mm..2m"`
	// Thread that a step-up ring has at its front; other filters have that which they screw
	// into.
	Front lang.Quantity `lang:"front,dim=length,rough,usual=15mm..150mm,possible=1mm..2m" absent:"as thread"`
	// Light that it takes away; an interval for one that can be turned.
	Strength lang.Interval `lang:"strength,dim=stops,rough,usual=0 stops..16 stops,possible=0 stops..60 stops"`
	// Mass.
	Mass lang.Quantity `lang:"mass,dim=mass,rough,usual=3g..500g,possible=0.1g..50kg"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// FrontThread gives the thread that the filter has at its front, in metres.
func (f *Filter) FrontThread() float64 { return f.Front.Or(f.Thread.OrNaN()) }

// A Screwing is a way to put a filter on a lens: by itself, or on a step-up ring.
type Screwing struct {
	Filter *Filter
	Ring   *Filter // nil without one
}

// FiltersFor lists the filters of a kind that go on a thread, a diameter in metres, in the
// order of the catalogue. Of several rings the first that fits is taken.
func (c *Catalogue) FiltersFor(thread float64, kind string) []Screwing {
	var ways []Screwing
	for _, f := range c.Filters.All() {
		if f.Kind.Value != kind {
			continue
		}
		if sameThread(f.Thread.OrNaN(), thread) {
			ways = append(ways, Screwing{Filter: f})
		} else if ring := c.ring(thread, f.Thread.OrNaN()); ring != nil {
			ways = append(ways, Screwing{Filter: f, Ring: ring})
		}
	}
	return ways
}

// NextThread gives the smallest thread above one that a filter of a kind has, in metres; NaN when
// there is none.
func (c *Catalogue) NextThread(thread float64, kind string) float64 {
	next := math.NaN()
	for _, f := range c.Filters.All() {
		if t := f.Thread.OrNaN(); f.Kind.Value == kind && t > thread && !(t >= next) {
			next = t
		}
	}
	return next
}

// ring finds a step-up ring from one thread to another, or gives nil.
func (c *Catalogue) ring(thread, front float64) *Filter {
	for _, f := range c.Filters.All() {
		if f.Kind.Value == FilterStepUp && sameThread(f.Thread.OrNaN(), thread) && sameThread(f.Front.OrNaN(), front) {
			return f
		}
	}
	return nil
}

// sameThread compares diameters that may have been written in different units; threads
// are made in halves of a millimetre.
func sameThread(a, b float64) bool { return math.Abs(a-b) < 0.1e-3 }
