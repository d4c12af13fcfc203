package travel

import (
	"iter"
	"math"
	"slices"
	"strings"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/engine/rules"
	"glassbrief/engine/sure"
	"glassbrief/engine/taste"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// head begins the document of a verb about one scenario on one camera.
func head(verb string, r *engine.Recommendation) Object {
	return Of("schema", HeaderOf(verb).Schema, "scenario", r.Scenario.Name, "camera", r.Camera.Name.Value, "rig", r.Scenario.Rig.Name.Value)
}

// Recommendation is the document of an answer, with what it holds of each ranking or with all of it.
// Reasons are in the printer's units.
func Recommendation(a *answer.Answer, all bool, p lang.Printer) Object {
	r := a.Recommendation
	limits := r.Scenario.Limits
	within := func(k *engine.Kit) Object { return ofKit(r, k, limits) }
	return append(head("recommend", r), Of(
		"kit", within(&r.Kit),
		"left_out", Each(r.LeftOut, func(l *engine.LeftOut) Object {
			return Of("lens", l.Lens, "lacks", l.Lacks, "asked_by", l.AskedBy) // the limit that asks for it; "" for what judging needs
		}),
		"runners", Each(r.Runners, within),
		"runners_are_neighbours", r.Neighbours,
		"gap", r.Gap,
		"gap_minutes", r.GapMinutes,
		"sizes", Each(a.Sizes, func(s *engine.Sized) Object {
			limits := limits
			limits.Carry = s.Carry
			return Of("carry", s.Carry, "kit", ofKit(r, &s.Kit, limits))
		}),
		"second", Maybe(a.Second, func(s *engine.Second) Object { return append(second(s), resting(r.KitRests(&r.Kit))) }),
		"changes", setupChanges(&a.Changes, true),
		"adjustments", setupChanges(&a.Changes, false),
		"change_minutes", r.Kit.Minutes,
		"change_price", r.Scenario.Prices.Change,
		"crew_a_minute", orNone(r.Scenario.Prices.Crew),
		"without_price", Maybe(a.Free, within),
		"cameras", Each(a.Cameras, func(c *engine.Candidate) Object { return candidate(r, c, c == &a.Cameras[a.Best]) }),
		"nearby", Maybe(a.Nearby, func(n *sure.Nearby) Object { return nearby(n, &r.Scenario.Tolerances, a) }),
		"tastes", Maybe(a.Tastes, tastes),
		"figures", Maybe(a.Figures, figures),
		"shots", Making(r.Shots, func(s *engine.ShotAnswer) Object {
			return Of(
				"id", s.Shot.ID, "title", s.Shot.Title, "scene", s.Shot.Scene, "weight", s.Shot.Weight,
				"sensor_mode", r.Camera.Mode(s.Shot.Mode).Name.Value,
				"lens", lensOf(s.Use),
				"verdict", verdictOf(s.Use), "whole", s.Use != nil && s.Use.Whole(), "in_part", partsOf(s.Use, p),
				"nearest", Maybe(a.Rescue(s), func(r *why.Rescue) Object { return rescue(r, p) }),
				"ranking", ranking(s, all, func(j *engine.Judgement) Object { return judgement(j, p) }),
				"ranking_total", s.Total,
			)
		}),
	)...)
}

// orNone gives a value, unknown for 0.
func orNone(value float64) float64 {
	if value == 0 {
		return math.NaN()
	}
	return value
}

// setupChanges are the changes of lens, or the others, with where their numbers lie.
func setupChanges(c *floor.SetupChanges, ofLens bool) []Object {
	some := slices.DeleteFunc(slices.Clone(c.All), func(c floor.SetupChange) bool { return c.OfLens() != ofLens })
	all := Ranged(c.All, c.Worlds, func(others []floor.SetupChange) Object {
		return Of("changes", Each(some, func(c *floor.SetupChange) Object {
			o := c.In(others)
			if o == nil { // it is not made in a world
				return nil
			}
			return append(Of("before", o.Before.ID), swap(&o.Swap)...)
		}))
	})
	return all.Get("changes").([]Object)
}

// ranked gives what an answer holds of the ranking of a shot, or all of it.
func ranked(s *engine.ShotAnswer, all bool) iter.Seq[*engine.Judgement] {
	if all {
		return s.All()
	}
	return s.Held()
}

func ranking(s *engine.ShotAnswer, all bool, of func(*engine.Judgement) Object) Objects {
	return func(yield func(Object) bool) {
		for j := range ranked(s, all) {
			if !yield(of(j)) {
				return
			}
		}
	}
}

func lensOf(j *engine.Judgement) *string {
	if j == nil {
		return nil
	}
	return &j.Lens
}

func kit(k *engine.Kit, proven bool, l brief.Limits) Object {
	return Of(
		"lenses", k.Lenses, "score", k.Mean, "uncovered", k.Uncovered, "swaps", k.Swaps, "mass_kg", k.Mass,
		"minutes", k.Minutes, "value", k.Value,
		"cost_a_day", k.Cost, "proven", proven, "limits", limits(l),
	)
}

// ofKit is a kit of a recommendation with where its numbers lie.
func ofKit(r *engine.Recommendation, k *engine.Kit, l brief.Limits) Object {
	assumed := resting(r.KitRests(k))
	if assumed.Value.(Object) != nil && slices.Equal(k.Lenses, r.Kit.Lenses) {
		assumed.Value = Of("score", outward(r.KitSpan()))
	}
	return append(kit(k, r.Proven, l), withMass(assumed, r, k))
}

// withMass says of the numbers of a kit that are assumed where its mass lies too.
func withMass(assumed Member, r *engine.Recommendation, k *engine.Kit) Member {
	if mass := r.MassSpan(k.Lenses); mass.Low < mass.High {
		assumed.Value = append(assumed.Value.(Object), Of("mass_kg", Of("low", mass.Low, "high", mass.High))...)
	}
	return assumed
}

func limits(l brief.Limits) Object {
	bound := func(is bool, value float64) float64 { // null for no limit
		if !is {
			return math.NaN()
		}
		return value
	}
	return Of(
		"carry", l.Carry, "rent_a_day", bound(l.Rent >= 0, l.Rent), "currency", l.Currency, "bag_kg", bound(l.BagMass > 0, l.BagMass),
		"owned_only", l.OwnedOnly, "bring", l.Bring, "leave", l.Leave,
	)
}

// judgement is a lens in a shot, with the ranges of its numbers where it rests on assumed figures.
func judgement(j *engine.Judgement, p lang.Printer) Object {
	return append(Of("place", placeOf(j)), withScore(Ranged(j, j.Worlds(), func(other *engine.Judgement) Object {
		if other.Standing != j.Standing { // its numbers are those of another answer
			return nil
		}
		return judged(other, p)
	}), j)...)
}

func judged(j *engine.Judgement, p lang.Printer) Object {
	adapter := ""
	if a := j.Fitting.Adapter; a != nil {
		adapter = a.Name.Value
	}
	limit := func(l *rules.Raised) Object { return Of("code", l.Code, "factor", l.Factor, "reason", l.In(p)) }
	return Of(
		"lens", j.Lens, "focal_mm", j.Fact(facts.FocalLength), "adapter", adapter, "score", j.Score,
		"excluded", j.Standing == engine.Excluded, "standing", j.Standing.String(),
		"may_be_out?", j.Turns() && j.Standing == engine.Judged,
		"may_be_in?", j.Turns() && j.Standing != engine.Judged,
		"verdict", verdictOf(j),
		"whole", j.Whole(),
		"in_part", partsOf(j, p),
		"known_pct", j.Known,
		"missing", j.Missing,
		"kept_out", wording.KeptOut(j.KeptOut, p),
		"vetoes", Each(j.Vetoes(), func(v *rules.Raised) Object { return Of("code", v.Code, "reason", v.In(p)) }),
		"setup", setup(j),
		"criteria", Each(j.Criteria, func(f *rules.Finding) Object {
			return Of(
				"name", f.Name, "weight", f.Weight, "applies", f.Applies,
				"score", f.Score,
				"unknown", len(f.Unknown) > 0, "lacks", f.Unknown,
				"limits", Each(f.Limiting(), limit),
				"reasons", wording.Reasons(f, p),
			)
		}),
	)
}

// verdictOf gives the verdict on a lens, or on none.
func verdictOf(j *engine.Judgement) string {
	if j == nil {
		return engine.Out.String()
	}
	return j.Verdict().String()
}

// partsOf lists what is not done whole.
func partsOf(j *engine.Judgement, p lang.Printer) []Object {
	if j == nil {
		return []Object{}
	}
	parts := j.InPart()
	return Each(parts, func(part *engine.Part) Object {
		return Of(
			"code", part.Code, "factor", part.Factor, "reason", part.In(p),
			"about", part.Aspect.String(),
			"says", wording.Part(part, j, p),
			"held_pct", part.Held,
		)
	})
}

// setup is what is dialled in.
func setup(j *engine.Judgement) Object {
	far := j.Fact(facts.FarLimit)
	filters, builtIn := []string{}, math.NaN()
	if f := j.Filtering; f != nil {
		builtIn = f.BuiltIn
		for _, piece := range f.All() {
			filters = append(filters, piece.Name.Value)
		}
	}
	return Of(
		"aperture", j.Fact(facts.Stop), "t_stop", j.Fact(facts.TStop), "focus_at_m", j.Fact(facts.FocusMark),
		"near_m", j.Fact(facts.NearLimit), "far_m", far, "far_unbounded?", math.IsInf(far, 0),
		"iso", j.Fact(facts.ISO), "nd_stops", j.Fact(facts.ND), "short_stops", j.Fact(facts.Short),
		"over_stops", j.Fact(facts.Over),
		"filters", filters,
		"built_in_nd_stops", builtIn,
		"following", j.Fact(facts.Following) == 1,
		"stand_near_m", j.Fact(facts.SubjectNear), "stand_far_m", j.Fact(facts.SubjectFar),
		"face_stretch_pct", j.Fact(facts.FaceStretch), "field_width_deg", j.Fact(facts.AngleWidth),
	)
}

// Rankings are the lenses in the shots, for a spreadsheet: what an answer holds of each ranking, or all
// of it.
func Rankings(r *engine.Recommendation, all bool, p lang.Printer) iter.Seq[any] {
	return func(yield func(any) bool) {
		for i := range r.Shots {
			for j := range ranked(&r.Shots[i], all) {
				if !yield(rankingRow(&r.Shots[i], j, p)) {
					return
				}
			}
		}
	}
}

func rankingRow(shot *engine.ShotAnswer, j *engine.Judgement, p lang.Printer) Object {
	veto := ""
	if vetoes := j.Vetoes(); len(vetoes) > 0 {
		veto = vetoes[0].In(p)
	}
	var parts []string
	for _, part := range j.InPart() {
		parts = append(parts, wording.Part(&part, j, p))
	}
	row := withScore(Ranged(j, j.Worlds(), func(other *engine.Judgement) Object {
		if other.Standing != j.Standing {
			return nil
		}
		row := Of(
			"shot", shot.Shot.ID, "place", placeOf(j), "lens", j.Lens, "in_kit", j == shot.Use, "focal_mm", other.Fact(facts.FocalLength),
			"score", other.Score, "standing", j.Standing.String(), "verdict", verdictOf(j), "in_part", strings.Join(parts, "; "), "veto", veto,
		)
		for _, m := range setup(other) {
			if list, ok := m.Value.([]string); ok { // a cell holds one value
				m.Value = strings.Join(list, "; ")
			}
			if !m.Optional {
				row = append(row, m)
			}
		}
		return row
	}), j)
	return append(row.without(Assumed), marks(row)...)
}

// placeOf gives the place of a lens in the ranking of its shot, from 1; unknown where it was not looked
// for, which is among the excluded.
func placeOf(j *engine.Judgement) float64 {
	if j.Rank == 0 {
		return math.NaN()
	}
	return float64(j.Rank)
}

func second(s *engine.Second) Object {
	return Of(
		"lens", s.Lens, "loss", s.Loss,
		"shots", s.Shots, "decider", Name(s.Decider),
		"instead", s.Instead.Lenses,
	)
}

func candidate(r *engine.Recommendation, c *engine.Candidate, best bool) Object {
	scenario := r.Scenario
	shots := make([]Object, len(c.Uses))
	for i, use := range c.Uses {
		if use == nil {
			use = &engine.Judgement{} // nothing is known of no lens
		}
		shots[i] = withScore(Ranged(use, use.Worlds(), func(other *engine.Judgement) Object {
			if other.Standing != use.Standing {
				return nil
			}
			width, height := other.Field() // at the nearest subject
			return Of(
				"shot", scenario.Shots[i].ID, "lens", Name(other.Lens), "score", other.Score, "focal_mm", other.Fact(facts.FocalLength),
				"angle_width_deg", other.Fact(facts.AngleWidth), "width_m", width, "height_m", height,
			)
		}), use)
	}
	kit := append(kit(&c.Kit, c.Proven, scenario.Limits), withMass(resting(c.Rests()), r, &c.Kit))
	return Of("camera", c.Camera.Name.Value, "best", best, "kit", kit, "shots", shots)
}

// figures is how far the kit hangs on assumed figures.
func figures(f *sure.Figures) Object {
	return Of(
		"count", f.Bear,
		"sure", f.Sure,
		"draws", f.Draws, "same_kit", f.Same,
		"kits", Each(f.Kits, func(k *sure.Frequency) Object { return Of("lenses", k.Lenses, "draws", k.Briefs) }),
		"ask", Each(f.Ask, func(q *sure.Question) Object {
			of := func(value float64) float64 { return float64(In(value, q.Unit)) }
			return Of(
				"of", q.Of.String(), "name", q.Name, "figure", q.Keyword, "unit", q.Unit,
				"low", of(q.Low), "taken", of(q.Middle), "high", of(q.High),
				"evidence", q.Evidence.String(), "source", q.Source, "stated_roughly", q.Rough,
				"settles", q.Settles,
				"moves", q.Moves,
				"kits", Each(q.Kits, func(k *sure.KitAt) Object { return Of("value", of(k.Value), "kit", k.Kit) }),
			)
		}),
	)
}

func nearby(n *sure.Nearby, t *brief.Tolerances, a *answer.Answer) Object {
	return Of(
		"briefs", n.Briefs, "same_kit", n.Same,
		"covers_pct", n.Covers.Value, "covers_error_pct", n.Covers.Error,
		"outdone_pct", n.Outdone.Value, "outdone_error_pct", n.Outdone.Error,
		"loss_median", n.Loss.Value, "loss_median_error", n.Loss.Error,
		"loss_p95", n.LossOften.Value, "loss_p95_error", n.LossOften.Error,
		"score_median", n.Score.Value, "score_median_error", n.Score.Error,
		"score_p05", n.ScoreSeldom.Value, "score_p05_error", n.ScoreSeldom.Error,
		"hurts", Each(a.Hurts, hurt),
		"figures_varied", n.Figures,
		"distance_pct", t.Distance, "light_stops", t.Light, "subject_pct", t.Subject, "weight_pct", t.Weight,
		"kits", Each(n.Kits, outcome),
		"shots", Each(n.Shots, func(s *sure.ShotNearby) Object {
			return Of("shot", s.ID, "done", s.Done, "same_lens", s.Same, "outcomes", Each(s.Outcomes, outcome))
		}),
		"first_flip", Maybe(a.Flip, flip),
	)
}

// mostKits is how many kits that some taste makes the best are written.
const mostKits = 10

func tastes(s *taste.Shares) Object {
	share := func(draws int) float64 { return float64(draws) / float64(s.Draws) }
	kits, others := s.Kits[:min(len(s.Kits), mostKits)], 0.0
	for i := len(kits); i < len(s.Kits); i++ {
		others += share(s.Kits[i].All)
	}
	return Of(
		"draws", s.Draws,
		"error_pct", s.Error(),
		"set_ups_held", true,
		"kits", Each(kits, func(k *taste.Share) Object {
			var marked *string
			factor := math.NaN()
			if k.Marks != nil {
				marked, factor = &k.Marks.Criterion.Name, k.Marks.Times
			}
			weights := []Object{}
			for i, weight := range k.Central {
				weights = append(weights, Of("criterion", s.Criteria[i].Name, "weight", weight))
			}
			return Of(
				"lenses", k.Lenses,
				"all_weightings_pct", share(k.All), "half_to_double_pct", share(k.Near),
				"central_weights", weights,
				"solved_anew", k.Anew,
				"marked_by", marked,
				"factor", factor,
			)
		}),
		"kits_total", len(s.Kits), "others_pct", others,
		"not_proven", s.Unproven,
	)
}

func hurt(h *sure.Hurt) Object {
	of, name, input := brief.OfShot, h.Shot, h.Input.String()
	if h.Figure != nil {
		of, name, input = h.Figure.Of, h.Figure.Name, h.Figure.Keyword
	}
	return Of("of", of.String(), "name", name, "input", input,
		"undone_pct", h.Undone,
		"loss", h.Loss,
	)
}

func outcome(o *sure.Frequency) Object { return Of("lenses", o.Lenses, "briefs", o.Briefs) }

func flip(f *sure.Flip) Object {
	share, stops := f.By, math.NaN()
	if f.Input == sure.Light {
		share, stops = stops, share
	}
	return Of("shot", f.Shot, "input", f.Input.String(), "by_pct", share, "by_stops", stops, "kit", f.Kit)
}
