package report

import (
	"slices"
	"unicode/utf8"

	"glassbrief/engine"
)

const (
	timelineShots = 10 // side by side, so that their names can be read on a phone
	timelineStep  = 30.0
	timelineLane  = 22.0
	timelineLeft  = 18.0
)

// A timeline shows which lens is on through the day, in shooting order, and each change.
type timeline struct {
	Lanes []string // the lenses of the kit that are used, by number
	Rows  []timelineRow
}

// A timelineRow is as much of the day as stands side by side.
type timelineRow struct {
	Width, Height px
	Lanes         []lane
	Shots         []dayShot
	Bars          []box
	Swaps         path  // from the lane of one lens to that of the next
	Gaps          []box // shots without a lens
	Says          string
}

type lane struct {
	Name string
	Y    px
}

type dayShot struct {
	ID string
	X  px
}

func newTimeline(r *engine.Recommendation) timeline {
	var t timeline
	for _, lens := range r.Kit.Lenses {
		if slices.Contains(r.Kit.Uses, lens) {
			t.Lanes = append(t.Lanes, lens)
		}
	}
	on := -1 // the lane of the lens that is on
	for from := 0; from < len(r.Shots); from += timelineShots {
		t.Rows = append(t.Rows, t.row(r, from, &on))
	}
	return t
}

func (t *timeline) row(r *engine.Recommendation, from int, on *int) timelineRow {
	to := min(len(r.Shots), from+timelineShots)
	row := timelineRow{
		Width:  px(timelineLeft + timelineStep*timelineShots + 2),
		Height: px(timelineLane*float64(len(t.Lanes)) + 20),
		Says:   "The lens for each shot from " + r.Shots[from].Shot.ID + " to " + r.Shots[to-1].Shot.ID + ".",
	}
	laneY := func(lane int) float64 { return timelineLane * (float64(lane) + 0.5) }
	for i := range t.Lanes {
		row.Lanes = append(row.Lanes, lane{letter(i), px(laneY(i))})
	}
	for i := from; i < to; i++ {
		x := timelineLeft + timelineStep*float64(i-from)
		row.Shots = append(row.Shots, dayShot{shortened(r.Shots[i].Shot.ID), px(x + timelineStep/2)})
		lane := slices.Index(t.Lanes, r.Kit.Uses[i])
		if lane < 0 {
			row.Gaps = append(row.Gaps, box{px(x), 4, timelineStep, px(timelineLane*float64(len(t.Lanes)) - 8)})
			continue
		}
		if *on >= 0 && lane != *on {
			row.Swaps.line(point{x, laneY(*on)}, point{x, laneY(lane)})
		}
		*on = lane
		row.Bars = append(row.Bars, box{px(x), px(laneY(lane) - 5), timelineStep, 10})
	}
	return row
}

// letter numbers the lenses of a kit: A, B, C.
func letter(i int) string { return string(rune('A' + i)) }

// shortened keeps the name of a shot within its place.
func shortened(name string) string {
	const most = 4
	if utf8.RuneCountInString(name) <= most {
		return name
	}
	return string([]rune(name)[:most-1]) + "…"
}
