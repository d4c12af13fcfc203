package wording

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/rules"
	"glassbrief/engine/taste"
	"glassbrief/engine/why"
)

// Tastes says for which weightings of the criteria the kit is the best, and which kits are it for others.
func Tastes(s *taste.Shares) string {
	kit := &s.Kits[0]
	if len(s.Kits) == 1 && len(kit.Lenses) == 0 {
		return "No lens does a shot, however the criteria are weighed."
	}
	all, near := shareOf(kit.All, s), shareOf(kit.Near, s)
	text := fmt.Sprintf("Best for %s of all weightings and %s within half to double", all, near)
	switch {
	case kit.All == s.Draws && kit.Near == s.Draws:
		text = fmt.Sprintf("Best for all %s weightings that were drawn, and all within half to double", thousands(s.Draws))
	case kit.Near == s.Draws:
		text = fmt.Sprintf("Best for %s of all weightings, all within half to double", all)
	case kit.Near == 0:
		text = fmt.Sprintf("Best for %s of all weightings, none within half to double", all)
	}
	for _, rival := range s.Rivals(shownRivals) {
		share := "for " + shareOf(rival.All, s)
		if m := rival.Marks; m != nil {
			share = fmt.Sprintf("where %s (%s)", counts(m), shareOf(rival.All, s))
		}
		text += fmt.Sprintf("; %s %s", Lenses(rival.Lenses), share)
	}
	return text + "."
}

// shownRivals is how many other kits are named.
const shownRivals = 2

// counts says how a criterion weighs where a kit is best.
func counts(m *taste.Mark) string {
	const hardly, much = 1. / 3, 2
	switch {
	case m.Times <= hardly:
		return m.Criterion.Name + " hardly counts"
	case m.Times < 1:
		return m.Criterion.Name + " counts for less"
	case m.Times < much:
		return m.Criterion.Name + " counts for more"
	default:
		return m.Criterion.Name + " counts for much"
	}
}

// Duel says for which share of all weightings of the criteria one lens scores more than the other.
func Duel(c *why.Case) string {
	d := c.Duel
	if d.Wins == 0 && d.Loses == 0 {
		return fmt.Sprintf("It scores as %s does however the criteria are weighed, while both keep their set-ups.", c.Against.Lens)
	}
	drawn := ""
	if !d.Exact {
		drawn = fmt.Sprintf(" (of %s drawn)", thousands(taste.Draws))
	}
	return fmt.Sprintf("By %s of all weightings of the criteria%s it scores more than %s, and by %s less, while both keep their set-ups.",
		Share(d.Wins), drawn, c.Against.Lens, Share(d.Loses))
}

// TasteOf says for which share of all weightings a kit behind the best is it.
func TasteOf(k *engine.Kit, s *taste.Shares) string {
	if share := s.Of(k.Lenses); share != nil {
		return shareOf(share.All, s)
	}
	return shareOf(0, s)
}

// HeldTastes says what stays while tastes are drawn, and how sure their shares are.
func HeldTastes(s *taste.Shares) string {
	text := fmt.Sprintf("Each lens keeps in each shot the set-up that it has by the weights in force, and what a shot prefers keeps its weight. "+
		"Of %s weightings of each kind, a share is within %.2g%% in 19 of 20 cases.", thousands(s.Draws), 100*s.Error())
	if s.Unproven > 0 {
		text += fmt.Sprintf(" For %s of them another kit might be better, as the search was cut short.", Counted(s.Unproven, "weighting"))
	}
	return text
}

// SolvedAnew says what kit the central weights of another give when set-ups are sought anew.
func SolvedAnew(share *taste.Share) string {
	switch {
	case share.Anew == nil:
		return ""
	case engine.SameLenses(share.Anew, share.Lenses):
		return "the same"
	}
	return strings.Join(share.Anew, ", ")
}

// CentralWeights names the weights in the middle of those that make a kit the best, so far as they are
// others than those in force: the most different first.
func CentralWeights(share *taste.Share, criteria []*rules.Criterion) string {
	const different, most = 1.25, 3
	var order []int
	apart := func(k int) float64 { return math.Abs(math.Log(share.Central[k] / criteria[k].Weight)) }
	for k := range share.Central {
		if apart(k) > math.Log(different) {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(apart(b), apart(a)) })
	var said []string
	for _, k := range order[:min(most, len(order))] {
		said = append(said, fmt.Sprintf("%s %.2g (%g)", criteria[k].Name, share.Central[k], criteria[k].Weight))
	}
	if said == nil && share.Central != nil {
		return "near those in force"
	}
	return strings.Join(said, ", ")
}

func shareOf(draws int, s *taste.Shares) string { return Share(float64(draws) / float64(s.Draws)) }

// thousands writes a number with a comma before the last three digits.
func thousands(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%s,%03d", thousands(n/1000), n%1000)
}
