package days

import (
	"fmt"
	"slices"
)

// largest bounds worths, prices and money, so that no sum over a problem overflows, and heaviest
// weights, of which some are multiplied with times.
const (
	largest  = 1 << 40
	heaviest = 1 << 30
)

// longest bounds times, to some centuries in half minutes, and longestStep what a change, a move
// or fetching takes, to some days.
const (
	longest     = 1 << 30
	longestStep = 1 << 14
)

// highestPrice bounds the price of half a minute.
const highestPrice = 1 << 32

// Validate says what is wrong with the numbers of a problem, or gives nil. A caller that reads
// text from people finds faults there, with their places; what is reported here is a fault of the caller.
func (p *Problem) Validate() error {
	if len(p.Shots) > MostShots {
		return fmt.Errorf("%d shots, at most %d can be planned at once", len(p.Shots), MostShots)
	}
	if len(p.Lenses) > 1<<16 || len(p.Units) > 4 || len(p.Days) > 64 {
		return fmt.Errorf("%d lenses, %d units and %d days, at most 65536, 4 and 64 can be planned at once", len(p.Lenses), len(p.Units), len(p.Days))
	}
	if p.Price < 0 || p.Price > highestPrice || p.CentPrice < 0 || p.CentPrice > largest || p.MaxCost > largest {
		return fmt.Errorf("prices %d and %d and most cost %d, want at least 0 and at most %d, %d and %[5]d", p.Price, p.CentPrice, p.MaxCost, int64(highestPrice), int64(largest))
	}
	if err := p.validateMoves(); err != nil {
		return err
	}
	for t, day := range p.Days {
		if err := day.validate(); err != nil {
			return fmt.Errorf("day %d: %w", t, err)
		}
		if t > 0 && (day.Start < p.Days[t-1].End || day.Date < p.Days[t-1].Date) {
			return fmt.Errorf("day %d begins at %d on date %d, before the day before it ends", t, day.Start, day.Date)
		}
	}
	if n := len(p.Days); n > 0 && p.Days[n-1].Date-p.Days[0].Date > longestShoot {
		return fmt.Errorf("dates from %d to %d, at most %d days can be planned at once", p.Days[0].Date, p.Days[n-1].Date, longestShoot)
	}
	carry := 0
	for u, unit := range p.Units {
		carry += unit.Carry
		if unit.Carry < 0 || unit.Carry > mostCarried || unit.OnSet < 0 || unit.Fetch < 0 || unit.Fetch > longestStep {
			return fmt.Errorf("unit %d: negative or too large number in %+v", u, unit)
		}
	}
	hired := 0
	for l, lens := range p.Lenses {
		if lens.Hire != nil && !lens.Must && !lens.Barred {
			hired++
		}
		if err := lens.validate(p); err != nil {
			return fmt.Errorf("lens %d: %w", l, err)
		}
	}
	if carry > mostCarried || min(carry, hired) > mostHired {
		return fmt.Errorf("bags of %d lenses, %d of which may be hired, at most %d and %d can be planned at once", carry, min(carry, hired), mostCarried, mostHired)
	}
	for c, setup := range p.Setups {
		if len(setup.Lenses) == 0 || slices.ContainsFunc(setup.Lenses, func(l int) bool { return l < 0 || l >= len(p.Lenses) }) {
			return fmt.Errorf("set-up %d: lenses %v, want at least one of %d", c, setup.Lenses, len(p.Lenses))
		}
	}
	for i := range p.Shots {
		if err := p.validateShot(i); err != nil {
			return fmt.Errorf("shot %d: %w", i, err)
		}
	}
	if shots := p.circle(); shots != nil {
		return fmt.Errorf("shots %v come after each other in a circle", shots)
	}
	return nil
}

func (p *Problem) validateMoves() error {
	places := 1
	for _, shot := range p.Shots {
		places = max(places, shot.Place+1)
	}
	if p.Move == nil {
		return nil
	}
	if len(p.Move) < places {
		return fmt.Errorf("moves from %d places, want %d", len(p.Move), places)
	}
	return validateMatrix(p.Move)
}

