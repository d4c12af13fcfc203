package kit

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"glassbrief/lang/langtest"
)

// writeLP writes a problem as an integer programme in the format that GLPK reads: bring
// says that a lens comes, use how far it serves a shot. Each shot is served in full, so it
// has a solution only where all shots can be covered, and is then the same choice.
func writeLP(w io.Writer, p *Problem) error {
	out := bufio.NewWriter(w)
	var total float64
	for _, weight := range p.Weights {
		total += weight
	}
	fmt.Fprint(out, "Maximize\n mean:")
	for lens, row := range p.Scores {
		for shot, score := range row {
			if score > 0 {
				fmt.Fprintf(out, " + %.17g use_%d_%d\n", score*p.Weights[shot]/total, lens, shot)
			}
		}
	}
	fmt.Fprint(out, "Subject To\n size:")
	for lens := range p.Scores {
		fmt.Fprintf(out, " + bring_%d\n", lens)
	}
	fmt.Fprintf(out, " <= %d\n", p.Size)
	for _, limit := range []struct {
		name  string
		loads []float64
		most  float64
		given bool
	}{{"mass", p.Mass, p.MaxMass, p.MaxMass > 0}, {"cost", p.Cost, p.MaxCost, p.MaxCost >= 0}} {
		if limit.given {
			fmt.Fprintf(out, " %s:", limit.name)
			for lens, x := range limit.loads {
				fmt.Fprintf(out, " + %.17g bring_%d\n", x, lens)
			}
			fmt.Fprintf(out, " <= %.17g\n", limit.most)
		}
	}
	for shot := range p.Weights {
		fmt.Fprintf(out, " shot_%d:", shot)
		for lens, row := range p.Scores {
			if row[shot] > 0 {
				fmt.Fprintf(out, " + use_%d_%d\n", lens, shot)
			}
		}
		fmt.Fprint(out, " = 1\n")
	}
	for lens, row := range p.Scores {
		for shot, score := range row {
			if score > 0 {
				fmt.Fprintf(out, " only_%d_%d: use_%d_%d - bring_%d <= 0\n", lens, shot, lens, shot, lens)
			}
		}
	}
	fmt.Fprintln(out, "Binary")
	for lens := range p.Scores {
		fmt.Fprintf(out, " bring_%d\n", lens)
	}
	fmt.Fprintln(out, "End")
	return out.Flush()
}

// needGLPK ends a test or a benchmark without glpsol.
func needGLPK(tb testing.TB) {
	tb.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		langtest.Lacking(tb, "glpsol (package glpk-utils)")
	}
}

// lpFile writes a problem where glpsol can read it.
func lpFile(tb testing.TB, p *Problem) string {
	tb.Helper()
	name := filepath.Join(tb.TempDir(), "kit.lp")
	file, err := os.Create(name)
	if err != nil {
		tb.Fatal(err)
	}
	if err := errors.Join(writeLP(file, p), file.Close()); err != nil {
		tb.Fatal(err)
	}
	return name
}

// solveLP gives glpsol's optimum, and whether all shots can be covered at all. By default
// glpsol is content within a relative 1e-9 of the optimum.
func solveLP(tb testing.TB, lp string) (mean float64, feasible bool) {
	tb.Helper()
	result := filepath.Join(filepath.Dir(lp), "kit.sol")
	if out, err := exec.Command("glpsol", "--lp", lp, "--write", result).CombinedOutput(); err != nil {
		tb.Fatalf("glpsol: %v\n%s", err, out)
	}
	text, err := os.ReadFile(result)
	if err != nil {
		tb.Fatal(err)
	}
	// The line that sums up: s mip ROWS COLUMNS STATUS OBJECTIVE.
	for line := range strings.Lines(string(text)) {
		var rows, columns int
		var status string
		if _, err := fmt.Sscanf(line, "s mip %d %d %s %g", &rows, &columns, &status, &mean); err == nil {
			return mean, status == "o"
		}
	}
	tb.Fatalf("glpsol wrote no summary:\n%s", text)
	return 0, false
}

func TestSearchAgreesWithGLPK(t *testing.T) {
	needGLPK(t)
	type size struct{ lenses, shots, kit int }
	sizes := []size{{30, 20, 2}, {30, 60, 3}, {60, 20, 3}, {60, 60, 2}, {100, 20, 2}, {100, 60, 3}, {200, 20, 3}, {200, 60, 2}}
	for i, s := range sizes {
		for _, limits := range []bool{false, true} {
			if limits && s.lenses*s.shots > 5_000 {
				continue // glpsol takes long
			}
			t.Run(fmt.Sprintf("%d lenses %d shots %d in the kit limits %v", s.lenses, s.shots, s.kit, limits), func(t *testing.T) {
				p := ruled(uint64(i), s.lenses, s.shots, s.kit)
				if limits {
					p = tight(t, p, 0.7)
				}
				got, err := searched(p, 0, 0)
				if err != nil {
					t.Fatal(err)
				}
				best := got.Sets[0]
				mean, feasible := solveLP(t, lpFile(t, p))
				if feasible != (best.Uncovered == 0) {
					t.Fatalf("got %g uncovered; glpsol says that covering all shots is possible: %v", best.Uncovered, feasible)
				}
				if !feasible && !limits {
					t.Fatal("not all shots can be covered, want a problem where glpsol has an optimum")
				}
				if feasible && math.Abs(best.Mean-mean) > 1e-6 {
					t.Errorf("got mean %.9f with %v, want %.9f as glpsol", best.Mean, best.Lenses, mean)
				}
			})
		}
	}
}
