package whatif

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"

	"glassbrief/cmd/report"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/engine/whatif"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// A Session answers edits of one saved plan, one after another. It takes it that whoever asks shows
// the saved plan at first, and puts in every part of every reply. It is for one goroutine.
type Session struct {
	Plan *whatif.Plan

	saved  *answer.Answer // of the plan as it was saved
	frames []*frame       // the last ones that were asked for, the newest first
	shown  shown          // what the page has
	left   *drawing       // what the last reply left out; nil for nothing

	columns  report.Columns
	rescues  map[int]*why.Rescue // of the shots of the saved plan that nothing does, as far as they are looked for
	warmed   int                 // edits for that alone
	unmarked bool                // what differs from the saved plan, for tests
}

// A Reply is what an edit gives, for a page. All HTML is made by templates: what came from files stands
// in it as text.
type Reply struct {
	// Fragment is the state in its own spelling, by which an address can hold it; "" for the saved plan.
	Fragment string `json:"fragment"`
	// Answered is false when a fault keeps the last answer: then there are no parts, and all but the
	// faults is empty.
	Answered bool `json:"answered"`
	// Parts are those of the page that changed and that whoever edits looks at: what holds for all shots, and
	// the shots whose figures were moved. [Session.Rest] gives the others. The saved plan comes whole.
	Parts []Part `json:"parts"`
	// Controls are the figures of the controls that differ from the saved plan.
	Controls []Figure `json:"controls"`
	// Faults lie at controls; the key of one that no control has is as it stands in the fragment.
	Faults []whatif.Fault `json:"faults"`
	// Warnings are what the command warns of in the changed file, at controls.
	Warnings []whatif.Fault `json:"warnings"`
	// Status is one sentence on what the edits do to the plan; "" when they only move figures.
	Status string `json:"status"`
	// Lines are the statements that differ, each with where it belongs; Patch is the same as a unified
	// diff against the saved files. "" for the saved plan.
	Lines string `json:"lines"`
	Patch string `json:"patch"`
	// Chose are the lines of a file of choices for the lenses that were picked by hand, as "rules learn" reads
	// them; "" for none.
	Chose string `json:"chose"`
	// Panic is why the engine failed at this edit; "" when it did not. The session is then as before.
	Panic string `json:"panic,omitempty"`
}

// A Part is an element of the page with what it holds, by the ids of [report.Trial] and those of the
// page itself.
type Part struct {
	ID   string `json:"id"`
	HTML string `json:"html"`
}

// A Figure is a control with what it shows. End is 0 for the near end of a distance and 1 for the far
// one; it is 0 for all else.
type Figure struct {
	Key string `json:"key"`
	End int    `json:"end"`
	whatif.Value
	Was string `json:"was"` // the saved text
}

// A Rest is what a reply left out.
type Rest struct {
	Parts []Part `json:"parts"`
	Panic string `json:"panic,omitempty"` // as that of a reply
}

// shown is what the page has.
type shown struct {
	parts  map[string]string // HTML of the parts that are always worked out
	states []string          // of the controls of each shot, in the last answer
	shots  []shotShown
}

func (s shown) clone() shown {
	return shown{maps.Clone(s.parts), s.states, slices.Clone(s.shots)}
}

// shotShown is what the section of a shot was drawn from: with the same of all, it is the same.
type shotShown struct {
	frame *frame
	state string // of its controls
	use   string // the lens
	rest  string // what it takes from other shots
}

// A frame is what all shots are judged in: camera and rules. The table is the last that was made in it.
type frame struct {
	key   string
	state []string // of each shot
	table *engine.Table
}

// mostFrames is how many frames are kept, so that a slider of weights does not fill the memory.
const mostFrames = 3

// OpenSession opens the plan of an input as JSON, which is how a page holds a [whatif.Input].
func OpenSession(text string) (*Session, error) {
	var in whatif.Input
	if err := json.Unmarshal([]byte(text), &in); err != nil {
		return nil, err
	}
	plan, found := whatif.Open(in)
	if found.HasErrors() {
		return nil, found
	}
	return NewSession(plan)
}

// warmings is how many edits make the engine warm: behind so many, the next are hardly quicker.
const warmings = 30

