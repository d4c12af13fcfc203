package travel

import (
	"math"
	"time"

	"glassbrief/cmd/wording"
	"glassbrief/engine/brief"
	"glassbrief/engine/schedule"
)

// Days is the document of a plan of days. Minutes are plain numbers; times have the offset of the
// zone of the scenario, and none where it has no zone.
func Days(a *schedule.Answer) Object {
	s := a.Scenario
	units := make([]Object, len(a.Units))
	for i := range a.Units {
		u := &a.Units[i]
		units[i] = Of("unit", u.Name, "camera", u.Table.Camera.Name.Value, "rig", u.Table.Scenario.Rig.Name.Value, "carry", u.Carry, "lenses", a.Bags[i])
	}
	return append(Of("schema", HeaderOf("days").Schema, "scenario", s.Name), append(planned(a.Plan), Of(
		"units", units,
		"days", Each(a.Plan.Days, func(d *schedule.Day) Object { return day(a, d) }),
		"left", Each(a.Left, func(l *schedule.Left) Object {
			return Of("shot", s.Shots[l.Shot].ID, "no_room", l.NoRoom, "reason", wording.LeftDays(l))
		}),
		"hire", hires(a.Plan),
		"as_written", Maybe(a.Written, planned),
		"saving", Maybe(a.Saving, func(v *schedule.Saving) Object {
			return append(Of("scene", v.Scene), planned(v.Plan)...) // with that scene freed
		}),
		"without_price", Maybe(a.Free, func(p *schedule.Plan) Object { return append(planned(p), Of("bags", bags(p))...) }),
		"figures_assumed", a.Assumed(),
		"change_price", s.Prices.Change, "crew_a_minute", orNone(s.Prices.Crew), "currency", s.Limits.Currency,
		"closing", wording.HoursAsGiven(s),
	)...)...)
}

func bags(p *schedule.Plan) []Object {
	return Each(p.Bags, func(bag *[]string) Object { return Of("lenses", *bag) })
}

func hires(p *schedule.Plan) []Object {
	return Each(p.Hire, func(h *schedule.Hire) Object {
		return Of("item", h.Lens, "from", dateText(h.From), "to", dateText(h.To), "days", h.Days, "cost", h.Cost)
	})
}

// planned are the numbers of a plan.
func planned(p *schedule.Plan) Object {
	return Of(
		"score", p.Score, "changes", p.Changes, "adjustments", p.Adjustments, "minutes", p.Minutes, "moved", p.Moved,
		"cost", p.Cost, "not_done", len(p.Left),
		"value", p.Value, "bound", p.Bound, "gap_minutes", p.Gap, "proven", p.Proven,
	)
}

func day(a *schedule.Answer, d *schedule.Day) Object {
	s := a.Scenario
	var date, from, to *string
	if d.Of != nil {
		date, from, to = dateText(d.Of.Date), timeText(s, d.Of.Open), timeText(s, d.Of.Shut)
	}
	order := []Object{}
	for r := range d.Runs {
		run := &d.Runs[r]
		for i := range run.Stops {
			order = append(order, stop(a, run, &run.Stops[i]))
		}
	}
	return Of("date", date, "from", from, "to", to, "order", order)
}

func stop(a *schedule.Answer, run *schedule.Run, t *schedule.Stop) Object {
	s := a.Scenario
	shot := s.Shots[t.Shot]
	place := ""
	if shot.Where >= 0 {
		place = s.Places[shot.Where].Name
	}
	return Of(
		"shot", shot.ID, "unit", a.Units[run.Unit].Name, "lens", t.Lens,
		"start", timeText(s, t.Start), "end", timeText(s, t.End),
		"takes_minutes", shot.Takes, "place", place, "score", t.Outcome.Score,
		"change_minutes", t.Change, "move_minutes", t.Move, "fetch_minutes", t.Fetch, "new_lens", t.NewLens,
		"spare_minutes", t.Spare,
	)
}

// DayRows is a plan for a spreadsheet: a row for each shot that is done, in the order of the days.
func DayRows(a *schedule.Answer) []Object {
	var rows []Object
	for i := range a.Plan.Days {
		d := &a.Plan.Days[i]
		var date *string
		if d.Of != nil {
			date = dateText(d.Of.Date)
		}
		for r := range d.Runs {
			for k := range d.Runs[r].Stops {
				rows = append(rows, append(Of("date", date), stop(a, &d.Runs[r], &d.Runs[r].Stops[k])...))
			}
		}
	}
	return rows
}

func dateText(date time.Time) *string {
	if date.IsZero() {
		return nil
	}
	text := date.Format(time.DateOnly)
	return &text
}

// timeText writes a time of the axis of the scenario, nil for none.
func timeText(s *brief.Scenario, minutes float64) *string {
	if len(s.Days) == 0 || math.IsNaN(minutes) {
		return nil
	}
	layout := "2006-01-02T15:04:05"
	if s.Zone != nil {
		layout = time.RFC3339
	}
	text := s.At(minutes).Format(layout)
	return &text
}
