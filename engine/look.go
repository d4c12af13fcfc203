package engine

import (
	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// Look reads a scenario as far as it can be read, for editors: what is faulty is left
// out, so that cameras and shots may be missing. It is not to be recommended from.
func Look(src *lang.Source, files Files) *Scenario {
	file, _ := lang.Parse(src)
	l := &loader{files: files, doc: &document{}}
	lang.Decode(file, l.doc)
	s := l.scenario()
	if s.Rig == nil {
		s.Rig = &catalog.Rig{}
	}
	return s
}

// LensFacts gives the facts of a lens at a focal length, in metres, on a camera of the
// scenario. There are none when the camera lacks the mode that the scenario uses.
func (s *Scenario) LensFacts(lens *catalog.Lens, camera *catalog.Camera, focal float64) (facts.Record, bool) {
	var r facts.Record
	if camera.Mode(s.mode) == nil {
		return r, false
	}
	g := s.fit(lens, camera)
	facts.FillLens(&r, &g.input, focal*g.fitting.Factor)
	return r, true
}

// FramingBand gives the share of frame height that a subject fills in a framing, by its
// word.
func FramingBand(word string) (facts.Band, bool) {
	for _, f := range framings {
		if f.word == word {
			return bandOf(word), true
		}
	}
	return facts.Band{}, false
}
