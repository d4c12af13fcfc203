package schedule

import (
	"context"
	"math"
	"slices"
	"time"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
	"glassbrief/engine/rig"
	"glassbrief/lang"
)

// A Plan says who shoots what when, with which lens, and what is hired for it. Minutes count from
// the start of the first day.
type Plan struct {
	Days []Day
	Hire []Hire
	Left []Left
	Bags [][]string // lenses of each unit, in the order of the file

	Score       float64 // weighted mean of the scores, that of a shot not done 0
	Minutes     float64 // of changes, moves and fetching
	Changes     int     // of lens
	Adjustments int     // changes of set-up with the same lens
	Moved       int     // pairs of shots out of the order as written
	Cost        float64 // money for all hire; NaN when a price is not known
	Mass        float64 // kg of all bags; NaN when one is not known

	Proven   bool
	Value    float64 // of the whole plan, in the unit of the score: what minutes and money weigh is taken off
	Bound    float64 // no plan that leaves as little undone has a higher value
	Gap      float64 // minutes of changes by which a better plan could be quicker; 0 when proven
	MoreDone bool    // a better plan could leave less undone

	totals days.Totals
}

// A Day is what is done on one day. Of is nil in a scenario without days.
type Day struct {
	Of   *brief.Day
	Runs []Run // by unit; one without shots is left out
}

// A Run is what a unit does on a day, in the order of time.
type Run struct {
	Unit  int
	Stops []Stop
}

// A Stop is a shot that is done.
type Stop struct {
	Shot       int            // place in the scenario
	Outcome    engine.Outcome // of the lens in the shot
	Lens       string
	Start, End float64
	Change     float64 // minutes of the change from the set-up before
	Move       float64 // minutes to move from the place before
	Fetch      float64 // minutes to fetch from the truck
	NewLens    bool    // another lens is put on than that of the stop before
	Steps      []Step  // of the change
	NewPlace   bool    // it is elsewhere than the stop before
	Spare      float64 // minutes that it may begin later and still be done in its hours; NaN where it has none
}

// A Step is a part of a change of set-up.
type Step uint8

const (
	LensStep   Step = iota
	FlipStep        // to low mode or back
	LegsStep        // from the sled to legs or back
	FilterStep      // other filters, with the same lens
)

// A Hire is a time for which a lens is hired.
type Hire struct {
	Lens     string
	From, To time.Time // dates, both included; zero in a scenario without days
	Days     int
	Cost     float64 // NaN when the price is not known
}

// A Left shot is not done.
type Left struct {
	Shot   int
	NoRoom bool // a lens at hand could do it, but its days, its hours or the order leave no room
}

// Plan makes a plan. When the context ends or the solver's nodes run out it is the best so far.
// Progress is told to the solver's.
func (s *Shoot) Plan(ctx context.Context, v Variant, solver days.Solver) (*Plan, error) {
	problem := s.problem(v)
	solution, err := solver.Solve(ctx, problem)
	if err != nil {
		return nil, lang.Diagnostics{{
			Severity: lang.Error, Code: lang.OutOfRange, Span: s.Scenario.Span,
			Summary: "these days cannot be planned: " + err.Error(), Detail: "Check the figures that this names.",
		}}
	}
	return s.said(problem, &solution), nil
}

// said says a solution in shots and lenses.
func (s *Shoot) said(p *days.Problem, solution *days.Solution) *Plan {
	found, sum := &solution.Plan, 0.0
	for _, shot := range s.Scenario.Shots {
		sum += shot.Weight
	}
	plan := &Plan{
		Minutes: minutes(found.Totals.Minutes), Changes: found.Totals.Changes, Moved: found.Totals.Moved,
		Cost: float64(found.Totals.Cost) / cents, Proven: solution.Proven, totals: found.Totals,
		Value: float64(found.Totals.Value) / unit / sum, Bound: float64(solution.Bound) / unit / sum,
		Gap: minutes(solution.Gap(p)), MoreDone: solution.LeastLeft < found.Totals.Left,
	}
	for _, run := range found.Runs {
		if n := len(plan.Days); n == 0 || run.Day != s.DayOf(&plan.Days[n-1]) {
			day := Day{}
			if len(s.Scenario.Days) > 0 {
				day.Of = &s.Scenario.Days[run.Day]
			}
			plan.Days = append(plan.Days, day)
		}
		to := Run{Unit: run.Unit}
		for _, stop := range run.Stops {
			to.Stops = append(to.Stops, s.stop(plan, &run, &to, stop))
		}
		day := &plan.Days[len(plan.Days)-1]
		day.Runs = append(day.Runs, to)
	}
	plan.Score /= sum
	for _, left := range found.Left {
		plan.Left = append(plan.Left, Left{left.Shot, left.Why == days.NoRoom})
	}
	s.bags(plan, found)
	return plan
}

