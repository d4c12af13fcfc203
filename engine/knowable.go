package engine

import (
	"glassbrief/engine/facts"
	"glassbrief/engine/setup"
)

// knownOfAny gives the share of the weight of the criteria that is known of a lens whose
// properties are all known: what the brief and the camera leave open counts against no lens.
func (st *staged) knownOfAny() float64 {
	in := onCamera(st.scenario, st.camera, st.camera.Mode(st.shot.Mode), 1)
	in.FocalLow, in.FocalHigh = 35e-3, 35e-3
	in.WidestStop, in.SmallestStop, in.WidestT = 2, 16, 2.2
	in.CloseFocus, in.Magnification, in.Circle = 0.3, 0.2, 45e-3
	in.Falloff, in.Mass, in.Length, in.Mounts = 1, 0.5, 0.1, true
	var lens facts.Record
	facts.FillLens(&lens, &in, in.FocalLow)
	r := st.record
	setup.Dial(&r, setup.Setup{Stop: in.WidestStop, Mark: r.Value[facts.SubjectNear], ISO: st.isos[0]}, setup.Filter{})
	facts.FillPair(&r, &lens, st.shot.Plan)
	return st.shot.Rules.Judge(&r).Known
}
