package days

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

// A plan keeps to what the problem says, and the same problem has the same plan.
func TestPlansHold(t *testing.T) {
	for seed := range uint64(langtest.Cases(300)) {
		draw := func() *Problem { return drawn(rand.New(rand.NewPCG(seed, 164))) }
		p := draw()
		s, err := Solver{}.Solve(t.Context(), p)
		if err != nil {
			continue
		}
		for _, fault := range faults(p, s.Plan) {
			t.Errorf("seed %d: %s in %+v", seed, fault, s.Plan)
		}
		if again := solve(t, draw()); !reflect.DeepEqual(again, s) {
			t.Errorf("seed %d: got %+v and then %+v", seed, s, again)
		}
	}
	p := shooting{shots: 40, scenes: 12, days: 3, lenses: 12, carry: 2, modes: 2, units: 2, timed: 0.1, hire: true, spare: 60}.problem(0)
	for _, fault := range faults(p, solve(t, p).Plan) {
		t.Errorf("two units: %s", fault)
	}
}

// faults says in which ways a plan does not keep to its problem.
func faults(p *Problem, plan Plan) (faults []string) {
	fault := func(bad bool, what string) {
		if bad {
			faults = append(faults, what)
		}
	}
	ends := map[int]int{}   // of the shots done
	runOf := map[int]*Run{} // of shots and, below 0, of blocks
	for r := range plan.Runs {
		run := &plan.Runs[r]
		day, bag := p.Days[run.Day], plan.Bags[run.Unit]
		fault(len(bag) > p.Units[run.Unit].Carry, "a bag is too full")
		clock := day.Start
		for k, stop := range run.Stops {
			shot := p.Shots[stop.Shot]
			_, twice := ends[stop.Shot]
			fault(twice, "a shot is done twice")
			fault(!slices.ContainsFunc(shot.Options, func(o Option) bool { return o.Unit == run.Unit && o.Setup == stop.Setup }), "a set-up is none of the shot's")
			for _, l := range p.Setups[stop.Setup].Lenses {
				fault(!slices.Contains(bag, l) || !p.Lenses[l].available(day.Date), "a lens is not there")
				paid := p.Lenses[l].Hire == nil || slices.ContainsFunc(plan.Hire, func(h Period) bool { return h.Lens == l && h.From <= day.Date && day.Date <= h.To })
				fault(!paid, "a lens is not hired")
			}
			if k > 0 {
				before := run.Stops[k-1]
				if p.Change != nil {
					fault(stop.Change != p.Change(run.Unit, bag)[before.Setup][stop.Setup], "a change takes another time")
				}
				if p.Move != nil {
					fault(stop.Move != p.Move[p.Shots[before.Shot].Place][shot.Place], "a move takes another time")
				}
			}
			minutes := stop.Change + stop.Move + stop.Fetch
			away := 0 // of the break between the shots
			if b := day.Break; clock < b.To && stop.Start >= b.To {
				away = b.To - max(clock, b.From)
			}
			end := stop.Start + shot.Takes
			fault(stop.Start-clock-away < minutes, "there is no time before a shot")
			fault(end > day.End || stop.Start < day.Break.To && end > day.Break.From, "a shot lies over the break or the end")
			fault(shot.Windows != nil && !slices.ContainsFunc(shot.Windows, func(w Span) bool { return w.From <= stop.Start && end <= w.To }), "a shot lies in no window")
			fault(shot.Days != nil && !slices.Contains(shot.Days, run.Day), "a shot is on another day")
			for _, i := range shot.After {
				done, ok := ends[i]
				fault(!ok || done > stop.Start || runOf[i].Day == run.Day && runOf[i] != run, "a shot comes before what it comes after")
			}
			for _, other := range run.Stops[k+1:] {
				fault(other.Shot < stop.Shot && p.kept(other.Shot, stop.Shot), "the order as written is not kept")
			}
			block := runOf[-1-shot.Block]
			fault(block != nil && block != run, "a block is in two runs")
			ends[stop.Shot], runOf[stop.Shot], runOf[-1-shot.Block] = end, run, run
			clock = end
		}
	}
	for i := range p.Shots {
		_, done := ends[i]
		left := slices.ContainsFunc(plan.Left, func(l Left) bool { return l.Shot == i })
		fault(done == left, "a shot is both done and left, or neither")
	}
	fault(p.MaxCost >= 0 && plan.Totals.Cost > p.MaxCost, "it costs too much")
	return faults
}
