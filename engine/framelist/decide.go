package framelist

import "math"

// A Rounding says how sizes of decisions become whole pixels. Its zero value leaves them as
// they are.
type Rounding struct {
	Even bool // to even numbers
	Mode Mode
}

// A Mode is the direction of a rounding.
type Mode uint8

const (
	Unrounded Mode = iota
	Up
	Down
	Nearest // halves to the even number
)

// Usual is the rounding that holds unless another is told: up to even numbers.
var Usual = Rounding{Even: true, Mode: Up}

// nearlyWhole is how far from a whole number binary arithmetic may leave one.
const nearlyWhole = 1e-9

// Of rounds a number on its absolute value and puts the sign back after.
func (r Rounding) Of(x float64) float64 {
	if r.Mode == Unrounded {
		return x
	}
	size := math.Abs(x)
	if whole := math.RoundToEven(size); math.Abs(size-whole) <= nearlyWhole*max(1, size) {
		size = whole
	}
	var rounded float64
	switch r.Mode {
	case Up:
		rounded = math.Ceil(size)
	case Down:
		rounded = math.Floor(size)
	default:
		rounded = math.RoundToEven(size)
	}
	if r.Even && math.Mod(rounded, 2) != 0 {
		switch {
		case r.Mode == Up, r.Mode == Nearest && size >= rounded:
			rounded++
		default:
			rounded--
		}
	}
	if rounded == 0 {
		return 0 // never -0
	}
	return math.Copysign(rounded, x)
}

// within rounds a size that must not pass a limit: at the limit it goes down instead.
func (r Rounding) within(x, limit float64) float64 {
	if rounded := r.Of(x); rounded <= limit {
		return rounded
	}
	return Rounding{Even: r.Even, Mode: Down}.Of(limit)
}

// Decide places an intent in the middle of a working area: the largest area of the ratio,
// desqueezed, is the protected one, and (1 - protection) of its sides is delivered. Without
// protection there is no protected area. Ratio and squeeze are above zero, protection is
// from 0 to below 1.
//
// Source: specification 2.0.1, 7.3.4 and 7.3.5, with the clamping of what is rounded past
// the edge.
func Decide(working Area, squeeze float64, ratio Size, protection float64, r Rounding) (frame, protected Area) {
	size := working.Size
	// Multiplied before divided, so that whole results stay whole.
	switch over, under := ratio.Width*working.Height, ratio.Height*working.Width*squeeze; {
	case over > under:
		size.Height = working.Width * squeeze * ratio.Height / ratio.Width
	case over < under:
		size.Width = working.Height * ratio.Width / (ratio.Height * squeeze)
	}
	size = Size{r.within(size.Width, working.Width), r.within(size.Height, working.Height)}
	outer := working.middle(size)
	if protection == 0 {
		return outer, Area{}
	}
	share := 1 - protection
	return working.middle(Size{r.within(size.Width*share, size.Width), r.within(size.Height*share, size.Height)}), outer
}

// middle gives the area of a size in the middle of another.
func (a Area) middle(s Size) Area {
	return Area{Point{a.X + (a.Width-s.Width)/2, a.Y + (a.Height-s.Height)/2}, s}
}

// Move puts a decision with its top left at another place, the protected area with it, as
// near as both stay in the working area.
func Move(working, frame, protected Area, to Point) (Area, Area) {
	outer := frame
	if protected.Known() {
		outer = protected
	}
	shift := func(by, low, high, outerLow, outerHigh float64) float64 {
		return min(max(by, low-outerLow), high-outerHigh)
	}
	dx := shift(to.X-frame.X, working.X, working.X+working.Width, outer.X, outer.X+outer.Width)
	dy := shift(to.Y-frame.Y, working.Y, working.Y+working.Height, outer.Y, outer.Y+outer.Height)
	frame.X, frame.Y = frame.X+dx, frame.Y+dy
	if protected.Known() {
		protected.X, protected.Y = protected.X+dx, protected.Y+dy
	}
	return frame, protected
}
