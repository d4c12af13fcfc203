package days

import (
	"strings"
	"testing"
)

// seaside is two days with two places, three lenses of which one is hired, and four shots. All
// minutes are half minutes: a change between lenses takes 9, from place to place 60.
//
//	shot  scene  place  takes  wide  normal  zoom
//	0     1      0      60     0.9   0.5     0.8
//	1     1      0      60     -     0.9     0.8
//	2     2      1      60     0.9   0.6     0.8
//	3     2      1      60     -     0.9     0.9
//
// in hundredths of the weight, 1 for each; half a minute costs 1.
func seaside() *Problem {
	shot := func(scene, place int, worths ...int64) Shot {
		s := Shot{Weight: 1, Takes: 60, Scene: scene, Block: scene, Place: place}
		for lens, worth := range worths {
			if worth > 0 {
				s.Options = append(s.Options, Option{Setup: lens, Worth: worth})
			}
		}
		return s
	}
	return &Problem{
		Shots:  []Shot{shot(1, 0, 90, 50, 80), shot(1, 0, 0, 90, 80), shot(2, 1, 90, 60, 80), shot(2, 1, 0, 90, 90)},
		Days:   []Day{{Start: 0, End: 400, Date: 1}, {Start: 2880, End: 3280, Date: 2}},
		Units:  []Unit{{Carry: 2}},
		Lenses: []Lens{{Mass: 5}, {Mass: 5}, {Mass: 8, Hire: &Hire{Day: 100}}},
		Setups: []Setup{{[]int{0}}, {[]int{1}}, {[]int{2}}},
		Move:   [][]int{{0, 60}, {60, 0}},
		Change: func(int, []int) [][]int { return [][]int{{0, 9, 9}, {9, 0, 9}, {9, 9, 0}} },
		Price:  1, MaxCost: -1,
	}
}

func TestValidate(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(p *Problem)
		want  string
	}{
		"sound":             {func(*Problem) {}, ""},
		"days over another": {func(p *Problem) { p.Days[1].Start = 399 }, "day 1 begins at 399"},
		"break outside":     {func(p *Problem) { p.Days[0].Break = Span{390, 410} }, "day 0: break from 390 to 410 does not lie in the day"},
		"no weight":         {func(p *Problem) { p.Shots[2].Weight = 0 }, "shot 2: weight 0"},
		"no minutes":        {func(p *Problem) { p.Shots[2].Takes = 0 }, "shot 2: takes 0"},
		"a set-up too many": {func(p *Problem) { p.Shots[0].Options[0].Setup = 3 }, "shot 0: option"},
		"no worth":          {func(p *Problem) { p.Shots[0].Options[0].Worth = 0 }, "shot 0: option"},
		"no move":           {func(p *Problem) { p.Shots[3].Place = 2 }, "moves from 2 places, want 3"},
		"a circle":          {func(p *Problem) { p.Shots[1].After, p.Shots[3].After = []int{3}, []int{1} }, "shots [1 3] come after each other in a circle"},
		"after itself":      {func(p *Problem) { p.Shots[1].After = []int{1} }, "shots [1] come after"},
		"bags too large":    {func(p *Problem) { p.Units = []Unit{{Carry: 40}, {Carry: 40}} }, "bags of 80 lenses"},
		"too many hired": {func(p *Problem) {
			p.Units[0].Carry = 20
			for range 17 {
				p.Lenses = append(p.Lenses, Lens{Hire: &Hire{}})
			}
		}, "18 of which may be hired"},
		"must and may not": {func(p *Problem) { p.Lenses[1] = Lens{Must: true, Barred: true} }, "lens 1: must come and may not"},
	} {
		p := seaside()
		c.spoil(p)
		err := p.Validate()
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
}