// Warm makes the next edits quicker, by one that nobody sees, and reports whether more of it would help.
// A program for browsers runs slowly at first, until each piece of it was met some times.
//
// Before that it looks for what there is to do about each shot that nothing does in the saved plan, one
// at a time: that takes as long as many edits, and is not looked for while somebody waits.
func (s *Session) Warm() bool {
	if s.warmed >= warmings {
		return false
	}
	for i, use := range s.saved.Kit.Uses {
		if _, known := s.rescues[i]; use == "" && !known {
			s.rescues[i] = why.RescueOf(s.saved.Table, i)
			return true
		}
	}
	controls := s.Plan.Controls
	c := &controls[s.warmed*7%len(controls)]
	s.warmed++
	text := ""
	switch ladder := s.Plan.Ladders[c.Ladder]; {
	case c.Choice:
		text = ladder[s.warmed%len(ladder)].Text
	case len(c.Saved) == 2:
		text = fmt.Sprintf("%.3f%s..%.3f%s", c.Saved[0].Value*0.95, c.Unit, c.Saved[1].Value*1.05, c.Unit)
	default:
		at := slices.IndexFunc(ladder, func(v whatif.Value) bool { return v.Value > c.Saved[0].Value })
		text = ladder[max(at, 0)].Text + c.Unit
	}
	shown, left := s.shown, s.left
	s.Answer(whatif.State{{Key: c.Key, Text: text}}.String())
	s.Rest()
	s.shown, s.left = shown, left
	return s.warmed < warmings
}

// NewSession opens a plan for edits.
func NewSession(plan *whatif.Plan) (*Session, error) {
	s := &Session{Plan: plan, rescues: map[int]*why.Rescue{}}
	edited, faults := plan.Edit(nil)
	if faults != nil {
		return nil, errors.New(faults[0].Says) // it was read before
	}
	saved, frame, err := s.answer(edited)
	if err != nil {
		return nil, err
	}
	s.saved = saved
	s.shown = shown{parts: map[string]string{}, states: edited.OfShots(), shots: drawn(edited, saved, frame, s.sections(saved))}
	return s, nil
}

func (s *Session) sections(a *answer.Answer) *report.Sections {
	return report.Writer{Printer: s.Plan.Printer(), All: true, Columns: &s.columns}.Sections(a)
}

// Answer answers the state of a fragment. It does not fail: what is wrong is in the reply.
func (s *Session) Answer(fragment string) (reply Reply) {
	before := s.shown
	defer func() {
		if fault := recover(); fault != nil {
			s.shown, s.left, s.frames = before, nil, nil
			reply = Reply{Fragment: strings.TrimPrefix(fragment, "#"), Panic: fmt.Sprintf("%v\n%s", fault, debug.Stack())}
		}
	}()
	state, faults := s.Plan.Read(fragment)
	reply = Reply{Fragment: state.String(), Faults: faults}
	edited, wrong := s.Plan.Edit(state)
	if wrong != nil {
		reply.Faults = append(reply.Faults, wrong...)
		return reply
	}
	a, frame, err := s.answer(edited)
	if err != nil {
		reply.Faults = append(reply.Faults, faultOf(err))
		return reply
	}
	parts, err := s.draw(edited, a, frame)
	if err != nil {
		s.shown, s.left = before, nil
		reply.Faults = append(reply.Faults, faultOf(err))
		return reply
	}
	reply.Parts = parts
	reply.Answered, reply.Warnings = true, edited.Warnings
	reply.Controls, reply.Lines, reply.Patch = s.figures(state), edited.Lines(), edited.Diff()
	reply.Chose = edited.Chose()
	reply.Status = wording.Moved(s.saved.Recommendation, a.Recommendation)
	return reply
}

// faultOf says an error that lies at no control.
func faultOf(err error) whatif.Fault {
	var found lang.Diagnostics
	if errors.As(err, &found) && len(found) > 0 {
		return whatif.Fault{Says: whatif.Sentences(found[0])}
	}
	return whatif.Fault{Says: err.Error()}
}

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

// drawn says what the sections of the shots are drawn from.
func drawn(e *whatif.Edited, a *answer.Answer, f *frame, sections *report.Sections) []shotShown {
	all := make([]shotShown, len(a.Shots))
	for i, state := range e.OfShots() {
		all[i] = shotShown{f, state, a.Kit.Uses[i], sections.Beside(i)}
	}
	return all
}

