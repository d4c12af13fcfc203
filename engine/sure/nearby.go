package sure

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"sync/atomic"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/parallel"
)

// Nearby is what comes out for briefs around a scenario.
type Nearby struct {
	Briefs int
	Same   int         // of them, those that give the same kit
	Kits   []Frequency // all kits that came out, the most frequent first
	Shots  []ShotNearby
}

// A Frequency is a kit, or the lens for one shot, and how many briefs give it.
type Frequency struct {
	Lenses []string // none when nothing does it
	Briefs int
}

// A ShotNearby is what nearby briefs say about one shot.
type ShotNearby struct {
	ID       string
	Same     int         // briefs in which it is done with the same lens
	Outcomes []Frequency // the most frequent first
}

// Share gives the part of n briefs in all.
func (n *Nearby) Share(briefs int) float64 { return float64(briefs) / float64(n.Briefs) }

// Draw works out the kits for briefs near that of a table, of which kit is the best.
// Every figure of every shot varies at once, evenly within its tolerance. Progress is told
// how many briefs of how many are done. It fails with the context's error when the context
// ends.
func Draw(ctx context.Context, t *engine.Table, kit *engine.Kit, briefs int, o engine.Options) (*Nearby, error) {
	t = t.Eligible()
	shots := t.Scenario.Shots
	draws := newSequence(len(shots) * int(inputs))
	kits := make([]*engine.Kit, briefs)
	o.Runners = 0
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var done atomic.Int64
	err := parallel.For(ctx, briefs, o.Workers, func(i int) {
		choice, err := t.With(near(t.Scenario, draws, i+1)).Choose(t.Scenario.Limits, o)
		if err != nil {
			stop(err)
			return
		}
		kits[i] = &choice.Kit
		if n := int(done.Add(1)); o.Progress != nil {
			o.Progress(n, briefs)
		}
	})
	if err != nil {
		return nil, context.Cause(ctx)
	}
	return count(shots, kit, kits), nil
}

// near gives the shots of a brief near the scenario.
func near(s *brief.Scenario, draws sequence, point int) []*brief.Shot {
	shots := make([]*brief.Shot, len(s.Shots))
	for i, shot := range s.Shots {
		changed := *shot
		for input := range inputs {
			varied(&changed, input, draws.at(point, i*int(inputs)+int(input))*input.tolerance(s.Tolerances))
		}
		shots[i] = &changed
	}
	return shots
}

// count sums up what came out against the kit of the brief itself.
func count(shots []*brief.Shot, kit *engine.Kit, kits []*engine.Kit) *Nearby {
	n := &Nearby{Briefs: len(kits)}
	whole := newTally()
	for _, k := range kits {
		whole.add(k.Lenses)
	}
	n.Same, n.Kits = whole.of(kit.Lenses), whole.outcomes()
	for i, shot := range shots {
		one := newTally()
		for _, k := range kits {
			one.add(used(k.Uses[i]))
		}
		n.Shots = append(n.Shots, ShotNearby{ID: shot.ID, Same: one.of(used(kit.Uses[i])), Outcomes: one.outcomes()})
	}
	return n
}

func used(lens string) []string {
	if lens == "" {
		return nil
	}
	return []string{lens}
}

// A tally counts sets of lenses, whatever their order.
type tally map[string]*Frequency

func newTally() tally { return tally{} }

func keyOf(lenses []string) string {
	key := ""
	for _, lens := range slices.Sorted(slices.Values(lenses)) {
		key += lens + "\n" // which no name holds
	}
	return key
}

func (t tally) add(lenses []string) {
	key := keyOf(lenses)
	if t[key] == nil {
		t[key] = &Frequency{Lenses: lenses}
	}
	t[key].Briefs++
}

func (t tally) of(lenses []string) int {
	if outcome := t[keyOf(lenses)]; outcome != nil {
		return outcome.Briefs
	}
	return 0
}

func (t tally) outcomes() []Frequency {
	var all []Frequency
	for _, key := range slices.Sorted(maps.Keys(t)) {
		all = append(all, *t[key])
	}
	slices.SortStableFunc(all, func(a, b Frequency) int { return cmp.Compare(b.Briefs, a.Briefs) })
	return all
}
