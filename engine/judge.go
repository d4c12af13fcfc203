package engine

import (
	"context"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/engine/parallel"
	"glassbrief/engine/setup"
)

// An Outcome is the judgement of one lens in one shot, with the set-up that scores best. It
// is what ranking and kit choice need; reasons are worked out for those that are shown.
type Outcome struct {
	setup.Setup         // of an excluded lens, only where it is shown
	At          float64 // where the camera stands in a free place, in metres; 0 elsewhere
	Score       float64 // 0..1, of what is known; 0 for an excluded lens
	Standing    Standing
}

// Worth orders outcomes: any lens of a better standing before any of a worse.
func (o Outcome) Worth() float64 { return o.Score - float64(o.Standing) }

// or gives the outcome that is worth more, the first of two alike.
func (o Outcome) or(other Outcome) Outcome {
	if other.Worth() > o.Worth() {
		return other
	}
	return o
}

// Acceptable reports whether the lens may be brought for the shot.
func (o Outcome) Acceptable() bool { return o.Standing == Judged && o.Score > 0 }

// A Standing says whether a lens may be proposed for a shot.
type Standing uint8

const (
	// Judged lenses are ranked by their score and may come into the kit.
	Judged Standing = iota
	// Undecided lenses are not excluded, but so little is known of them that their score
	// says little: they stay out of the kit until it is known.
	Undecided
	// Excluded lenses cannot do the shot.
	Excluded
)

// String names the standing.
func (s Standing) String() string {
	return [...]string{"judged", "undecided", "excluded"}[s]
}

// EnoughKnown is the share of the weight of the criteria that must be known for a lens to
// be proposed, of what the brief lets be known of any: below it a lens would win by what
// nobody knows of it. What a figure may be is a range, so that only a vital one and what own
// rules read of a lens can keep it out.
const EnoughKnown = 0.9

// staged is a shot on a camera, ready for lenses to be judged in it.
type staged struct {
	scenario *brief.Scenario
	camera   *catalog.Camera
	shot     *brief.Shot
	record   facts.Record   // the facts of the shot; in a free place, at its middle
	stands   []stand        // where the camera may stand in a room; nil where the distances are given
	isos     []setup.ISO    // that can be set, the lowest first
	knowable func() float64 // share of the weight of the criteria that can be known of a lens
	others   *staged        // for lenses that the shot does not ask for; nil where it asks for none

	mu     sync.Mutex
	lights map[*setup.Filters]*setup.Lights
}

// A stand is a place in a room with the facts of the shot from there.
type stand struct {
	at     float64 // from the sensor plane to the subject, in metres
	record facts.Record
}

func stage(s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot) *staged {
	st := &staged{scenario: s, camera: camera, shot: shot, lights: map[*setup.Filters]*setup.Lights{}}
	in := s.ShotInput(shot, camera)
	facts.FillShot(&st.record, &in)
	st.isos = isosOf(s, camera)
	if shot.Room != nil {
		for _, at := range shot.Room.Places() {
			st.stands = append(st.stands, stand{at: at})
			st.recordAt(&st.stands[len(st.stands)-1].record, at)
		}
	}
	st.knowable = sync.OnceValue(st.knownOfAny)
	if others := shot.ForOthers(); others != nil {
		st.others = stage(s, camera, others)
	}
	return st
}

// of gives the shot as a lens is judged in it.
func (st *staged) of(g *glass) *staged {
	if st.others != nil && g.lens.Name.Value != st.shot.Lens {
		return st.others
	}
	return st
}

