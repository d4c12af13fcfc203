package days

import (
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

// notWorse fails when a plan is worse than another in what is done or in value.
func notWorse(t *testing.T, seed uint64, what string, got, than Totals) {
	t.Helper()
	got.Changes, got.Moved, got.Mass, got.Cost = than.Changes, than.Moved, than.Mass, than.Cost
	if than.Better(got) {
		t.Errorf("seed %d: %s: got %+v, worse than %+v", seed, what, got, than)
	}
}

// What gives more freedom never costs anything, and no plan that is easy to think of is better.
func TestFreedomNeverCosts(t *testing.T) {
	for seed := range uint64(langtest.Cases(300)) {
		draw := func() *Problem { return drawn(rand.New(rand.NewPCG(seed, 160))) }
		r := rand.New(rand.NewPCG(seed, 161))
		s, err := Solver{}.Solve(t.Context(), draw())
		if err != nil {
			continue
		}
		before := s.Plan.Totals
		try := func(what string, change func(p *Problem)) {
			p := draw()
			change(p)
			notWorse(t, seed, what, solve(t, p).Plan.Totals, before)
		}
		try("a scene is freed", func(p *Problem) {
			scene := p.Shots[r.IntN(len(p.Shots))].Scene
			for i := range p.Shots {
				if p.Shots[i].Scene == scene {
					p.Shots[i].Free = Everywhere
				}
			}
		})
		try("a lens more", func(p *Problem) {
			l := len(p.Lenses)
			p.Lenses = append(p.Lenses, Lens{})
			p.Setups = append(p.Setups, Setup{[]int{l}})
			if change := p.Change; change != nil {
				p.Change = func(unit int, bag []int) [][]int { return further(change(unit, bag)) }
			}
			for i := range p.Shots {
				p.Shots[i].Options = append(p.Shots[i].Options, Option{r.IntN(len(p.Units)), len(p.Setups) - 1, 1 + r.Int64N(1000)})
			}
		})
		try("a lens that may stay at home", func(p *Problem) {
			for l := range p.Lenses {
				p.Lenses[l].Barred = false
			}
		})
		// Of two plans that differ in what is written only the better is seen.
		worse := func(what string, change func(p *Problem)) {
			p := draw()
			change(p)
			if s, err := (Solver{}).Solve(t.Context(), p); err == nil {
				notWorse(t, seed, what, before, s.Plan.Totals)
			}
		}
		worse("against the order as written", func(p *Problem) {
			for i := range p.Shots {
				p.Shots[i].Free = AsWritten
			}
		})
		worse("against the kit that is best without changes", func(p *Problem) {
			free := draw()
			free.Price, free.CentPrice = 0, 0
			only(p, solve(t, free).Plan.Bags)
		})

		// An hour more for a shot, or a day more of a lens, can bind it to the order as written where
		// that gave way before. So these are for an order that is free.
		everywhere := func() *Problem {
			p := draw()
			for i := range p.Shots {
				p.Shots[i].Free = Everywhere
			}
			return p
		}
		free := solve(t, everywhere()).Plan.Totals
		p := everywhere()
		day := p.Days[r.IntN(len(p.Days))]
		for i := range p.Shots {
			if p.Shots[i].Windows != nil {
				p.Shots[i].Windows = append(p.Shots[i].Windows, Span{day.Start, day.Start + p.Shots[i].Takes + r.IntN(20)})
				break
			}
		}
		notWorse(t, seed, "a slot more", solve(t, p).Plan.Totals, free)
		p = everywhere()
		for l := range p.Lenses {
			if lens := &p.Lenses[l]; lens.Available != nil && !lens.Must { // one that must come is paid for the day too
				lens.Available = append(lens.Available, Dates{day.Date, day.Date})
			}
		}
		notWorse(t, seed, "a day of availability more", solve(t, p).Plan.Totals, free)
	}
}

// further adds a set-up to a matrix of changes.
func further(changes [][]int) [][]int {
	n := len(changes)
	more := make([][]int, n+1)
	for a := range more {
		more[a] = make([]int, n+1)
		for b := range more[a] {
			switch {
			case a < n && b < n:
				more[a][b] = changes[a][b]
			case a != b:
				more[a][b] = 7
			}
		}
	}
	return more
}

// only leaves the lenses of bags, each for its unit.
func only(p *Problem, bags [][]int) {
	for l := range p.Lenses {
		if !slices.ContainsFunc(bags, func(bag []int) bool { return slices.Contains(bag, l) }) && !p.Lenses[l].Must {
			p.Lenses[l].Barred = true
		}
	}
}

// A search that is stopped gives a plan that holds, and bounds that the best plan keeps.
func TestStopped(t *testing.T) {
	for seed := range uint64(langtest.Cases(100)) {
		p := drawn(rand.New(rand.NewPCG(seed, 162)))
		want, err := Solver{}.Solve(t.Context(), p)
		if err != nil {
			continue
		}
		for _, nodes := range []int{1, 20, 60, 200} {
			s, err := Solver{Nodes: nodes}.Solve(t.Context(), p)
			if err != nil {
				t.Fatal(err)
			}
			got, best := s.Plan.Totals, want.Plan.Totals
			notWorse(t, seed, "the best plan against a stopped one", best, got)
			if s.Proven {
				notWorse(t, seed, "a proven plan", got, best)
			}
			if best.Left < s.LeastLeft || best.Left == got.Left && best.Value > s.Bound {
				t.Errorf("seed %d, %d nodes: got at least %d left and at most %d for %+v, and the best is %+v", seed, nodes, s.LeastLeft, s.Bound, got, best)
			}
		}
	}
}

// How much is won by the choice of kit and order together. The briefs: one day with hours to spare, 12 shots, 20
// lenses of which 2 or 3 come, hundredths of a score for a minute.
func TestBriefs(t *testing.T) {
	n := langtest.Cases(30)
	type count struct {
		better  int
		minutes float64
	}
	for _, carry := range []int{2, 3} {
		for _, free := range []Freedom{AsWritten, Everywhere} {
			var plan, kit count
			for seed := range uint64(n) {
				draw := func() *Problem {
					p := shooting{shots: 12, scenes: 1, days: 1, lenses: 20, carry: carry, modes: 1, spare: 400}.problem(seed)
					for i := range p.Shots {
						p.Shots[i].Free = free
					}
					return p
				}
				p := draw()
				got := solve(t, p).Plan.Totals
				still := draw()
				still.Price = 0
				today := solve(t, still).Plan
				p = draw()
				only(p, today.Bags)
				same := solve(t, p).Plan.Totals
				for _, c := range []struct {
					*count
					totals Totals
				}{{&plan, asWritten(draw(), today.Bags[0])}, {&kit, same}} {
					if got.Left != c.totals.Left || got.Value < c.totals.Value {
						t.Errorf("seed %d: got %+v, worse than %+v", seed, got, c.totals)
					}
					if won := got.Value - c.totals.Value; won > 0 {
						c.better++
						c.minutes += float64(won) / float64(p.Price) / 2
					}
				}
			}
			order := map[Freedom]string{AsWritten: "order as written", Everywhere: "order free"}[free]
			t.Logf("%d lenses, %s: of %d briefs %d better than the best lens for each shot as written, by %.1f min on average; %d better than the best plan of that kit, by %.1f min",
				carry, order, n, plan.better, plan.minutes/max(1, float64(plan.better)), kit.better, kit.minutes/max(1, float64(kit.better)))
		}
	}
}

// asWritten gives the totals of a day as written on which each shot has its best lens of a bag.
func asWritten(p *Problem, bag []int) (t Totals) {
	change := p.Change(0, bag)
	last := -1
	for i := range p.Shots {
		best := -1
		for n, o := range p.Shots[i].Options {
			if slices.Contains(bag, p.Setups[o.Setup].Lenses[0]) && (best < 0 || o.Worth > p.Shots[i].Options[best].Worth) {
				best = n
			}
		}
		if best < 0 {
			t.Left += p.Shots[i].Weight
			continue
		}
		o := p.Shots[i].Options[best]
		t.Value += o.Worth
		if last >= 0 {
			t.Value -= p.Price * int64(change[last][o.Setup])
		}
		last = o.Setup
	}
	return t
}
