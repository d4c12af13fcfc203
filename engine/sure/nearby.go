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
	// Covers is the share of the briefs in which the kit does every shot that it does in the brief
	// itself, and Outdone that in which another kit leaves less undone.
	Covers, Outdone Estimate
	// Loss is what the kit is worth less than the best kit of a brief: so much or less in half of the
	// briefs. LossOften is the same for 19 of 20.
	Loss, LossOften Estimate
	// Score is the mean score of the kit: so much or less in half of the briefs. ScoreSeldom is the
	// same for one of 20.
	Score, ScoreSeldom Estimate
	Figures            int         // that are assumed and lie elsewhere in their ranges
	Same               int         // briefs that give the same kit
	Kits               []Frequency // all kits that came out, the most frequent first
	Shots              []ShotNearby
}

// A Frequency is a kit, or the lens for one shot, and how many briefs give it.
type Frequency struct {
	Lenses []string // none when nothing does it
	Briefs int
}

// A ShotNearby is what nearby briefs say about one shot.
type ShotNearby struct {
	ID       string
	Done     int         // briefs in which a lens of the kit does it
	Same     int         // briefs in whose best kit the same lens does it
	Outcomes []Frequency // in the best kits, the most frequent first
}

// Share gives the part of n briefs in all.
func (n *Nearby) Share(briefs int) float64 { return float64(briefs) / float64(n.Briefs) }

// seed of all that is drawn: any will do.
const seed = 1

// Draw tries a kit in briefs near that of a table, of which it is the best kit. In each brief every
// figure of every shot is off at once, evenly within its tolerance, and so is every assumed figure that
// bears on lenses that may come, evenly within its range: see [brief.Scenario.Draw]. Progress is told how
// many briefs of how many are done. It fails with the context's error when the context ends.
func Draw(ctx context.Context, t *engine.Table, kit *engine.Kit, briefs int, o engine.Options) (*Nearby, error) {
	t = t.Eligible()
	o.Runners = 0
	causes := causesOf(t)
	d := newDraws(briefs, len(causes), seed)
	trials := make([]trial, briefs)
	var done atomic.Int64
	err := parallel.For(ctx, briefs, o.Workers, func(k int) {
		trials[k] = tryKit(near(t, causes, func(cause int) float64 { return d.at(k, cause) }), kit, o)
		if n := int(done.Add(1)); o.Progress != nil {
			o.Progress(n, briefs)
		}
	})
	if err != nil {
		return nil, err
	}
	n := count(t.Scenario.Shots, kit, trials)
	n.Covers = d.share(func(k int) bool { return trials[k].covers(kit) })
	n.Outdone = d.share(func(k int) bool { return trials[k].outdone() })
	losses, scores := make([]float64, briefs), make([]float64, briefs)
	for k := range trials {
		losses[k], scores[k] = trials[k].loss(), trials[k].own.Mean
	}
	n.Loss, n.LossOften = d.quantile(losses, 0.5), d.quantile(losses, 0.95)
	n.Score, n.ScoreSeldom = d.quantile(scores, 0.5), d.quantile(scores, 0.05)
	for _, c := range causes {
		if c.Figure != nil {
			n.Figures++
		}
	}
	return n, nil
}

// count sums up what came out against the kit of the brief itself.
func count(shots []*brief.Shot, kit *engine.Kit, trials []trial) *Nearby {
	n := &Nearby{Briefs: len(trials)}
	whole := newTally()
	for k := range trials {
		whole.add(trials[k].best.Lenses)
	}
	n.Same, n.Kits = whole.of(kit.Lenses), whole.outcomes()
	for i, shot := range shots {
		one, done := newTally(), 0
		for k := range trials {
			one.add(used(&trials[k].best, i))
			if used(&trials[k].own, i) != nil {
				done++
			}
		}
		n.Shots = append(n.Shots, ShotNearby{ID: shot.ID, Done: done, Same: one.of(used(kit, i)), Outcomes: one.outcomes()})
	}
	return n
}

// used gives the lens that a kit puts on for a shot, none where none does it.
func used(kit *engine.Kit, shot int) []string {
	if kit.Uses == nil || kit.Uses[shot] == "" {
		return nil
	}
	return []string{kit.Uses[shot]}
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
