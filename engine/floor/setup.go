package floor

import (
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/rig"
)

// A setup is a lens on the rig for a shot.
type setup struct {
	shot    *brief.Shot
	use     *engine.Judgement
	rigging *Rigging
}

// setups gives the set-up of each shot, nil where no lens of the kit does it, trimmed with all that
// the kit can have.
func setups(r *engine.Recommendation) ([]*setup, rig.Trim) {
	all, trim := make([]*setup, len(r.Shots)), r.Table.Trim(r.Kit.Lenses)
	for i := range r.Shots {
		shot, use := r.Shots[i].Shot, r.Shots[i].Use
		if use == nil {
			continue
		}
		all[i] = &setup{shot, use, riggingOf(r, shot, use, use.Filtering.All())}
		all[i].rigging.trim(&trim)
	}
	return all, trim
}
