package whatif

import (
	"bytes"
	"io"
	"maps"
	"slices"
	"strconv"

	"glassbrief/cmd/report"
	"glassbrief/engine/answer"
	"glassbrief/engine/whatif"
)

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
