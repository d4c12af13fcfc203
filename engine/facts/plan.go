package facts

import (
	"fmt"
	"sync"
)

// A vocabulary is the rows with what follows from them.
type vocabulary struct {
	rows  []Fact
	rests []Set // by ID: all that the fact depends on, itself included
	order []ID  // each behind those that it reads

	scope [OfPair + 1]Set // the facts of each scope
	// Plans of the stages, and of all facts of a pair.
	shot, lens, focal, every *Plan
	lensFrom, lensTo         ID // where the facts of a lens stand
}

var table = sync.OnceValue(func() *vocabulary {
	all := make([]Fact, Count)
	for _, rows := range []func() map[ID]Fact{shotRows, lensRows, pairRows, focusRows, exposingRows} {
		for id, row := range rows() {
			all[id] = row
		}
	}
	return follow(all)
})

// follow works out what follows from rows. Rows that contradict each other are a fault of
// this package, and panic.
func follow(rows []Fact) *vocabulary {
	f := &vocabulary{rows: rows, rests: make([]Set, len(rows))}
	for id := range rows {
		f.visit(ID(id))
	}
	for id, row := range rows {
		switch before := &rows[max(0, id-1)]; {
		case row.Scope < before.Scope:
			panic(fmt.Sprintf("facts: %s is of the %s, and stands behind %s, which is of the %s", row.Name, row.Scope, before.Name, before.Scope))
		case row.Scope == OfPair && (row.ofShot != nil || row.ofLens != nil):
			panic(fmt.Sprintf("facts: %s depends on a shot and on a lens, so its function reads facts alone", row.Name))
		}
		f.scope[row.Scope].Add(ID(id))
	}
	f.shot, f.lens, f.every = f.stage(f.scope[OfShot]), f.stage(f.scope[OfLens]), f.stage(f.scope[OfPair])
	focal := f.after(FocalLength).and(f.scope[OfLens])
	focal.Add(FocalLength)
	f.focal = f.stage(focal)
	of := f.scope[OfLens].ids()
	f.lensFrom, f.lensTo = of[0], of[len(of)-1]+1
	return f
}

// visit puts a fact behind what it reads.
func (f *vocabulary) visit(id ID) {
	row := &f.rows[id]
	if f.rests[id].Has(id) {
		if row.Scope == 0 {
			panic(fmt.Sprintf("facts: %s reads itself", row.Name))
		}
		return
	}
	f.rests[id].Add(id)
	scope := row.dialled
	if row.ofShot != nil {
		scope |= OfShot
	}
	if row.ofLens != nil {
		scope |= OfLens
	}
	for _, read := range row.reads() {
		f.visit(read)
		scope |= f.rows[read].Scope
		f.rests[id] = f.rests[id].or(f.rests[read])
	}
	row.Scope = scope
	f.order = append(f.order, id)
}

func (f *vocabulary) after(changed ...ID) (after Set) {
	from := setOf(changed...)
	for id := range f.rows {
		if f.rests[id].Meets(&from) && !from.Has(ID(id)) {
			after.Add(ID(id))
		}
	}
	return after
}

// stage gives the plan that writes facts and leaves all others as they are.
func (f *vocabulary) stage(facts Set) *Plan {
	p := &Plan{of: f, wanted: facts.ids(), kept: facts.not()}
	for _, id := range f.order {
		if row := &f.rows[id]; facts.Has(id) && row.computed() {
			p.steps = append(p.steps, step{id, row.value, row.ofShot, row.ofLens})
		}
	}
	return p
}

func (f *vocabulary) plan(want Set, changed ...ID) *Plan {
	due := f.scope[OfPair]
	if len(changed) > 0 {
		due = due.and(f.after(changed...))
	}
	want = want.and(due)
	fills := want
	for i := len(f.order) - 1; i >= 0; i-- {
		if id := f.order[i]; fills.Has(id) {
			fills = fills.or(setOf(f.rows[id].reads()...).and(due))
		}
	}
	p := f.stage(fills)
	p.wanted, p.kept, p.left = want.ids(), due.not(), due.and(want.not())
	return p
}

// A step writes a fact by one of three functions.
type step struct {
	id     ID
	value  func(v *Values) float64
	ofShot func(in *ShotInput) float64
	ofLens func(in *LensInput, v *Values) float64
}

// After gives the facts that change with others: all that read one of them, directly or
// through further facts. After(FocalLength), say, depends on the focal length.
func After(changed ...ID) Set { return table().after(changed...) }

