package engine

import (
	"encoding/binary"
	"slices"
	"sync"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/kit"
	"glassbrief/engine/rig"
)

// rigs holds the set-ups on the rig that were asked for, by what they are made of: many shots share
// one. Tables that differ in their shots and in which lenses they hold share it.
type rigs struct {
	mu   sync.Mutex
	made map[rigKey]*rig.Setup
}

type rigKey struct {
	glass  *glass
	filter int
	low    bool
	legs   bool
}

// Setup gives the set-up on the rig of a lens that may be brought for a shot, by their places.
// Shots that want the same share one.
func (t *Table) Setup(shot, lens int) *rig.Setup {
	g, of := t.glass[lens], t.Scenario.Shots[shot]
	key := rigKey{g, t.outcomes[shot][lens].Filter, of.Move.Low, of.Support == facts.Legs}
	t.rigs.mu.Lock()
	defer t.rigs.mu.Unlock()
	u := t.rigs.made[key]
	if u == nil {
		u = rig.New(t.Scenario, t.Camera, of, g.lens, g.fitting, t.at(lens).in(of).filters.list[key.filter].All())
		if t.rigs.made == nil {
			t.rigs.made = map[rigKey]*rig.Setup{}
		}
		t.rigs.made[key] = u
	}
	return u
}

// Trim gives how the set-ups of some lenses are trimmed together: all that these may have in the
// whole file, used or not.
func (t *Table) Trim(lenses []string) rig.Trim {
	c := t.changes()
	places := make([]int, len(lenses))
	for k, name := range lenses {
		places[k] = t.Place(name)
	}
	c.Kit(places)
	c.trimKit()
	return c.trim
}

// changes says for the choice of a kit what it takes to come from one set-up to another, in
// [rig.Minutes]: a [kit.Changes], for one goroutine.
type changes struct {
	table *Table
	shots []*brief.Shot
	rig   *catalog.Rig
	ofs   []*setupsOf // by lens; nil for one that was not asked for

	lenses []int // of the kit that is asked about
	made   bool  // trimmed is of that kit
	trimmed
	kept map[string]*trimmed // of kits asked about before, by their lenses; nil where each is asked about once
	key  []byte
}

// trimmed are all set-ups that the lenses of a kit may have, where those of each begin, and what it
// takes between two, -1 where that was not asked for.
type trimmed struct {
	all    []*rig.Setup
	begins []int
	takes  []rig.Minutes
	trim   rig.Trim
}

// setupsOf are the different set-ups that a lens may have, and by shot which of them it has, -1 for
// none.
type setupsOf struct {
	different []*rig.Setup
	in        []int
}

func (t *Table) changes() *changes {
	return &changes{table: t, shots: t.Scenario.Shots, rig: t.Scenario.Rig, ofs: make([]*setupsOf, len(t.glass))}
}

func (c *changes) of(lens int) *setupsOf {
	if c.ofs[lens] != nil {
		return c.ofs[lens]
	}
	t := c.table
	s := &setupsOf{in: make([]int, len(t.outcomes))}
	for shot := range t.outcomes {
		if s.in[shot] = -1; !t.outcomes[shot][lens].Acceptable() {
			continue
		}
		u := t.Setup(shot, lens)
		if s.in[shot] = slices.Index(s.different, u); s.in[shot] < 0 {
			s.in[shot] = len(s.different)
			s.different = append(s.different, u)
		}
	}
	c.ofs[lens] = s
	return s
}

// Least is [rig.Least] of the set-ups in two shots.
func (c *changes) Least(from, to int, other bool) int {
	return int(rig.Least(c.shots[from], c.shots[to], other))
}

