package audit

import (
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/engine/why"
)

// A Verdict says how a shot fares with the glass of the house.
type Verdict uint8

const (
	Passes Verdict = iota
	Compromise
	Fails
)

// String gives the word for the verdict, as programs read it.
func (v Verdict) String() string {
	return [...]string{"passes", "compromise", "fails"}[v]
}

// ShortOf is the score of a criterion below which a shot that passes does so with a
// compromise: less than half of what could be had.
const ShortOf = 0.5

// An Answer is the answer to the producer.
type Answer struct {
	Scenario *brief.Scenario
	Camera   *catalog.Camera
	Limits   brief.Limits // that it was made with
	House    engine.Kit   // the best kit of glass that need not be hired
	Shots    []ShotVerdict
	// Carry is how many lenses the house would have to send for every shot that one of
	// its lenses does; 0 when those that may be carried are enough, or no number is.
	Carry          int
	Specifications []Specification
	Filters        []FilterSpec // that the house lacks, the fewest that serve
	// Hire is the cheapest kit with hired glass that does most; nil when hiring does not
	// help or is not allowed. Beyond is the same without a limit on rent, when that does
	// more; nil otherwise.
	Hire, Beyond *Hire
	// Better is the best kit within the limits, when hired glass makes it score higher than
	// one that covers as much without; nil otherwise.
	Better *Hire
	// Suits says that every shot passes, with what may be hired, and none gets more light than
	// passes unsaid.
	Suits bool
	// TooBright lists the shots that get more, with the best kit.
	TooBright []string
	Days      *Days // what is hired over the days; nil where the scenario has none
	table     *engine.Table
}

// KitRests reports whether the score of a kit rests on assumed figures.
func (r *Answer) KitRests(k *engine.Kit) bool { return r.table.KitRests(k) }

// A ShotVerdict is the verdict on one shot.
type ShotVerdict struct {
	Shot        *brief.Shot
	Verdict     Verdict
	Use         *engine.Judgement // the lens of the house kit; nil when the shot fails
	Compromises []rules.Finding   // criteria that it falls short of or does in part, or that are not known
	Filter      *why.FilterWant   // that is lacking; nil when none is, or none would help
	Able        []string          // of a shot that fails: lenses of the house that do it, for which there is no room
	Window      *Window           // of one that no lens of the house does; nil when no lens could
	Blocks      []rules.Raised    // what excludes every made-up lens, when there is no window
	Rescue      *why.Rescue       // of one that no lens of the house does; nil of another
	Hire        []Offer           // of one that fails: the lenses for hire that do it, the cheapest first
}

// Changes gives the changes of the brief by which a lens of the house would do the shot, the
// smallest first.
func (v *ShotVerdict) Changes() []why.Lift {
	if v.Rescue == nil {
		return nil
	}
	return v.Rescue.Changes
}

// With gives the verdict with the lens of the house judged otherwise, under other values of assumed
// figures.
func (v *ShotVerdict) With(use *engine.Judgement) *ShotVerdict {
	other := *v
	other.Use, other.Compromises = use, compromises(use)
	return &other
}

// A Hire is a kit with hired lenses.
type Hire struct {
	Kit    engine.Kit
	Lenses []Offer // those of the kit that are hired
}

// Run audits a brief within limits, which may be other than those of the scenario. It
// fails as [engine.Recommend] does.
func Run(ctx context.Context, s *brief.Scenario, limits brief.Limits, o engine.Options) (*Answer, error) {
	within := *s
	within.Limits = limits
	s = &within
	t, err := engine.Judge(ctx, s, o)
	if err != nil {
		return nil, err
	}
	o.Runners = 0
	a := &auditor{table: t, options: o, report: &Answer{Scenario: s, Camera: t.Camera, Limits: limits, table: t}}
	if a.report.House, err = a.house(limits.Carry); err != nil {
		return nil, err
	}
	needs, err := a.shots(ctx)
	if err != nil {
		return nil, err
	}
	a.report.Carry = a.room()
	if !limits.OwnedOnly {
		if err := a.hire(); err != nil {
			return nil, err
		}
	}
	a.report.Specifications = merge(needs)
	for i := range a.report.Specifications {
		a.report.Specifications[i].Hire = a.offers(a.report.Specifications[i].Shots)
	}
	a.report.Filters = fewestFilters(a.report.Shots)
	best := a.report.Best()
	for i, use := range best.Uses {
		if use == "" {
			continue
		}
		if j := a.table.Explain(i, a.table.Place(use)); j.TooBright() {
			a.report.TooBright = append(a.report.TooBright, s.Shots[i].ID)
		}
	}
	a.report.Suits = len(best.Uncovered) == 0 && a.report.TooBright == nil
	a.report.Days = overDays(ctx, s, o)
	return a.report, nil
}

// Best gives the kit that does most for least money: that of the house, or with the
// cheapest hire when that does more.
func (r *Answer) Best() *engine.Kit {
	if r.Hire != nil {
		return &r.Hire.Kit
	}
	return &r.House
}

// An auditor makes a report from a table.
type auditor struct {
	table   *engine.Table
	options engine.Options
	report  *Answer
}

