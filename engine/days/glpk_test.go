package days

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/lang/langtest"
)

// A program is a problem as an integer programme in the format that GLPK reads. It serves problems in which
// each shot is a block of its own and free everywhere, with at most one window, no breaks, places or truck, and
// hire by the day from the first use to the last, on dates that follow each other.
//
// For each lens l and unit u, k_l_u says that it is in the bag; for each option n and day t, y_n_t that its shot
// is done that way, and b_n_t that it is the first of the run; z_n_m that option m comes next after n; s_i when
// shot i begins; v_l_t that a lens is used, and h_l_t that it is hired.
type program struct {
	p       *Problem
	out     bytes.Buffer
	options []option
	days    [][]int // of each option
	binary  []string
}

// write gives the programme that does most weight, or, with the weight that is done, has the highest value.
func (m *program) write(done int64) string {
	p := m.p
	m.out.Reset()
	m.binary = nil
	first := done < 0
	m.line("Maximize\n goal: 0 k_none")
	for n, o := range m.options {
		for _, t := range m.days[n] {
			if first {
				m.line(" + %d y_%d_%d", p.Shots[o.shot].Weight, n, t)
			} else {
				m.line(" + %d y_%d_%d", o.Worth, n, t)
			}
		}
	}
	m.pairs(func(a, b, minutes int) {
		if !first && minutes > 0 {
			m.line(" - %d z_%d_%d", int64(minutes)*p.Price, a, b)
		}
	})
	for l, lens := range p.Lenses {
		for t := range p.Days {
			if !first && lens.Hire != nil {
				m.line(" - %d h_%d_%d", lens.Hire.Day*p.CentPrice, l, t)
			}
		}
	}
	m.line("Subject To\n none: k_none = 0")
	if !first {
		m.line(" done:")
		for n, o := range m.options {
			for _, t := range m.days[n] {
				m.line(" + %d y_%d_%d", p.Shots[o.shot].Weight, n, t)
			}
		}
		m.line(" + 0 k_none >= %d", done)
	}
	m.bags()
	m.runs()
	m.times()
	m.hire()
	m.line("Binary\n k_none\n %s\nEnd", strings.Join(m.binary, "\n "))
	return m.out.String()
}

func (m *program) line(format string, args ...any) { fmt.Fprintf(&m.out, format+"\n", args...) }

func (m *program) name(format string, args ...any) string {
	name := fmt.Sprintf(format, args...)
	m.binary = append(m.binary, name)
	return name
}

// pairs ranges over the options that can follow each other.
func (m *program) pairs(yield func(a, b, minutes int)) {
	var change [][]int
	if m.p.Change != nil {
		change = m.p.Change(0, nil)
	}
	for a, o := range m.options {
		for b, q := range m.options {
			if o.Unit != q.Unit || o.shot == q.shot {
				continue
			}
			minutes := 0
			if change != nil {
				minutes = change[o.Setup][q.Setup]
			}
			yield(a, b, minutes)
		}
	}
}

func (m *program) bags() {
	p := m.p
	for u, unit := range p.Units {
		m.line(" carry_%d:", u)
		for l := range p.Lenses {
			m.line(" + %s", m.name("k_%d_%d", l, u))
		}
		m.line(" <= %d", unit.Carry)
	}
	for l, lens := range p.Lenses {
		m.line(" home_%d:", l)
		for u := range p.Units {
			m.line(" + k_%d_%d", l, u)
		}
		m.line(" <= %d", map[bool]int{false: 1}[lens.Barred])
	}
}

func (m *program) runs() {
	p := m.p
	for i := range p.Shots {
		m.line(" once_%d: 0 k_none", i)
		for n, o := range m.options {
			for _, t := range m.days[n] {
				if o.shot == i {
					m.line(" + y_%d_%d", n, t)
				}
			}
		}
		m.line(" <= 1")
	}
	for t := range p.Days {
		for u := range p.Units {
			m.line(" first_%d_%d: 0 k_none", t, u)
			for n, o := range m.options {
				if o.Unit == u && slices.Contains(m.days[n], t) {
					m.line(" + b_%d_%d", n, t)
				}
			}
			m.line(" <= 1")
		}
	}
	in, out := make([]string, len(m.options)), make([]string, len(m.options))
	m.pairs(func(a, b, _ int) {
		z := m.name("z_%d_%d", a, b)
		in[b] += " + " + z
		out[a] += " + " + z
		for _, t := range m.days[a] {
			m.line(" run_%d_%d_%d: %s + y_%d_%d", a, b, t, z, a, t)
			if slices.Contains(m.days[b], t) {
				m.line(" - y_%d_%d", b, t)
			}
			m.line(" <= 1")
		}
	})
	for n, o := range m.options {
		all, firsts := "", ""
		for _, t := range m.days[n] {
			y, b := m.name("y_%d_%d", n, t), m.name("b_%d_%d", n, t)
			all += " - " + y
			firsts += " + " + b
			m.line(" begin_%d_%d: %s - %s <= 0", n, t, b, y)
			for _, l := range o.lenses {
				m.line(" bag_%d_%d_%d: %s - k_%d_%d <= 0", n, t, l, y, l, o.Unit)
			}
		}
		m.line(" enter_%d: 0 k_none%s%s%s = 0", n, firsts, in[n], all)
		m.line(" leave_%d: 0 k_none%s%s <= 0", n, out[n], all)
	}
}

