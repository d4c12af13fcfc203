package schedule

import (
	"math"
	"slices"
	"time"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
)

// unit is how many units of worth the score 1 of a shot of weight 1 has. Worths are whole numbers,
// and scores that differ by less are the same.
const unit = 1e9

// weights is how many units of weight left undone the weight 1 has, the least that can be written.
const weights = 1e4

// perMinute is how many units of time a minute has.
const perMinute = 2

// openEnd is the end of a day without hours.
const openEnd = 1 << 22

// A Variant is what a plan is made for that is not what the scenario says.
type Variant struct {
	AsWritten bool   // the order is as written, whatever is freed
	Unpriced  bool   // changes, moves and money weigh nothing
	Freed     string // scene that may be done on any day, at any place of the order; "" for none
}

// problem states the shoot as a problem.
func (s *Shoot) problem(v Variant) *days.Problem {
	sc := s.Scenario
	p := &days.Problem{MaxCost: -1, Change: s.change}
	for _, l := range s.lenses {
		p.Lenses = append(p.Lenses, s.lens(l))
	}
	for _, k := range s.ofLens {
		p.Setups = append(p.Setups, days.Setup{Lenses: []int{k}})
	}
	for _, u := range s.Units {
		to := days.Unit{Carry: u.Carry}
		if t := sc.Truck; t.Lenses > 0 {
			to = days.Unit{Carry: u.Carry + t.Lenses, OnSet: u.Carry, Fetch: halves(t.Minutes)}
		}
		p.Units = append(p.Units, to)
	}
	for i := range sc.Days {
		d := &sc.Days[i]
		day := days.Day{Start: halves(d.Open), End: halves(d.Shut), Date: dateNumber(d.Date)}
		if d.Break.From < d.Break.To {
			day.Break = days.Span{From: halves(d.Break.From), To: halves(d.Break.To)}
		}
		p.Days = append(p.Days, day)
	}
	if len(p.Days) == 0 {
		p.Days = []days.Day{{End: openEnd}}
	}
	if len(sc.Places) > 0 {
		p.Move = moves(sc.Places)
	}
	if !v.Unpriced {
		p.Price = int64(math.Round(sc.Prices.Change / perMinute * unit))
		p.CentPrice = int64(math.Round(sc.Prices.Money() / cents * unit))
	}
	if sc.Budget >= 0 {
		p.MaxCost = inCents(sc.Budget)
	}
	p.Shots = s.shots(v)
	return p
}

const cents = 100 // in a unit of money

func inCents(money float64) int64 { return int64(math.Round(money * cents)) }

func halves(minutes float64) int { return int(math.Round(minutes * perMinute)) }

// dateNumber counts days of the calendar.
func dateNumber(date time.Time) int { return int(date.Unix() / (24 * 60 * 60)) }

// dateOf gives the date of a number, at midnight in UTC.
func dateOf(number int) time.Time { return time.Unix(int64(number)*24*60*60, 0).UTC() }

// moves gives how long it takes from place to place: as long as to get to the second.
func moves(places []brief.Place) [][]int {
	all := make([][]int, len(places))
	for from := range all {
		all[from] = make([]int, len(places))
		for to := range places {
			if from != to {
				all[from][to] = halves(places[to].Move)
			}
		}
	}
	return all
}

func (s *Shoot) lens(l lens) days.Lens {
	h := l.of.Have
	to := days.Lens{Must: l.must, Mass: int64(math.Round(l.of.Mass.Or(0) * 1e6))}
	if h.Kind == catalog.Hired && h.DayRate.Known() {
		to.Hire = &days.Hire{
			Day: inCents(h.DayRate.Value), Week: inCents(h.WeekRate.Or(0)), Fetch: inCents(h.Fetch.Or(0)), Least: int(h.Least.Or(0)),
		}
	}
	if when := l.of.Available; when.Known() && len(s.Scenario.Days) > 0 {
		first, last := dateNumber(s.Scenario.Days[0].Date), dateNumber(s.Scenario.Days[len(s.Scenario.Days)-1].Date)
		from, until := first, last
		if when.From.Known() {
			from = dateNumber(when.From.Value)
		}
		if when.To.Known() {
			until = dateNumber(when.To.Value)
		}
		to.Available = []days.Dates{{From: from, To: until}}
		if from > until {
			to.Barred, to.Must, to.Available = true, false, nil
		}
	}
	return to
}

