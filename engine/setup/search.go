package setup

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A Setup is what is dialled for a shot.
type Setup struct {
	Focal   float64 // on the camera, in metres
	Stop    float64 // f-number
	Mark    float64 // focus, from the sensor plane in metres
	Follows bool    // whoever focuses follows the subject, beginning at the mark
	ISO     ISO
	Filter  int // its place in the list of filters
}

// Optics are what a lens lets one set.
type Optics struct {
	Stops  []float64     // f-numbers, the widest first
	Focals []facts.Focal // of a zoom, every setting, the shortest first; nil for a prime
}

// A Search is the memory of one worker, used for one lens after another.
type Search struct {
	record  facts.Record
	known   rules.Known
	exposed []exposed
	order   []setting
	marks   []mark
	worth   []float64 // of the marks
	sorter  sorter
	lenient float64
	looked  bool    // what is known is found out
	lens    float64 // what is left of the product by what no set-up changes
	last    *Task   // that a focal length was looked at for last
	out     int     // the piece of it that excluded the lens; -1 where none did
}

// exposed is the best of light at one stop.
type exposed struct {
	stop   int
	worth  float64 // what exposure, ISO and filters leave of the product
	choice int
}

// setting is one focal length with what it decides alone.
type setting struct {
	focal int
	alone float64 // what is left of the product
}

// A Found is the best set-up with its score, and whether there is one at all that nothing
// excludes.
type Found struct {
	Setup
	Score float64
	OK    bool
}

// excludedFactor takes the place of 0 where the least bad of excluded set-ups is looked for.
const excludedFactor = 1e-4

// Best finds the best set-up of a lens. r holds the facts of the shot and of the lens at its
// shortest focal length. Found.OK is false when every set-up is excluded, or scores 0.
func (s *Search) Best(t *Task, r *facts.Record, o *Optics, l *Lights) Found {
	return s.best(t, r, o, l, 0)
}

// Any is [Search.Best] for whoever only asks whether there is a set-up that nothing excludes:
// it gives the first that it finds.
func (s *Search) Any(t *Task, r *facts.Record, o *Optics, l *Lights) Found {
	if t.Plain(o) || len(o.Stops) == 0 || len(l.isos) == 0 {
		return s.best(t, r, o, l, 0)
	}
	if s.begin(r, 0); s.outAtAll(t, o) {
		return Found{}
	}
	for i := range max(1, len(o.Focals)) {
		alone := s.alone(t, o, l, i)
		if alone == 0 {
			continue
		}
		for n := range o.Stops {
			if n == len(s.exposed) {
				s.expose(t, o, l, n)
			}
			best := Found{}
			if product := s.search(t, o, l, s.exposed[n:n+1], alone, 0, &best); product > 0 {
				best.Score, best.OK = s.known.Score(product), true
				return best
			}
		}
	}
	return Found{}
}

// LeastBad is [Search.Best] for a lens that is excluded, to say why: of all set-ups it takes
// the one that the fewest vetoes and limits exclude, and of those the best.
func (s *Search) LeastBad(t *Task, r *facts.Record, o *Optics, l *Lights) Found {
	return s.best(t, r, o, l, excludedFactor)
}

func (s *Search) best(t *Task, r *facts.Record, o *Optics, l *Lights, lenient float64) Found {
	s.begin(r, lenient)
	best := Found{}
	if len(o.Stops) == 0 || len(l.isos) == 0 {
		return best
	}
	if t.Plain(o) {
		return s.plainly(t, o, l)
	}
	if s.outAtAll(t, o) {
		return best
	}
	for i := range max(1, len(o.Focals)) {
		if alone := s.alone(t, o, l, i); alone > 0 {
			s.order = append(s.order, setting{i, alone})
		}
	}
	if len(s.order) > 0 {
		for n := range o.Stops {
			if s.expose(t, o, l, n) {
				break
			}
		}
		slices.SortStableFunc(s.exposed, func(a, b exposed) int { return cmp.Compare(b.worth, a.worth) })
	}
	product := 0.0
	for len(s.order) > 0 {
		// The one that promises most comes first, so that the others need not be searched.
		next := 0
		for i := range s.order {
			if s.order[i].alone > s.order[next].alone {
				next = i
			}
		}
		if s.order[next].alone*s.exposed[0].worth <= product*slack {
			break
		}
		s.focus(o, s.order[next].focal)
		facts.Refill(&s.record, t.fixed)
		product = s.search(t, o, l, s.exposed, s.order[next].alone, product, &best)
		s.order = slices.Delete(s.order, next, next+1)
	}
	switch {
	case product > 0:
		best.Score = s.known.Score(product)
		best.OK = lenient == 0
	case lenient > 0: // so many exclude that the product is too small to tell set-ups apart
		s.focus(o, 0)
		best.Setup = l.setup(l.choices[l.best], s.record.Value[facts.FocalLength], o.Stops[0], mark{from: s.record.Value[facts.SubjectNear]})
	}
	return best
}

// slack is by how much a product must exceed another to count as more.
const slack = 1 + 1e-12

