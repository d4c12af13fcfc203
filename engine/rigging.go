package engine

import (
	"sync"

	"glassbrief/engine/facts"
	"glassbrief/engine/rig"
)

// rigs holds the set-ups on the rig that were asked for, by what they are made of: many shots share
// one. Tables that differ in their shots and in which lenses they hold share it.
type rigs struct {
	mu   sync.Mutex
	made map[rigKey]*rig.Setup
}

type rigKey struct {
	glass  *glass
	filter int
	low    bool
	legs   bool
}

// setup gives the set-up on the rig of a lens that may be brought for a shot, by their places.
func (t *Table) setup(shot, lens int) *rig.Setup {
	g, of := t.glass[lens], t.Scenario.Shots[shot]
	key := rigKey{g, t.outcomes[shot][lens].Filter, of.Move.Low, of.Support == facts.Legs}
	t.rigs.mu.Lock()
	defer t.rigs.mu.Unlock()
	u := t.rigs.made[key]
	if u == nil {
		u = rig.New(t.Scenario, t.Camera, of, g.lens, g.fitting, g.in(of).filters.list[key.filter].All())
		if t.rigs.made == nil {
			t.rigs.made = map[rigKey]*rig.Setup{}
		}
		t.rigs.made[key] = u
	}
	return u
}

// Trim gives how the set-ups of some lenses are trimmed together: all that these may have in the
// whole file, used or not.
func (t *Table) Trim(lenses []string) rig.Trim {
	var all []*rig.Setup
	for _, name := range lenses {
		lens := t.Place(name)
		for shot := range t.outcomes {
			if t.outcomes[shot][lens].Acceptable() {
				all = append(all, t.setup(shot, lens))
			}
		}
	}
	return rig.Together(t.Scenario.Rig, all)
}