// A drawing puts the parts of the page that changed into replies, and notes what the page then has.
type drawing struct {
	*report.Sections
	of    *answer.Answer
	to    *shown
	shots []shotShown // as they are to be
	parts []Part
	fault error
}

// draw gives the first parts of an answer.
func (s *Session) draw(e *whatif.Edited, a *answer.Answer, f *frame) ([]Part, error) {
	s.shown = s.shown.clone()
	d := &drawing{Sections: s.sections(a), of: a, to: &s.shown}
	if !s.unmarked {
		d.Against(s.saved)
	}
	d.shots = drawn(e, a, f, d.Sections)
	d.always("r0", d.Run)
	d.always("a0", d.Top)
	d.always("k0", d.Now)
	d.always("c0", d.Cautions)
	d.always("l0", func(to io.Writer) error { return writeChanged(to, s.Plan, e.State) })
	for _, i := range d.Shots() {
		if d.shots[i].state != s.shown.states[i] {
			d.shot(i)
		}
	}
	s.shown.states, s.left = e.OfShots(), d
	if len(e.State) == 0 {
		d.rest()
		s.left = nil
	}
	return d.parts, d.fault
}

// Rest gives the parts that the last reply left out. They need not be asked for: what a page does not
// have yet is in a later reply, or in the rest of that.
func (s *Session) Rest() (rest Rest) {
	d := s.left
	if s.left = nil; d == nil {
		return rest
	}
	before := s.shown
	defer func() {
		if fault := recover(); fault != nil {
			s.shown = before
			rest = Rest{Panic: fmt.Sprintf("%v\n%s", fault, debug.Stack())}
		}
	}()
	s.shown = before.clone()
	d.parts = nil
	if d.rest(); d.fault != nil {
		panic(d.fault) // the templates wrote the first parts
	}
	return Rest{Parts: d.parts}
}

// rest draws what is not as it is to be.
func (d *drawing) rest() {
	for _, i := range d.Shots() {
		d.shot(i)
	}
	d.always("m0", d.Matrix)
}

func (d *drawing) html(write func(io.Writer) error) string {
	var b bytes.Buffer
	if err := write(&b); err != nil && d.fault == nil {
		d.fault = err
	}
	return b.String()
}

// always draws a part to find whether it changed.
func (d *drawing) always(id string, write func(io.Writer) error) {
	now := d.html(write)
	if was, known := d.to.parts[id]; !known || was != now {
		d.parts = append(d.parts, Part{id, now})
		d.to.parts[id] = now
	}
}

// shot draws the section of a shot unless it is as it is to be.
func (d *drawing) shot(i int) {
	if d.shots[i] == d.to.shots[i] {
		return
	}
	d.of.Hold(i, answer.Ranked)
	id := strconv.Itoa(i + 1)
	d.parts = append(d.parts,
		Part{"a" + id, d.html(func(to io.Writer) error { return d.Stands(to, i) })},
		Part{"b" + id, d.html(func(to io.Writer) error { return d.Behind(to, i) })})
	d.to.shots[i] = d.shots[i]
}

// figures gives what the controls of a state show.
func (s *Session) figures(state whatif.State) []Figure {
	var all []Figure
	for _, one := range state {
		control := one.Control()
		for end, value := range control.Values(one.Text, s.Plan.Printer()) {
			all = append(all, Figure{control.Key, end, value, control.Saved[min(end, len(control.Saved)-1)].Text})
		}
	}
	return all
}

// JSON gives what "recommend" prints as JSON for the changed files of a fragment. With faults it fails.
func (s *Session) JSON(fragment string) (text string, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("%v\n%s", fault, debug.Stack())
		}
	}()
	state, faults := s.Plan.Read(fragment)
	edited, wrong := s.Plan.Edit(state)
	if faults = append(faults, wrong...); faults != nil {
		return "", errors.New(faults[0].Says)
	}
	ctx := context.Background()
	r, err := engine.Recommend(ctx, edited.Scenario, engine.Options{Runners: answer.Runners, Hold: answer.Ranked})
	if err != nil {
		return "", err
	}
	a, err := answer.Around(ctx, r)
	if err != nil {
		return "", err
	}
	var b bytes.Buffer
	err = travel.WriteJSON(&b, travel.Recommendation(a, false, s.Plan.Printer()))
	return b.String(), err
}
