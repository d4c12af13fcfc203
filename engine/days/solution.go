package days

// A Plan says who does what, and when.
type Plan struct {
	Bags   [][]int  // for each unit its lenses, ascending
	Runs   []Run    // those with a shot, by day and unit
	Hire   []Period // by lens and date
	Left   []Left   // by shot
	Totals Totals
}

// A Run is what a unit does on a day.
type Run struct {
	Day, Unit int
	Stops     []Stop // in the order of time
}

// A Stop is a shot that is done. What comes before it lies between the end of the shot before
// and its start; what is left of that time is waiting or the break.
type Stop struct {
	Shot, Setup int
	Start       int // half minutes
	Change      int // half minutes to change from the set-up before
	Move        int // half minutes from the place before
	Fetch       int // half minutes to fetch from the truck
}

// A Period is a time for which a lens is hired.
type Period struct {
	Lens int
	Dates
	Cost int64 // cents
}

// A Left shot is one that is not done.
type Left struct {
	Shot int
	Why  Reason
}

// A Reason is why a shot is not done.
type Reason int

// Why a shot is not done.
const (
	NoLens Reason = iota // no lens in a bag can do it
	NoRoom               // its days, hours, order or what it comes after leave no room
)

// Totals is what plans are compared by.
type Totals struct {
	Left    int64 // weight of the shots not done
	Value   int64 // worth of what is done, less the prices of Minutes and Cost
	Changes int   // of lens, between neighbours in a run

	// Moved counts pairs of shots out of the order as written: one written later is done on an
	// earlier day, or earlier in a run, than one that could still have come. From day to day all
	// shots of a block count that a bag has a lens for; on one day those of two units do not.
	Moved   int
	Mass    int64 // of all bags
	Cost    int64 // cents of hire
	Minutes int   // half minutes of changes, moves and fetching
}

// Better reports whether a plan with these totals is better than one with others. Lenses, the
// last to decide, are no part of them.
func (t Totals) Better(than Totals) bool {
	switch {
	case t.Left != than.Left:
		return t.Left < than.Left
	case t.Value != than.Value:
		return t.Value > than.Value
	case t.Changes != than.Changes:
		return t.Changes < than.Changes
	case t.Moved != than.Moved:
		return t.Moved < than.Moved
	case t.Mass != than.Mass:
		return t.Mass < than.Mass
	}
	return t.Cost < than.Cost
}

// A Solution is the best plan that was found, and how good another could be.
type Solution struct {
	Plan   Plan
	Proven bool // no plan leaves less undone, or as little and has a higher value or fewer changes

	// Nearest says that of the plans that are equal so far none is nearer to the order as written. It is not
	// looked for without end, nor where something is left out for lack of room.
	Nearest bool

	// No plan leaves less weight undone than LeastLeft, and none that leaves as little as Plan
	// has a value above Bound. Both are those of Plan when Proven.
	LeastLeft int64
	Bound     int64

	Nodes int // labels of days and states of the shoot looked at
}

// Gap is how many half minutes of changes the plan may be away from the best one that leaves as
// little undone: the difference of their values at the price of time. It is 0 where time has no price.
func (s Solution) Gap(p *Problem) int {
	if p.Price == 0 {
		return 0
	}
	return int((s.Bound - s.Plan.Totals.Value + p.Price - 1) / p.Price)
}
