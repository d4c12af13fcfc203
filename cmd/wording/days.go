package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/compare"
	"glassbrief/engine/schedule"
	"glassbrief/lang"
)

// InMinutes writes minutes to the half, as changes are counted.
func InMinutes(minutes float64) string { return halfMinutes(minutes) + " min" }

func halfMinutes(minutes float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", math.Round(2*minutes)/2), ".0")
}

// Dates writes the dates of a scenario: "14 to 16 September 2027", or "" without days.
func Dates(s *brief.Scenario) string {
	if len(s.Days) == 0 {
		return ""
	}
	return DateSpan(s.Days[0].Date, s.Days[len(s.Days)-1].Date) + s.Days[len(s.Days)-1].Date.Format(" 2006")
}

// DateSpan writes days from one to another without the year: "14 September", "14 and 15 September",
// "14 to 16 September" or "30 September to 2 October".
func DateSpan(from, to time.Time) string {
	switch {
	case from.Equal(to):
		return to.Format("2 January")
	case to.Equal(from.AddDate(0, 0, 1)) && from.Month() == to.Month():
		return from.Format("2") + " and " + to.Format("2 January")
	case from.Month() == to.Month() && from.Year() == to.Year():
		return from.Format("2") + " to " + to.Format("2 January")
	}
	return from.Format("2 January") + " to " + to.Format("2 January")
}

// grid is the step to which times of day are shown, in minutes: what a shot takes is not known better.
const grid = 5

// ClockAt writes a time of day to 5 minutes, from minutes behind the start of the first day; "" in a scenario
// without days.
func ClockAt(s *brief.Scenario, minutes float64) string {
	if len(s.Days) == 0 {
		return ""
	}
	return s.At(minutes).Round(grid * time.Minute).Format(clock)
}

const clock = "15:04"

// Hours writes times of day as they are given, to the minute: "09:00 to 17:30".
func Hours(s *brief.Scenario, w brief.Window) string {
	return s.At(w.From).Format(clock) + " to " + s.At(w.To).Format(clock)
}

// DayName writes a day as a heading: "Tuesday 14 September".
func DayName(day *brief.Day) string { return day.Date.Format("Monday 2 January") }

// BringDays says what each unit brings and what is hired.
func BringDays(a *schedule.Answer, p lang.Printer) string {
	text := "Bring " + bagsText(a, a.Bags)
	if len(a.Hire) > 0 {
		var hired []string
		for _, h := range a.Hire {
			hired = append(hired, Hired(a.Scenario, &h))
		}
		text += "; hire " + List(hired, "and")
		if !math.IsNaN(a.Cost) {
			text += ", " + p.Quantity(a.Cost, a.Scenario.Limits.Currency)
		}
	}
	return text + countAssumed(a.Assumed()) + "."
}

// bagsText says what is in the bag of each unit.
func bagsText(a *schedule.Answer, bags [][]string) string {
	said := make([]string, len(bags))
	for u, bag := range bags {
		if said[u] = List(bag, "and"); len(bag) == 0 {
			said[u] = "nothing"
		}
		if len(bags) > 1 {
			said[u] = "unit " + a.Units[u].Name + " " + said[u]
		}
	}
	return strings.Join(said, "; ")
}

// Hired names a lens with the dates that it is hired for.
func Hired(s *brief.Scenario, h *schedule.Hire) string {
	if h.From.IsZero() {
		return h.Lens
	}
	return h.Lens + " on " + DateSpan(h.From, h.To)
}

// CountedDays says what a plan takes, beside that in the order as written.
func CountedDays(a *schedule.Answer, p lang.Printer) string {
	text := lang.Capital(Work(a.Plan))
	if w := a.Written; w != nil && w.Moved != a.Moved {
		text += "; as written " + Work(w)
		if w.Cost != a.Cost && w.Cost > 0 {
			text += " and " + p.Quantity(w.Cost, a.Scenario.Limits.Currency)
		}
		if n := len(w.Left); n > len(a.Left) {
			text += ", with " + Counted(n, "shot") + " not done"
		}
	}
	text += ". "
	if a.Moved > 0 {
		text += Counted(a.Moved, "pair") + " of shots out of the order as written. "
	}
	if len(a.Left) == 0 {
		return text + "Every shot is done."
	}
	return text + Counted(len(a.Left), "shot") + " not done."
}