// Kit says which kit is asked about. Its set-ups are made when a change of it is asked for: of most
// kits none is, where there is one shot. What is made of a kit stays when it is named again.
func (c *changes) Kit(lenses []int) {
	if slices.Equal(c.lenses, lenses) {
		return
	}
	c.lenses, c.made = append(c.lenses[:0], lenses...), false
	if c.kept == nil {
		return
	}
	c.key = c.key[:0]
	for _, lens := range lenses {
		c.key = binary.AppendUvarint(c.key, uint64(lens))
	}
	if kept := c.kept[string(c.key)]; kept != nil {
		c.trimmed, c.made = *kept, true
	}
}

// trimKit trims all set-ups that the kit may have together.
func (c *changes) trimKit() {
	if c.kept != nil {
		c.trimmed = trimmed{}
	}
	c.all, c.begins, c.takes = c.all[:0], c.begins[:0], c.takes[:0]
	for _, lens := range c.lenses {
		c.begins = append(c.begins, len(c.all))
		c.all = append(c.all, c.of(lens).different...)
	}
	for range len(c.all) * len(c.all) {
		c.takes = append(c.takes, -1)
	}
	c.trim, c.made = rig.Together(c.rig, c.all), true
	if c.kept != nil {
		kept := c.trimmed
		c.kept[string(c.key)] = &kept
	}
}

// Between gives the minutes between the set-ups of two lenses of the kit in two shots, in halves.
func (c *changes) Between(from, lens, to, other int) int {
	if !c.made {
		c.trimKit()
	}
	i, j := c.place(lens, from), c.place(other, to)
	takes := &c.takes[i*len(c.all)+j]
	if *takes < 0 {
		*takes = c.trim.Minutes(c.all[i], c.all[j])
	}
	return int(*takes)
}

// place gives the place among all set-ups of that of a lens of the kit in a shot.
func (c *changes) place(lens, shot int) int { return c.begins[lens] + c.ofs[c.lenses[lens]].in[shot] }

// alike reports whether two lenses hang on the rig alike in all shots, by their places.
func (t *Table) alike(lens, other int) bool {
	a, b := t.glass[lens], t.glass[other]
	if a.fitting.Adapter != b.fitting.Adapter || t.filters.of(a.lens) != t.filters.of(b.lens) || !rig.Alike(a.lens, b.lens) {
		return false
	}
	for shot := range t.outcomes {
		if t.outcomes[shot][lens].Filter != t.outcomes[shot][other].Filter {
			return false
		}
	}
	return true
}

// A Day is what kits of a table's lenses are worth, without the table: for one goroutine.
type Day struct {
	problem *kit.Problem
	lenses  []string
}

// Day gives what kits of the lenses are worth.
func (t *Table) Day() *Day {
	d := &Day{problem: t.problem(&brief.Limits{Rent: -1})}
	c := d.problem.Changes.(*changes)
	for j, g := range t.glass {
		d.lenses = append(d.lenses, g.lens.Name.Value)
		c.of(j)
	}
	c.table = nil
	return d
}

// Value is that of [Table.Kit].
func (d *Day) Value(lenses []string) float64 {
	places := make([]int, len(lenses))
	for k, name := range lenses {
		places[k] = slices.Index(d.lenses, name)
	}
	set := kit.Of(d.problem, places)
	return set.Value
}

// RestsOn reports whether an assumed figure bears on a lens in a shot, by their places.
func (t *Table) RestsOn(shot, lens int) bool { return len(t.assumedOf(shot, lens)) > 0 }

// A Series chooses kits from a table by one taste after another, each with scores of its own, as
// [Table.Choose] does within the limits of the scenario. It is for one goroutine.
type Series struct{ *kit.Series }

// Series begins a series, of which set-ups and changes are those of the table. It fails as
// [Table.Choose] does.
func (t *Table) Series() (*Series, error) {
	p := t.problem(&t.Scenario.Limits)
	p.Changes.(*changes).kept = map[string]*trimmed{}
	series, err := kit.Search{NodeLimit: nodeLimit}.Series(p)
	if err != nil {
		return nil, t.contradiction(&t.Scenario.Limits, err)
	}
	return &Series{series}, nil
}
