package days

import (
	"math/rand/v2"
	"slices"
)

// A draw says what a random problem has.
type draw struct {
	shots, lenses, days, units int
	carry                      int
	hire, windows, after       bool
	truck, breaks, places      bool
	free                       Freedom
	blocks                     int // of as many shots at most; 0 for one
	tight                      bool
	ties                       bool // few different worths
}

// problem draws a small problem of a kind.
func (d draw) problem(r *rand.Rand) *Problem {
	p := &Problem{MaxCost: -1, Price: int64(1 + r.IntN(3))}
	if r.IntN(3) == 0 {
		p.Price = 0
	}
	levels := 1000
	if d.ties {
		levels = 3
	}
	for range d.units {
		u := Unit{Carry: d.carry}
		if d.truck {
			u.OnSet, u.Fetch = 1, r.IntN(12)
		}
		p.Units = append(p.Units, u)
	}
	for range d.lenses {
		l := Lens{Mass: int64(r.IntN(5))}
		if d.hire && r.IntN(2) == 0 {
			l.Hire = &Hire{Day: int64(r.IntN(8)), Fetch: int64(r.IntN(4) * r.IntN(2) * 5), Least: r.IntN(2) * r.IntN(4), Once: r.IntN(4) == 0}
			if r.IntN(3) == 0 {
				l.Hire.Week = 2 + int64(r.IntN(20))
			}
		}
		if d.hire && r.IntN(4) == 0 {
			from := r.IntN(3)
			l.Available = []Dates{{from, from + r.IntN(3)}}
		}
		l.Barred = r.IntN(15) == 0
		l.Must = !l.Barred && len(p.Lenses) < d.carry && r.IntN(15) == 0
		p.Lenses = append(p.Lenses, l)
		p.Setups = append(p.Setups, Setup{[]int{len(p.Lenses) - 1}})
		if r.IntN(2) == 0 {
			p.Setups = append(p.Setups, Setup{[]int{len(p.Lenses) - 1}})
		}
	}
	if d.hire && r.IntN(3) > 0 {
		p.CentPrice = int64(r.IntN(4))
	}
	if d.hire && r.IntN(4) == 0 {
		p.MaxCost = int64(r.IntN(25))
	}
	if r.IntN(5) > 0 {
		n := len(p.Setups)
		m := make([][]int, n)
		for a := range m {
			m[a] = make([]int, n)
			for b := range m[a] {
				if a != b {
					m[a][b] = r.IntN(6)
				}
			}
		}
		p.Change = func(unit int, bag []int) [][]int {
			c := make([][]int, n)
			for a := range m {
				c[a] = slices.Clone(m[a])
				for b := range c[a] {
					if a != b {
						c[a][b] += 2*len(bag) + unit // an idle lens never helps
					}
				}
			}
			return c
		}
	}
	if d.places {
		p.Move = [][]int{{0, r.IntN(20)}, {r.IntN(20), 0}}
	}
	takes := 0
	for i := range d.shots {
		s := Shot{Weight: int64(1 + r.IntN(3)), Takes: 5 + r.IntN(20), Scene: i / 2, Block: i, Free: d.free}
		if d.places {
			s.Place = r.IntN(2)
		}
		if d.blocks > 0 {
			s.Block = i / d.blocks
		}
		takes += s.Takes
		for range 1 + r.IntN(4) {
			o := Option{r.IntN(d.units), r.IntN(len(p.Setups)), int64(1+r.IntN(levels)) * 30 / int64(min(levels, 30))}
			if !slices.ContainsFunc(s.Options, func(other Option) bool { return other.Unit == o.Unit && other.Setup == o.Setup }) {
				s.Options = append(s.Options, o)
			}
		}
		if d.after && i > 0 && r.IntN(3) == 0 {
			if d.free == Everywhere {
				s.After = []int{r.IntN(i)}
			} else {
				s.After = []int{i - 1}
			}
		}
		p.Shots = append(p.Shots, s)
	}
	length := takes
	if d.tight {
		length = takes*(8+r.IntN(6))/10/(d.days*d.units) + 5
	}
	date, at := 0, 0
	for range d.days {
		day := Day{Start: at, End: at + length, Date: date}
		if d.breaks && length > 20 {
			day.Break = Span{at + length/2 - 3, at + length/2 + 3}
			day.End += 6
		}
		p.Days = append(p.Days, day)
		date += 1 + r.IntN(3)*r.IntN(2)
		at += length + 200
	}
	for i := range p.Shots {
		s := &p.Shots[i]
		if d.windows && r.IntN(3) == 0 {
			for range 1 + r.IntN(2) {
				day := p.Days[r.IntN(d.days)]
				from := day.Start + r.IntN(max(1, day.End-day.Start-s.Takes))
				s.Windows = append(s.Windows, Span{from, from + s.Takes + r.IntN(15)})
			}
		}
		if d.days > 1 && r.IntN(4) == 0 {
			s.Days = []int{r.IntN(d.days)}
		}
	}
	return p
}
