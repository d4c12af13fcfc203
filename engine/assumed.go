package engine

import (
	"slices"
	"sync"

	"glassbrief/engine/brief"
)

// ranged is how many lenses of each ranking have ranges beside those of the kits: for each,
// dozens of worlds are judged.
const ranged = 12

// draws is how many more worlds are tried of the set-ups that the answer is made of.
const draws = 40

// assume says of a judgement what it rests on, with its worlds where they are wanted.
func (t *Table) assume(j *Judgement, shot int, worlds bool) {
	lens := j.lens
	figures := t.assumedOf(shot, lens)
	if j.Rests = len(figures) > 0; !j.Rests || !worlds {
		return
	}
	j.worlds = NewWorlds(t.Scenario, figures, func(values brief.Values) *Judgement {
		g, st := t.under(shot, lens, values, new(trial))
		of := judges.Get().(*judge)
		o := of.shown(g, st)
		judges.Put(of)
		other := explain(g, st, o)
		other.KeptOut = keepsOut(&t.Scenario.Limits, g)
		return &other
	})
	j.spread = sync.OnceValue(func() ScoreSpread { return t.Spread(shot, lens) })
	j.moves = sync.OnceValue(func() bool { return t.Moves(shot, lens) })
}

// Worlds gives the judgement under other values of the figures that it rests on; nil where it
// rests on none, and behind the first dozen of a ranking, where no ranges are worked out.
func (j *Judgement) Worlds() *Worlds[*Judgement] {
	if j == nil {
		return nil
	}
	return j.worlds
}

// ScoreSpread gives where the score of the judgement lies. It is not known where [Judgement.Worlds]
// has none.
func (j *Judgement) ScoreSpread() ScoreSpread {
	if j.spread == nil {
		return ScoreSpread{}
	}
	return j.spread()
}

// Turns reports whether some value of the assumed figures excludes a lens that may be brought, or
// lets one be brought that is excluded.
func (j *Judgement) Turns() bool { return j.ScoreSpread().Otherwise }

// ScoreRests reports whether the score rests on assumed figures: another comes out in some trial,
// or, where none is made, any figure bears on it.
func (j *Judgement) ScoreRests() bool {
	if j.moves == nil {
		return j.Rests
	}
	return j.moves()
}

// KitRests reports whether the score of a kit rests on assumed figures.
func (r *Recommendation) KitRests(k *Kit) bool {
	for i, use := range k.Uses {
		if j := r.Shots[i].Find(use); j != nil && j.ScoreRests() {
			return true
		}
	}
	return false
}

// KitRests reports whether the score of a kit of the table rests on assumed figures.
func (t *Table) KitRests(k *Kit) bool {
	if len(t.Scenario.Assumed) == 0 {
		return false
	}
	for shot, use := range k.Uses {
		if use == "" {
			continue
		}
		j := Judgement{lens: t.Place(use)}
		if t.assume(&j, shot, true); j.ScoreRests() {
			return true
		}
	}
	return false
}

// Rests reports whether the score of the candidate's kit rests on assumed figures.
func (c *Candidate) Rests() bool {
	return slices.ContainsFunc(c.Uses, func(j *Judgement) bool { return j != nil && j.ScoreRests() })
}

// KitSpan gives where the score of the kit lies: in each shot between the least and the most that
// the lens that is put on can score, or the best of the kit where changes cost nothing.
func (r *Recommendation) KitSpan() Span {
	sum, weight := Span{}, 0.0
	for i := range r.Shots {
		best, of := Span{}, r.Shots[i].Shot.Weight
		lenses := r.Kit.Lenses
		if r.Scenario.Prices.Change > 0 {
			lenses = nil
			if use := r.Kit.Uses[i]; use != "" {
				lenses = []string{use}
			}
		}
		for _, lens := range lenses {
			j := r.Shots[i].Find(lens)
			s := j.ScoreSpread()
			switch {
			case !s.Moves && j.Standing == Judged:
				s.Span = Span{j.Score, j.Score}
			case !s.Moves:
				s.Span = Span{}
			case s.Otherwise:
				s.Low = 0
			}
			best = Span{max(best.Low, s.Low), max(best.High, s.High)}
		}
		sum, weight = Span{sum.Low + of*best.Low, sum.High + of*best.High}, weight+of
	}
	return Span{sum.Low / weight, sum.High / weight}
}

// MassSpan gives where the mass of some lenses lies, in kilograms.
func (r *Recommendation) MassSpan(lenses []string) Span {
	var s Span
	for _, name := range lenses {
		lens, _ := r.Scenario.Catalogue.Lenses.Lookup(name)
		one := Span{lens.Mass.OrNaN(), lens.Mass.OrNaN()}
		for i := range r.Scenario.Assumed {
			if a := &r.Scenario.Assumed[i]; a.Of == brief.OfLens && a.Name == name && a.Keyword == "mass" {
				one = Span{a.Low, a.High}
			}
		}
		s = Span{s.Low + one.Low, s.High + one.High}
	}
	return s
}

// under gives the recommendation with other values of assumed figures: the same kit, with the same
// lens for each shot, or none where it may not be brought then. Only the lenses of few are ranked, in
// the order of the answer. Only the lens of the kit is held: most of what is said of a world reads no
// other, and to explain one that is excluded takes a search.
func (r *Recommendation) under(few *Table, values brief.Values) *Recommendation {
	t := few.Under(values)
	other := &Recommendation{Scenario: t.Scenario, Camera: t.Camera, Choice: r.Choice, Table: t, Shots: make([]ShotAnswer, len(r.Shots))}
	for i, shot := range t.Scenario.Shots {
		of := &r.Shots[i]
		whole := &ranking{table: t, shot: i, order: of.ranks(t)}
		whole.settled = len(whole.order)
		answer := ShotAnswer{Shot: shot, Total: len(whole.order), Able: whole.count(Judged), whole: whole}
		if of.Use == nil {
			answer.Shot = of.Shot
		} else if lens := t.Place(of.Use.Lens); t.outcomes[i][lens].Standing == of.Use.Standing {
			answer.Ranking = []Judgement{t.explained(i, lens)}
			answer.Use = &answer.Ranking[0]
			answer.Shot = answer.Use.Shot
		}
		other.Shots[i] = answer
	}
	return other
}

// few gives the table of the lenses that the answer shows.
func (r *Recommendation) few() *Table {
	lenses := slices.Clone(r.Kit.Lenses)
	for i := range r.Shots {
		if answer := &r.Shots[i]; answer.Use == nil && len(answer.Ranking) > 0 && !slices.Contains(lenses, answer.Ranking[0].Lens) {
			lenses = append(lenses, answer.Ranking[0].Lens)
		}
	}
	if len(lenses) == 0 {
		return r.Table
	}
	return r.Table.Foremost(lenses, len(lenses))
}

// WorldsOf gives the worlds of what is made of a recommendation; nil when nothing assumed bears on
// the lenses that it shows. All that is made of one shares what it is in each world.
func WorldsOf[T any](r *Recommendation, of func(*Recommendation) T) *Worlds[T] {
	others := r.others()
	if others == nil {
		return nil
	}
	w := NewWorlds(r.Scenario, others.figures, func(values brief.Values) T { return of(others.Under(values)) })
	w.Drawn(r.Scenario, draws)
	return w
}
