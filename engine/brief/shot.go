package brief

import (
	"cmp"
	"fmt"
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/engine/kit"
	"glassbrief/engine/motion"
	"glassbrief/engine/rules"
	"glassbrief/engine/setup"
	"glassbrief/lang"
)

// A Shot is one set-up to be covered.
type Shot struct {
	Asked            *shotBlock // as the brief has it
	ID, Title, Scene string
	Heading          lang.Text // of the scene, as pinned; zero when it is not
	Weight           float64
	Move             Move
	Subject          Subject
	Frame            Frame
	Near, Far        float64 // from the sensor plane, in metres
	Room             *Room   // in which the camera may stand anywhere; nil where the distances are given
	Marks            bool    // what the distances are kept by is marked on the floor
	Support          facts.Support
	Mode             string    // of the sensor; "" for the first of the camera
	Light            float64   // lux, the least of all readings
	Readings         []Reading // none where the brief does not say: then the light is assumed
	Passage          float64   // width of the narrowest place, in metres; NaN when not given
	Beside           []Hazard  // of the place
	Focus            facts.Focus
	Background       float64 // NaN for the assumed one
	Offset           float64
	Rate             float64    // 1/s
	Shutter          float64    // rad
	Where            int        // place among those of the scenario; -1 where it has none
	Unit             int        // that shoots it, among those of the scenario; -1 for any
	Takes            float64    // minutes; NaN when not given
	Windows          []*Window  // in which it lies, for each day of the scenario, nil for never; nil without days
	Pinned           bool       // its day is said
	BySun            bool       // it is held to the time of the light of the sun
	After            []int      // places of the shots that it comes after
	Free             Freedom    // to leave the order as written
	Rules            *rules.Set // those of the scenario with what the shot itself asks for
	Lens             string     // that it is to be shot with; "" for any
	Span             lang.Span

	Plan *facts.Plan // fills what judging reads
	Task *setup.Task // the rules, ready for the search of set-ups

	others *Shot // the rules of lenses that it does not ask for; nil where it asks for none

	sceneSpan, lightSpan lang.Span
}

// ForOthers gives the shot as lenses are judged in it that it does not ask for, which are out; nil where
// it asks for none.
func (s *Shot) ForOthers() *Shot {
	if s.others == nil {
		return nil
	}
	other := *s
	other.JudgeAs(s.others)
	other.others = nil
	return &other
}

// RulesFor gives the rules by which a lens is judged in the shot.
func (s *Shot) RulesFor(lens string) *rules.Set {
	if s.others != nil && lens != s.Lens {
		return s.others.Rules
	}
	return s.Rules
}

// Metered reports whether the brief says what light there is.
func (s *Shot) Metered() bool { return len(s.Readings) > 0 }

// JudgeBy sets the rules of the shot.
func (s *Shot) JudgeBy(set *rules.Set) { s.judgeBeside(nil, set) }

// judgeBeside is JudgeBy for a shot beside others, whose rules are the same for the most part.
func (s *Shot) judgeBeside(others []*Shot, set *rules.Set) {
	var before *setup.Task
	if len(others) > 0 {
		before = others[0].Task
	}
	s.Rules, s.Plan, s.Task = set, facts.PlanOf(set.Reads()), setup.NewTask(set, before)
}

// JudgeAs sets the rules of the shot to those of another, made ready once for both.
func (s *Shot) JudgeAs(other *Shot) { s.Rules, s.Plan, s.Task = other.Rules, other.Plan, other.Task }

// Place puts the subject at other distances, unless the brief leaves it free where the camera
// stands. A background that is given stays where it is, unless the subject would pass it.
func (s *Shot) Place(near, far float64) {
	if s.Room != nil {
		return
	}
	s.Near, s.Far = near, far
	if s.Background < far {
		s.Background = far
	}
}

// Stand puts the camera at a distance of its room, with the background behind the subject
// where it was.
func (s *Shot) Stand(at float64) {
	s.Near, s.Far, s.Background = at, at, at+s.Room.Behind
}

