package days

// A Problem is what a plan is made for. Shots, lenses, units, days, set-ups and places are
// meant by their index.
type Problem struct {
	Shots  []Shot // in the order as written; at most [MostShots]
	Days   []Day  // in the order of time
	Units  []Unit
	Lenses []Lens
	Setups []Setup

	// Move[from][to] is how many half minutes a unit takes from place to place; nil where
	// moving takes no time. It need not be symmetric.
	Move [][]int

	// Change gives how many half minutes a unit with a bag takes from one set-up to another,
	// for all pairs [from][to]; only those of lenses in the bag are read. From a set-up to
	// itself is 0. The matrix need not be symmetric, and a way over a third set-up may be
	// shorter. The bag is in ascending order. The function is called once for each bag that
	// is looked into; it must give the same for the same. Nil where no change takes time.
	Change func(unit int, bag []int) [][]int

	Price     int64 // worth of half a minute of changes, moves and fetching
	CentPrice int64 // worth of a cent; 0 where money decides ties only
	MaxCost   int64 // cents of hire over all days; negative for no limit
}

// MostShots is how many shots a problem has at most.
const MostShots = 128

// A Shot is done on one day, by one unit, in one go, or is left out.
type Shot struct {
	Weight  int64 // above 0: what is lost when the shot is left out
	Takes   int   // half minutes, above 0
	Scene   int   // any number; shots of a scene have the same
	Place   int
	Free    Freedom
	Days    []int    // on which it may be done; nil for all
	Windows []Span   // it lies in one of them as a whole; nil for any time
	After   []int    // shots that must be done before, on an earlier day or by the same unit
	Options []Option // ways to do it; a shot without any is left out

	// Block is any number. Shots of a block that are done are done on one day by one unit.
	// That is usually the scene; a shot of which nothing of the kind is asked has a block
	// of its own. A scene that two units share is two blocks.
	Block int
}

// An Option is a way to do a shot.
type Option struct {
	Unit  int
	Setup int
	Worth int64 // above 0: the weight of the shot times its score
}

// A Setup is what is on the rig. Two shots with the same set-up have no change between them.
type Setup struct {
	// Lenses is what the set-up takes from the bag, at least one. The first is the one whose
	// changes are counted.
	Lenses []int
}

// Freedom says how far the order as written may be left. Of two shots the one written first
// comes first, in a day of a unit and from day to day, unless
//
//   - both are of one scene and at least [InScene],
//   - both are in one place and at least [InPlace],
//   - or one of them is free [Everywhere].
//
// It also gives way from day to day where the days that the two may be done on leave no other way, and
// it binds the days of two blocks by all their shots that the bags can do, done or not.
type Freedom int

// How far a shot may move.
const (
	AsWritten Freedom = iota
	InScene
	InPlace
	Everywhere
)

// A Span lies from one time up to another, in half minutes.
type Span struct{ From, To int }

// A Day is when all units work. The first set-up and the first place of each are free: rigged
// before the call.
type Day struct {
	Start, End int  // half minutes
	Break      Span // empty for none; no shot lies over it, and a change or move stands still
	Date       int  // number of the calendar day, for hire
}

// A Unit is an operator with a camera and a rig.
type Unit struct {
	Carry int // lenses in its bag at most, over all days

	// OnSet is how many of them are on the set at once; 0 for all. The rest is on the truck,
	// and each that is fetched takes Fetch half minutes. Any that a set-up does not need just
	// then goes back meanwhile. What is on the set in the morning is free.
	OnSet, Fetch int
}

// A Lens is in the bag of one unit for all days, or stays at home. What is hired and in a bag is paid
// for one day at least.
type Lens struct {
	Must      bool // comes, and is there on each day of the plan on which it is available
	Barred    bool
	Mass      int64   // mg, or any other unit; 0 when unknown
	Available []Dates // nil for always
	Hire      *Hire   // nil when it costs nothing
}

// Dates lie from one calendar day to another, both included.
type Dates struct{ From, To int }

// Hire says what a lens costs. It may be taken back and fetched again, where that is cheaper
// than keeping it over the days on which no shot is done with it.
type Hire struct {
	Day   int64 // cents a calendar day
	Week  int64 // cents for seven days, in any mix of weeks and days; 0 for no such rate
	Fetch int64 // cents for each time that it is fetched
	Least int   // calendar days that are paid at least, each time
	Once  bool  // one period only, from the first day that it is used to the last
}