// Work says what changes, moves and fetching take: "11 changes of lens and 3 of set-up, 41 min".
func Work(p *schedule.Plan) string {
	if p.Minutes == 0 {
		return "no changes and no moves"
	}
	text := Counted(p.Changes, "change") + " of lens"
	if p.Adjustments > 0 {
		text += fmt.Sprintf(" and %d of set-up", p.Adjustments)
	}
	return text + ", " + InMinutes(p.Minutes)
}

// ProvenDays says how good the plan is, and at what price of minutes and money.
func ProvenDays(a *schedule.Answer, p lang.Printer) string {
	prices, text := a.Scenario.Prices, "The best plan, proven,"
	switch {
	case a.Proven:
	case a.MoreDone:
		text = "The search was cut short: a better plan may do more shots. This one is weighed"
	case a.Gap == 0:
		text = "The search was cut short: another plan may be as good with fewer changes or for less. This one is weighed"
	case prices.Change > 0:
		text = "The search was cut short: a better plan is at most " + InMinutes(a.Gap) + " quicker. This one is weighed"
	default:
		text = "The search was cut short: there may be a better plan. This one is weighed"
	}
	text += fmt.Sprintf(" for the minutes given and %g a minute", prices.Change)
	if prices.Crew > 0 {
		return text + ", at " + p.Quantity(prices.Crew, a.Scenario.Limits.Currency) + " a minute of the crew."
	}
	if len(a.Hire) > 0 {
		text += "; without \"crew\", money only decides between plans that are else alike"
	}
	return text + "."
}

// SavingDays says which scene to free, "" where that saves nothing.
func SavingDays(a *schedule.Answer, p lang.Printer) string {
	s := a.Saving
	if s == nil {
		return ""
	}
	var saved []string
	if n := len(a.Left) - len(s.Plan.Left); n > 0 {
		saved = append(saved, Counted(n, "shot")+" more done")
	}
	if less := a.Minutes - s.Plan.Minutes; less > 0 {
		saved = append(saved, InMinutes(less))
	}
	if less := a.Cost - s.Plan.Cost; less > 0 {
		saved = append(saved, p.Quantity(less, a.Scenario.Limits.Currency))
	}
	if better := s.Plan.Score - a.Score; better >= 0.005 {
		saved = append(saved, fmt.Sprintf("%.2f of score", better))
	}
	if saved == nil {
		return ""
	}
	where := "anywhere in the order"
	if len(a.Scenario.Days) > 0 {
		where = "on any day and " + where
	}
	return fmt.Sprintf("Freeing scene %s, to be shot %s, would save most: %s.", s.Scene, where, List(saved, "and"))
}

// FreeDays says what would be brought if changes weighed nothing, "" where that is the same.
func FreeDays(a *schedule.Answer) string {
	f := a.Free
	if f == nil || slices.EqualFunc(f.Bags, a.Bags, slices.Equal[[]string]) {
		return ""
	}
	return fmt.Sprintf("Without the price of changes: %s; %s, score %.2f and not %.2f.", bagsText(a, f.Bags), Work(f), f.Score, a.Score)
}

// LeftDays says why a shot is not done.
func LeftDays(l *schedule.Left) string {
	if l.NoRoom {
		return "its days, hours or order leave no room, or what it comes after is not done"
	}
	return "no lens in the bag does it"
}