func (m *program) times() {
	p := m.p
	big := 2 * p.Days[len(p.Days)-1].End
	m.pairs(func(a, b, minutes int) {
		i, j := m.options[a].shot, m.options[b].shot
		m.line(" next_%d_%d: s_%d - s_%d - %d z_%d_%d >= %d", a, b, j, i, big, a, b, p.Shots[i].Takes+minutes-big)
	})
	for i := range p.Shots {
		shot := &p.Shots[i]
		var from, to, sum strings.Builder
		for n, o := range m.options {
			if o.shot != i {
				continue
			}
			for _, t := range m.days[n] {
				open, shut := p.Days[t].Start, p.Days[t].End
				for _, w := range shot.Windows {
					open, shut = max(open, w.From), min(shut, w.To)
				}
				fmt.Fprintf(&from, " - %d y_%d_%d", open, n, t)
				fmt.Fprintf(&to, " + %d y_%d_%d", big-(shut-shot.Takes), n, t)
				fmt.Fprintf(&sum, " + y_%d_%d", n, t)
			}
		}
		m.line(" open_%d: s_%d%s >= 0", i, i, &from)
		m.line(" shut_%d: s_%d%s <= %d", i, i, &to, big)
		for _, k := range shot.After {
			m.line(" follow_%d_%d: 0 k_none%s", i, k, &sum)
			late := ""
			for n, o := range m.options {
				for _, t := range m.days[n] {
					if o.shot == k {
						m.line(" - y_%d_%d", n, t)
					}
					if o.shot == i {
						late += fmt.Sprintf(" - %d y_%d_%d", big, n, t)
					}
				}
			}
			m.line(" <= 0")
			m.line(" after_%d_%d: s_%d - s_%d%s >= %d", i, k, i, k, late, p.Shots[k].Takes-big)
			for n, o := range m.options {
				for q, r := range m.options {
					for _, t := range m.days[n] {
						if o.shot == i && r.shot == k && o.Unit != r.Unit && slices.Contains(m.days[q], t) {
							m.line(" side_%d_%d_%d: y_%d_%d + y_%d_%d <= 1", n, q, t, n, t, q, t)
						}
					}
				}
			}
		}
	}
}

func (m *program) hire() {
	p := m.p
	for l, lens := range p.Lenses {
		if lens.Hire == nil {
			continue
		}
		one := ""
		for t := range p.Days {
			h, v := m.name("h_%d_%d", l, t), m.name("v_%d_%d", l, t)
			m.line(" hire_%d_%d: %s - %s >= 0", l, t, h, v)
			one += " + " + h
			for n, o := range m.options {
				if slices.Contains(o.lenses, l) && slices.Contains(m.days[n], t) {
					m.line(" use_%d_%d_%d: %s - y_%d_%d >= 0", l, t, n, v, n, t)
				}
			}
			for before := range t {
				for after := t + 1; after < len(p.Days); after++ {
					m.line(" between_%d_%d_%d_%d: %s - v_%d_%d - v_%d_%d >= -1", l, before, t, after, h, l, before, l, after)
				}
			}
		}
		m.line(" idle_%d:%s", l, one)
		for u := range p.Units {
			m.line(" - k_%d_%d", l, u)
		}
		m.line(" >= 0")
	}
}

// newProgram takes what options there are on which days.
func newProgram(p *Problem) *program {
	m := &program{p: p, options: newGround(p).options}
	for _, o := range m.options {
		var days []int
		for t, day := range p.Days {
			there := !slices.ContainsFunc(o.lenses, func(l int) bool { return !p.Lenses[l].available(day.Date) })
			if there && p.mayStand(&p.Shots[o.shot], t) {
				days = append(days, t)
			}
		}
		m.days = append(m.days, days)
	}
	return m
}

