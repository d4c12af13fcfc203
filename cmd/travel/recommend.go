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
		"runners_are_neighbours", r.Neighbours, // they differ from the kit by one lens
		"gap", r.Gap, // by which a kit could be better that was not looked at; 0 when proven
		"gap_minutes", r.GapMinutes, // the same in minutes of changes; null where they have no price
		"sizes", Each(a.Sizes, func(s *engine.Sized) Object {
			limits := limits
			limits.Carry = s.Carry
			return Of("carry", s.Carry, "kit", ofKit(r, &s.Kit, limits))
		}),
		"second", Maybe(a.Second, func(s *engine.Second) Object { return append(second(s), resting(r.KitRests(&r.Kit))) }), // null for a kit of one lens
		"changes", setupChanges(&a.Changes, true), // of lens, in shooting order
		"adjustments", setupChanges(&a.Changes, false), // the other changes of set-up: filters, low mode, legs
		"change_minutes", r.Kit.Minutes, // that all of both take
		"change_price", r.Scenario.Prices.Change, // score of a shot of weight 1 that a minute of them is worth
		"crew_a_minute", orNone(r.Scenario.Prices.Crew), // money; null when nobody says what it costs
		"without_price", Maybe(a.Free, within), // the kit if changes had no price; null where they have none
		"cameras", Each(a.Cameras, func(c *engine.Candidate) Object { return candidate(r, c, c == &a.Cameras[a.Best]) }), // empty for a brief of one camera
		"nearby", Maybe(a.Nearby, func(n *sure.Nearby) Object { return nearby(n, &r.Scenario.Tolerances, a) }), // null unless asked for
		"tastes", Maybe(a.Tastes, tastes), // null unless asked for
		"figures", Maybe(a.Figures, figures), // null where the kit rests on no assumed figure
		"shots", Making(r.Shots, func(s *engine.ShotAnswer) Object {
			return Of(
				"id", s.Shot.ID, "title", s.Shot.Title, "scene", s.Shot.Scene, "weight", s.Shot.Weight,
				"sensor_mode", r.Camera.Mode(s.Shot.Mode).Name.Value,
				"lens", lensOf(s.Use), // of the kit; null when none does it
				"verdict", verdictOf(s.Use), "whole", s.Use != nil && s.Use.Whole(), "in_part", partsOf(s.Use, p), // of that lens
				"nearest", Maybe(a.Rescue(s), func(r *why.Rescue) Object { return rescue(r, p) }), // null where a lens of the house does it
				"ranking", ranking(s, all, func(j *engine.Judgement) Object { return judgement(j, p) }), // its beginning and the lenses of the kit, or all
				"ranking_total", s.Total, // lenses of the whole ranking
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
		"minutes", k.Minutes, "value", k.Value, // of all changes; the score less what those and hire weigh, by which kits are compared
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
		"may_be_out?", j.Turns() && j.Standing == engine.Judged, // with other values of the assumed figures
		"may_be_in?", j.Turns() && j.Standing != engine.Judged,
		"verdict", verdictOf(j), // good, fair, poor or out
		"whole", j.Whole(), // no limit is below 1 anywhere on the way
		"in_part", partsOf(j, p), // the limits that are
		"known_pct", j.Known,
		"missing", j.Missing, // fields of the lens that the catalogue does not give and that nothing stands in for
		"kept_out", wording.KeptOut(j.KeptOut, p), // the limit by which it cannot come; "" when it can
		"vetoes", Each(j.Vetoes(), func(v *rules.Raised) Object { return Of("code", v.Code, "reason", v.In(p)) }),
		"setup", setup(j),
		"criteria", Each(j.Criteria, func(f *rules.Finding) Object {
			return Of(
				"name", f.Name, "weight", f.Weight, "applies", f.Applies,
				"score", f.Score, // null when unknown or when the criterion does not apply
				"unknown", len(f.Unknown) > 0, "lacks", f.Unknown, // the facts that are not known
				"limits", Each(f.Limiting(), limit), // that lower the whole score; at 0 they exclude
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
			"about", part.Aspect.String(), // framing, focus, light, steadiness, or "" for anything else
			"says", wording.Part(part, j, p),
			"held_pct", part.Held, // of the way; null where nothing moves
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
		"filters", filters, // on the lens, rings included, the lens's side first
		"built_in_nd_stops", builtIn, // of a filter in the camera; nd_stops counts it
		"following", j.Fact(facts.Following) == 1, // the focus is kept on the subject
		"stand_near_m", j.Fact(facts.SubjectNear), "stand_far_m", j.Fact(facts.SubjectFar), // from the sensor plane to the subject
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
		"lens", s.Lens, "loss", s.Loss, // that would be missed least, and what the score loses without it
		"shots", s.Shots, "decider", Name(s.Decider), // shot without which it does not come
		"instead", s.Instead.Lenses, // the kit then
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
		"count", f.Bear, // figures that bear on the lenses that the kit is chosen from
		"sure", f.Sure, // no values within the ranges make another kit better
		"draws", f.Draws, "same_kit", f.Same, // of all figures at once; 0 for a kit that is sure
		"kits", Each(f.Kits, func(k *sure.Frequency) Object { return Of("lenses", k.Lenses, "draws", k.Briefs) }), // that came out
		"ask", Each(f.Ask, func(q *sure.Question) Object { // what settles most first; empty for a kit that is sure
			of := func(value float64) float64 { return float64(In(value, q.Unit)) }
			return Of(
				"of", q.Of.String(), "name", q.Name, "figure", q.Keyword, "unit", q.Unit,
				"low", of(q.Low), "taken", of(q.Middle), "high", of(q.High),
				"evidence", q.Evidence.String(), "source", q.Source, "stated_roughly", q.Rough,
				"settles", q.Settles, // by how much the mean score is higher for knowing it
				"moves", q.Moves, // how far the score of the kit moves over its range
				"kits", Each(q.Kits, func(k *sure.KitAt) Object { return Of("value", of(k.Value), "kit", k.Kit) }),
			)
		}),
	)
}

func nearby(n *sure.Nearby, t *brief.Tolerances, a *answer.Answer) Object {
	return Of(
		"briefs", n.Briefs, "same_kit", n.Same,
		"covers_pct", n.Covers.Value, "covers_error_pct", n.Covers.Error, // of the briefs: the kit does all that it does in the brief itself; errors are those of sampling, at 95 %
		"outdone_pct", n.Outdone.Value, "outdone_error_pct", n.Outdone.Error, // of the briefs: another kit leaves less undone
		"loss_median", n.Loss.Value, "loss_median_error", n.Loss.Error, // of value against the best kit of each brief
		"loss_p95", n.LossOften.Value, "loss_p95_error", n.LossOften.Error,
		"score_median", n.Score.Value, "score_median_error", n.Score.Error, // of the kit
		"score_p05", n.ScoreSeldom.Value, "score_p05_error", n.ScoreSeldom.Error,
		"hurts", Each(a.Hurts, hurt), // what hurts the kit by itself, the worst first
		"figures_varied", n.Figures, // that are assumed
		"distance_pct", t.Distance, "light_stops", t.Light, "subject_pct", t.Subject, "weight_pct", t.Weight,
		"kits", Each(n.Kits, outcome),
		"shots", Each(n.Shots, func(s *sure.ShotNearby) Object {
			return Of("shot", s.ID, "done", s.Done, "same_lens", s.Same, "outcomes", Each(s.Outcomes, outcome))
		}),
		"first_flip", Maybe(a.Flip, flip), // null when no figure alone changes the kit
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
		"draws", s.Draws, // of each kind
		"error_pct", s.Error(), // of sampling, at 95 %
		"set_ups_held", true, // each lens keeps in each shot that of the weights in force
		"kits", Each(kits, func(k *taste.Share) Object { // the one chosen first, then by their shares
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
				"all_weightings_pct", share(k.All), "half_to_double_pct", share(k.Near), // of the tastes of each kind: it is best
				"central_weights", weights, // in the middle of those that make it best, as a rules file takes them; empty where no taste does
				"solved_anew", k.Anew, // the kit when these are in force and set-ups are sought anew; empty where nobody looked
				"marked_by", marked, // the criterion that tells these weightings best from all; null where chance does
				"factor", factor, // by which it weighs more there
			)
		}),
		"kits_total", len(s.Kits), "others_pct", others, // of all weightings: kits behind those listed are best
		"not_proven", s.Unproven, // tastes whose search was cut short
	)
}

func hurt(h *sure.Hurt) Object {
	of, name, input := brief.OfShot, h.Shot, h.Input.String()
	if h.Figure != nil {
		of, name, input = h.Figure.Of, h.Figure.Name, h.Figure.Keyword
	}
	return Of("of", of.String(), "name", name, "input", input,
		"undone_pct", h.Undone, // of what it may be: the kit leaves undone what it does in the brief itself
		"loss", h.Loss, // of value against the best kit, in the mean over what it may be
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
