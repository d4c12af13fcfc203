package compare

import (
	"context"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
	"glassbrief/engine/schedule"
)

// Days are the plans of the days of both versions.
type Days struct {
	Old, New *schedule.Plan
	Moved    []int // places in the comparison's shots of those that are done on another day, by another unit, or elsewhere in the order
	said     bool  // one of the versions speaks of days, units, places or a freed order
}

// daysNodes bounds the search for each plan; what it finds is shown as what it is.
const daysNodes = 300_000

// days plans both versions, where one of them speaks of days or the order of the shots has changed. It gives nil
// for others, and where a version says too little to be planned.
func (r *Comparison) days(ctx context.Context, o engine.Options) *Days {
	d := &Days{said: speaksOfDays(r.Old.Scenario) || speaksOfDays(r.New.Scenario)}
	if !d.said && !slices.ContainsFunc(r.Changes, func(e Edit) bool { return e.Kind == Reordered }) {
		return nil
	}
	var orders [2][]done
	for i, side := range []*engine.Recommendation{r.Old, r.New} {
		shoot, err := schedule.New(ctx, side.Scenario, o)
		if err != nil {
			return nil
		}
		plan, err := shoot.Plan(ctx, schedule.Variant{}, days.Solver{Nodes: daysNodes})
		if err != nil {
			return nil
		}
		orders[i] = r.order(plan, i == 0)
		if i == 0 {
			d.Old = plan
		} else {
			d.New = plan
		}
	}
	d.Moved = moved(orders[0], orders[1])
	return d
}

func speaksOfDays(s *brief.Scenario) bool {
	return len(s.Days) > 0 || len(s.Units) > 0 || len(s.Places) > 0 ||
		slices.ContainsFunc(s.Shots, func(shot *brief.Shot) bool { return shot.Free != brief.AsWritten })
}

// done is a shot that both versions have, with when and by whom it is done.
type done struct {
	shot int // place in the comparison's shots
	day  string
	unit int
}

// order lists the shots of a plan that both versions have, by day and unit.
func (r *Comparison) order(p *schedule.Plan, old bool) []done {
	var all []done
	for _, day := range p.Days {
		date := ""
		if day.Of != nil {
			date = day.Of.Date.Format("2006-01-02")
		}
		for _, run := range day.Runs {
			for _, stop := range run.Stops {
				at := slices.IndexFunc(r.Shots, func(pair Shots) bool {
					of, scenario := pair.New, r.New.Scenario
					if old {
						of, scenario = pair.Old, r.Old.Scenario
					}
					return pair.Old != nil && pair.New != nil && of.Place(scenario) == stop.Shot
				})
				if at >= 0 {
					all = append(all, done{at, date, run.Unit})
				}
			}
		}
	}
	return all
}

// moved gives the shots that both plans do and that are elsewhere: all but the longest row of them that keeps day,
// unit and order.
func moved(old, new []done) []int {
	longest := make([][]int, len(old)+1)
	for i := range longest {
		longest[i] = make([]int, len(new)+1)
	}
	for i := len(old) - 1; i >= 0; i-- {
		for j := len(new) - 1; j >= 0; j-- {
			if longest[i][j] = max(longest[i+1][j], longest[i][j+1]); old[i] == new[j] {
				longest[i][j] = longest[i+1][j+1] + 1
			}
		}
	}
	stays := map[int]bool{}
	for i, j := 0, 0; i < len(old) && j < len(new); {
		switch {
		case old[i] == new[j]:
			stays[old[i].shot] = true
			i, j = i+1, j+1
		case longest[i+1][j] >= longest[i][j+1]:
			i++
		default:
			j++
		}
	}
	var all []int
	for _, d := range new {
		before := slices.ContainsFunc(old, func(o done) bool { return o.shot == d.shot })
		if before && !stays[d.shot] {
			all = append(all, d.shot)
		}
	}
	slices.Sort(all)
	return all
}