// shots states the shots.
func (s *Shoot) shots(v Variant) []days.Shot {
	sc := s.Scenario
	scenes := map[string]int{}
	all := make([]days.Shot, len(sc.Shots))
	for i, shot := range sc.Shots {
		to := days.Shot{
			Weight: max(1, int64(math.Round(shot.Weight*weights))), Takes: 1,
			Scene: -1 - i, Place: max(0, shot.Where), Free: days.Freedom(shot.Free), After: shot.After, Options: s.options[i],
		}
		if !math.IsNaN(shot.Takes) {
			to.Takes = max(1, halves(shot.Takes))
		}
		if shot.Scene != "" {
			if _, known := scenes[shot.Scene]; !known {
				scenes[shot.Scene] = len(scenes)
			}
			to.Scene = scenes[shot.Scene]
		}
		freed := v.Freed != "" && shot.Scene == v.Freed
		switch {
		case v.AsWritten || sc.Kept(shot):
			to.Free = days.AsWritten
		case freed:
			to.Free = days.Everywhere
		}
		windows := shot.Windows
		if freed {
			windows = sc.FreedWindows(shot)
		}
		to.Days, to.Windows = s.times(windows)
		all[i] = to
	}
	s.blocks(all)
	return all
}

// times gives when a shot may be done: nil for any day or hour.
func (s *Shoot) times(when []*brief.Window) (on []int, windows []days.Span) {
	whole := true
	for t, w := range when {
		if w == nil || halves(w.From) >= halves(w.To) {
			continue
		}
		on = append(on, t)
		windows = append(windows, days.Span{From: halves(w.From), To: halves(w.To)})
		day := &s.Scenario.Days[t]
		whole = whole && w.From == day.Open && w.To == day.Shut
	}
	if len(on) == len(s.Scenario.Days) {
		on = nil
	}
	if whole {
		windows = nil
	}
	return on, windows
}

// blocks keeps the shots of a scene on one day and with one unit, unless they are to be on other days
// or with other units, no unit can do all of them, or no day is long enough.
func (s *Shoot) blocks(all []days.Shot) {
	sc := s.Scenario
	type key struct {
		scene, unit int
		days        string
	}
	groups := map[key][]int{}
	var keys []key
	for i := range all {
		k := key{all[i].Scene, sc.Shots[i].Unit, dayKey(all[i].Days)}
		if groups[k] == nil {
			keys = append(keys, k)
		}
		groups[k] = append(groups[k], i)
	}
	for _, k := range keys {
		group := groups[k]
		together := s.together(all, group)
		for _, i := range group {
			all[i].Block = i
			if together {
				all[i].Block = group[0]
			}
		}
	}
}

func dayKey(on []int) string {
	text := make([]byte, len(on))
	for i, t := range on {
		text[i] = byte(t)
	}
	return string(text)
}

// together reports whether the shots of a group can be done on one day by one unit, as far as lenses
// and the sum of their minutes go.
func (s *Shoot) together(all []days.Shot, group []int) bool {
	takes := 0
	able := make([]bool, len(s.Units))
	for u := range able {
		able[u] = true
	}
	for _, i := range group {
		takes += all[i].Takes
		if len(all[i].Options) == 0 {
			continue
		}
		for u := range able {
			able[u] = able[u] && slices.ContainsFunc(all[i].Options, func(o days.Option) bool { return o.Unit == u })
		}
	}
	longest := openEnd
	if len(s.Scenario.Days) > 0 {
		longest = 0
		for t, d := range s.Scenario.Days {
			if on := all[group[0]].Days; on == nil || slices.Contains(on, t) {
				longest = max(longest, halves(d.Shut-d.Open-(d.Break.To-d.Break.From)))
			}
		}
	}
	return takes <= longest && slices.Contains(able, true)
}

// change gives what the changes of set-up of a unit take with a bag.
func (s *Shoot) change(u int, bag []int) [][]int {
	names := make([]string, len(bag))
	for i, k := range bag {
		names[i] = s.lenses[k].of.Name.Value
	}
	trim := s.Units[u].Table.Trim(names)
	var mine []int
	for k := range s.setups {
		if s.owners[k] == u && slices.Contains(bag, s.ofLens[k]) {
			mine = append(mine, k)
		}
	}
	rows := make([][]int, len(s.setups))
	for _, from := range mine {
		rows[from] = make([]int, len(s.setups))
		for _, to := range mine {
			if from != to {
				rows[from][to] = int(trim.Minutes(s.setups[from], s.setups[to]))
			}
		}
	}
	return rows
}