// glpk gives glpsol's weight done and value.
func glpk(tb testing.TB, p *Problem) (done, worth int64) {
	tb.Helper()
	m := newProgram(p)
	done = goal(tb, m.write(-1))
	return done, goal(tb, m.write(done))
}

// goal gives the optimum of a programme.
func goal(tb testing.TB, text string) int64 {
	tb.Helper()
	dir := tb.TempDir()
	lp, result := filepath.Join(dir, "days.lp"), filepath.Join(dir, "days.sol")
	if err := os.WriteFile(lp, []byte(text), 0o600); err != nil {
		tb.Fatal(err)
	}
	if out, err := exec.Command("glpsol", "--lp", lp, "--write", result).CombinedOutput(); err != nil {
		tb.Fatalf("glpsol: %v\n%s", err, out)
	}
	solution, err := os.ReadFile(result)
	if err != nil {
		tb.Fatal(err)
	}
	for line := range strings.Lines(string(solution)) {
		var rows, columns int
		var status string
		var value float64
		if _, err := fmt.Sscanf(line, "s mip %d %d %s %g", &rows, &columns, &status, &value); err == nil {
			if status != "o" {
				tb.Fatalf("glpsol ends with %s", line)
			}
			return int64(math.Round(value))
		}
	}
	tb.Fatalf("glpsol wrote no summary:\n%s", solution)
	return 0
}

// joint draws a problem that the integer programme can say: kit, order, hire, windows and after, and every other
// one with two units.
func joint(seed uint64, shots, lenses int) *Problem {
	r := rand.New(rand.NewPCG(seed, 7))
	p := draw{shots: shots, lenses: lenses, days: 2 + int(seed)%2, units: 1 + int(seed)%2, carry: 1 + r.IntN(2), windows: true, after: true,
		free: Everywhere, tight: r.IntN(2) == 0}.problem(r)
	p.CentPrice = int64(r.IntN(3))
	change := p.Change
	if change != nil {
		p.Change = func(int, []int) [][]int { return change(0, nil) } // the same for all bags
	}
	for t := range p.Days {
		p.Days[t].Date = t
	}
	for l := range p.Lenses {
		lens := &p.Lenses[l]
		lens.Must = false
		if r.IntN(2) == 0 {
			lens.Hire = &Hire{Day: int64(r.IntN(100)), Once: true}
		}
		if r.IntN(4) == 0 {
			lens.Available = []Dates{{r.IntN(2), 1 + r.IntN(2)}}
		}
	}
	for i := range p.Shots {
		if w := p.Shots[i].Windows; w != nil {
			p.Shots[i].Windows = w[:1]
		}
	}
	return p
}

func needGLPK(tb testing.TB) {
	tb.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		langtest.Lacking(tb, "glpsol (package glpk-utils)")
	}
}

// Kit, order, hire, windows, what comes after what and two units together: trying every plan, an integer
// programme and the solver give the same.
func TestSolverAgreesWithGLPK(t *testing.T) {
	needGLPK(t)
	for seed := range uint64(langtest.Cases(200)) {
		p := joint(seed, 4+int(seed/2)%2, 4)
		done, worth := glpk(t, p)
		got := solve(t, p).Plan.Totals
		if want, err := enumerate(t.Context(), p); err != nil || got.Left != want.Totals.Left || got.Value != want.Totals.Value || got.Changes != want.Totals.Changes {
			t.Errorf("seed %d: got %+v, want %+v, %v", seed, got, want.Totals, err)
		}
		all := int64(0)
		for i := range p.Shots {
			all += p.Shots[i].Weight
		}
		if got.Left != all-done || got.Value != worth {
			t.Errorf("seed %d: got %+v, want %d left and a value of %d as glpsol", seed, got, all-done, worth)
		}
	}
}

// The solver against a general one on the same small problems.
func BenchmarkDaysAgainstGLPK(b *testing.B) {
	needGLPK(b)
	const cases = 10
	race := langtest.NewRace(langtest.Wall,
		langtest.Way{Name: "ours", Units: 10 * cases, Do: func() {
			for range 10 {
				for seed := range uint64(cases) {
					solve(b, joint(seed, 5, 4))
				}
			}
		}},
		langtest.Way{Name: "glpsol", Units: cases, Do: func() {
			for seed := range uint64(cases) {
				glpk(b, joint(seed, 5, 4))
			}
		}})
	langtest.Hold(b, race.Round, race.AtLeast("glpsol", "ours", 20))
}