// focus sets a zoom to one of its focal lengths.
func (s *Search) focus(o *Optics, i int) {
	if o.Focals != nil {
		s.record.SetFocal(&o.Focals[i])
	}
}

// begin takes the facts of a shot and a lens.
func (s *Search) begin(r *facts.Record, lenient float64) {
	s.record, s.lenient, s.looked = *r, lenient, false
	s.order, s.exposed = s.order[:0], s.exposed[:0]
}

// outAtAll reports whether the lens is excluded whatever the set-up is.
func (s *Search) outAtAll(t *Task, o *Optics) bool {
	if s.lenient > 0 {
		return false
	}
	s.focus(o, 0)
	facts.Refill(&s.record, t.lens)
	return t.parts.Excluding(byLens, &s.record, facts.Set{}) >= 0
}

// OutBesides reports whether at every focal length a rule excludes the lens that reads nothing of
// stop, mark, ISO and filters, and none of some facts: whatever these are, the lens is out.
func (s *Search) OutBesides(t *Task, r *facts.Record, o *Optics, besides facts.Set) bool {
	if t.Plain(o) {
		return false
	}
	s.begin(r, 0)
	for i := range max(1, len(o.Focals)) {
		s.focus(o, i)
		facts.Refill(&s.record, t.fixed)
		if t.parts.Excluding(byLens, &s.record, besides) < 0 && t.parts.Excluding(byFocal, &s.record, besides) < 0 {
			return false
		}
	}
	return true
}

// alone sets a zoom to one of its focal lengths and gives what that alone leaves of the
// product; 0 when it excludes the lens.
func (s *Search) alone(t *Task, o *Optics, l *Lights, focal int) float64 {
	s.focus(o, focal)
	if s.excluded(t) {
		return 0
	}
	if !s.looked {
		s.look(t, o, l)
		s.lens = t.parts.Factor(byLens, &s.record, &s.known, s.lenient, 0)
		facts.Refill(&s.record, t.fixed)
	}
	factor := t.parts.Factor(byFocal, &s.record, &s.known, s.lenient, 0)
	if off := s.record.Value[facts.FramingError]; factor <= s.lenient && off > 0 {
		factor /= 1 + min(off, 1/s.lenient) // what is out by its framing is the less bad the nearer it frames
	}
	return s.lens * factor
}

// excluded reports whether the focal length of the record excludes the lens, and fills in what
// that decides unless it does. It looks first at what excluded last: neighbouring focal lengths
// are out for the same reason.
func (s *Search) excluded(t *Task) bool {
	if s.last == t && s.out >= 0 && s.lenient == 0 {
		facts.Refill(&s.record, t.planOf(s.out))
		if t.parts.Excludes(byFocal, s.out, &s.record) {
			return true
		}
	}
	facts.Refill(&s.record, t.fixed)
	s.last, s.out = t, -1
	if s.lenient == 0 {
		s.out = t.parts.Excluding(byFocal, &s.record, facts.Set{})
	}
	return s.out >= 0
}

// look finds out what is known of the lens.
func (s *Search) look(t *Task, o *Optics, l *Lights) {
	l.work(&s.sorter)
	first := l.choices[l.best]
	s.record.Value[facts.Stop] = o.Stops[0]
	s.marks = marksOf(s.marks[:0], &s.record.Value) // of which none is known where the stop is not
	Dial(&s.record, l.setup(first, math.NaN(), o.Stops[0], mark{from: s.marks[0].from}), l.filters[first.filter])
	facts.Refill(&s.record, t.all)
	t.parts.Look(&s.record, &s.known)
	s.looked = true
}

// expose adds the best of light at a stop, which knows neither focal length nor mark. It reports
// whether no smaller stop can be used either, for want of light.
func (s *Search) expose(t *Task, o *Optics, l *Lights, stop int) (dark bool) {
	v := &s.record.Value
	needed := math.Log2(exposure.ISO(v[facts.Light], facts.TStopAt(v, o.Stops[stop]), v[facts.ShutterTime]))
	worth, choice := s.choose(t, l, needed)
	s.exposed = append(s.exposed, exposed{stop, worth, choice})
	return worth == 0 && t.falls && needed > l.choices[len(l.choices)-1].taken
}

// choose gives the best choice of ISO and filters where the stop asks for an ISO, as its
// binary logarithm.
func (s *Search) choose(t *Task, l *Lights, needed float64) (worth float64, choice int) {
	if math.IsNaN(needed) {
		return s.gap(t, needed) * l.choices[l.best].worth, l.best
	}
	above := l.from(needed)
	below := above - 1
	if s.lenient > 0 {
		if worth, choice, out := s.nearest(t, l, needed, below, above); out {
			return worth, choice
		}
	}
	worth = -1
	over, under := 1.0, 1.0 // what the gap leaves on either side at the most
	for {
		if t.falls && above < len(l.choices) && over*max(l.above[above], s.lenient) <= worth {
			above = len(l.choices)
		}
		if t.falls && below >= 0 && under*max(l.below[below], s.lenient) <= worth {
			below = -1
		}
		if below < 0 && above == len(l.choices) {
			return worth, choice
		}
		at := above
		if above == len(l.choices) || below >= 0 && needed-l.choices[below].taken < l.choices[above].taken-needed {
			at = below
		}
		factor := s.gap(t, l.choices[at].taken-needed)
		if got := factor * max(l.choices[at].worth, s.lenient); got > worth*slack || worth < 0 {
			worth, choice = got, at
		}
		if at == above {
			above, over = above+1, factor
		} else {
			below, under = below-1, factor
		}
	}
}

