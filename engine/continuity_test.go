package engine_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// A walked quantity is a figure of a shot that is changed by factors.
type walked struct {
	name  string
	least float64 // the least that is a hair of it, in its own unit; 0.1 % at least
	// at gives the figure of the shot; NaN where it has none.
	at func(*brief.Shot) float64
	// set changes it.
	set func(shot *brief.Shot, to float64)
}

// halfMillimetre is a hair of a distance. Of the size of a thing it would be much: a small one
// is measured finer.
const halfMillimetre = 0.5e-3

func placed(change func(shot *brief.Shot, to float64) (near, far float64)) func(*brief.Shot, float64) {
	return func(shot *brief.Shot, to float64) { shot.Place(change(shot, to)) }
}

var figures = []walked{
	{"distance", halfMillimetre, func(s *brief.Shot) float64 { return s.Near }, placed(func(s *brief.Shot, to float64) (near, far float64) { return to, to * s.Far / s.Near })},
	{"near", halfMillimetre, func(s *brief.Shot) float64 { return s.Near }, placed(func(s *brief.Shot, to float64) (near, far float64) { return to, max(to, s.Far) })},
	{"far", halfMillimetre, func(s *brief.Shot) float64 { return s.Far }, placed(func(s *brief.Shot, to float64) (near, far float64) { return min(s.Near, to), to })},
	{"background", halfMillimetre, func(s *brief.Shot) float64 { return s.Background }, func(s *brief.Shot, to float64) { s.Background = max(to, s.Far) }},
	{"height", 0, func(s *brief.Shot) float64 { return s.Subject.Height.Value }, func(s *brief.Shot, to float64) { s.Subject.Height = lang.NewQuantity(to, lang.Length) }},
	{"width", 0, func(s *brief.Shot) float64 { return s.Subject.Width.OrNaN() }, func(s *brief.Shot, to float64) { s.Subject.Width = lang.NewQuantity(to, lang.Length) }},
	{"light", 0, func(s *brief.Shot) float64 { return s.Light }, func(s *brief.Shot, to float64) { s.Light = to }},
	{"speed", 0, func(s *brief.Shot) float64 {
		if pace := s.Move.Pace(); pace > 0 {
			return pace
		}
		return math.NaN()
	}, func(s *brief.Shot, to float64) { s.Move.Speed = lang.NewQuantity(to, lang.Speed) }},
	{"pan", 0, func(s *brief.Shot) float64 { return s.Move.Turn.OrNaN() }, func(s *brief.Shot, to float64) { s.Move.Turn = lang.NewQuantity(to, lang.AngularSpeed) }},
	{"room", halfMillimetre, func(s *brief.Shot) float64 {
		if s.Room == nil {
			return math.NaN()
		}
		return s.Room.Far
	}, func(s *brief.Shot, to float64) {
		room := *s.Room
		room.Near = min(room.Near, 0.99*to)
		room.Far, s.Room = to, &room
	}},
}

// A step is what a score does from one value to another.
type step struct{ from, to, before, after float64 }

func (s step) size() float64 { return math.Abs(s.after - s.before) }

// largestStep walks a quantity over a factor of four, takes the largest steps of the score
// and halves each down to a hair.
func largestStep(q *walked, shot *brief.Shot, score func(*brief.Shot) float64) step {
	at := q.at(shot)
	value := func(to float64) float64 {
		changed := *shot
		q.set(&changed, to)
		return score(&changed)
	}
	const points, looks = 160, 4
	all := make([]step, points)
	last := value(at / 2)
	for i := range all {
		from, to := at/2*math.Pow(4, float64(i)/points), at/2*math.Pow(4, float64(i+1)/points)
		all[i] = step{from, to, last, value(to)}
		last = all[i].after
	}
	bySize := func(a, b step) int { return cmp.Compare(b.size(), a.size()) }
	slices.SortFunc(all, bySize)
	for i := range all[:looks] {
		s := &all[i]
		for {
			if s.to-s.from <= max(q.least, 1e-3*s.from) {
				break
			}
			middle := (s.from + s.to) / 2
			v := value(middle)
			if math.Abs(v-s.before) > math.Abs(s.after-v) {
				s.to, s.after = middle, v
			} else {
				s.from, s.before = middle, v
			}
		}
	}
	return slices.MinFunc(all[:looks], bySize)
}

// A hair's change of the brief moves a score by no more than a hair. The steps are searched
// for, since random hairs find next to none.
func TestAHairMovesAScoreByAHair(t *testing.T) {
	const most = 0.011
	trials := langtest.Cases(80)
	for k := range figures {
		q := &figures[k]
		walks, largest := 0, step{}
		for n := 0; walks < trials && n < 20*trials; n++ {
			drawn := drawTrial(dice{rand.New(rand.NewPCG(uint64(100+k), uint64(n)))})
			drawn.shot = without(drawn.shot, "prefer")
			s := loadTrials(t, []named{{"as it is", drawn}})
			shot, lens := s.Shots[0], s.Catalogue.Lenses.All()[0]
			if at := q.at(shot); math.IsNaN(at) || shot.Room != nil && slices.Contains([]string{"distance", "near", "far", "background"}, q.name) {
				continue
			}
			fitted := engine.NewBench(s, s.Cameras[0]).Fit(lens)
			score := func(shot *brief.Shot) float64 { return worth(fitted.Try(s, shot)) }
			if score(shot) == 0 {
				continue
			}
			walks++
			found := largestStep(q, shot, score)
			if found.size() > most {
				before, after := *shot, *shot
				q.set(&before, found.from)
				q.set(&after, found.to)
				t.Errorf("%s, trial %d: from %v to %v the score goes from %.4f to %.4f\n%+v\n%+v\n%s", q.name, n, found.from, found.to, found.before, found.after,
					fitted.Try(s, &before), fitted.Try(s, &after), strings.Join(drawn.text(), "\n"))
			}
			if found.size() > largest.size() {
				largest = found
			}
		}
		t.Logf("%-12s %3d walks, largest step %.4f", q.name, walks, largest.size())
		if walks < trials/2 {
			t.Errorf("%s: only %d walks", q.name, walks)
		}
	}
}