// DayOf gives the place of a day among those of the scenario, 0 in one without days.
func (s *Shoot) DayOf(d *Day) int {
	if d.Of == nil {
		return 0
	}
	return slices.IndexFunc(s.Scenario.Days, func(other brief.Day) bool { return other.Date.Equal(d.Of.Date) })
}

func minutes(halves int) float64 { return float64(halves) / perMinute }

// stop says what is done, behind what the run has already.
func (s *Shoot) stop(plan *Plan, run *days.Run, before *Run, of days.Stop) Stop {
	k := s.ofLens[of.Setup]
	t := s.Units[run.Unit].Table
	shot := s.Scenario.Shots[of.Shot]
	stop := Stop{
		Shot: of.Shot, Lens: s.lenses[k].of.Name.Value, Outcome: t.Outcome(of.Shot, t.Place(s.lenses[k].of.Name.Value)),
		Start: minutes(of.Start), Change: minutes(of.Change), Move: minutes(of.Move), Fetch: minutes(of.Fetch), Spare: math.NaN(),
	}
	stop.End = stop.Start + shot.Takes
	plan.Score += shot.Weight * stop.Outcome.Score
	if n := len(before.Stops); n > 0 {
		last := &before.Stops[n-1]
		stop.NewLens, stop.NewPlace = last.Lens != stop.Lens, s.Scenario.Shots[last.Shot].Where != shot.Where
		if !stop.NewLens && stop.Change > 0 {
			plan.Adjustments++
		}
		stop.Steps = steps(s.setups[run.Stops[n-1].Setup], s.setups[of.Setup])
	}
	if shot.Windows != nil && shot.Windows[run.Day] != nil { // a scene that is freed may be on another day
		w, day := shot.Windows[run.Day], &s.Scenario.Days[run.Day]
		if w.From > day.Open || w.To < day.Shut {
			stop.Spare = w.To - stop.End
		}
	}
	return stop
}

// steps lists what a change is made of.
func steps(from, to *rig.Setup) []Step {
	var all []Step
	for _, step := range []struct {
		of   Step
		made bool
	}{
		{LensStep, from.Lens != to.Lens}, {FlipStep, from.Inverted != to.Inverted}, {LegsStep, from.OnLegs != to.OnLegs},
		{FilterStep, from.Lens == to.Lens && !slices.Equal(from.Filters, to.Filters)},
	} {
		if step.made {
			all = append(all, step.of)
		}
	}
	return all
}

// bags says what each unit brings, and what is hired.
func (s *Shoot) bags(plan *Plan, found *days.Plan) {
	for _, bag := range found.Bags {
		var names []string
		for _, k := range bag {
			l := &s.lenses[k]
			names = append(names, l.of.Name.Value)
			plan.Mass += l.of.Mass.OrNaN()
			if !priced(l.of) {
				plan.Cost = math.NaN()
				if l.of.Have.Kind == catalog.Hired {
					plan.Hire = append(plan.Hire, Hire{Lens: l.of.Name.Value, Cost: math.NaN()})
				}
			}
		}
		plan.Bags = append(plan.Bags, names)
	}
	for _, h := range found.Hire {
		to := Hire{Lens: s.lenses[h.Lens].of.Name.Value, Days: h.To - h.From + 1, Cost: float64(h.Cost) / cents}
		if len(s.Scenario.Days) > 0 {
			to.From, to.To = dateOf(h.From), dateOf(h.To)
		}
		plan.Hire = append(plan.Hire, to)
	}
}

// Better reports whether a plan is better than another of the same shoot.
func (p *Plan) Better(than *Plan) bool { return p.totals.Better(than.totals) }
