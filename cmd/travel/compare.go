package travel

import (
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/compare"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// Comparison is the document of a comparison of two versions by their names, with what each holds of
// its rankings or with all of them.
func Comparison(r *compare.Comparison, names []string, all bool) Object {
	side := func(r *engine.Recommendation, version string) Object {
		return Of("version", version, "camera", r.Camera.Name.Value, "kit", ofKit(r, &r.Kit, r.Scenario.Limits))
	}
	idle := r.Idle()
	changes := make([]Object, len(r.Changes))
	for i, c := range r.Changes {
		changes[i] = Of(
			"number", i+1, "kind", c.Kind.String(),
			"block", c.Block, "field", c.Field,
			"old", c.Old, "new", c.New, "idle", slices.Contains(idle, i),
		)
	}
	return Of(
		"schema", HeaderOf("compare").Schema, "scenario", r.New.Scenario.Name, "old", side(r.Old, names[0]), "new", side(r.New, names[1]),
		"same_plan", r.SamePlan(), "changes", changes,
		"effects", Each(r.Effects, func(e *compare.Effect) Object {
			shot, because := "", make([]int, len(e.Because))
			if e.Shot >= 0 {
				shot = r.Shots[e.Shot].New.Shot.ID
			}
			for i, at := range e.Because {
				because[i] = at + 1
			}
			return Of("on", e.Of.String(), "shot", shot, "because", because) // no shot of camera and kit; no change when no set was found
		}),
		"shots", Making(r.Shots, func(s *compare.Shots) Object {
			old, new := version(s.Old, all), version(s.New, all)
			return Of(
				"old_id", old.Get("id"), "new_id", new.Get("id"), "old_setup", old.Get("setup"), "new_setup", new.Get("setup"),
				"old_ranking", old.Get("ranking"), "new_ranking", new.Get("ranking"),
				"old_ranking_total", old.Get("ranking_total"), "new_ranking_total", new.Get("ranking_total"),
			)
		}),
		"days", Maybe(r.Days, func(d *compare.Days) Object {
			moved := []string{}
			for _, i := range d.Moved {
				moved = append(moved, r.Shots[i].New.Shot.ID)
			}
			return Of("old", planned(d.Old), "new", planned(d.New), "moved_shots", moved)
		}),
	)
}

// Review is the document of two versions that come from a third, by their names.
func Review(r *compare.Review, names []string) Object {
	side := func(r *engine.Recommendation, version string) Object {
		return Of("version", version, "camera", r.Camera.Name.Value, "kit", ofKit(r, &r.Kit, r.Scenario.Limits))
	}
	edits := func(list []compare.Edit) []Object {
		changes := []Object{}
		for i, c := range list {
			changes = append(changes, Of("number", i+1, "kind", c.Kind.String(), "block", c.Block, "field", c.Field, "old", c.Old, "new", c.New))
		}
		return changes
	}
	faults := append(lang.Diagnostics{}, r.Faults...)
	return Of(
		"schema", HeaderOf("compare-sides").Schema, "scenario", r.Base.Scenario.Name,
		"base", side(r.Base, names[0]), "ours", side(r.Ours, names[1]), "theirs", side(r.Theirs, names[2]),
		"merged", Maybe(r.Merged, func(m *engine.Recommendation) Object {
			return Of("camera", m.Camera.Name.Value, "kit", ofKit(m, &m.Kit, m.Scenario.Limits))
		}),
		"contradicted", r.Contradicted(), "plan_of_ours", r.LikeOurs(), "plan_of_theirs", r.LikeTheirs(),
		"ours_changes", edits(r.ByOurs), "theirs_changes", edits(r.ByTheirs),
		"both_change", Each(r.Meetings, func(m *compare.Meeting) Object {
			return Of("ours_number", m.Ours+1, "theirs_number", m.Theirs+1, "together", m.Outcome.String()) // alike, joined or contradiction
		}),
		"shots", Each(r.Shots, func(s *compare.Sides) Object {
			base, ours, theirs, merged := version(s.Base, false), version(s.Ours, false), version(s.Theirs, false), version(s.Merged, false)
			return Of(
				"base_id", base.Get("id"), "ours_id", ours.Get("id"), "theirs_id", theirs.Get("id"), "merged_id", merged.Get("id"),
				"base_setup", base.Get("setup"), "ours_setup", ours.Get("setup"), "theirs_setup", theirs.Get("setup"), "merged_setup", merged.Get("setup"),
			)
		}),
		"faults", faults,
	)
}

func version(a *engine.ShotAnswer, all bool) Object {
	if a == nil {
		a = &engine.ShotAnswer{}
	}
	var id *string
	if a.Shot != nil {
		id = &a.Shot.ID
	}
	return Of(
		"id", id,
		"setup", Maybe(a.Use, func(j *engine.Judgement) Object {
			return Ranged(j, j.Worlds(), func(other *engine.Judgement) Object {
				if other.Standing != j.Standing {
					return nil
				}
				return append(Of("lens", other.Lens, "focal_mm", other.Fact(facts.FocalLength)), setup(other)...)
			})
		}),
		"ranking_total", a.Total,
		"ranking", ranking(a, all, func(j *engine.Judgement) Object {
			return withScore(Of("place", placeOf(j), "lens", j.Lens, "score", j.Score, "standing", j.Standing.String()), j)
		}),
	)
}
