package plausible

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// Cameras holds the figures that a camera can lack. Vital are mount and size of the sensor.
var Cameras = []Row[catalog.Camera]{
	{
		Keyword: "iso_range", Dim: lang.Plain,
		Given: func(c *catalog.Camera) lang.Quantity { return c.ISORange.High },
		Set: func(c *catalog.Camera, q lang.Quantity) {
			if !c.ISORange.Low.Known() {
				c.ISORange.Low = lang.NewQuantity(min(c.LowestBase().Or(q.Value), q.Value), lang.Plain)
			}
			c.ISORange.High = q
		},
		Range: func(c *catalog.Camera, _ *Context) Range {
			return grown(c.LowestBase().Or(baseISO.Middle), 4, 64, Practice, byTrade).about(16)
		},
	},
	{
		Keyword: "iso", Dim: lang.Plain,
		Given: func(c *catalog.Camera) lang.Quantity { return c.LowestBase() },
		Set:   func(c *catalog.Camera, q lang.Quantity) { c.ISO = lang.List{Items: []lang.Quantity{q}} },
		Range: baseISOOf,
	},
	{
		Keyword: "mass", Dim: lang.Mass, Unit: "g",
		Given: func(c *catalog.Camera) lang.Quantity { return c.Mass },
		Set:   func(c *catalog.Camera, q lang.Quantity) { c.Mass = q },
		Range: func(c *catalog.Camera, _ *Context) Range {
			if c.Autofocus.Set { // as bodies made for stills have it
				return Range{Low: 0.45, Middle: 0.7, High: 1.2, Source: byTrade}.loaded()
			}
			return Range{Low: 0.45, Middle: 1.1, High: 3.5, Source: byTrade}.loaded()
		},
	},
}

// baseISO is that of sensors of Four Thirds and larger for moving pictures.
var baseISO = Range{Low: 100, Middle: 400, High: 800, Tried: []float64{200}, Steps: true, Source: byTrade}

// baseISOOf keeps it within what the camera can be set to, where that is stated.
func baseISOOf(c *catalog.Camera, _ *Context) Range {
	r := baseISO
	low, high := c.ISORange.Low.Or(r.Low), c.ISORange.High.Or(r.High)
	clamp := func(v float64) float64 { return min(max(v, low), high) }
	r.Low, r.Middle, r.High = clamp(r.Low), clamp(r.Middle), clamp(r.High)
	return r
}

// Rigs holds the figures that a rig can lack. The greatest payload is vital.
var Rigs = []Row[catalog.Rig]{
	{
		Keyword: "payload", Dim: lang.Mass, Unit: "kg",
		Given: func(r *catalog.Rig) lang.Quantity { return r.Payload.Low },
		Set:   func(r *catalog.Rig, q lang.Quantity) { r.Payload.Low = q },
		Range: func(r *catalog.Rig, _ *Context) Range {
			if !r.Payload.High.Known() {
				return Range{}
			}
			return grown(r.Payload.High.Value, 0.15, 0.5, Practice, byTrade).about(0.3)
		},
	},
	{
		Keyword: "wobble", Dim: lang.Angle, Unit: "deg",
		Given: func(r *catalog.Rig) lang.Quantity { return r.Wobble },
		Set:   func(r *catalog.Rig, q lang.Quantity) { r.Wobble = q },
		Range: func(*catalog.Rig, *Context) Range {
			const degree = math.Pi / 180
			return Range{Low: 0.1 * degree, Middle: 0.25 * degree, High: 0.6 * degree, Source: byTrade}
		},
	},
	{
		Keyword: "isolation", Dim: lang.Plain, Unit: "%",
		Given: func(r *catalog.Rig) lang.Quantity { return r.Isolation },
		Set:   func(r *catalog.Rig, q lang.Quantity) { r.Isolation = q },
		Range: func(*catalog.Rig, *Context) Range {
			return Range{Low: 0.4, Middle: 0.65, High: 0.9, Source: byTrade}
		},
	},
}

