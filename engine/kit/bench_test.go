package kit

import (
	"fmt"
	"os/exec"
	"testing"
	"time"
)

// quickest is the least time that something took: other work on the machine only adds.
type quickest time.Duration

func (q *quickest) time(run func()) {
	start := time.Now()
	run()
	if took := quickest(time.Since(start)); *q == 0 || took < *q {
		*q = took
	}
}

func (q quickest) milliseconds() float64 { return time.Duration(q).Seconds() * 1000 }

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
// same file. The goal is 20 times faster.
func BenchmarkKitAgainstGLPK(b *testing.B) {
	needGLPK(b)
	for _, size := range []int{2, 3} {
		b.Run(fmt.Sprintf("200 lenses 60 shots %d in the kit", size), func(b *testing.B) {
			p := ruled(1, 200, 60, size)
			lp := lpFile(b, p)
			var solve, read, ours quickest
			for range 3 {
				solve.time(func() { solveLP(b, lp) })
				read.time(func() {
					if out, err := exec.Command("glpsol", "--lp", lp, "--check").CombinedOutput(); err != nil {
						b.Fatalf("glpsol: %v\n%s", err, out)
					}
				})
			}
			for b.Loop() {
				ours.time(func() { solveAll(b, []*Problem{p}) })
			}
			b.ReportMetric((solve - read).milliseconds(), "glpsol-ms")
			b.ReportMetric(float64(solve-read)/float64(ours), "times-faster")
		})
	}
}

// Ten times the lenses: the goal is at most 15 times the time.
func BenchmarkKitGrowth(b *testing.B) {
	compareTimes(b, "1000-lenses-ms", problems(1_000, 100, 3), "10000-lenses-ms", problems(10_000, 100, 3))
}

// Tight limits on mass and cost: the goal is at most 3 times the time without.
func BenchmarkKitTightLimits(b *testing.B) {
	for _, lenses := range []int{1_000, 10_000} {
		b.Run(fmt.Sprintf("%d lenses", lenses), func(b *testing.B) {
			free := problems(lenses, 100, 3)
			var limited []*Problem
			for _, p := range free {
				limited = append(limited, tight(b, p, 0.6))
			}
			compareTimes(b, "free-ms", free, "tight-ms", limited)
		})
	}
}

// compareTimes solves two lists of problems by turns and reports the time of one problem
// of each, and the ratio.
func compareTimes(b *testing.B, oneName string, one []*Problem, otherName string, other []*Problem) {
	var oneTime, otherTime quickest
	for b.Loop() {
		oneTime.time(func() { solveAll(b, one) })
		otherTime.time(func() { solveAll(b, other) })
	}
	b.ReportMetric(oneTime.milliseconds()/float64(len(one)), oneName)
	b.ReportMetric(otherTime.milliseconds()/float64(len(other)), otherName)
	b.ReportMetric(float64(otherTime)/float64(oneTime), "ratio")
}
