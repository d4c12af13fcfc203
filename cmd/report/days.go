package report

import (
	"io"
	"math"

	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine/brief"
	"glassbrief/engine/schedule"
)

// A board is a day on one axis of time, with a lane for each unit.
type board struct {
	Title string
	Hours []boardMark
	Break *boardBox // nil for none
	Lanes []boardLane
}

// A boardMark is a full hour; X is in per cent of the day.
type boardMark struct {
	X    float64
	Text string
}

// A boardLane is what a unit does.
type boardLane struct {
	Unit  string
	Boxes []boardBox
}

// A boardBox is a shot on the axis, or the break; X and Width are in per cent of the day.
type boardBox struct {
	X, Width float64
	ID       string
	Plate    place // of the lens in the bag of the unit
	Says     string
}

// Days writes a plan of days: the page, which says it in words, and each day drawn on its hours.
func (w Writer) Days(to io.Writer, words show.Page, a *schedule.Answer) error {
	var run []string
	for _, u := range a.Units {
		on := u.Table.Camera.Name.Value + ", " + u.Table.Scenario.Rig.Name.Value
		if u.Name != "" {
			on = "Unit " + u.Name + ": " + on
		}
		run = append(run, on)
	}
	var boards []board
	for i := range a.Plan.Days {
		if d := &a.Plan.Days[i]; d.Of != nil {
			boards = append(boards, newBoard(a, d))
		}
	}
	return w.write(to, "days.html", "page", words.Title(), struct {
		Run    []string
		Kit    []kitLens
		Boards []board
		Blocks []show.Block
	}{run, kitOfDays(a), boards, words.Blocks[1:]})
}

// kitOfDays are the bags of all units, each lens with the shots that it takes.
func kitOfDays(a *schedule.Answer) []kitLens {
	var kit []kitLens
	for u, bag := range a.Bags {
		for _, name := range bag {
			lens := kitLens{Name: name, Plate: plateOf(bag, name)}
			if a.Units[u].Name != "" {
				lens.Reason = "unit " + a.Units[u].Name
			}
			for _, day := range a.Plan.Days {
				for _, run := range day.Runs {
					for _, stop := range run.Stops {
						if run.Unit == u && stop.Lens == name {
							lens.Shots = append(lens.Shots, dayShot{ID: a.Scenario.Shots[stop.Shot].ID})
						}
					}
				}
			}
			kit = append(kit, lens)
		}
	}
	return kit
}

func newBoard(a *schedule.Answer, d *schedule.Day) board {
	s, day := a.Scenario, d.Of
	share := func(minutes float64) float64 { return 100 * (minutes - day.Open) / (day.Shut - day.Open) }
	box := func(from, to float64) boardBox { return boardBox{X: share(from), Width: share(to) - share(from)} }
	b := board{Title: wording.DayName(day)}
	for at := firstHour(s, day); at < day.Shut; at += 60 {
		b.Hours = append(b.Hours, boardMark{share(at), s.At(at).Format("15")})
	}
	if day.Break.From < day.Break.To {
		rest := box(day.Break.From, day.Break.To)
		b.Break = &rest
	}
	for r := range d.Runs {
		run := &d.Runs[r]
		lane := boardLane{Unit: a.Units[run.Unit].Name}
		for i := range run.Stops {
			stop := &run.Stops[i]
			at := box(stop.Start, stop.End)
			at.ID = s.Shots[stop.Shot].ID
			at.Plate = plateOf(a.Bags[run.Unit], stop.Lens)
			at.Says = wording.ClockAt(s, stop.Start) + " " + stop.Lens
			if before := wording.Before(stop); before != "" {
				at.Says += ", before it " + before
			}
			lane.Boxes = append(lane.Boxes, at)
		}
		b.Lanes = append(b.Lanes, lane)
	}
	return b
}

// firstHour gives the first full hour of a day, in minutes from the start of the first.
func firstHour(s *brief.Scenario, day *brief.Day) float64 {
	past := s.At(day.Open)
	return day.Open + math.Mod(60-float64(past.Minute()), 60)
}
