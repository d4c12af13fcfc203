package engine

import (
	"math"
	"slices"
	"sync"

	"glassbrief/catalog"
	"glassbrief/engine/exposure"
	"glassbrief/engine/setup"
)

// A Filtering is one way to take light away from a lens on a camera: filters on its thread, a
// filter in the camera, or both.
type Filtering struct {
	Put     []catalog.Screwing // on the lens, the lens's side first
	BuiltIn float64            // stops of the camera's own filter
	Stops   float64            // that all of it takes
	Turned  bool               // one of Put is turned to its share
	cross   float64            // stops into the last stop of a turning filter's range
}

// All lists the filters with the rings they go on, the lens's side first.
func (f *Filtering) All() []*catalog.Filter {
	var all []*catalog.Filter
	for _, way := range f.Put {
		if way.Ring != nil {
			all = append(all, way.Ring)
		}
		all = append(all, way.Filter)
	}
	return all
}

// aQuarter is what a step-up ring, or turning the wheel of a camera, counts of a filter that
// is carried and screwed on (an assumption of this project).
const aQuarter = 0.25

func (f *Filtering) pieces() float64 {
	pieces := 0.0
	for _, way := range f.Put {
		pieces++
		if way.Ring != nil {
			pieces += aQuarter
		}
	}
	if f.BuiltIn > 0 {
		pieces += aQuarter
	}
	return pieces
}

// A filterSet is all that can be put before the sensor with one thread, nothing included.
type filterSet struct {
	list []Filtering
	wide *setup.Filters // by the list, for a picture in which a turning filter may show a cross
	long *setup.Filters // the same without the cross

	turns bool // one of them is turned
}

// filterSets holds one set for each thread. Several goroutines may use it.
type filterSets struct {
	catalogue *catalog.Catalogue
	builtIn   []float64
	none      *filterSet

	mu       sync.Mutex
	byThread map[threadKey]func() *filterSet
	made     []*setup.Filters
}

type threadKey struct {
	diameter float64
	rough    bool
}

func newFilterSets(c *catalog.Catalogue, camera *catalog.Camera) *filterSets {
	sets := &filterSets{catalogue: c, builtIn: camera.BuiltInNDs(), byThread: map[threadKey]func() *filterSet{}}
	sets.none = sets.make(nil)
	return sets
}

// of gives the set of a lens.
func (s *filterSets) of(lens *catalog.Lens) *filterSet {
	thread := lens.Thread.Diameter
	if !thread.Known() {
		return s.none
	}
	key := threadKey{thread.Value, thread.Rough}
	s.mu.Lock()
	set := s.byThread[key]
	if set == nil {
		set = sync.OnceValue(func() *filterSet { return s.forThread(key) })
		s.byThread[key] = set
	}
	s.mu.Unlock()
	return set()
}

func (s *filterSets) forThread(key threadKey) *filterSet {
	ways := s.catalogue.FiltersFor(key.diameter, catalog.FilterND)
	if len(ways) == 0 && key.rough { // once the thread is known, a ring brings it to the next filters
		ways = s.catalogue.FiltersFor(s.catalogue.NextThread(key.diameter, catalog.FilterND), catalog.FilterND)
	}
	if len(ways) == 0 {
		return s.none
	}
	return s.make(ways)
}

// firstOfThreads gives the first lens of each thread.
func firstOfThreads(lenses []*catalog.Lens) (firsts []*catalog.Lens) {
	seen := map[threadKey]bool{}
	for _, lens := range lenses {
		thread := lens.Thread.Diameter
		if key := (threadKey{thread.Value, thread.Rough}); thread.Known() && !seen[key] {
			seen[key], firsts = true, append(firsts, lens)
		}
	}
	return firsts
}

