package kit

// A Problem is what a kit is chosen from. Scores[lens][shot] lies in 0..1, and 0 means
// that the lens is not acceptable for the shot.
type Problem struct {
	Scores  [][]float64
	Weights []float64 // of the shots, above 0 and at most [MaxWeight], counted in hundredths
	Size    int       // lenses at most
	Mass    []float64 // kg; NaN when unknown, nil when no mass is known
	Cost    []float64 // money a day; NaN when unknown, nil when nothing costs
	MaxMass float64   // of the bag; 0 or less for no limit
	MaxCost float64   // a day; negative for no limit
	Must    []int     // lenses that come whatever they score
	Barred  []bool    // lenses that may not come; nil for none

	Changes Changes // between set-ups; nil where nobody knows what they take
	// Alike reports whether two lenses of the same scores have the same set-ups in all shots, so that
	// changes take the same with either, and more between the two; nil where nobody knows.
	Alike  func(lens, other int) bool
	Price  float64 // of one unit of them, in the score of a shot of weight 1; 0 to leave them out of the comparison
	Charge float64 // of a unit of money, likewise; without it, and without a price, money breaks ties alone
}

// A Set is a set of lenses with what it is worth. Lenses are in ascending order.
type Set struct {
	Lenses    []int
	Uncovered float64 // weight of the shots without an acceptable lens
	Mean      float64 // weighted mean of what the lens put on scores in each shot, uncovered shots as 0
	Value     float64 // Mean less what changes and money weigh, for a unit of the weights
	Swaps     int     // lens changes through the day, in shooting order
	Takes     int     // units of changes of set-up through the day
	Mass      float64 // kg of the lenses whose mass is known, to the milligram
	Cost      float64 // money a day
	Best      []int   // for each shot the lens put on, or -1
}

// Solution is what a solver found.
type Solution struct {
	Sets   []Set // the best, and runners-up behind it
	Proven bool  // no other set can be better than the first

	// When a node limit stopped the search, another set might leave less uncovered, by
	// CoverGap in weight; and one that covers as much as the first might have a higher
	// value, by Gap. With both at 0 only a tie on these two is open.
	Gap      float64
	CoverGap float64

	// Neighbours says that the runners-up are the best among the sets that differ from
	// the first by one lens more, less or other. Otherwise they are the next best of all.
	Neighbours bool

	Nodes int // sets looked at
}
