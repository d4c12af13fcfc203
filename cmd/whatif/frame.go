package whatif

import (
	"context"
	"slices"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/engine/whatif"
	"glassbrief/engine/why"
)

// A frame is what all shots are judged in: camera and rules. The table is the last that was made in it.
type frame struct {
	key   string
	state []string // of each shot
	table *engine.Table
}

// mostFrames is how many frames are kept, so that a slider of weights does not fill the memory.
const mostFrames = 3

// answer judges an edited plan. Of each shot it holds the lenses of the kit, and what stands beside
// the kit is left out but for the changes of the day.
func (s *Session) answer(e *whatif.Edited) (*answer.Answer, *frame, error) {
	ctx := context.Background()
	o := engine.Options{Workers: 1, Runners: answer.Runners, Hold: engine.KitAlone}
	f, table, err := s.table(ctx, e, o)
	if err != nil {
		return nil, nil, err
	}
	table = table.WithLimits(e.Scenario.Limits)
	choice, err := table.Choose(e.Scenario.Limits, o)
	if err != nil {
		return nil, nil, err
	}
	if len(table.Lenses()) > wording.MostCompared { // the matrix shows those that rankings hold
		o.Hold = answer.Ranked
	}
	r, err := table.Answer(ctx, choice, o)
	if err != nil {
		return nil, nil, err
	}
	a := &answer.Answer{Recommendation: r, Changes: floor.ChangesOf(r), Rescues: make([]*why.Rescue, len(r.Shots))}
	for i, state := range f.state {
		if f.key == "" && state == "" {
			a.Rescues[i] = s.rescues[i]
		}
	}
	return a, f, nil
}

// table gives the table of an edited plan. Only shots that changed are judged anew, where there is a
// table of the same camera, rules and assumptions.
func (s *Session) table(ctx context.Context, e *whatif.Edited, o engine.Options) (*frame, *engine.Table, error) {
	key, state := e.Frame(), e.OfShots()
	at := slices.IndexFunc(s.frames, func(f *frame) bool {
		return f.key == key && slices.EqualFunc(f.table.Scenario.Assumed, e.Scenario.Assumed, sameFigure)
	})
	if at < 0 {
		table, err := engine.Judge(ctx, e.Scenario, o)
		if err != nil {
			return nil, nil, err
		}
		f := &frame{key, state, table}
		s.frames = append([]*frame{f}, s.frames[:min(len(s.frames), mostFrames-1)]...)
		return f, table, nil
	}
	f := s.frames[at]
	s.frames = append([]*frame{f}, slices.Delete(slices.Clone(s.frames), at, at+1)...)
	shots := make([]*brief.Shot, len(state))
	for i := range shots {
		if shots[i] = f.table.Scenario.Shots[i]; state[i] != f.state[i] {
			shots[i] = e.Scenario.Shots[i]
		}
	}
	f.table, f.state = f.table.With(shots), state
	return f, f.table, nil
}

// sameFigure reports whether two assumptions are about the same figure.
func sameFigure(a, b brief.Assumption) bool {
	return a.Of == b.Of && a.Name == b.Name && a.Keyword == b.Keyword && a.Low == b.Low && a.High == b.High
}
