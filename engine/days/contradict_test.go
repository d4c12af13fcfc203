package days

import (
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

func TestContradictions(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(p *Problem)
		want [][]int
	}{
		{"none", func(*Problem) {}, nil},
		{"a window that is too short", func(p *Problem) { p.Shots[2].Windows = []Span{{100, 159}} }, [][]int{{2}}},
		{"two at the same time", func(p *Problem) {
			p.Shots[0].Windows, p.Shots[3].Windows = []Span{{100, 180}}, []Span{{120, 200}}
		}, [][]int{{0, 3}}},
		{"two at the same time, by two units", func(p *Problem) {
			p.Shots[0].Windows, p.Shots[3].Windows = []Span{{100, 180}}, []Span{{120, 200}}
			p.Units = append(p.Units, Unit{Carry: 1})
			p.Shots[3].Options[0].Unit = 1
			p.Shots[3].Block = 3
		}, nil},
		{"the first must come after the second", func(p *Problem) { p.Shots[0].After = []int{1} }, [][]int{{0, 1}}},
		{"a block on two days", func(p *Problem) { p.Shots[0].Days, p.Shots[1].Days = []int{0}, []int{1} }, [][]int{{0, 1}}},
		{"a short day for three", func(p *Problem) {
			for i := range 3 {
				p.Shots[i].Days = []int{1}
			}
			p.Days[1].End = p.Days[1].Start + 239 // three shots and the move take 240
		}, [][]int{{0, 1, 2}}},
		{"two sets", func(p *Problem) {
			p.Shots[0].Windows, p.Shots[1].Windows = []Span{{100, 180}}, []Span{{100, 180}}
			p.Shots[2].Windows, p.Shots[3].Windows = []Span{{300, 380}}, []Span{{300, 380}}
		}, [][]int{{0, 1}, {2, 3}}},
	} {
		p := seaside()
		c.set(p)
		got, err := Contradictions(t.Context(), p, len(p.Shots), 1_000_000)
		if err != nil || !slices.EqualFunc(got, c.want, slices.Equal) {
			t.Errorf("%s: got %v, %v, want %v", c.name, got, err, c.want)
		}
	}
}

// Where all can be done nothing contradicts, and the shots of a set cannot all be done by trying every plan.
func TestContradictionsHold(t *testing.T) {
	for seed := range uint64(langtest.Cases(200)) {
		p := drawn(rand.New(rand.NewPCG(seed, 163)))
		p.MaxCost = -1
		for l := range p.Lenses {
			p.Lenses[l].Must = false
		}
		sets, err := Contradictions(t.Context(), p, len(p.Shots), 1_000_000)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := enumerate(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		for _, shots := range sets {
			if !slices.ContainsFunc(plan.Left, func(l Left) bool { return slices.Contains(shots, l.Shot) }) {
				t.Errorf("seed %d: %v contradict, and a plan has them all: %+v", seed, shots, plan)
			}
		}
	}
}