// nearest gives the choice of ISO and filters that leaves least too much or too little, and
// whether even that excludes the lens: then nothing is worth more than to come near. Each stop
// halves what it is worth.
func (s *Search) nearest(t *Task, l *Lights, needed float64, below, above int) (worth float64, choice int, out bool) {
	choice = above
	if above == len(l.choices) || below >= 0 && needed-l.choices[below].taken < l.choices[above].taken-needed {
		choice = below
	}
	gap := l.choices[choice].taken - needed
	factor := s.gap(t, gap)
	return factor * l.choices[choice].worth * math.Exp2(-math.Abs(gap)), choice, factor <= s.lenient
}

// gap gives what so many stops too much, or too little when negative, leave of the product.
func (s *Search) gap(t *Task, stops float64) float64 {
	if math.Abs(stops) <= t.exact {
		return 1
	}
	s.record.Set(facts.ExposureGap, stops)
	facts.Refill(&s.record, t.gap)
	return t.parts.Factor(byGap, &s.record, &s.known, s.lenient, 0)
}

// search looks at some stops for a better product than one at the focal length of the record,
// which alone leaves so much of it, and gives the best.
func (s *Search) search(t *Task, o *Optics, l *Lights, at []exposed, alone, product float64, best *Found) float64 {
	for _, e := range at {
		if alone*e.worth <= product*slack {
			return product
		}
		s.record.Value[facts.Stop] = o.Stops[e.stop]
		s.marks = marksOf(s.marks[:0], &s.record.Value)
		share := alone * e.worth
		take := func(m mark, worth float64) {
			if got := share * worth; got > product*slack {
				product = got
				best.Setup = l.setup(l.choices[e.choice], s.record.Value[facts.FocalLength], o.Stops[e.stop], m)
			}
		}
		least := product * hopeless / share
		worth, fixed := s.worthOf(t, s.marks, least)
		for i, m := range s.marks {
			take(m, worth[i])
		}
		if slices.Max(worth[:len(fixed)]) <= least {
			continue
		}
		if m, most, ok := s.better(t, fixed, worth, product/share); ok {
			take(m, most)
		}
	}
	return product
}

// plainly tries every set-up there is. One of which less is known than of the first is none:
// it would win by that.
func (s *Search) plainly(t *Task, o *Optics, l *Lights) Found {
	l.work(&s.sorter)
	best := Found{Score: -1}
	var unknown facts.Set
	for i := range max(1, len(o.Focals)) {
		s.focus(o, i)
		facts.Refill(&s.record, t.fixed)
		s.look(t, o, l)
		for _, stop := range o.Stops {
			s.record.Value[facts.Stop] = stop
			marks := marksOf(nil, &s.record.Value)
			worth, fixed := s.worthOf(t, marks, 0)
			if m, _, ok := s.better(t, fixed, worth, 0); ok {
				marks = append(marks, m)
			}
			for _, m := range marks {
				for _, c := range l.all {
					setup := l.setup(c, s.record.Value[facts.FocalLength], stop, m)
					Dial(&s.record, setup, l.filters[c.filter])
					facts.Refill(&s.record, t.all)
					if best.Score < 0 {
						unknown = s.record.Unknown
					}
					if !s.record.Unknown.Without(unknown).Empty() {
						continue
					}
					judged := t.set.Judge(&s.record)
					score, out := judged.Score, judged.Excluded || judged.Score == 0
					if judged.Excluded {
						score *= s.lenient
					}
					if !out || s.lenient > 0 {
						if score > best.Score*slack || best.Score < 0 {
							best = Found{setup, judged.Score, !out}
						}
					}
				}
			}
		}
	}
	return best
}

// Dial sets a set-up in a record but for the focal length, which [facts.FillFocal] sets. The
// facts of [facts.OfPair] are then to be filled in.
func Dial(r *facts.Record, s Setup, f Filter) {
	r.Set(facts.Stop, s.Stop)
	r.Set(facts.FocusMark, s.Mark)
	r.SetTruth(facts.Following, s.Follows)
	dialLight(r, s.ISO, f)
}

func dialLight(r *facts.Record, iso ISO, f Filter) {
	r.Set(facts.ISO, iso.Speed)
	r.Set(facts.StandsOn, iso.Base)
	r.Set(facts.ND, f.Stops)
	r.Set(facts.Filters, f.Pieces)
	r.Set(facts.FilterCross, f.Cross)
}
