package audit

import (
	"context"
	"time"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
	"glassbrief/engine/schedule"
)

// Days is what is hired over the days of a scenario, by the plan of its days.
type Days struct {
	Plan   *schedule.Plan
	ByDate []DayHire // the days on which something is hired, in their order
}

// DayHire is what is hired on a day.
type DayHire struct {
	Date   time.Time
	Lenses []string
	Cost   float64 // share of this day in the cost of each hire, which is spread evenly over its days; NaN when a price is not known
}

// daysNodes bounds the search for the plan; what it finds is shown as what it is.
const daysNodes = 300_000

// overDays plans the days of a scenario that has some. It gives nil for another, and for one that says too little to
// be planned.
func overDays(ctx context.Context, s *brief.Scenario, o engine.Options) *Days {
	if len(s.Days) == 0 {
		return nil
	}
	shoot, err := schedule.New(ctx, s, engine.Options{Workers: o.Workers, Camera: o.Camera})
	if err != nil {
		return nil
	}
	plan, err := shoot.Plan(ctx, schedule.Variant{}, days.Solver{Nodes: daysNodes})
	if err != nil {
		return nil
	}
	d := &Days{Plan: plan}
	first, last := s.Days[0].Date, s.Days[len(s.Days)-1].Date
	for date := first; !date.After(last); date = date.AddDate(0, 0, 1) {
		on := DayHire{Date: date}
		for _, h := range plan.Hire {
			if !h.From.IsZero() && !date.Before(h.From) && !date.After(h.To) {
				on.Lenses = append(on.Lenses, h.Lens)
				on.Cost += h.Cost / float64(h.Days)
			}
		}
		if on.Lenses != nil {
			d.ByDate = append(d.ByDate, on)
		}
	}
	return d
}
