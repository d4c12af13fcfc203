package report

import (
	"math"

	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// A passageDrawing is the narrowest place of a move across the way, to a scale of its own: two blocks,
// and between them what operator and rig take.
type passageDrawing struct {
	Width, Height   px
	Left, Right     box // what stands at the sides
	Takes           box
	Lacks           []box  // where it takes more than there is
	Passage, Needed string // widths
	Middle          px
	Spare           string // at each side
	Says            string
}

const (
	passageTop  = 22.0
	passageHigh = 44.0
	passageFoot = 44.0
	passageSide = 40.0 // of a block
)

func drawPassage(plan *floor.Plan, width float64, p lang.Printer) *passageDrawing {
	needs := plan.PassageNeeds
	scale := (planWidth - 2*passageSide) / max(width, needs)
	middle, half, taken := planWidth/2, width*scale/2, needs*scale/2
	d := &passageDrawing{
		Width: planWidth, Height: passageTop + passageHigh + passageFoot, Middle: px(middle),
		Left:    box{0, passageTop, px(middle - half), passageHigh},
		Right:   box{px(middle + half), passageTop, px(middle - half), passageHigh},
		Takes:   box{px(middle - taken), passageTop + 6, px(2 * taken), passageHigh - 12},
		Passage: "passage " + p.Quantity(width, "m"), Needed: "operator and rig " + p.Quantity(needs, "m"),
		Spare: p.Quantity(math.Abs(plan.Spare), "cm") + " a side",
	}
	if plan.Spare < 0 {
		d.Spare += " too much"
		d.Lacks = []box{
			{d.Takes.X, d.Takes.Y, px(taken - half), d.Takes.Height},
			{d.Right.X, d.Takes.Y, px(taken - half), d.Takes.Height},
		}
	}
	d.Says = d.Passage + ", " + d.Needed + ": " + d.Spare
	return d
}
