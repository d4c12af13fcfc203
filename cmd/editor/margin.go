package editor

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A memory keeps what was judged of each document from one state to the next, so that a key has one shot
// judged anew and not all.
type memory struct {
	mu sync.Mutex
	of map[string]*judged
}

// at gives what is kept of a document.
func (m *memory) at(uri string) *judged {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.of == nil {
		m.of = map[string]*judged{}
	}
	if m.of[uri] == nil {
		m.of[uri] = &judged{}
	}
	return m.of[uri]
}

func (m *memory) forget(uri string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.of, uri)
}

// A judged is the last state of a scenario that was judged.
type judged struct {
	mu    sync.Mutex
	of    *reading
	shots []string // the text of each shot
	rest  string   // what all else says
	table *engine.Table

	chosen *engine.Table // that the kit was chosen from
	kit    engine.Kit
	uses   map[string]string // the lens of each shot of it, by the text of the shot
	said   map[saidKey]said
	asked  bool // the client has asked for the margin
}

// saidKey is the text of a shot and its lens.
type saidKey struct{ shot, lens string }

// said is what the margin says of a shot: the line above it, and the stop, "" where no lens does it.
type said struct{ line, stop string }

// follow judges a state, of which only the shots are judged that the last one did not have.
func (j *judged) follow(ctx context.Context, r *reading, src *lang.Source) error {
	if j.of == r && j.table != nil {
		return nil
	}
	shots, rest := r.shotTexts(src)
	same := j.table != nil && rest == j.rest && maps.Equal(r.files, j.of.files) && r.house == j.of.house
	if !same {
		table, err := engine.Judge(ctx, r.scenario, engine.Options{})
		if err != nil {
			return err
		}
		j.table, j.chosen, j.uses = table, nil, map[string]string{}
		j.said = map[saidKey]said{}
	} else {
		places := map[string]int{}
		for i, text := range j.shots {
			places[text] = i
		}
		from := make([]int, len(shots))
		for i, text := range shots {
			if at, ok := places[text]; ok {
				from[i] = at
			} else {
				from[i] = -1
			}
		}
		table, err := j.table.Follow(ctx, r.scenario, from)
		if err != nil {
			return err
		}
		j.table = table
	}
	j.of, j.shots, j.rest = r, shots, rest
	return nil
}

// choose chooses the kit of the state that is judged, and reports whether another lens than before is on
// anywhere.
func (j *judged) choose() (moved bool, err error) {
	if j.chosen == j.table {
		return false, nil
	}
	choice, err := j.table.Choose(j.table.Scenario.Limits, engine.Options{})
	if err != nil {
		return false, err
	}
	uses := map[string]string{}
	for i, text := range j.shots {
		uses[text] = choice.Kit.Uses[i]
		moved = moved || j.use(i) != choice.Kit.Uses[i]
	}
	j.chosen, j.kit, j.uses = j.table, choice.Kit, uses
	return moved, nil
}

// use gives the lens of a shot: that of the kit, or of a shot that has changed since the kit was chosen the
// best of the kit; "" for none.
func (j *judged) use(shot int) string {
	if lens, ok := j.uses[j.shots[shot]]; ok {
		return lens
	}
	best, lens := 0.0, ""
	for _, name := range j.kit.Lenses {
		if at := j.table.Place(name); at >= 0 {
			if o := j.table.Outcome(shot, at); o.Acceptable() && o.Score > best {
				best, lens = o.Score, name
			}
		}
	}
	return lens
}

// keysRest is how long no key comes before the kit of a long scenario is chosen anew.
const keysRest = 300 * time.Millisecond

// judgePatience bounds the judging of a whole scenario for the margin.
const judgePatience = time.Minute

// settle works out what takes the kit of a scenario: the expectations that do not hold, and whether the
// margin is to say something else. Nothing is worked out that nobody asks for.
func (s *server) settle(d *document) (broken lang.Diagnostics, moved bool) {
	defer s.survive(d)
	r, j := s.read(d), s.memory.at(d.uri)
	j.mu.Lock()
	asked := j.asked
	j.mu.Unlock()
	if r.scenario == nil || !asked && len(r.scenario.Expects) == 0 {
		return nil, false
	}
	if r.late() {
		select {
		case <-time.After(keysRest):
		case <-s.ctx.Done():
			return nil, false
		}
	}
	patience := s.Patience
	if asked {
		patience = judgePatience
	}
	ctx, cancel := context.WithTimeout(s.ctx, patience)
	defer cancel()
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.follow(ctx, r, d.source); err != nil {
		return nil, false // it has ended, or the camera cannot be judged on, which is among the findings
	}
	moved, err := j.choose()
	if err != nil {
		return nil, false // the limits contradict each other, which "check" says
	}
	return j.kit.Breaks(r.scenario), moved && asked
}

// A codeLens is a line above a place.
type codeLens struct {
	Range   textRange `json:"range"`
	Command command   `json:"command"`
}

// A command is what a client would do when its title is clicked: nothing.
type command struct {
	Title   string `json:"title"`
	Command string `json:"command"`
}

