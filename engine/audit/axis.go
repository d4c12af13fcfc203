package audit

import (
	"math"

	"glassbrief/catalog"
)

// An Axis is a figure of a lens that a window bounds.
type Axis uint8

// The axes, in the order in which people read them.
const (
	Focal Axis = iota
	WidestT
	CloseFocus
	Circle
	Mass
	Length
	axes // how many there are
)

// Axes lists the axes.
func Axes() []Axis { return []Axis{Focal, WidestT, CloseFocus, Circle, Mass, Length} }

// A Scale is how an axis is measured, in SI units.
type Scale struct {
	Unit   string   // in which people read it
	step   float64  // to which edges are rounded
	domain Interval // where made-up lenses are looked for: beyond it no lens for a handheld rig is made
	Usual  Interval // from the smallest to the largest that equipment of the kind has
	gains  bool     // a lens only gains one way along it, and only loses the other
	// Of gives the figure of a lens on a camera, NaN where it is not known; a zoom has as
	// many focal lengths as lie between two.
	Of func(*catalog.Lens, catalog.Fitting) Interval
}

var scales = [axes]Scale{
	Focal: {"mm", 1e-4, Interval{3e-3, 600e-3}, Interval{6e-3, 400e-3}, false, func(l *catalog.Lens, f catalog.Fitting) Interval {
		return Interval{l.Focal.Low.Value * f.Factor, l.Focal.High.Value * f.Factor}
	}},
	WidestT:    {"T", 0.1, Interval{0.7, 32}, Interval{1, 16}, true, one(func(l *catalog.Lens, f catalog.Fitting) float64 { return l.Transmission.OrNaN() * f.Factor })},
	CloseFocus: {"m", 1e-2, Interval{0.05, 100}, Interval{0.1, 4}, true, one(func(l *catalog.Lens, _ catalog.Fitting) float64 { return l.CloseFocus.OrNaN() })},
	Circle:     {"mm", 1e-4, Interval{4e-3, 80e-3}, Interval{8e-3, 80e-3}, true, one(func(l *catalog.Lens, f catalog.Fitting) float64 { return l.Circle.OrNaN() * f.Factor })},
	Mass:       {"g", 1e-2, Interval{0.02, 8}, Interval{0.08, 6}, false, one(func(l *catalog.Lens, f catalog.Fitting) float64 { return l.Mass.OrNaN() + f.Mass })},
	Length:     {"mm", 1e-3, Interval{5e-3, 0.4}, Interval{20e-3, 400e-3}, true, one(func(l *catalog.Lens, f catalog.Fitting) float64 { return l.Length.OrNaN() + f.Thickness })},
}

func one(of func(*catalog.Lens, catalog.Fitting) float64) func(*catalog.Lens, catalog.Fitting) Interval {
	return func(l *catalog.Lens, f catalog.Fitting) Interval {
		x := of(l, f)
		return Interval{x, x}
	}
}

// Scale gives how the axis is measured.
func (a Axis) Scale() *Scale { return &scales[a] }

// Rounded gives edges in whole steps, inside what they allow; edges narrower than a step
// stay as they are.
func (s *Scale) Rounded(edges Interval) Interval {
	low, high := math.Ceil(edges.Low/s.step)*s.step, math.Floor(edges.High/s.step)*s.step
	if low > high {
		return edges
	}
	return Interval{low, high}
}