// Mounts holds the figures that a mount can lack. That of a camera is taken for one of a
// mirrorless camera, and any other for one of a camera with a mirror.
var Mounts = []Row[catalog.Mount]{{
	Keyword: "flange", Dim: lang.Length, Unit: "mm",
	Given: func(m *catalog.Mount) lang.Quantity { return m.Flange },
	Set:   func(m *catalog.Mount, q lang.Quantity) { m.Flange = q },
	Range: func(m *catalog.Mount, c *Context) Range {
		if c.diagonals[m.Name.Value] > 0 {
			return Range{Low: 16e-3, Middle: 18e-3, High: 20e-3, Evidence: Read, Source: "encyclopaedia's list of flange distances"}.below(c.adapted(m))
		}
		return Range{Low: 40e-3, Middle: 45e-3, High: 47e-3, Evidence: Read, Source: "encyclopaedia's list of flange distances"}
	},
}}

// thinnest is the least that a plain adapter puts between two mounts (common practice).
const thinnest = 1e-3

// adapted gives what the flange distance of a camera's mount lies below, in metres: that a plain
// adapter is made from another mount to it is proof that lenses of that mount reach infinity.
func (c *Context) adapted(m *catalog.Mount) float64 {
	bound := forever
	for _, a := range c.catalogue.Adapters.All() {
		if from, ok := c.catalogue.Mounts.Lookup(a.From.Lens.Value); ok && a.From.Camera.Value == m.Name.Value && !a.IsOptical() {
			bound = min(bound, from.Flange.Or(forever)-thinnest)
		}
	}
	return bound
}

// below gives the range without what lies above a bound, as a narrow one at the bound where all
// of it does.
func (r Range) below(bound float64) Range {
	if r.Low >= bound {
		r.Low = bound * (1 - roughly)
	}
	r.High = min(r.High, bound)
	r.Middle = min(max(r.Middle, r.Low), r.High)
	return r
}

// Adapters holds the figures that an adapter can lack. Vital are its two mounts, and its
// factor when it has glass.
var Adapters = []Row[catalog.Adapter]{
	{
		Keyword: "mass", Dim: lang.Mass, Unit: "g",
		Given: func(a *catalog.Adapter) lang.Quantity { return a.Mass },
		Set:   func(a *catalog.Adapter, q lang.Quantity) { a.Mass = q },
		Range: func(a *catalog.Adapter, _ *Context) Range {
			if a.IsOptical() {
				return Range{Low: 0.12, Middle: 0.2, High: 0.45, Source: byTrade}
			}
			return Range{Low: 0.06, Middle: 0.12, High: 0.25, Source: byTrade}
		},
	},
	{
		Keyword: "thickness", Dim: lang.Length, Unit: "mm",
		Given: func(a *catalog.Adapter) lang.Quantity { return a.Thickness },
		Set:   func(a *catalog.Adapter, q lang.Quantity) { a.Thickness = q },
		Range: thickness,
	},
}

// thickness of an adapter is the difference of the flange distances where both are known, and
// else what lies between a mount for mirrors and one without. Glass makes it thinner by the
// share that it shortens the focal length.
func thickness(a *catalog.Adapter, c *Context) Range {
	from, ok := c.catalogue.Mounts.Lookup(a.From.Lens.Value)
	to, both := c.catalogue.Mounts.Lookup(a.From.Camera.Value)
	if ok && both && from.Flange.Known() && to.Flange.Known() && !a.IsOptical() {
		return Range{} // it follows
	}
	return Range{Low: 20e-3, Middle: 26e-3, High: 30e-3, Source: byTrade}
}

// Light gives the light on the subject of a scene, in lux, by what its heading says. A scene of
// which nothing is said may be any.
func Light(scene lang.Scene) Range {
	inside, outside := scene.Inside && !scene.Outside, scene.Outside && !scene.Inside
	switch night := scene.Hour() == lang.AtNight; {
	case scene.Hour() == lang.BetweenDayAndNight:
		return lit(3.4, 40, 400)
	case inside && night:
		return lit(30, 100, 400)
	case inside:
		return lit(100, 300, 1000)
	case outside && night:
		return lit(5, 30, 200)
	case outside:
		return lit(4000, 20000, 100000)
	}
	return lit(30, 300, 20000)
}

// lit gives a range of light. It acts both ways, since too much of it costs as well.
func lit(low, middle, high float64) Range {
	return Range{
		Low: low, Middle: middle, High: high, Source: byLuminance,
		Tried: []float64{math.Sqrt(low * middle), middle, math.Sqrt(middle * high)},
	}
}
