package engine

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// Try judges one lens in one shot on a camera. The lens need not be in the catalogue and
// the shot may be a changed copy of one of the scenario's, so that a caller can look for
// the change that makes a difference.
func (s *Scenario) Try(camera *catalog.Camera, lens *catalog.Lens, shot *Shot) Outcome {
	return s.Fit(camera, lens).Try(s, shot)
}

// A Fitted is a lens on a camera, ready to be tried many times.
type Fitted struct {
	camera *catalog.Camera
	glass  *glass
	mass   float64 // of the accessories beside it
}

// Fit puts a lens on a camera, as [Scenario.Try] does each time.
func (s *Scenario) Fit(camera *catalog.Camera, lens *catalog.Lens) *Fitted {
	return &Fitted{camera, s.fit(lens, camera), s.Accessories.Mass}
}

// Try judges the lens in a shot of the scenario, or of one that differs from it in what a
// brief says of shots, ISO and accessories.
func (f *Fitted) Try(s *Scenario, shot *Shot) Outcome {
	if s.Accessories.Mass != f.mass {
		return s.Try(f.camera, f.glass.lens, shot)
	}
	in := s.input(shot, f.camera)
	var r facts.Record
	facts.FillShot(&r, &in)
	return judge(f.glass, shot, &in, &r)
}

// Explain is [Scenario.Try] with the reasons.
func (s *Scenario) Explain(camera *catalog.Camera, lens *catalog.Lens, shot *Shot, printer lang.Printer) Judgement {
	in := s.input(shot, camera)
	var r facts.Record
	facts.FillShot(&r, &in)
	g := s.fit(lens, camera)
	return explain(g, shot, judge(g, shot, &in, &r), &r, printer)
}

// TopISO gives the highest ISO to use: that of the scenario, or else of the camera; NaN
// when neither says.
func (s *Scenario) TopISO(camera *catalog.Camera) float64 {
	top := s.topISO
	if math.IsNaN(top) {
		top = camera.ISORange.High.OrNaN()
	}
	return max(top, camera.ISO.Or(top))
}

// WithTopISO gives the scenario with another highest ISO.
func (s *Scenario) WithTopISO(iso float64) *Scenario {
	changed := *s
	changed.topISO = iso
	return &changed
}
