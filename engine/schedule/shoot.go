package schedule

import (
	"context"
	"fmt"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
	"glassbrief/engine/rig"
	"glassbrief/lang"
)

// A Shoot is a scenario that is ready to be planned: judged by every unit. Several plans can be
// made of it.
type Shoot struct {
	Scenario *brief.Scenario
	Units    []Unit

	lenses  []lens          // that some shot can be done with, or that must come
	setups  []*rig.Setup    // of all units
	options [][]days.Option // by shot
	owners  []int           // unit of each set-up
	ofLens  []int           // lens of each set-up
}

// A Unit is a unit with its judgement of every lens.
type Unit struct {
	Name  string // "" for the only one
	Carry int    // lenses on the set
	Table *engine.Table
}

// A lens is one that may come.
type lens struct {
	of   *catalog.Lens
	must bool
}

// priced reports whether it is known what a lens costs, or that it costs nothing.
func priced(of *catalog.Lens) bool {
	return of.Have.Known() && (of.Have.Kind != catalog.Hired || of.Have.DayRate.Known())
}

// mostLenses is how many lenses a plan of days is chosen from.
const mostLenses = 1 << 16

// New judges every lens by each unit. It fails with [lang.Diagnostics] when the scenario asks for
// what cannot be planned, and with the context's error when the context ends.
func New(ctx context.Context, s *brief.Scenario, o engine.Options) (*Shoot, error) {
	if err := plannable(s); err != nil {
		return nil, err
	}
	shoot := &Shoot{Scenario: s}
	scenarios := []*brief.Scenario{s}
	if len(s.Units) > 0 {
		scenarios = nil
		for i := range s.Units {
			scenarios = append(scenarios, s.ByUnit(&s.Units[i]))
		}
	}
	for u, by := range scenarios {
		judging := o
		if len(s.Units) > 0 {
			judging.Camera = ""
		}
		if o.Progress != nil {
			judging.Progress = func(done, total int) { o.Progress(u*total+done, len(scenarios)*total) }
		}
		table, err := engine.Judge(ctx, by, judging)
		if err != nil {
			return nil, err
		}
		unit := Unit{Carry: by.Limits.Carry, Table: table}
		if len(s.Units) > 0 {
			unit.Name = by.Unit
		}
		shoot.Units = append(shoot.Units, unit)
	}
	if shoot.gather(); len(shoot.lenses) > mostLenses {
		return nil, lang.Diagnostics{{
			Severity: lang.Error, Code: lang.OutOfRange, Span: s.Span,
			Summary: fmt.Sprintf("%d lenses can do some shot, and %d are the most that days are planned with", len(shoot.lenses), mostLenses),
			Detail:  "Name fewer catalogues, or keep lenses out with \"owned_only\" or \"leave\".",
		}}
	}
	if err := shoot.withinLimits(); err != nil {
		return nil, err
	}
	return shoot, nil
}

// plannable reports what the scenario lacks to be planned.
func plannable(s *brief.Scenario) error {
	if len(s.Shots) > days.MostShots {
		return lang.Diagnostics{{
			Severity: lang.Error, Code: lang.OutOfRange, Span: s.Shots[days.MostShots].Span,
			Summary: fmt.Sprintf("there are more than %d shots to plan", days.MostShots), Detail: "Split the scenario by weeks or blocks.",
		}}
	}
	if len(s.Days) == 0 {
		return nil
	}
	var lacking []string
	for _, shot := range s.Shots {
		if math.IsNaN(shot.Takes) {
			lacking = append(lacking, shot.ID)
		}
	}
	if lacking == nil {
		return nil
	}
	return lang.Diagnostics{{
		Severity: lang.Error, Code: lang.MissingField, Span: s.Days[0].Span,
		Summary: fmt.Sprintf("nobody says how long the shots %s take", lang.QuotedAll(lacking)),
		Detail:  "Write \"takes 25min\" in each, or in \"scenario\" for all that do not say it.",
	}}
}

// gather lists the lenses that may come, their set-ups, and how each shot can be done.
func (s *Shoot) gather() {
	limits := &s.Scenario.Limits
	s.options = make([][]days.Option, len(s.Scenario.Shots))
	places := map[string]int{}
	setups := map[*rig.Setup]int{}
	for u := range s.Units {
		t := s.Units[u].Table
		for j, of := range t.Lenses() {
			must := slices.Contains(limits.Bring, of.Name.Value)
			if t.KeptOut(j).By != "" || s.lacksPrice(of) && !must {
				continue
			}
			for i, shot := range s.Scenario.Shots {
				o := t.Outcome(i, j)
				if !o.Acceptable() || shot.Unit >= 0 && shot.Unit != u {
					continue
				}
				on := t.Setup(i, j)
				k, known := setups[on]
				if !known {
					k = len(s.setups)
					setups[on] = k
					s.setups, s.owners, s.ofLens = append(s.setups, on), append(s.owners, u), append(s.ofLens, s.place(places, of, must))
				}
				if worth := int64(math.Round(shot.Weight * o.Score * unit)); worth > 0 {
					s.options[i] = append(s.options[i], days.Option{Unit: u, Setup: k, Worth: worth})
				}
			}
			if must {
				s.place(places, of, must)
			}
		}
	}
}

// place gives the place of a lens among those that may come.
func (s *Shoot) place(places map[string]int, of *catalog.Lens, must bool) int {
	at, known := places[of.Name.Value]
	if !known {
		at = len(s.lenses)
		places[of.Name.Value] = at
		s.lenses = append(s.lenses, lens{of, must})
	}
	return at
}

// lacksPrice reports whether money counts and nobody knows what a lens costs.
func (s *Shoot) lacksPrice(of *catalog.Lens) bool {
	return !priced(of) && (s.Scenario.Budget >= 0 || s.Scenario.Prices.Money() > 0)
}

// withinLimits reports limits on a whole bag that could be missed: a plan of days keeps to what each
// lens weighs and costs a day, and to the money for all days.
func (s *Shoot) withinLimits() error {
	limits := &s.Scenario.Limits
	most := 0
	var masses, rates []float64
	for _, u := range s.Units {
		most += u.Carry + s.Scenario.Truck.Lenses
	}
	for _, l := range s.lenses {
		masses = append(masses, l.of.Mass.Or(0))
		if l.of.Have.Kind == catalog.Hired {
			rates = append(rates, l.of.Have.DayRate.Or(0))
		}
	}
	largest := func(values []float64, n int) (sum float64) {
		slices.Sort(values)
		for _, v := range values[max(0, len(values)-n):] {
			sum += v
		}
		return sum
	}
	report := func(summary, detail string) error {
		return lang.Diagnostics{{Severity: lang.Error, Code: lang.NotAllowed, Span: s.Scenario.Span, Summary: summary, Detail: detail}}
	}
	carry := 0
	for _, u := range s.Units {
		carry = max(carry, u.Carry)
	}
	switch {
	case limits.BagMass > 0 && largest(masses, carry) > limits.BagMass:
		return report("a plan of days cannot hold \"bag\": some lenses together weigh more",
			"Take the line out, or leave out the heaviest lenses with \"leave\".")
	case limits.Rent >= 0 && largest(rates, most) > limits.Rent:
		return report("a plan of days cannot hold \"rent\": some lenses together cost more a day",
			"Write what all hire may cost over all days, as \"budget 900 EUR\", and take \"rent\" out.")
	}
	return nil
}
