package kit

import (
	"fmt"
	"os/exec"
	"testing"

	"glassbrief/lang/langtest"
)

func solveAll(b *testing.B, problems []*Problem) {
	for _, p := range problems {
		if got, err := (Search{}).Solve(p, 0); err != nil || !got.Proven {
			b.Fatalf("got proven %v and error %v, want a proven kit", got.Proven, err)
		}
	}
}

// problems makes a few problems of a kind, so that no single one decides.
func problems(lenses, shots, size int) []*Problem {
	var list []*Problem
	for seed := range uint64(5) {
		list = append(list, ruled(seed, lenses, shots, size))
	}
	return list
}

// The search against glpsol's own work: its time less that for starting and reading the
// same file.
func BenchmarkKitAgainstGLPK(b *testing.B) {
	needGLPK(b)
	for _, size := range []int{2, 3} {
		b.Run(fmt.Sprintf("200 lenses 60 shots %d in the kit", size), func(b *testing.B) {
			p := ruled(1, 200, 60, size)
			lp := lpFile(b, p)
			r := langtest.NewRace(langtest.Wall,
				langtest.Way{Name: "glpsol", Do: func() { solveLP(b, lp) }},
				langtest.Way{Name: "reading", Do: func() {
					if out, err := exec.Command("glpsol", "--lp", lp, "--check").CombinedOutput(); err != nil {
						b.Fatalf("glpsol: %v\n%s", err, out)
					}
				}},
				langtest.Way{Name: "ours", Do: func() { solveAll(b, []*Problem{p}) }},
			)
			langtest.Hold(b, r.Round, langtest.Bound{Metric: "times-faster", AtLeast: 20, Value: func() float64 {
				return (r.Seconds("glpsol") - r.Seconds("reading")) / r.Seconds("ours")
			}})
		})
	}
}

// Ten times the lenses.
func BenchmarkKitGrowth(b *testing.B) {
	compareTimes(b, 15, "1000-lenses", problems(1_000, 100, 3), "10000-lenses", problems(10_000, 100, 3))
}

// Tight limits on mass and cost.
func BenchmarkKitTightLimits(b *testing.B) {
	for _, lenses := range []int{1_000, 10_000} {
		b.Run(fmt.Sprintf("%d lenses", lenses), func(b *testing.B) {
			free := problems(lenses, 100, 3)
			var limited []*Problem
			for _, p := range free {
				limited = append(limited, tight(b, p, 0.6))
			}
			compareTimes(b, 3, "free", free, "tight", limited)
		})
	}
}

// Changes that cost, against the same choice where they are free: a path is walked for few kits.
func BenchmarkKitPriced(b *testing.B) {
	free := problems(200, 60, 3)
	var dear []*Problem
	for seed, p := range free {
		dear = append(dear, onRig(uint64(seed), p, 0.005))
	}
	compareTimes(b, 6, "free", free, "priced", dear)
}

// compareTimes solves two lists of problems. The second may take at most so many times as
// long as the first.
func compareTimes(b *testing.B, most float64, oneName string, one []*Problem, otherName string, other []*Problem) {
	r := langtest.NewRace(langtest.Processor,
		langtest.Way{Name: oneName, Do: func() { solveAll(b, one) }},
		langtest.Way{Name: otherName, Do: func() { solveAll(b, other) }},
	)
	langtest.Hold(b, r.Round, r.AtMost(otherName, oneName, most))
}
