package report

import (
	"fmt"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

const (
	curveLeft   = 30.0
	curveRight  = 316.0
	curveTop    = 22.0
	curveBottom = 112.0
)

// A curve shows what the kit gains by its last lens and would gain by one more, how sure
// it is, and the kits behind it.
type curve struct {
	Width, Height px
	Line          path
	Points        []curvePoint
	Levels        []lane
	Says          string
	Sizes         []kitLine
	Behind        []kitLine
	Second        string // what decides
	Cameras       string // which camera is best
	Sure          *certainty
}

// A curvePoint is the best kit of one size.
type curvePoint struct {
	X, Y, Text   px
	Score, Count string
	Chosen       bool
}

// A kitLine is a kit in words.
type kitLine struct{ Lenses, Score, Note string }

// A certainty is how often briefs near this one give the same kit.
type certainty struct {
	Says   string
	Flip   string // what changes it soonest
	Same   box
	Others []box
	Kits   []kitLine
}

func newCurve(r *answer.Answer, p lang.Printer) curve {
	sizes := r.Sizes
	c := curve{Width: planWidth, Height: 136, Says: "The best score by the number of lenses."}
	y := func(score float64) px { return px(curveBottom - score*(curveBottom-curveTop)) }
	for _, level := range []float64{0, 0.5, 1} {
		c.Levels = append(c.Levels, lane{fmt.Sprintf("%.1f", level), y(level)})
	}
	step := (curveRight - curveLeft) / float64(len(sizes)+1)
	var line []point
	for i := range sizes {
		kit := &sizes[i].Kit
		x := curveLeft + step*float64(i+1)
		at := curvePoint{
			X: px(x), Y: y(kit.Mean), Text: y(kit.Mean) - 9, Score: wording.KitScore(r.Recommendation, kit),
			Count: wording.Counted(sizes[i].Carry, "lens"), Chosen: sizes[i].Carry == r.Scenario.Limits.Carry,
		}
		line = append(line, point{x, float64(at.Y)})
		c.Points = append(c.Points, at)
		c.Sizes = append(c.Sizes, kitLine{wording.List(kit.Lenses, "and"), at.Count, missing(kit)})
	}
	c.Line.line(line...)
	for i := range r.Runners {
		k := &r.Runners[i]
		c.Behind = append(c.Behind, kitLine{wording.List(k.Lenses, "and"), wording.KitScore(r.Recommendation, k), "loses most on " + wording.LosesMost(r.Recommendation, k)})
	}
	if r.Second != nil {
		c.Second = wording.Second(r.Second, r.Recommendation)
	}
	if r.Cameras != nil {
		c.Cameras = wording.Cameras(r.Cameras, r.Best)
	}
	if r.Nearby != nil {
		c.Sure = newCertainty(r.Nearby, p)
		c.Sure.Says = wording.Nearby(r.Nearby, r.Recommendation, p)
		c.Sure.Flip = wording.Flip(r.Flip, r.Scenario, p)
	}
	return c
}

func missing(k *engine.Kit) string {
	if len(k.Uncovered) == 0 {
		return ""
	}
	return "not covered: " + wording.List(k.Uncovered, "and")
}

// shownKits is how many kits of nearby briefs are listed.
const shownKits = 4

func newCertainty(n *sure.Nearby, p lang.Printer) *certainty {
	c := &certainty{}
	width := func(briefs int) px { return px(n.Share(briefs) * (curveRight - curveLeft)) }
	c.Same = box{curveLeft, 4, width(n.Same), 14}
	x := c.Same.X + c.Same.Width
	for i := range n.Kits {
		kit := &n.Kits[i]
		if i < shownKits {
			names := "no kit"
			if len(kit.Lenses) > 0 {
				names = wording.List(kit.Lenses, "and")
			}
			c.Kits = append(c.Kits, kitLine{Lenses: names, Score: p.Quantity(n.Share(kit.Briefs), "%")})
		}
		if i > 0 || n.Same == 0 {
			c.Others = append(c.Others, box{x, 4, width(kit.Briefs), 14})
			x += width(kit.Briefs)
		}
	}
	return c
}
