package engine

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"glassbrief/engine/brief"
	"glassbrief/engine/kit"
	"glassbrief/engine/rig"
	"glassbrief/lang"
)

// A Choice is the kit chosen from a table, with the kits behind it.
type Choice struct {
	Kit     Kit
	Runners []Kit
	Proven  bool // no kit within the limits is better

	// When the search was cut short, another kit might leave less uncovered, by CoverGap
	// in weight, or have a higher value, by Gap: as much as GapMinutes of changes, NaN where they
	// have no price.
	Gap, CoverGap, GapMinutes float64
	// Neighbours says that the kits behind are the best of those that differ from the
	// first by one lens, rather than the next best of all.
	Neighbours bool
}

// nodeLimit ends a search for a kit that takes seconds; the answer then says that it is
// not proven, and by how much a better one could exceed it.
const nodeLimit = 2_000_000

// Choose chooses the kit within limits, which may be other than those of the scenario.
// When they leave nothing to bring, it fails with [lang.Diagnostics] that say which of
// them contradict each other.
func (t *Table) Choose(limits brief.Limits, o Options) (*Choice, error) {
	solution, err := kit.Search{NodeLimit: nodeLimit}.Solve(t.problem(&limits), o.Runners)
	if err != nil {
		return nil, t.contradiction(&limits, err)
	}
	choice := &Choice{
		Proven: solution.Proven, Gap: solution.Gap, CoverGap: solution.CoverGap, Neighbours: solution.Neighbours,
	}
	if choice.GapMinutes = math.NaN(); t.Scenario.Prices.Change > 0 {
		choice.GapMinutes = choice.Gap * t.weight() / t.Scenario.Prices.Change
	}
	for i := range solution.Sets {
		switch k := t.kit(&solution.Sets[i]); {
		case i == 0:
			choice.Kit = k
		case len(k.Lenses) > 0: // an empty bag is no kit to compare with
			choice.Runners = append(choice.Runners, k)
		}
	}
	return choice, nil
}

// problem turns the outcomes into a choice of a kit.
func (t *Table) problem(limits *brief.Limits) *kit.Problem {
	n, shots := len(t.glass), len(t.outcomes)
	p := &kit.Problem{
		Scores: make([][]float64, n), Weights: t.Weights(), Size: limits.Carry,
		Mass: make([]float64, n), Cost: make([]float64, n), Barred: make([]bool, n),
		MaxMass: limits.BagMass, MaxCost: limits.Rent,
		Changes: t.changes(), Price: t.Scenario.Prices.Change * rig.Minutes(1).Value(), Charge: t.Scenario.Prices.Money(),
		Alike: t.alike,
	}
	for j, g := range t.glass {
		p.Mass[j], p.Cost[j] = g.mass, g.dayRate
		p.Barred[j] = limits.Bars(g.lens)
		if slices.Contains(limits.Bring, g.lens.Name.Value) {
			p.Must = append(p.Must, j)
		} else if keepsOut(limits, g).Lacks != "" {
			p.Barred[j] = true // nobody knows whether it keeps within the limit
		}
		p.Scores[j] = make([]float64, shots)
		for i := range shots {
			p.Scores[j][i] = acceptable(t.outcomes[i][j])
		}
	}
	return p
}

func (t *Table) kit(set *kit.Set) Kit {
	k := Kit{
		Left: set.Uncovered, Mean: set.Mean, Value: set.Value, Swaps: set.Swaps,
		Minutes: rig.Minutes(set.Takes).Value(), Cost: set.Cost,
	}
	for _, j := range set.Lenses {
		k.Lenses = append(k.Lenses, t.glass[j].lens.Name.Value)
		k.Mass += t.glass[j].mass
		if math.IsNaN(t.glass[j].dayRate) {
			k.Cost = math.NaN()
		}
	}
	for i, j := range set.Best {
		if j < 0 {
			k.Uncovered = append(k.Uncovered, t.Scenario.Shots[i].ID)
			k.Uses = append(k.Uses, "")
			continue
		}
		k.Uses = append(k.Uses, t.glass[j].lens.Name.Value)
	}
	return k
}

// contradiction names the lenses and statements behind a solver's [kit.LimitError]. Any
// other error comes back as it is.
func (t *Table) contradiction(limits *brief.Limits, err error) error {
	var limit *kit.LimitError
	if !errors.As(err, &limit) {
		return err
	}
	d := lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: t.Scenario.Span, Summary: limit.Reason,
		Detail: "Loosen one of the limits: carry, bag, rent, leave or owned_only.",
	}
	var names []string
	for _, j := range limit.Lenses {
		names = append(names, t.glass[j].lens.Name.Value)
		d.Span = limits.BringSpan
	}
	lacking := t.lacking(limits)
	switch {
	case len(t.glass) == 0:
		d.Summary = "the catalogue holds no lens to choose from"
		d.Detail = "Name a catalogue that does in a \"use\" line."
	case names == nil && lacking != "":
		d.Detail = lacking
	case names == nil:
	case limits.Bars(t.glass[limit.Lenses[0]].lens):
		d.Summary = fmt.Sprintf("\"bring\" asks for %s, which %q keeps out", lang.QuotedAll(names[:1]), limits.Barring(names[0]))
		d.Detail = "Take it out of one of the two."
	default:
		d.Detail = fmt.Sprintf("\"bring\" asks for %s. Take a lens out of it, or loosen the other limit.", lang.QuotedAll(names))
	}
	return lang.Diagnostics{d}
}

// lacking says of how many lenses a limit asks for what is not known, "" for none.
func (t *Table) lacking(limits *brief.Limits) string {
	lenses := map[Bar]int{}
	var most Bar
	for _, g := range t.glass {
		if bar := (Bar{By: keepsOut(limits, g).By, Lacks: keepsOut(limits, g).Lacks}); bar.Lacks != "" {
			if lenses[bar]++; lenses[bar] > lenses[most] {
				most = bar
			}
		}
	}
	if most.Lacks == "" {
		return ""
	}
	return fmt.Sprintf("Of %d of %d lenses the %s is not known, which %q asks for. Write it in the catalogue, or take the limit away.",
		lenses[most], len(t.glass), most.Lacks, most.By)
}

// A Bar is a limit by which a lens cannot come even alone. The zero value is none.
type Bar struct {
	By          string  // the statement: "leave", "owned_only", "rent" or "bag"; "" for none
	Lacks       string  // what is not known and the limit asks for: "owner", "price of a day" or "mass"; "" for nothing
	Is, Allowed float64 // of rent, money a day; of the bag, kg; NaN when not known
	Unit        string  // of the two
}

// keepsOut gives the limit by which a lens cannot come even alone.
func keepsOut(l *brief.Limits, g *glass) Bar {
	if slices.Contains(l.Bring, g.lens.Name.Value) {
		return Bar{}
	}
	if l.Bars(g.lens) {
		return Bar{By: l.Barring(g.lens.Name.Value)}
	}
	if by, what := l.Lacks(g.lens); what != "" {
		return Bar{by, what, math.NaN(), l.Rent, l.Currency}
	}
	switch mass := g.mass; {
	case l.Rent >= 0 && g.dayRate > l.Rent:
		return Bar{"rent", "", g.dayRate, l.Rent, l.Currency}
	case l.BagMass > 0 && math.IsNaN(mass):
		return Bar{"bag", "mass", mass, l.BagMass, "kg"}
	case l.BagMass > 0 && mass > l.BagMass:
		return Bar{"bag", "", mass, l.BagMass, "kg"}
	}
	return Bar{}
}
