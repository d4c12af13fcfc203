package days

import (
	"math/rand/v2"
	"testing"

	"glassbrief/lang/langtest"
)

// solve gives the proven best plan.
func solve(tb testing.TB, p *Problem) Solution {
	tb.Helper()
	s, err := Solver{}.Solve(tb.Context(), p)
	if err != nil {
		tb.Fatal(err)
	}
	if !s.Proven {
		tb.Fatal("the plan is not proven")
	}
	return s
}

func TestSeaside(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(p *Problem)
		want Totals
	}{
		// As written the two primes change in each scene: 360 less two changes. On one day a move
		// and a third change would come on top.
		{"as written", func(*Problem) {}, Totals{Value: 360 - 18, Changes: 2, Mass: 10, Minutes: 18}},
		// The zoom alone: 80 + 80 + 80 + 90.
		{"changes are dear", func(p *Problem) { p.Price = 10 }, Totals{Value: 330, Mass: 8, Cost: 200}},
		// On one day the place is moved to for 60: better than the second day of hire.
		{"changes and money are dear", func(p *Problem) { p.Price, p.CentPrice = 2, 2; p.Lenses[0].Barred, p.Lenses[1].Barred = true, true },
			Totals{Value: 330 - 120 - 200, Mass: 8, Cost: 100, Minutes: 60}},
		// Only the normal: 50 + 90 + 60 + 90 on two days.
		{"no money, one lens", func(p *Problem) { p.MaxCost = 0; p.Units[0].Carry = 1 }, Totals{Value: 290, Mass: 5}},
		// Half an hour is room for one shot a day: the heavy one and one of the other scene, both wide.
		{"short days", func(p *Problem) { p.Days[0].End, p.Days[1].End = 60, 2940; p.Shots[0].Weight = 3 },
			Totals{Left: 2, Value: 180, Mass: 5}},
	} {
		p := seaside()
		c.set(p)
		if got := solve(t, p).Plan.Totals; got != c.want {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
}

// The solver agrees with trying every plan.
func TestSolverAgreesWithEnumeration(t *testing.T) {
	for seed := range uint64(langtest.Cases(200)) {
		agree(t, seed)
	}
}

// drawn gives a small problem that may have everything.
func drawn(r *rand.Rand) *Problem {
	yes := func() bool { return r.IntN(2) == 0 }
	d := draw{shots: 3 + r.IntN(3), lenses: 2 + r.IntN(3), days: 1 + r.IntN(3), units: 1 + r.IntN(2), carry: 1 + r.IntN(2),
		hire: yes(), windows: yes(), after: yes(), truck: r.IntN(4) == 0, breaks: r.IntN(3) == 0, places: r.IntN(3) == 0,
		free: []Freedom{AsWritten, InScene, InPlace, Everywhere, Everywhere, Everywhere}[r.IntN(6)], blocks: r.IntN(3), tight: yes(), ties: yes()}
	if d.units == 2 {
		d.shots, d.days = min(d.shots, 4), min(d.days, 2)
	}
	return d.problem(r)
}

func agree(t *testing.T, seed uint64) {
	p := drawn(rand.New(rand.NewPCG(seed, 16)))
	want, none := enumerate(t.Context(), p)
	got, err := Solver{}.Solve(t.Context(), p)
	if err != none || err == nil && !got.Proven {
		t.Errorf("seed %d: got %+v, %v, want %+v, %v", seed, got, err, want, none)
		return
	}
	w, g := want.Totals, got.Plan.Totals
	if !got.Nearest {
		w.Moved, w.Mass, w.Cost = g.Moved, g.Mass, g.Cost
	}
	w.Minutes = g.Minutes // which nothing but their price decides
	if g != w {
		t.Errorf("seed %d: got %+v\nwant %+v\ngot %+v\nwant %+v", seed, got.Plan.Totals, want.Totals, got.Plan, want)
	}
}

// Scenes in the order as written, or that have only one day, leave few ways to fill the days, however many they are.
func TestManyScenes(t *testing.T) {
	for _, c := range []struct {
		name string
		days int
		free Freedom
	}{{"as written", 1, AsWritten}, {"as written, on some days", 3, AsWritten}, {"free", 1, Everywhere}} {
		p := &Problem{
			Units: []Unit{{Carry: 2}}, Lenses: []Lens{{Mass: 1}, {Mass: 1}}, MaxCost: -1, Price: 1,
			Setups: []Setup{{Lenses: []int{0}}, {Lenses: []int{1}}},
			Change: func(int, []int) [][]int { return [][]int{{0, 9}, {9, 0}} },
		}
		for d := range c.days {
			p.Days = append(p.Days, Day{Start: 10_000 * d, End: 10_000*d + 1200/c.days, Date: d})
		}
		for i := range 24 {
			p.Shots = append(p.Shots, Shot{
				Weight: 1, Takes: 40, Scene: i, Block: i, Free: c.free, Options: []Option{{Unit: 0, Setup: 0, Worth: 10}, {Unit: 0, Setup: 1, Worth: 11}},
			})
		}
		got := solve(t, p)
		if got.Plan.Totals.Left > 0 || got.Plan.Totals.Value != 24*11 || got.Plan.Totals.Moved > 0 {
			t.Errorf("%s: got %+v, want all done with the second lens in the order as written", c.name, got.Plan.Totals)
		}
	}
}

// A kit with too many ways to fill a day is no reason to call another the best.
func TestTooManyWaysProveNothing(t *testing.T) {
	defer func(most int) { mostColumns = most }(mostColumns)
	mostColumns = 40
	p := &Problem{
		Days: []Day{{End: 1000}, {Start: 2000, End: 3000, Date: 1}}, Units: []Unit{{Carry: 2}}, MaxCost: -1, Price: 1,
		Lenses: []Lens{{}, {Hire: &Hire{Day: 1}}}, Setups: []Setup{{Lenses: []int{0}}, {Lenses: []int{1}}},
	}
	for i := range 5 {
		p.Shots = append(p.Shots, Shot{Weight: 1, Takes: 40, Scene: i, Block: i, Free: Everywhere, Options: []Option{
			{Unit: 0, Setup: 0, Worth: 10 - 9*int64(i%2)}, {Unit: 0, Setup: 1, Worth: 1 + 9*int64(i%2)}}})
	}
	s, err := Solver{}.Solve(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	if s.Plan.Totals.Value == 50 || s.Proven || s.Bound != 50 {
		t.Errorf("got a plan worth %d and a bound of %d, proven %v; want less than 50, 50 and false", s.Plan.Totals.Value, s.Bound, s.Proven)
	}
	mostColumns = 80
	if got := solve(t, p).Plan.Totals.Value; got != 50 {
		t.Errorf("with room for all columns: got %d, want 50", got)
	}
}
