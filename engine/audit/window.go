package audit

import "math"

// An Interval is what a window allows on one axis, in SI units. An end that nothing bounds
// is NaN.
type Interval struct{ Low, High float64 }

// at gives the value a share of the way from one end to the other, by factors.
func (i Interval) at(share float64) float64 { return i.Low * math.Pow(i.High/i.Low, share) }

// Open reports whether nothing bounds the axis.
func (i Interval) Open() bool { return math.IsNaN(i.Low) && math.IsNaN(i.High) }

// A Window is what a lens must be like to do a shot, solved with made-up lenses by the
// rules of the brief. The edges of each axis hold with the other figures as in Middle:
// Middle does the shot, and a lens beyond an edge, which is like it in all else, does not.
type Window struct {
	Axes   [axes]Interval
	Middle Trial
	// Apart says that some lens within all edges does not do the shot: the edges of one
	// axis then depend on the other figures.
	Apart bool
	// Thread is the diameter of the filter thread that the lens must have, in metres, for it
	// does the shot with a filter alone; 0 when it needs none.
	Thread float64
}

// The search for edges.
const (
	looks     = 48 // from the middle to the end of the domain, where a lens may pass again beyond an edge
	roundsMax = 6  // in which the middle settles between the edges
	settled   = 0.005
	coarse    = 1e-3 // how near to an edge a round comes, by factor, and
	fine      = 1e-8 // how near the last one comes
)

// A check reports whether a made-up lens does a shot, or all of several.
type check func(*Trial) bool

// window solves the window around a lens that passes.
func (passes check) window(start Trial) Window {
	w := passes.around(start, coarse)
	for range roundsMax {
		middle := w.centre(w.Middle)
		if !passes(&middle) || near(&middle, &w.Middle) {
			break
		}
		w = passes.around(middle, coarse)
	}
	w = passes.around(w.Middle, fine)
	w.Apart = !passes.corners(&w)
	return w
}

// around gives the edges on every axis through one lens.
func (passes check) around(t Trial, exact float64) Window {
	w := Window{Middle: t}
	for axis := range axes {
		s := &scales[axis]
		w.Axes[axis] = Interval{passes.edge(t, axis, s.domain.Low, exact), passes.edge(t, axis, s.domain.High, exact)}
	}
	return w
}

// edge gives the last value towards an end of the domain at which the lens still does the
// shot, as exact as asked, by factor; NaN when it does all the way. Where a lens can only
// gain or only lose on the way, by the standard rules, halving alone finds it.
func (passes check) edge(t Trial, axis Axis, end, exact float64) float64 {
	way := Interval{t[axis], end}
	passesAt := func(share float64) bool {
		t[axis] = way.at(share)
		return passes(&t)
	}
	steps := looks
	if scales[axis].gains {
		steps = 1
	}
	inside := 0.0
	for look := 1; look <= steps; look++ {
		share := float64(look) / float64(steps)
		if passesAt(share) {
			inside = share
			continue
		}
		length := math.Abs(math.Log(way.High / way.Low))
		for outside := share; (outside-inside)*length > exact; {
			if middle := (inside + outside) / 2; passesAt(middle) {
				inside = middle
			} else {
				outside = middle
			}
		}
		return way.at(inside)
	}
	return math.NaN()
}

// sidestep is how far the middle stays from an edge when there is no other.
const sidestep = math.Sqrt2

// centre gives the lens in the middle: between two edges, half a doubling inside a single
// one, and as it is where there is none.
func (w *Window) centre(t Trial) Trial {
	for axis := range axes {
		switch edges := w.Axes[axis]; {
		case edges.Open():
		case math.IsNaN(edges.Low):
			t[axis] = min(t[axis], edges.High/sidestep)
		case math.IsNaN(edges.High):
			t[axis] = max(t[axis], edges.Low*sidestep)
		default:
			t[axis] = math.Sqrt(edges.Low * edges.High)
		}
	}
	return t
}

func near(a, b *Trial) bool {
	for axis := range axes {
		if math.Abs(math.Log(a[axis]/b[axis])) > settled {
			return false
		}
	}
	return true
}

// inset is how far inside the edges the corners are tried, by factor: an edge is only as
// exact as its halvings.
const inset = 1e-6

// corners reports whether lenses at all corners pass.
func (passes check) corners(w *Window) bool {
	for corner := range 1 << axes {
		t := w.Middle
		for axis := range axes {
			low, high := w.Axes[axis].Low, w.Axes[axis].High
			switch upper := corner>>axis&1 == 1; {
			case upper && !math.IsNaN(high):
				t[axis] = high * (1 - inset)
			case !upper && !math.IsNaN(low):
				t[axis] = low * (1 + inset)
			}
		}
		if !passes(&t) {
			return false
		}
	}
	return true
}

// meet gives the edges within both windows, and whether something lies between them on
// every axis.
func (w *Window) meet(other *Window) (both Window, ok bool) {
	ok = true
	for axis := range axes {
		a, b := w.Axes[axis], other.Axes[axis]
		both.Axes[axis] = Interval{tighter(a.Low, b.Low, 1), tighter(a.High, b.High, -1)}
		if both.Axes[axis].Low >= both.Axes[axis].High {
			ok = false
		}
	}
	both.Middle = both.centre(w.Middle)
	return both, ok
}

// tighter gives the greater of two edges for sign 1 and the lesser for -1; NaN bounds
// nothing.
func tighter(a, b, sign float64) float64 {
	switch {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return sign * max(sign*a, sign*b)
}