// lenses says above each shot with which lens it is done, in which set-up, and how well.
func (s *server) lenses(d *document, _ *params) (any, error) {
	all := []codeLens{}
	s.eachShot(d, func(j *judged, i int, shot *brief.Shot) {
		all = append(all, codeLens{rangeOf(shot.Span), command{Title: j.say(i, s.Printer).line}})
	})
	if d.kind == "scenario" && s.read(d).scenario == nil {
		all = append(all, s.lastLenses(d)...)
	}
	return all, nil
}

// lastLenses says of a text with errors what was said of those shots that stand in it as before, since most
// texts have errors while somebody types.
func (s *server) lastLenses(d *document) (all []codeLens) {
	j := s.memory.at(d.uri)
	j.mu.Lock()
	defer j.mu.Unlock()
	for place := range d.source.Tokens() {
		if place.Kind != lang.AtKeyword || place.Block() != "" || place.Span.Text() != "shot" {
			continue
		}
		text := d.source.Text[place.Span.Start:blockEnd(d.source.Text, place.Span.Start)]
		if lens, ok := j.uses[text]; ok {
			if said, known := j.said[saidKey{text, lens}]; known {
				all = append(all, codeLens{rangeOf(place.Span), command{Title: said.line}})
			}
		}
	}
	return all
}

// eachShot calls use for each shot of a scenario with what is judged of it; for none while the text has
// errors or is no scenario.
func (s *server) eachShot(d *document, use func(*judged, int, *brief.Shot)) {
	if d.kind != "scenario" {
		return
	}
	r, j := s.read(d), s.memory.at(d.uri)
	j.mu.Lock()
	defer j.mu.Unlock()
	j.asked = true
	if r.scenario == nil {
		return
	}
	ctx, cancel := context.WithTimeout(s.ctx, judgePatience)
	defer cancel()
	if err := j.follow(ctx, r, d.source); err != nil {
		return
	}
	if j.chosen == nil || !r.late() {
		if _, err := j.choose(); err != nil {
			return
		}
	}
	for i, shot := range r.scenario.Shots {
		use(j, i, shot)
	}
}

// say says what the margin has of a shot.
func (j *judged) say(shot int, p lang.Printer) said {
	lens := j.use(shot)
	key := saidKey{j.shots[shot], lens}
	of, known := j.said[key]
	if !known {
		of.line = wording.NoneOfKit
		if at := j.table.Place(lens); lens != "" && at >= 0 {
			judgement := j.table.Explain(shot, at)
			of = said{wording.Margin(&judgement, p), wording.Fact(&judgement, facts.Stop, p)}
		}
		j.said[key] = of
	}
	return of
}

// A hint is a text that stands in a line and is no part of it.
type hint struct {
	Position    position `json:"position"`
	Label       string   `json:"label"`
	PaddingLeft bool     `json:"paddingLeft"`
}

// hints gives the lengths of a range in the other system of units, and behind the light of each shot, or its
// distance, the stop that it is shot at.
func (s *server) hints(d *document, p *params) (any, error) {
	found := []hint{}
	from, to := offsetOf(d.source, p.Range.Start), offsetOf(d.source, p.Range.End)
	stopAt := map[int]int{} // by the start of the shot, where its stop goes
	add := func(offset int, label string) {
		if from <= offset && offset <= to {
			found = append(found, hint{positionOf(d.source, offset), label, true})
		}
	}
	low := "" // the other end of the interval that is read
	for place := range d.source.Tokens() {
		if place.Block() == "shot" && place.Kind != lang.AtComment && (place.Keyword.Value == "light" || place.Keyword.Value == "distance") {
			start := place.Blocks[0].Keyword.Span.Start
			if at, ok := stopAt[start]; !ok || place.Keyword.Value == "light" || d.source.Position(at).Line == place.Span.Position().Line {
				stopAt[start] = place.Span.End
			}
		}
		if place.Kind != lang.AtQuantity {
			continue
		}
		other := otherUnits(place.Span)
		switch {
		case other == "":
		case place.Last().Text() == ".." && low != "" && len(found) > 0:
			found = found[:len(found)-1]
			add(place.Span.End, "= "+low+".."+other)
		default:
			add(place.Span.End, "= "+other)
		}
		low = ""
		if from <= place.Span.End && place.Span.End <= to {
			low = other
		}
	}
	s.eachShot(d, func(j *judged, i int, shot *brief.Shot) {
		if at, ok := stopAt[shot.Span.Start]; ok && from <= at && at <= to {
			if stop := j.say(i, s.Printer).stop; stop != "" {
				add(at, "→ "+stop)
			}
		}
	})
	slices.SortStableFunc(found, func(a, b hint) int {
		return cmp.Or(a.Position.Line-b.Position.Line, a.Position.Character-b.Position.Character)
	})
	return found, nil
}

// otherUnits writes a length that people pace or tape in the system that it is not written in, or "".
func otherUnits(span lang.Span) string {
	q, fault := lang.ReadQuantity(span)
	if fault != nil || q.Dim != lang.Length {
		return ""
	}
	switch q.Unit {
	case "m", "cm":
		return lang.Printer{System: lang.Imperial}.Quantity(q.Value, "m")
	case "ft", "in":
		return lang.Printer{}.Quantity(q.Value, "m")
	}
	return ""
}
