package engine

import (
	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// Try judges one lens in one shot on a camera. The lens need not be in the catalogue and
// the shot may be a changed copy of one of the scenario's, so that a caller can look for
// the change that makes a difference.
func Try(s *brief.Scenario, camera *catalog.Camera, lens *catalog.Lens, shot *brief.Shot) Outcome {
	return Fit(s, camera, lens).Try(s, shot)
}

// A Fitted is a lens on a camera, ready to be tried many times.
type Fitted struct {
	camera *catalog.Camera
	glass  *glass
	mass   float64 // of the accessories beside it
	judge  judge
}

// Fit puts a lens on a camera, as [Try] does each time. What it gives is for one goroutine.
func Fit(s *brief.Scenario, camera *catalog.Camera, lens *catalog.Lens) *Fitted {
	return &Fitted{camera: camera, glass: fit(s, lens, camera, newFilterSets(s.Catalogue, camera)), mass: s.Accessories.Mass}
}

// Try judges the lens in a shot of the scenario, or of one that differs from it in what a
// brief says of shots, ISO and accessories.
func (f *Fitted) Try(s *brief.Scenario, shot *brief.Shot) Outcome {
	if s.Accessories.Mass != f.mass {
		return Try(s, f.camera, f.glass.lens, shot)
	}
	return f.judge.judge(f.glass, stage(s, f.camera, shot))
}

// Explain is [Try] with the reasons.
func Explain(s *brief.Scenario, camera *catalog.Camera, lens *catalog.Lens, shot *brief.Shot) Judgement {
	f, st := Fit(s, camera, lens), stage(s, camera, shot)
	return explain(f.glass, st, f.judge.judge(f.glass, st))
}

// LensFacts gives the facts of a lens at a focal length, in metres, on a camera of the
// scenario. There are none when the camera lacks the mode that the scenario uses.
func LensFacts(s *brief.Scenario, lens *catalog.Lens, camera *catalog.Camera, focal float64) (facts.Record, bool) {
	var r facts.Record
	if camera.Mode(s.Mode) == nil {
		return r, false
	}
	g := fit(s, lens, camera, newFilterSets(s.Catalogue, camera))
	facts.FillLens(&r, &g.input, focal*g.fitting.Factor)
	return r, true
}
