package days

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

// A shooting says what a random shoot of real size has.
type shooting struct {
	shots, scenes, days int
	lenses, carry       int
	timed, after        float64 // shares of the shots
	hire                bool
	modes               int // set-ups of a lens
	units               int
	spare               int // half minutes of each day that are not needed
}

// problem draws a shoot. Lenses have focal lengths, and shots want one; a lens that is far off cannot do a
// shot. A change between lenses takes 8 to 13 half minutes, and between modes of a lens 5 or 6.
func (s shooting) problem(seed uint64) *Problem {
	r := rand.New(rand.NewPCG(seed, 40))
	const unit = 1_000_000 // of a score of 1
	p := &Problem{MaxCost: -1, Price: unit / 200}
	if s.hire {
		p.CentPrice = unit / 100 / 600 // a hundredth a minute, 6 a minute
	}
	var focal, quality []float64
	for l := range s.lenses {
		focal = append(focal, math.Log2(14)+r.Float64()*math.Log2(100/14.0))
		quality = append(quality, 0.7+0.3*r.Float64())
		lens := Lens{Mass: int64(300 + r.IntN(1500))}
		if s.hire && l%3 == 0 {
			lens.Hire = &Hire{Day: int64(3000 + 500*r.IntN(14))}
			lens.Hire.Week = 3 * lens.Hire.Day
			if r.IntN(2) == 0 {
				lens.Hire.Fetch = 4000
			}
		}
		p.Lenses = append(p.Lenses, lens)
		for range s.modes {
			p.Setups = append(p.Setups, Setup{[]int{l}})
		}
	}
	change := make([][]int, len(p.Setups))
	for a := range change {
		change[a] = make([]int, len(p.Setups))
		for b := range change[a] {
			switch {
			case a == b:
			case a/s.modes == b/s.modes:
				change[a][b] = 5 + r.IntN(2)
			default:
				change[a][b] = 8 + r.IntN(6)
			}
		}
	}
	p.Change = func(int, []int) [][]int { return change }
	for range max(1, s.units) {
		p.Units = append(p.Units, Unit{Carry: s.carry})
	}
	takes := 0
	for i := range s.shots {
		shot := Shot{Weight: int64(1 + r.IntN(3)), Takes: 10 * (2 + r.IntN(6)), Scene: i * s.scenes / s.shots, Free: Everywhere}
		shot.Block = shot.Scene
		takes += shot.Takes
		want := math.Log2(14) + r.Float64()*math.Log2(100/14.0)
		mode := r.IntN(s.modes)
		for l := range s.lenses {
			if off := math.Abs(focal[l] - want); off < 1.3 {
				score := quality[l] * math.Exp(-off*off)
				for u := range p.Units {
					shot.Options = append(shot.Options, Option{u, l*s.modes + mode, shot.Weight * int64(score*unit)})
				}
			}
		}
		p.Shots = append(p.Shots, shot)
	}
	length := takes/s.days/len(p.Units) + s.spare
	for t := range s.days {
		p.Days = append(p.Days, Day{Start: t * 2880, End: t*2880 + length, Date: t})
	}
	dayOf := map[int]int{} // of scenes, so that no scene is timed on two days
	for i := range p.Shots {
		shot := &p.Shots[i]
		if r.Float64() < s.timed {
			t, known := dayOf[shot.Scene]
			if !known {
				t = r.IntN(s.days)
				dayOf[shot.Scene] = t
			}
			from := t*2880 + r.IntN(max(1, length-shot.Takes-120))
			shot.Windows = []Span{{from, from + shot.Takes + 120}}
		}
		if i > 0 && r.Float64() < s.after && p.Shots[i-1].Scene == shot.Scene {
			shot.After = []int{i - 1}
		}
	}
	return p
}

// large is a way of a benchmark: shoots that are planned, with the gap that is left after some processor time.
type large struct {
	shooting
	seeds   []uint64
	seconds float64   // that each may take
	gaps    []float64 // half minutes, of the quickest round
}

// plan plans all of them and gives the longest processor time.
func (l *large) plan(b *testing.B) (longest float64) {
	l.gaps = nil
	for _, seed := range l.seeds {
		p := l.problem(seed)
		start := langtest.Processor()
		took := func() float64 { return (langtest.Processor() - start).Seconds() }
		ctx, cancel := context.WithCancel(b.Context())
		s, err := Solver{Progress: func(Progress) {
			if took() > l.seconds {
				cancel()
			}
		}}.Solve(ctx, p)
		cancel()
		if err != nil {
			b.Fatal(err)
		}
		longest = max(longest, took())
		gap := float64(s.Gap(p))
		if s.LeastLeft < s.Plan.Totals.Left {
			gap = math.Inf(1)
		}
		l.gaps = append(l.gaps, gap)
	}
	return longest
}

// The plan of a day and of shoots of real size: the longest time of some, of the quickest round, and the largest
// gap in half minutes.
func BenchmarkDays(b *testing.B) {
	for _, c := range []struct {
		name    string
		gap     float64 // half minutes that may be left
		seconds float64
		large
	}{
		{"20-free-shots", 0, 1, large{shooting: shooting{shots: 20, scenes: 1, days: 1, lenses: 2, carry: 2, modes: 2, spare: 60}, seeds: []uint64{0, 1, 2, 3}}},
		{"20-timed-shots", 0, 1, large{shooting: shooting{shots: 20, scenes: 1, days: 1, lenses: 2, carry: 2, modes: 2, timed: 0.2, after: 0.2, spare: 60}, seeds: []uint64{0, 1, 2, 3}}},
		{"40-shots-two-lenses", 0, 2, large{shooting: shooting{shots: 40, scenes: 12, days: 5, lenses: 20, carry: 2, modes: 2, timed: 0.2, hire: true, spare: 60}, seeds: []uint64{0, 1, 2, 3}}},
		{"40-shots-three-lenses", 10, 20, large{shooting: shooting{shots: 40, scenes: 12, days: 5, lenses: 20, carry: 3, modes: 2, timed: 0.1, hire: true, spare: 60}, seeds: []uint64{0, 1, 2, 3}}},
	} {
		b.Run(c.name, func(b *testing.B) {
			longest, gap := math.Inf(1), math.Inf(1)
			c.large.seconds = 2 * c.seconds
			langtest.Hold(b, func() {
				longest = min(longest, c.plan(b))
				gap = min(gap, slices.Max(c.gaps))
			},
				langtest.Bound{Metric: "s", Value: func() float64 { return longest }, AtMost: c.seconds},
				langtest.Bound{Metric: "half-min-gap", Value: func() float64 { return gap }, AtMost: c.gap})
		})
	}
}
