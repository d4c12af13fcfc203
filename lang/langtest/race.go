package langtest

import (
	"math"
	"runtime"
	"time"
)

// A Way is one of the ways to do the same work.
type Way struct {
	Name  string
	Do    func()
	Units float64 // pieces of work that Do does; 0 stands for 1
}

// A Race times ways by turns, so that a busy machine slows all of them alike, and keeps
// the quickest time of each: other work makes a time longer, never shorter.
type Race struct {
	clock    Clock
	ways     []Way
	quickest map[string]time.Duration
}

// NewRace begins a race without a round.
func NewRace(clock Clock, ways ...Way) *Race {
	r := &Race{clock: clock, ways: ways, quickest: map[string]time.Duration{}}
	for _, way := range ways {
		r.quickest[way.Name] = math.MaxInt64
	}
	return r
}

// Round times every way once, each after the garbage of the one before is gone.
func (r *Race) Round() {
	for _, way := range r.ways {
		runtime.GC()
		r.quickest[way.Name] = min(r.quickest[way.Name], r.clock.Time(way.Do))
	}
}

// Seconds gives the quickest time of a way for one unit of its work, or NaN for a way that
// is not in the race.
func (r *Race) Seconds(name string) float64 {
	for _, way := range r.ways {
		if way.Name == name {
			units := way.Units
			if units == 0 {
				units = 1
			}
			return r.quickest[name].Seconds() / units
		}
	}
	return math.NaN()
}

// Ratio gives how many times as long as another a way takes.
func (r *Race) Ratio(way, than string) float64 { return r.Seconds(way) / r.Seconds(than) }

// AtMost bounds how many times as long as another a way may take.
func (r *Race) AtMost(way, than string, limit float64) Bound {
	return Bound{Metric: way + "/" + than, Value: func() float64 { return r.Ratio(way, than) }, AtMost: limit}
}

// AtLeast bounds how many times as long as another a way must take.
func (r *Race) AtLeast(way, than string, limit float64) Bound {
	return Bound{Metric: way + "/" + than, Value: func() float64 { return r.Ratio(way, than) }, AtLeast: limit}
}