// validateMatrix says what is wrong with a matrix of half minutes.
func validateMatrix(m [][]int) error {
	for from, row := range m {
		if len(row) != len(m) {
			return fmt.Errorf("row %d of half minutes has %d numbers, want %d", from, len(row), len(m))
		}
		for to, minutes := range row {
			if minutes < 0 || minutes > longestStep || from == to && minutes != 0 {
				return fmt.Errorf("%d half minutes from %d to %d, want at least 0, and 0 to itself", minutes, from, to)
			}
		}
	}
	return nil
}

func (d Day) validate() error {
	switch {
	case d.Start < 0 || d.End > longest || d.Start >= d.End:
		return fmt.Errorf("from %d to %d", d.Start, d.End)
	case d.Break != (Span{}) && (d.Break.From < d.Start || d.Break.To > d.End || d.Break.From >= d.Break.To):
		return fmt.Errorf("break from %d to %d does not lie in the day from %d to %d", d.Break.From, d.Break.To, d.Start, d.End)
	}
	return nil
}

func (l Lens) validate(p *Problem) error {
	if l.Mass < 0 || l.Mass > largest {
		return fmt.Errorf("mass %d", l.Mass)
	}
	if l.Must && l.Barred {
		return fmt.Errorf("must come and may not")
	}
	h := l.Hire
	if h == nil {
		return nil
	}
	if min(h.Day, h.Week, h.Fetch) < 0 || max(h.Day, h.Week, h.Fetch) > largest || h.Least < 0 || h.Least > 366 {
		return fmt.Errorf("hire %+v", *h)
	}
	if h.Day+h.Week+h.Fetch > 0 && p.CentPrice > 1<<46/(h.Day+h.Week+h.Fetch) {
		return fmt.Errorf("hire %+v is too much at a price of %d for a cent", *h, p.CentPrice)
	}
	if l.Must && l.always(p.Days) >= never {
		return fmt.Errorf("must come, is hired in one period and cannot be had in between")
	}
	return nil
}

func (p *Problem) validateShot(i int) error {
	shot := &p.Shots[i]
	outside := func(numbers []int, n int) bool {
		return slices.ContainsFunc(numbers, func(k int) bool { return k < 0 || k >= n })
	}
	switch {
	case shot.Weight <= 0 || shot.Weight > heaviest:
		return fmt.Errorf("weight %d", shot.Weight)
	case shot.Takes <= 0 || shot.Takes > 1<<20: // a year
		return fmt.Errorf("takes %d half minutes", shot.Takes)
	case shot.Place < 0 || shot.Place > 1<<10:
		return fmt.Errorf("place %d", shot.Place)
	case shot.Free < AsWritten || shot.Free > Everywhere:
		return fmt.Errorf("freedom %d", shot.Free)
	case outside(shot.Days, len(p.Days)):
		return fmt.Errorf("days %v, want days of %d", shot.Days, len(p.Days))
	case outside(shot.After, len(p.Shots)):
		return fmt.Errorf("after %v, want shots of %d", shot.After, len(p.Shots))
	}
	for _, w := range shot.Windows {
		if w.From >= w.To {
			return fmt.Errorf("window from %d to %d", w.From, w.To)
		}
	}
	for n, o := range shot.Options {
		if slices.ContainsFunc(shot.Options[:n], func(other Option) bool { return other.Unit == o.Unit && other.Setup == o.Setup }) {
			return fmt.Errorf("two options of unit %d and set-up %d", o.Unit, o.Setup)
		}
		if o.Unit < 0 || o.Unit >= len(p.Units) || o.Setup < 0 || o.Setup >= len(p.Setups) || o.Worth <= 0 || o.Worth > largest {
			return fmt.Errorf("option %+v, want one of %d units and %d set-ups, and a worth above 0 and at most %d", o, len(p.Units), len(p.Setups), int64(largest))
		}
	}
	return nil
}

// circle gives shots that come after each other in a circle, or nil.
func (p *Problem) circle() []int {
	const walking, walked = 1, 2
	state := make([]int, len(p.Shots))
	var way, found []int
	var walk func(i int) bool
	walk = func(i int) bool {
		switch state[i] {
		case walking:
			found = slices.Clone(way[slices.Index(way, i):])
			return true
		case walked:
			return false
		}
		state[i] = walking
		way = append(way, i)
		if slices.ContainsFunc(p.Shots[i].After, walk) {
			return true
		}
		way = way[:len(way)-1]
		state[i] = walked
		return false
	}
	for i := range p.Shots {
		if walk(i) {
			slices.Sort(found)
			return found
		}
	}
	return nil
}
