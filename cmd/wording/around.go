package wording

import (
	"fmt"
	"math"

	"glassbrief/engine"
)

// Lenses names the lenses of a kit, or that there are none.
func Lenses(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return List(names, "and")
}

// Second says what the lens that a kit would miss least is there for, and which shot
// decides that it comes.
func Second(s *engine.Second, r *engine.Recommendation) string {
	if len(s.Shots) == 0 {
		if saves := s.Without.Minutes - r.Kit.Minutes; saves > 0 {
			return fmt.Sprintf("%s comes because it stays on: without it changes would take %s more.", s.Lens, InMinutes(saves))
		}
		return fmt.Sprintf("%s comes because it must: no shot is better for it.", s.Lens)
	}
	text := fmt.Sprintf("%s is the lens that would be missed least: without it %s would lose, ", s.Lens, shotList(s.Shots))
	rests := Tilde(r.KitRests(&r.Kit))
	if now, then := hundredths(r.Kit.Mean), hundredths(s.Without.Mean); s.Loss > 0 && now != then {
		text += fmt.Sprintf("and the score would fall from %s%s to %s%s.", rests, now, rests, then)
	} else {
		text += "and the score would hardly fall."
	}
	if s.Decider == "" {
		return text + " No single shot decides: it comes without any one of them, too."
	}
	return text + fmt.Sprintf(" Shot %s decides: without that shot, %s would be the kit.", s.Decider, Lenses(s.Instead.Lenses))
}

// hundredths writes a score as it is shown.
func hundredths(score float64) string { return fmt.Sprintf("%.2f", score) }

func shotList(ids []string) string {
	if len(ids) == 1 {
		return "shot " + ids[0]
	}
	return "shots " + List(ids, "and")
}

// Cameras says which camera is the best, and by how much.
func Cameras(all []engine.Candidate, best int) string {
	kit := &all[best].Kit
	text := fmt.Sprintf("Over all cameras, %s with %s is best, with a score of %s", all[best].Camera.Name.Value, Lenses(kit.Lenses), CandidateScore(&all[best]))
	var others []string
	for i := range all {
		if i == best {
			continue
		}
		other := fmt.Sprintf("%s on %s", CandidateScore(&all[i]), all[i].Camera.Name.Value)
		if all[i].Kit.Left > kit.Left {
			other += ", which leaves " + List(all[i].Kit.Uncovered, "and") + " undone"
		}
		others = append(others, other)
	}
	return text + " against " + List(others, "and") + ". The sizes are those of the picture at the nearest subject."
}

// Share rounds to whole per cent, but never to all or none when it is neither.
func Share(share float64) string {
	whole := math.Round(100 * share)
	switch {
	case whole == 100 && share < 1:
		return ">99%"
	case whole == 0 && share > 0:
		return "<1%"
	}
	return fmt.Sprintf("%.0f%%", whole)
}