// make lists what one thread and the camera's own filters can do: up to two filters on the
// lens, each on a ring where it needs one, of which one at most is turned, and one in the camera.
func (s *filterSets) make(ways []catalog.Screwing) *filterSet {
	single := singly(ways)
	list := append([]Filtering{{}}, single...)
	inOrder := map[*catalog.Filter]int{}
	for i, f := range s.catalogue.Filters.All() {
		inOrder[f] = i
	}
	before := map[float64][]Filtering{} // by the thread that they go on
	for _, first := range single {
		under := first.Put[0].Filter
		front := under.FrontThread()
		if before[front] == nil {
			before[front] = singly(s.catalogue.FiltersFor(front, catalog.FilterND))
		}
		for _, second := range before[front] {
			over := second.Put[0]
			switch {
			case over.Filter == under, first.Turned && second.Turned:
			case over.Ring == nil && inOrder[over.Filter] < inOrder[under]: // as the other way round
			default:
				list = append(list, Filtering{
					Put: []catalog.Screwing{first.Put[0], over}, Stops: first.Stops + second.Stops,
					Turned: first.Turned || second.Turned, cross: max(first.cross, second.cross),
				})
			}
		}
	}
	alone := slices.Clone(list)
	for _, stops := range s.builtIn {
		for _, f := range alone {
			f.BuiltIn, f.Stops = stops, f.Stops+stops
			list = append(list, f)
		}
	}
	set := &filterSet{list: list}
	wide, long := make([]setup.Filter, len(list)), make([]setup.Filter, len(list))
	for i := range list {
		long[i] = setup.Filter{Stops: list[i].Stops, Pieces: list[i].pieces()}
		wide[i] = long[i]
		wide[i].Cross = list[i].cross
		set.turns = set.turns || list[i].Turned
	}
	set.long = s.ways(long)
	if set.wide = set.long; set.turns {
		set.wide = s.ways(wide)
	}
	return set
}

// ways gives the same filters for the same list: threads on which filters take the same light in as
// many pieces share the choices of light.
func (s *filterSets) ways(list []setup.Filter) *setup.Filters {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range s.made {
		if slices.Equal(f.All(), list) {
			return f
		}
	}
	f := setup.NewFilters(list)
	s.made = append(s.made, f)
	return f
}

// singly lists what each way to put one filter on takes, a turning one in thirds.
func singly(ways []catalog.Screwing) (all []Filtering) {
	for _, way := range ways {
		low, high := way.Filter.Strength.Low, way.Filter.Strength.High
		if !low.Known() || !high.Known() {
			continue
		}
		for _, strength := range thirdsWithin(low.Value, high.Value) {
			f := Filtering{Put: []catalog.Screwing{way}, Stops: strength, Turned: low.Value < high.Value}
			if f.Turned {
				f.cross = max(0, strength-(high.Value-1))
			}
			all = append(all, f)
		}
	}
	return all
}

// thirdsWithin lists the strengths that a turning filter is set to.
func thirdsWithin(low, high float64) []float64 {
	var all []float64
	for stops := low; stops < high-1e-9; stops += 1.0 / 3 {
		all = append(all, stops)
	}
	return append(all, high)
}

// crossWidth is the focal length on full frame below which a turning filter near its end
// shows a cross (common practice), and fullFrame the diagonal that it is meant on.
const (
	crossWidth = 28e-3
	fullFrame  = 43.27e-3
)

// isWide reports whether a turning filter may show a cross at a focal length.
func (g *glass) isWide(focal, diagonal float64) bool { return focal*fullFrame/diagonal < crossWidth }

// leastSmallestStop stands in for a smallest stop that the catalogue does not give: lenses
// stop down that far at least (common practice).
const leastSmallestStop = 16

// stops lists what the lens can be set to, as it acts on the camera. Without a widest stop
// there is one that is not known.
func (g *glass) stops() []float64 {
	widest, smallest := g.lens.WidestStop(), g.lens.SmallestStop()
	if !widest.Known() {
		return []float64{math.NaN()}
	}
	all := exposure.StopsWithin(widest.Value, smallest.Or(max(leastSmallestStop, widest.Value)))
	for i := range all {
		all[i] *= g.fitting.Factor // the marks are those of the ring
	}
	return all
}