func (l *loader) shots(s *Scenario) {
	seen := map[string]lang.Span{}
	if len(l.doc.Shots) == 0 && l.doc.Scenario.Span.Known() && !l.found.HasErrors() {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.MissingField, Span: l.doc.Scenario.Span,
			Summary: "the scenario has no shots", Detail: "Add a block for each shot, which begins with a line like: shot \"1A\" {.",
		})
	}
	if len(l.doc.Shots) > kit.MaxShots {
		l.outOfRange(l.doc.Shots[kit.MaxShots].Span, fmt.Sprintf("there are more than %d shots", kit.MaxShots), "Split the scenario by days.")
		return
	}
	for i := range l.doc.Shots {
		block := &l.doc.Shots[i]
		if first, ok := seen[block.ID.Value]; ok {
			l.nameTwice("shot", block.ID, first)
		}
		seen[block.ID.Value] = block.ID.Span
		s.Shots = append(s.Shots, l.shot(block, s))
	}
}

func (l *loader) shot(b *shotBlock, s *Scenario) *Shot {
	h := &l.doc.Scenario
	shot := &Shot{
		Asked: b, ID: b.ID.Value, Title: b.Title.Value, Scene: b.Scene.Value, Heading: b.Heading,
		Weight: b.Weight.Or(1), Move: b.Move, Subject: b.Subject, Frame: b.Frame,
		Near: b.Distance.given.Low.OrNaN(), Far: b.Distance.given.High.OrNaN(), Room: b.Distance.room,
		Marks: b.Marks.Set, Support: supports[b.Support.Value], Mode: cmp.Or(b.Mode.Value, h.Mode.Value),
		Light: b.Light.worst(), Readings: b.Light.readings, Passage: b.Passage.OrNaN(), Background: b.Background.OrNaN(), Offset: b.Offset.Or(0),
		Rate: b.Rate.Or(h.Rate.Or(defaultRate)), Shutter: b.Shutter.Or(h.Shutter.Or(defaultShutter)),
		Span: b.Span, sceneSpan: b.Scene.Span, lightSpan: b.Light.span,
	}
	switch b.Focus.Value {
	case "pulled":
		shot.Focus = facts.Pulled
	case "auto":
		shot.Focus = facts.Auto
	}
	for _, word := range b.Beside {
		if word.Value != "" {
			shot.Beside = append(shot.Beside, hazardOf(word.Value))
		}
	}
	l.checkShot(b, shot)
	shot.Unit, shot.Where = l.unitOf(s, b), l.placeOf(s, b.At)
	l.times(s, b, shot)
	for _, camera := range s.Cameras {
		l.checkMode(camera, b.Mode)
	}
	if shot.Room != nil {
		shot.Room.Behind = shot.Background - shot.Room.Far
		shot.Stand(shot.Room.Middle())
	}
	needs := b.Needs
	if b.Stop.Known() {
		needs = append(slices.Clone(needs), stopNeed(b.Stop))
	}
	set, ds := s.Rules.With(needs, b.Prefers)
	l.found = append(l.found, ds...)
	if lens := resolve(l, &s.Catalogue.Lenses, b.Lens); lens != nil {
		l.checkLens(s, b.Lens, lens)
		shot.Lens, shot.others = b.Lens.Value, &Shot{}
		out, _ := s.Rules.With(append(slices.Clone(needs), otherNeed(shot.Lens)), b.Prefers)
		shot.others.JudgeBy(out)
	}
	if other := slices.IndexFunc(s.Shots, func(other *Shot) bool { return other.Rules == set }); other >= 0 {
		shot.JudgeAs(s.Shots[other])
	} else {
		shot.judgeBeside(s.Shots, set)
	}
	return shot
}

func (l *loader) checkShot(b *shotBlock, shot *Shot) {
	l.checkDistance(b, shot)
	l.checkSupport(b, shot)
	if b.Background.Known() && b.Background.Value < b.Distance.given.High.Or(0) {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.Contradiction, Span: b.Background.Span,
			Summary: "the background stands nearer than the farthest subject",
			Detail:  "Write the distance from the sensor plane to what is behind the subject.",
			Related: []lang.Related{{Span: b.Distance.given.Span, Note: "the distances of the subject are here"}},
		})
	}
	if b.Move.Span.Known() && b.Move.Way == motion.Standing && shot.Near < shot.Far && shot.Room == nil {
		l.report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Improbable, Span: b.Move.Span,
			Summary: "the camera holds still, and the distance changes",
			Detail:  "That is right when the subject moves; else write one distance, or the move.",
		})
	}
}