// Behind gives all that some facts rest on, themselves included.
func Behind(some Set) Set {
	behind := some
	for id, rests := range table().rests {
		if some.Has(ID(id)) {
			behind = behind.or(rests)
		}
	}
	return behind
}

// A Plan is the way to the facts of a pair that somebody wants: the functions that lead to
// them and no others. It is made once for many records, and not changed.
type Plan struct {
	of     *vocabulary
	steps  []step
	wanted []ID
	kept   Set // what the plan has nothing to do with
	left   Set // what it would fill as well if it were wanted
}

// PlanOf gives the plan that fills the wanted facts of [OfPair] and all that they read.
// With changed facts, it is the plan for a record that a plan of the same wanted facts
// has filled and in which those were then set anew: it fills what depends on them.
func PlanOf(want Set, changed ...ID) *Plan { return table().plan(want, changed...) }

// Every gives the plan that fills all facts.
func Every() *Plan { return table().every }

// FillShot writes the facts of [OfShot].
func FillShot(r *Record, in *ShotInput) {
	p := table().shot
	for i := range p.steps {
		s := &p.steps[i]
		if s.ofShot != nil {
			r.Value[s.id] = s.ofShot(in)
		} else {
			r.Value[s.id] = s.value(&r.Value)
		}
	}
	p.mark(r)
}

// FillLens writes the facts of [OfLens] for one focal length of the lens.
func FillLens(r *Record, in *LensInput, focal float64) { table().lens.fillLens(r, in, focal) }

// FillFocal writes those facts of [OfLens] that change with the focal length of a zoom
// into a record that holds the others.
func FillFocal(r *Record, in *LensInput, focal float64) { table().focal.fillLens(r, in, focal) }

func (p *Plan) fillLens(r *Record, in *LensInput, focal float64) {
	r.Value[FocalLength] = focal
	for i := range p.steps {
		s := &p.steps[i]
		if s.ofLens != nil {
			r.Value[s.id] = s.ofLens(in, &r.Value)
		} else {
			r.Value[s.id] = s.value(&r.Value)
		}
	}
	p.mark(r)
}

// FillPair writes facts of [OfPair] as a plan has it, into a record that holds those of the
// shot, with those of the lens from a record that has them alone. This runs for every lens in
// every shot, while most rules read few facts: those that are not wanted are unknown
// afterwards, whatever their value is.
func FillPair(r, lens *Record, p *Plan) {
	of := p.of
	copy(r.Value[of.lensFrom:of.lensTo], lens.Value[of.lensFrom:of.lensTo])
	r.Unknown = r.Unknown.and(of.scope[OfShot]).or(lens.Unknown)
	Refill(r, p)
}

// TakeLens makes a record of the facts of a shot and a lens, from one that has those of the
// shot and one that has those of the lens alone. Those of [OfPair] are then to be filled.
func TakeLens(r, shot, lens *Record) {
	of := table()
	*r = *shot
	copy(r.Value[of.lensFrom:of.lensTo], lens.Value[of.lensFrom:of.lensTo])
	r.Unknown = shot.Unknown.and(of.scope[OfShot]).or(lens.Unknown)
}

// Refill is FillPair for a record that holds the facts of the lens already, or of which some
// facts were set anew and the plan is one for those.
func Refill(r *Record, p *Plan) {
	for i := range p.steps {
		s := &p.steps[i]
		r.Value[s.id] = s.value(&r.Value)
	}
	p.mark(r)
}

// mark brings Unknown up to date with the values that the plan wrote.
func (p *Plan) mark(r *Record) {
	unknown := r.Unknown.and(p.kept).or(p.left)
	for _, id := range p.wanted {
		if value := r.Value[id]; value != value { // NaN
			unknown.Add(id)
		}
	}
	r.Unknown = unknown
}

// A Focal holds the facts that [FillFocal] writes, for a zoom is set to the same focal
// lengths in shot after shot.
type Focal struct {
	values  []float64
	unknown Set
}

// Focal gives the facts of the record that change with the focal length.
func (r *Record) Focal() Focal {
	p := table().focal
	f := Focal{values: make([]float64, len(p.wanted)), unknown: r.Unknown.and(p.kept.not())}
	for i, id := range p.wanted {
		f.values[i] = r.Value[id]
	}
	return f
}

// SetFocal puts the facts of a focal length into a record of the same lens.
func (r *Record) SetFocal(f *Focal) {
	p := table().focal
	for i, id := range p.wanted {
		r.Value[id] = f.values[i]
	}
	r.Unknown = r.Unknown.and(p.kept).or(f.unknown)
}