// isosOf lists the ISO speeds that can be set: thirds and bases within the range of the
// camera, and one that is not known where no range is.
func isosOf(s *brief.Scenario, camera *catalog.Camera) []setup.ISO {
	base, top := camera.LowestBase(), s.TopISO(camera)
	if !base.Known() || math.IsNaN(top) {
		return []setup.ISO{{Speed: math.NaN(), Base: base.OrNaN()}}
	}
	all := exposure.ISOsWithin(min(base.Value, camera.ISORange.Low.Or(base.Value)), top)
	bases := camera.BaseISOs()
	for _, iso := range bases {
		if iso <= top {
			all = append(all, iso)
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	isos := make([]setup.ISO, len(all))
	for i, iso := range all {
		for len(bases) > 1 && bases[1] <= iso {
			bases = bases[1:]
		}
		isos[i] = setup.ISO{Speed: iso, Base: bases[0]}
	}
	return isos
}

// recordAt writes the facts of the shot, in a free place with the camera at a distance.
func (st *staged) recordAt(r *facts.Record, at float64) {
	if st.shot.Room == nil {
		*r = st.record
		return
	}
	shot := *st.shot
	shot.Stand(at)
	in := st.scenario.ShotInput(&shot, st.camera)
	facts.FillShot(r, &in)
}

// lightsOf gives the choices of ISO and filters with one list of filters.
func (st *staged) lightsOf(filters *setup.Filters) *setup.Lights {
	st.mu.Lock()
	defer st.mu.Unlock()
	l := st.lights[filters]
	if l == nil {
		l = filters.Lights(st.shot.Task, &st.record, st.isos)
		st.lights[filters] = l
	}
	return l
}

// A judge judges one lens after another, for one goroutine.
type judge struct {
	search setup.Search
	record facts.Record
}

// judge gives the outcome of a lens in a shot.
func (j *judge) judge(g *glass, st *staged) Outcome { return j.overPlaces(g, st, bestOf) }

// leastBad gives the set-up of an excluded lens that says best why it is, and how near that
// comes to doing the shot: its score, with next to nothing for all that excludes it.
func (j *judge) leastBad(g *glass, st *staged) (o Outcome, near float64) {
	o = j.overPlaces(g, st, leastBadOf)
	if near = o.Score; st.of(g) != st {
		near-- // behind the lens that the shot asks for
	}
	o.Score, o.Standing = 0, Excluded
	return o, near
}

// standing says whether a lens may be proposed for a shot, as judge does, for less.
func (j *judge) standing(g *glass, st *staged) Standing { return j.overPlaces(g, st, anyOf).Standing }

// An aim is which of the set-ups that there are to find.
type aim uint8

const (
	bestOf     aim = iota
	leastBadOf     // for a lens that is excluded
	anyOf          // that nothing excludes
)

// overPlaces judges where the camera stands, or where it may stand best.
func (j *judge) overPlaces(g *glass, st *staged, of aim) Outcome {
	g, st = g.in(st.shot), st.of(g)
	if st.shot.Room == nil {
		return j.at(g, st, &st.record, of)
	}
	best := Outcome{Standing: Excluded, Score: -1}
	for i := range st.stands {
		o := j.at(g, st, &st.stands[i].record, of)
		o.At = st.stands[i].at
		best = best.or(o)
		if of == anyOf && best.Standing == Judged {
			break
		}
	}
	best.Score = max(0, best.Score)
	return best
}

// at judges at one place, of which r holds the facts.
func (j *judge) at(g *glass, st *staged, r *facts.Record, of aim) Outcome {
	facts.TakeLens(&j.record, r, &g.record)
	find := j.search.Best
	switch of {
	case leastBadOf:
		find = j.search.LeastBad
	case anyOf:
		find = j.search.Any
	}
	best := Outcome{Standing: Excluded, Score: -1} // any set-up says more than none
	for i := range g.ways {
		w := &g.ways[i]
		found := find(st.shot.Task, &j.record, &w.optics, st.lightsOf(w.filters))
		if !found.OK && of != leastBadOf {
			continue
		}
		o := j.outcome(g, st, found, w.filters)
		if of == leastBadOf && found.Score > 0 {
			o.Score = found.Score
		}
		best = best.or(o)
	}
	best.Score = max(0, best.Score)
	return best
}

// outcome judges a set-up in full.
func (j *judge) outcome(g *glass, st *staged, found setup.Found, filters *setup.Filters) Outcome {
	if g.zoom != nil {
		facts.FillFocal(&j.record, &g.input, found.Focal)
	}
	setup.Dial(&j.record, found.Setup, filters.At(found.Filter))
	facts.Refill(&j.record, st.shot.Plan)
	judged := st.shot.Rules.Judge(&j.record)
	o := Outcome{Setup: found.Setup, Score: judged.Score}
	switch {
	case judged.Excluded:
		o.Standing = Excluded
	case g.lacks != nil || judged.Known < EnoughKnown && judged.Known < EnoughKnown*st.knowable():
		o.Standing = Undecided
	}
	if math.IsNaN(o.Score) {
		o.Score = 0
	}
	return o
}

// fillAt adds all facts of a lens in a set-up to those of a shot.
func fillAt(r *facts.Record, g *glass, o Outcome) {
	facts.TakeLens(r, r, &g.record)
	facts.FillFocal(r, &g.input, o.Focal)
	setup.Dial(r, o.Setup, g.filters.wide.At(o.Filter))
	if !g.isWide(o.Focal, r.Value[facts.FrameDiagonal]) {
		setup.Dial(r, o.Setup, g.filters.long.At(o.Filter))
	}
	facts.Refill(r, facts.Every())
}

// judgeShot gives the outcomes of all lenses in one shot.
func (t *Table) judgeShot(st *staged, glass []*glass) []Outcome {
	row := make([]Outcome, len(glass))
	t.judgeInto([][]Outcome{row}, 0, []*staged{st}, glass)
	return row
}

// judgeInto judges lenses in shots, and writes the outcomes from a place of the rows of the shots on.
func (t *Table) judgeInto(rows [][]Outcome, from int, shots []*staged, lenses []*glass) {
	j := judges.Get().(*judge)
	spare := spareGlass.Get().(*glass)
	for k, g := range lenses {
		if g.fitted == nil {
			spare.fit(t.Scenario, g.lens, t.Camera, t.filters)
			g = spare
		}
		for i, st := range shots {
			rows[i][from+k] = j.judge(g, st)
		}
	}
	spareGlass.Put(spare)
	judges.Put(j)
}

// judges keeps the memory of judges that are done, for it is large.
var judges = sync.Pool{New: func() any { return new(judge) }}

// lensesAtOnce is how many lenses at the most are judged in all shots before the next ones: so many
// stay in a processor's cache. Where there are few, work is shared out in about so many pieces, so
// that no worker is left alone with a long one.
const (
	lensesAtOnce = 128
	pieces       = 32
)

// judgeAll gives the outcomes of all shots and lenses, shots first.
func (t *Table) judgeAll(ctx context.Context, glass []*glass, o Options) ([][]Outcome, error) {
	shots := t.staged
	all := make([][]Outcome, len(shots))
	for i := range all {
		all[i] = make([]Outcome, len(glass))
	}
	size := max(1, min(lensesAtOnce, len(shots)*len(glass)/pieces))
	parts := slices.Collect(slices.Chunk(glass, size))
	together := 1 // shots that are judged at once: all, when each lens is fitted for it
	if len(glass) > 0 && glass[0].fitted == nil {
		together = len(shots)
	}
	rounds := len(shots) / together
	lights := t.lightsOf(glass)
	var done atomic.Int64
	err := parallel.For(ctx, len(lights)+len(parts)*rounds, o.Workers, func(n int) {
		if n < len(lights) {
			j := judges.Get().(*judge)
			j.search.List(lights[n])
			judges.Put(j)
			return
		}
		n -= len(lights)
		i, part := n%rounds, n/rounds
		t.judgeInto(all[i:i+together], part*size, shots[i:i+together], parts[part])
		if n := int(done.Add(int64(len(parts[part]) * together))); o.Progress != nil {
			o.Progress(n, len(shots)*len(glass))
		}
	})
	return all, err
}

// lightsOf gives the choices of light of some lenses in some shots. They are listed before the lenses
// are judged, because workers would wait for each other where they come upon the same.
func (t *Table) lightsOf(glass []*glass) (all []*setup.Lights) {
	var filters []*setup.Filters
	add := func(f *setup.Filters) {
		if !slices.Contains(filters, f) {
			filters = append(filters, f)
		}
	}
	for _, g := range glass {
		switch {
		case g.refusal != "":
		case g.fitted == nil:
			set := t.filters.of(g.lens)
			add(set.wide)
			add(set.long)
		default:
			for i := range g.ways {
				add(g.ways[i].filters)
			}
		}
	}
	seen := map[*setup.Lights]bool{}
	for _, st := range t.staged {
		for _, f := range filters {
			if l := st.lightsOf(f); !seen[l] {
				seen[l], all = true, append(all, l)
			}
		}
	}
	return all
}
