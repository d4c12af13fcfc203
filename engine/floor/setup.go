package floor

import (
	"glassbrief/engine"
	"glassbrief/engine/brief"
)

// A setup is a lens on the rig for a shot.
type setup struct {
	shot    *brief.Shot
	use     *engine.Judgement
	rigging *Rigging
}

// setups gives the set-up of each shot, nil where no lens of the kit does it. All are
// trimmed together.
func setups(r *engine.Recommendation) []*setup {
	all := make([]*setup, len(r.Shots))
	var riggings []*Rigging
	for i := range r.Shots {
		shot, use := r.Shots[i].Shot, r.Shots[i].Use
		if use == nil {
			continue
		}
		rigging := riggingOf(r, shot, use, use.Filtering.All())
		all[i] = &setup{shot, use, rigging}
		riggings = append(riggings, rigging)
	}
	trimAll(riggings, r.Scenario.Drop)
	return all
}
