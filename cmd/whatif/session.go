package whatif

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime/debug"
	"strings"

	"glassbrief/cmd/report"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
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
			reply = Reply{Fragment: strings.TrimPrefix(fragment, "#"), Panic: s.forget(before, fault)}
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

// forget puts back what the page had before a call that panicked, keeps nothing that the call may have left
// half made, and says why it failed.
func (s *Session) forget(before shown, fault any) string {
	s.shown, s.left, s.frames = before, nil, nil
	return traceOf(fault)
}

// traceOf says what a panic said, and where it came from.
func traceOf(fault any) string { return fmt.Sprintf("%v\n%s", fault, debug.Stack()) }

// faultOf says an error that lies at no control.
func faultOf(err error) whatif.Fault {
	var found lang.Diagnostics
	if errors.As(err, &found) && len(found) > 0 {
		return whatif.Fault{Says: whatif.Sentences(found[0])}
	}
	return whatif.Fault{Says: err.Error()}
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
			rest = Rest{Panic: s.forget(before, fault)}
		}
	}()
	s.shown = before.clone()
	d.parts = nil
	if d.rest(); d.fault != nil {
		panic(d.fault) // the templates wrote the first parts
	}
	return Rest{Parts: d.parts}
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
			err = errors.New(traceOf(fault))
		}
	}()
	state, faults := s.Plan.Read(fragment)
	edited, wrong := s.Plan.Edit(state)
	if faults = append(faults, wrong...); faults != nil {
		return "", errors.New(faults[0].Says)
	}
	a, err := answer.Of(context.Background(), edited.Scenario, engine.Options{Runners: answer.Runners, Hold: answer.Ranked})
	if err != nil {
		return "", err
	}
	var b bytes.Buffer
	err = travel.WriteJSON(&b, travel.Recommendation(a, false, s.Plan.Printer()))
	return b.String(), err
}