// house gives the best kit of so many lenses that need not be hired, an empty one when
// there are none.
func (a *auditor) house(carry int) (engine.Kit, error) {
	limits := a.report.Limits
	limits.Carry, limits.Leave = carry, slices.Clone(limits.Leave)
	hired, owned := map[string]bool{}, false
	for _, lens := range a.table.Lenses() {
		if hired[lens.Name.Value] = lens.Have.Kind == catalog.Hired; !hired[lens.Name.Value] {
			_, lacks := limits.Lacks(lens)
			owned = owned || lacks == "" || slices.Contains(limits.Bring, lens.Name.Value)
		} else if !limits.OwnedOnly {
			limits.Leave = append(limits.Leave, lens.Name.Value)
		}
	}
	if !limits.OwnedOnly {
		// What must come and is hired is no part of the house; who wants owned glass only
		// hears that it contradicts.
		limits.Bring = slices.DeleteFunc(slices.Clone(limits.Bring), func(name string) bool { return hired[name] })
	}
	if !owned && len(hired) > 0 {
		return a.nothing(), nil
	}
	choice, err := a.table.Choose(limits, a.options)
	if err != nil {
		return engine.Kit{}, err
	}
	return choice.Kit, nil
}

// nothing is the kit of a house without glass.
func (a *auditor) nothing() engine.Kit {
	k := engine.Kit{Uses: make([]string, len(a.report.Scenario.Shots))}
	for _, shot := range a.report.Scenario.Shots {
		k.Uncovered = append(k.Uncovered, shot.ID)
		k.Left += shot.Weight
	}
	return k
}

// room gives how many lenses the house would have to send for every shot that one of its
// lenses does, 0 when no more than the limits allow, or when no number helps.
func (a *auditor) room() int {
	short := false
	for i := range a.report.Shots {
		short = short || len(a.report.Shots[i].Able) > 0
	}
	if !short {
		return 0
	}
	for carry := a.report.Limits.Carry + 1; carry <= len(a.report.Shots); carry++ {
		kit, err := a.house(carry)
		if err != nil {
			return 0
		}
		enough := true
		for i := range a.report.Shots {
			enough = enough && (kit.Uses[i] != "" || len(a.report.Shots[i].Able) == 0)
		}
		if enough {
			return carry
		}
	}
	return 0
}

// compromises lists the criteria that a lens falls short of or whose limits bite, and those of
// which too little is known to say.
func compromises(j *engine.Judgement) []rules.Finding {
	var short []rules.Finding
	for _, f := range j.Criteria {
		if f.Applies && f.Score < ShortOf || len(f.Bites) > 0 || len(f.Unknown) > 0 {
			short = append(short, f)
		}
	}
	return short
}

// hire looks for the cheapest kit with hired glass that leaves least uncovered.
func (a *auditor) hire() error {
	limits := a.report.Limits
	limits.Leave = slices.Clone(limits.Leave)
	for _, lens := range a.table.Lenses() { // what a lens without a price costs cannot be weighed
		if name := lens.Name.Value; lens.Have.Kind == catalog.Hired && !lens.Have.DayRate.Known() && !slices.Contains(limits.Bring, name) {
			limits.Leave = append(limits.Leave, name)
		}
	}
	best, err := a.table.Choose(limits, a.options)
	if err != nil {
		return err
	}
	hire := a.cheapest(best.Kit, limits)
	if len(hire.Lenses) > 0 {
		a.report.Hire = hire
	}
	if enough := a.report.Best(); best.Kit.Cost > enough.Cost && best.Kit.Value > enough.Value {
		a.report.Better = a.hired(&best.Kit)
	}
	if limits.Rent < 0 || hire.Kit.Left == 0 {
		return nil
	}
	limits.Rent = -1
	if best, err = a.table.Choose(limits, a.options); err != nil {
		return err
	}
	beyond := a.cheapest(best.Kit, limits)
	if beyond.Kit.Left < min(hire.Kit.Left, a.report.House.Left) {
		a.report.Beyond = beyond
	}
	return nil
}

// cents are the steps in which budgets are tried, to one unit of money.
const cents = 100

// cheapest gives a kit that leaves as little uncovered as the best within limits does, at the
// least rent that allows that: what a kit covers never falls when more may be spent, so that
// halving finds it.
func (a *auditor) cheapest(kit engine.Kit, limits brief.Limits) *Hire {
	if math.IsNaN(kit.Cost) { // what must come has no price, or no known owner
		return a.hired(&kit)
	}
	left := kit.Left
	inCents := func(cost float64) int { return int(math.Ceil(cost*cents - 1e-6)) }
	for low, high := -1, inCents(kit.Cost); high-low > 1; {
		budget := (low + high) / 2
		limits.Rent = float64(budget) / cents
		choice, err := a.table.Choose(limits, a.options)
		if err != nil || choice.Kit.Left > left {
			low = budget // too little for what must come, or for what can be covered
			continue
		}
		kit, high = choice.Kit, min(budget, inCents(choice.Kit.Cost))
	}
	return a.hired(&kit)
}

// hired names the lenses of a kit that are hired.
func (a *auditor) hired(kit *engine.Kit) *Hire {
	hire := &Hire{Kit: *kit}
	for _, lens := range a.table.Lenses() {
		if lens.Have.Kind == catalog.Hired && slices.Contains(kit.Lenses, lens.Name.Value) {
			hire.Lenses = append(hire.Lenses, offerOf(lens))
		}
	}
	return hire
}
