package engine

import (
	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// A Bench is a camera with the filters that there are, to try lenses on that need not be in
// the catalogue, in shots that may be changed copies of those of the scenario: so a caller
// can look for the change that makes a difference. Several goroutines may use it.
type Bench struct {
	scenario *brief.Scenario
	camera   *catalog.Camera
	filters  *filterSets
}

// NewBench gives the bench of a camera.
func NewBench(s *brief.Scenario, camera *catalog.Camera) *Bench {
	return &Bench{s, camera, newFilterSets(s.Catalogue, camera)}
}

// WithFilter gives the bench with one filter more.
func (b *Bench) WithFilter(f *catalog.Filter) *Bench {
	s := *b.scenario
	s.Catalogue = s.Catalogue.WithFilter(f)
	return NewBench(&s, b.camera)
}

// Bench gives the bench of the table's camera.
func (t *Table) Bench() *Bench { return &Bench{t.Scenario, t.Camera, t.filters} }

// Fit puts a lens on the camera, to be tried many times.
func (b *Bench) Fit(lens *catalog.Lens) *Fitted {
	return &Fitted{bench: b, glass: fit(b.scenario, lens, b.camera, b.filters)}
}

// A Fitted is a lens on a bench, for one goroutine.
type Fitted struct {
	bench *Bench
	glass *glass
	judge judge
}

// Try judges the lens in a shot of the scenario, or of one that differs from it in what a
// brief says of shots, ISO and accessories.
func (f *Fitted) Try(s *brief.Scenario, shot *brief.Shot) Outcome {
	return f.judge.judge(f.on(s), stage(s, f.bench.camera, shot))
}

// Standing gives the standing of the outcome that [Fitted.Try] gives, for less.
func (f *Fitted) Standing(s *brief.Scenario, shot *brief.Shot) Standing {
	return f.judge.standing(f.on(s), stage(s, f.bench.camera, shot))
}

// on gives the lens as it stands in a scenario: what is on the rig beside it counts too.
func (f *Fitted) on(s *brief.Scenario) *glass {
	if s.Accessories.Mass == f.bench.scenario.Accessories.Mass {
		return f.glass
	}
	return fit(s, f.glass.lens, f.bench.camera, f.bench.filters)
}

// Stage sets a shot up, for one lens after another.
func (b *Bench) Stage(shot *brief.Shot) *Stage {
	return &Stage{bench: b, staged: stage(b.scenario, b.camera, shot)}
}

// A Stage is a shot on a bench, for one goroutine.
type Stage struct {
	bench  *Bench
	staged *staged
	judge  judge
}

// Try judges a lens in the shot.
func (s *Stage) Try(lens *catalog.Lens) Outcome { return s.judge.judge(s.fit(lens), s.staged) }

// Standing gives the standing of the outcome that [Stage.Try] gives, for less.
func (s *Stage) Standing(lens *catalog.Lens) Standing {
	return s.judge.standing(s.fit(lens), s.staged)
}

// Explain is [Stage.Try] with the reasons.
func (s *Stage) Explain(lens *catalog.Lens) Judgement {
	g := s.fit(lens)
	return explain(g, s.staged, s.judge.shown(g, s.staged))
}

func (s *Stage) fit(lens *catalog.Lens) *glass {
	return fit(s.bench.scenario, lens, s.bench.camera, s.bench.filters)
}

// LensFacts gives the facts of a lens at a focal length, in metres, on a camera of the
// scenario. There are none when the camera lacks the mode that the scenario uses.
func LensFacts(s *brief.Scenario, lens *catalog.Lens, camera *catalog.Camera, focal float64) (facts.Record, bool) {
	var r facts.Record
	if camera.Mode(s.Mode) == nil {
		return r, false
	}
	g := NewBench(s, camera).Fit(lens).glass
	facts.FillLens(&r, &g.input, focal*g.fitting.Factor)
	return r, true
}