// Before says what comes before a stop: "lens 4.5 min, move 40 min".
func Before(s *schedule.Stop) string {
	var parts []string
	if s.Change > 0 {
		var steps []string
		for _, step := range s.Steps {
			steps = append(steps, [...]string{schedule.LensStep: "lens", schedule.FlipStep: "flip", schedule.LegsStep: "legs", schedule.FilterStep: "filters"}[step])
		}
		if steps == nil {
			steps = []string{"trim"}
		}
		parts = append(parts, strings.Join(steps, " and ")+" "+InMinutes(s.Change))
	}
	if s.Fetch > 0 {
		parts = append(parts, "truck "+InMinutes(s.Fetch))
	}
	if s.Move > 0 {
		parts = append(parts, "move "+InMinutes(s.Move))
	}
	return strings.Join(parts, ", ")
}

// HoursOf says the hours of a shot and what is left of them, "" where it has none.
func HoursOf(s *brief.Scenario, stop *schedule.Stop, day int) string {
	if math.IsNaN(stop.Spare) {
		return ""
	}
	return fmt.Sprintf("%s, %s to spare", Hours(s, *s.Shots[stop.Shot].Windows[day]), InMinutes(stop.Spare))
}

// MovedShots says which shots of two versions are elsewhere in the days, and what that and all else that
// has changed costs.
func MovedShots(r *compare.Comparison, p lang.Printer) string {
	text := "No shot is moved"
	if d := r.Days; len(d.Moved) > 0 {
		var ids []string
		for _, i := range d.Moved {
			ids = append(ids, r.Shots[i].New.Shot.ID)
		}
		text = Counted(len(ids), "shot") + " moved to another time: " + List(ids, "and")
	}
	more := func(was, is float64, say func(float64) string) string {
		switch {
		case math.IsNaN(was) || math.IsNaN(is):
			return ""
		case is > was:
			return say(is-was) + " more"
		case is < was:
			return say(was-is) + " less"
		}
		return ""
	}
	var costs []string
	for _, cost := range []string{
		more(r.Days.Old.Minutes, r.Days.New.Minutes, InMinutes),
		more(r.Days.Old.Cost, r.Days.New.Cost, func(money float64) string { return p.Quantity(money, r.New.Scenario.Limits.Currency) }),
	} {
		if cost != "" {
			costs = append(costs, cost)
		}
	}
	for _, left := range []struct {
		says           string
		of, than       *schedule.Plan
		ofShot, inThan *engine.Recommendation
	}{{"No longer done", r.Days.New, r.Days.Old, r.New, r.Old}, {"Done now", r.Days.Old, r.Days.New, r.Old, r.New}} {
		if ids := leftOnly(left.of, left.ofShot, left.than, left.inThan); ids != nil {
			text += ". " + left.says + ": " + List(ids, "and")
		}
	}
	if costs == nil {
		return text + ". All takes as long and costs as much as before."
	}
	return text + ". All together: " + List(costs, "and") + "."
}

// PlansCutShort says which of the plans of two versions may not be the best, "" for none.
func PlansCutShort(r *compare.Comparison) string {
	plan := "both plans"
	switch old, now := r.Days.Old.Proven, r.Days.New.Proven; {
	case old && now:
		return ""
	case old:
		plan = "the plan now"
	case now:
		plan = "the plan before"
	}
	return " The search for " + plan + " was cut short: \"glassbrief days\" takes longer, and may find a better one."
}

// leftOnly names the shots that a plan leaves and another does not.
func leftOnly(p *schedule.Plan, of *engine.Recommendation, than *schedule.Plan, other *engine.Recommendation) []string {
	var ids []string
	for _, l := range p.Left {
		id := of.Scenario.Shots[l.Shot].ID
		if !slices.ContainsFunc(than.Left, func(k schedule.Left) bool { return other.Scenario.Shots[k.Shot].ID == id }) {
			ids = append(ids, id)
		}
	}
	return ids
}

// HoursAsGiven says what a plan of days does not know.
func HoursAsGiven(s *brief.Scenario) string {
	if len(s.Days) == 0 {
		return Closing
	}
	return "Times to 5 minutes, hours as given: working time, rest and breaks follow local codes and agreements. " + Closing
}
