package floor

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
)

// Filters is how too much light is taken away: by filters on the lens, with iris and ISO to
// make up the difference.
type Filters struct {
	Needed   float64            // stops too much at the base ISO; 0 when there is none, NaN when not known
	Put      []catalog.Screwing // filters to put on, the lens's side first
	Strength float64            // stops that they take
	Turn     bool               // one of them is turned to its share
	ISO      float64            // to set with them
	Close    float64            // stops to close the iris beyond the stop for focus, which only adds depth
	Left     float64            // stops that are still too much
}

// All lists the filters with the rings they go on.
func (f Filters) All() []*catalog.Filter {
	var all []*catalog.Filter
	for _, way := range f.Put {
		if way.Ring != nil {
			all = append(all, way.Ring)
		}
		all = append(all, way.Filter)
	}
	return all
}

// Each filter or ring costs as much as three quarters of a stop of iris or ISO. All figures
// are assumptions of this project.
const (
	perPiece   = 0.75
	mostClosed = 1.0 // stops by which the iris may be closed for light alone
	mostShut   = 2.0 // stops by which the shutter may be shut before motion looks choppy
)

// leftOver is how many stops may be left over unsaid: half of the third that is set.
const leftOver = 1.0 / 6

// filtersFor solves the filters of a set-up.
func filtersFor(s *brief.Scenario, lens *catalog.Lens, j *engine.Judgement) Filters {
	f := Filters{Needed: j.Fact(facts.ND), ISO: j.Fact(facts.ISO)}
	if !(f.Needed > 0) {
		return f
	}
	iris := exposure.StopsBetween(j.Fact(facts.Stop), j.Fact(facts.SmallestStop))
	if math.IsNaN(iris) {
		iris = mostClosed
	}
	raise := math.Log2(j.Fact(facts.TopISO) / j.Fact(facts.BaseISO))
	best := math.Inf(1)
	for _, c := range combinations(s.Catalogue, lens) {
		strength := min(max(f.Needed, c.low), c.high)
		over := f.Needed - strength // too much light still, or negative: too little
		if over < -raise-rounding {
			continue
		}
		left := max(0, over-min(iris, mostClosed))
		// Light that is left over weighs most: it overexposes the shot.
		if cost := 100*left + math.Abs(over) + perPiece*float64(len(Filters{Put: c.put}.All())); cost < best-rounding {
			best = cost
			f.Put, f.Strength, f.Turn = c.put, strength, c.low < c.high
			f.Close, f.Left = max(0, over-left), left
			f.ISO = j.Fact(facts.ISO)
			if over < 0 {
				f.ISO = exposure.MarkedISO(f.ISO * math.Exp2(-over))
			}
		}
	}
	return f
}

// A combination is up to two filters on a lens, and the stops that they can take.
type combination struct {
	put       []catalog.Screwing
	low, high float64
}

// combinations lists what goes on a lens, nothing included.
func combinations(c *catalog.Catalogue, lens *catalog.Lens) []combination {
	list := []combination{{}}
	if !lens.Thread.Diameter.Known() {
		return list
	}
	var single []combination
	for _, way := range c.FiltersFor(lens.Thread.Diameter.Value, catalog.FilterND) {
		if strength := way.Filter.Strength; strength.Low.Known() && strength.High.Known() {
			single = append(single, combination{[]catalog.Screwing{way}, strength.Low.Value, strength.High.Value})
		}
	}
	list = append(list, single...)
	for i, a := range single {
		for _, b := range single[i+1:] {
			first, second := a.put[0], b.put[0]
			if first.Filter.Thread.Value != second.Filter.Thread.Value {
				continue
			}
			second.Ring = nil // it screws onto the first
			list = append(list, combination{[]catalog.Screwing{first, second}, a.low + b.low, a.high + b.high})
		}
	}
	return list
}

// tooBright says what takes away the light that is left over.
func (f *Filters) tooBright(lens *catalog.Lens, j *engine.Judgement) TooBright {
	n := TooBright{Lens: lens, Left: f.Left, On: f.Put != nil}
	if f.Left <= mostShut {
		n.Shutter = j.Fact(facts.ShutterTime) * math.Exp2(-f.Left)
	}
	if stop := j.Fact(facts.Stop) * math.Exp2((f.Close+f.Left)/2); stop <= j.Fact(facts.SmallestStop) {
		n.Stop = exposure.Marked(stop)
	}
	return n
}
