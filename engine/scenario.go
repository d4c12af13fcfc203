package engine

import (
	"fmt"
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/engine/kit"
	"glassbrief/engine/motion"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// A Scenario is a brief with all names resolved: what must be shot, with what equipment,
// judged by which rules. It is not changed once loaded.
type Scenario struct {
	Name      string
	Script    lang.Text         // path of the script; zero when none is named
	Cameras   []*catalog.Camera // candidates; the first is the plan
	Rig       *catalog.Rig
	Shots     []*Shot
	Catalogue *catalog.Catalogue
	Rules     *rules.Set
	Limits    Limits
	Expects   []Expectation

	Accessories Accessories
	Drop        Window     // of the drop time that the rig is trimmed to
	Tolerances  Tolerances // of what the shots say

	mode      string
	ratio     float64 // delivered; 0 for the sensor's own
	confusion float64 // NaN for the diagonal rule
	topISO    float64 // NaN for the camera's own
	span      lang.Span
}

// A Window is an interval of time, in seconds.
type Window struct{ Low, High float64 }

// UsualDrop is the drop time of a sled that is balanced for handheld work; common
// practice, no published source.
var UsualDrop = Window{Low: 1.5, High: 2}

// Limits bound the kit.
type Limits struct {
	Carry     int
	Rent      float64 // money a day; negative for no limit
	Currency  string
	BagMass   float64 // kg; 0 for no limit
	Bring     []string
	Leave     []string
	OwnedOnly bool

	bring lang.Span // where Bring is asked for
}

// A Shot is one set-up to be covered.
type Shot struct {
	ID, Title, Scene string
	Heading          lang.Text // of the scene, as pinned; zero when it is not
	Weight           float64
	Move             Move
	Subject          Subject
	Frame            Frame
	Near, Far        float64 // from the sensor plane, in metres
	Light            float64 // lux, the least of all readings; NaN when unknown
	Readings         []Reading
	Passage          float64  // width of the narrowest place, in metres; NaN when not given
	Beside           []Hazard // of the place
	Focus            facts.Focus
	Background       float64 // NaN for the assumed one
	Offset           float64
	Rate             float64    // 1/s
	Shutter          float64    // rad
	Rules            *rules.Set // those of the scenario with what the shot itself asks for
	Span             lang.Span

	reads                facts.Set // the facts that judging looks at
	sceneSpan, lightSpan lang.Span
}

// Place puts the subject at other distances. A background that is given stays where it is,
// unless the subject would pass it.
func (s *Shot) Place(near, far float64) {
	s.Near, s.Far = near, far
	if s.Background < far {
		s.Background = far
	}
}

// An Expectation is an "expect" statement.
type Expectation struct {
	Kit  []string // the lenses the kit must hold; nil when it is about a shot
	Shot string
	Lens string
	Span lang.Span
}

// What holds when a scenario does not say otherwise: two lenses in the bag, cine rate and
// shutter.
const (
	defaultCarry   = 2
	defaultRate    = 24
	defaultShutter = math.Pi
)

// scenario resolves the document. Faults are reported, and what is faulty is left out.
func (l *loader) scenario() *Scenario {
	h := &l.doc.Scenario
	s := &Scenario{
		Name: h.Name.Value, Script: h.Script, Catalogue: l.catalogue(), Rules: l.rules(),
		mode: h.Mode.Value, ratio: h.Deliver.Value, confusion: h.Confusion.OrNaN(),
		Accessories: h.Accessories, Drop: l.drop(h.Drop), Tolerances: l.tolerances(h.Vary),
		topISO: h.ISO.OrNaN(), span: h.Span,
	}
	l.positive(h.Confusion, h.Rate, h.Shutter, h.ISO)
	for _, name := range h.Cameras {
		if camera := resolve(l, &s.Catalogue.Cameras, name); camera != nil {
			s.Cameras = append(s.Cameras, camera)
			l.checkMode(camera, h.Mode)
		}
	}
	if h.Rig.Span.Known() {
		s.Rig = resolve(l, &s.Catalogue.Rigs, h.Rig)
	}
	s.Limits = l.limits(s.Catalogue)
	l.shots(s)
	l.expectations(s)
	return s
}

// resolve finds an item by name, or reports that there is none.
func resolve[T any](l *loader, shelf *catalog.Shelf[T], name lang.Text) *T {
	if !name.Span.Known() {
		return nil
	}
	item, d := shelf.Resolve(name)
	if d != nil {
		l.report(*d)
	}
	return item
}

func (l *loader) checkMode(camera *catalog.Camera, mode lang.Text) {
	if !mode.Span.Known() || camera.Mode(mode.Value) != nil {
		return
	}
	names := camera.ModeNames()
	l.report(lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnknownName, Span: mode.Span,
		Summary: fmt.Sprintf("%q has no mode %q", camera.Name.Value, mode.Value),
		Detail:  fmt.Sprintf("Its modes are %s.", lang.Quoted(names)),
		Instead: lang.Nearest(mode.Value, names),
	})
}

// positive reports known quantities that are not above zero.
func (l *loader) positive(quantities ...lang.Quantity) {
	for _, q := range quantities {
		if q.Known() && !(q.Value > 0) {
			l.outOfRange(q.Span, fmt.Sprintf("%q must be above zero", q.Span.Text()), "Write a value above zero, or leave the line out.")
		}
	}
}

func (l *loader) outOfRange(span lang.Span, summary, detail string) {
	l.report(lang.Diagnostic{Severity: lang.Error, Code: lang.OutOfRange, Span: span, Summary: summary, Detail: detail})
}

// drop gives the window of the drop time, the usual one where an end is not given.
func (l *loader) drop(i lang.Interval) Window {
	l.positive(i.Low, i.High)
	w := Window{Low: i.Low.Or(min(UsualDrop.Low, i.High.Or(UsualDrop.Low))), High: i.High.Or(max(UsualDrop.High, i.Low.Or(UsualDrop.High)))}
	if i.Known() && (w.Low < 0.5 || w.High > 6) {
		l.report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Improbable, Span: i.Span,
			Summary: fmt.Sprintf("%q is an improbable drop time", i.Span.Text()),
			Detail:  "From 1.5s to 2s is usual: the time from horizontal to hanging plumb for the first time.",
		})
	}
	return w
}

func (l *loader) limits(c *catalog.Catalogue) Limits {
	h := &l.doc.Scenario
	limits := Limits{
		Carry: defaultCarry, Rent: h.Rent.Or(-1), Currency: h.Rent.Unit,
		BagMass: h.Bag.Or(0), OwnedOnly: h.OwnedOnly.Set,
	}
	if carry := h.Carry; carry.Known() {
		limits.Carry = int(carry.Value)
		if carry.Value < 1 || carry.Value != math.Trunc(carry.Value) || carry.Value > maxCarry {
			l.outOfRange(carry.Span, fmt.Sprintf("%q is no number of lenses to carry", carry.Span.Text()),
				fmt.Sprintf("Write a whole number from 1 to %d.", maxCarry))
		}
	}
	l.positive(h.Bag)
	if h.Rent.Known() && h.Rent.Value < 0 {
		l.outOfRange(h.Rent.Span, "the rent limit is below zero", "Write what may be spent a day, 0 for nothing.")
	}
	for _, list := range []struct {
		names []lang.Text
		to    *[]string
	}{{h.Bring, &limits.Bring}, {h.Leave, &limits.Leave}} {
		for _, name := range list.names {
			if resolve(l, &c.Lenses, name) != nil {
				*list.to = append(*list.to, name.Value)
			}
		}
	}
	if len(h.Bring) > 0 {
		limits.bring = h.Bring[0].Span
	}
	l.checkCurrency(c, &limits)
	return limits
}

// maxCarry bounds the kit: beyond it nobody chooses, they bring the case.
const maxCarry = 6

// checkCurrency holds the rent limit to the currency of the catalogue, which has one, since
// nothing here knows a rate of exchange.
func (l *loader) checkCurrency(c *catalog.Catalogue, limits *Limits) {
	for _, lens := range c.Lenses.All() {
		rate, rent := lens.Have.DayRate, l.doc.Scenario.Rent
		switch {
		case !rate.Known() || rate.Unit == limits.Currency:
		case !rent.Known():
			limits.Currency = rate.Unit
		default:
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.Contradiction, Span: rent.Span,
				Summary: fmt.Sprintf("%q is in another currency than %q", rent.Span.Text(), rate.Span.Text()),
				Detail:  "Write all money of one brief in one currency.",
				Related: []lang.Related{{Span: rate.Span, Note: "this is the first price"}},
			})
			return
		}
	}
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
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.DuplicateName, Span: block.ID.Span,
				Summary: fmt.Sprintf("two shots are called %q", block.ID.Value), Detail: "Give each shot a name of its own.",
				Related: []lang.Related{{Span: first, Note: "the first one is here"}},
			})
		}
		seen[block.ID.Value] = block.ID.Span
		s.Shots = append(s.Shots, l.shot(block, s))
	}
}

func (l *loader) shot(b *shotBlock, s *Scenario) *Shot {
	h := &l.doc.Scenario
	shot := &Shot{
		ID: b.ID.Value, Title: b.Title.Value, Scene: b.Scene.Value, Heading: b.Heading,
		Weight: b.Weight.Or(1), Move: b.Move, Subject: b.Subject, Frame: b.Frame,
		Near: b.Distance.Low.OrNaN(), Far: b.Distance.High.OrNaN(),
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
	l.positive(b.Distance.Low, b.Distance.High, b.Rate, b.Shutter, b.Background, b.Passage)
	l.checkShot(b, shot)
	set, ds := s.Rules.With(b.Needs, b.Prefers)
	l.found = append(l.found, ds...)
	shot.Rules, shot.reads = set, set.Reads()
	return shot
}

func (l *loader) checkShot(b *shotBlock, shot *Shot) {
	if d := b.Distance; d.Span.Known() && !(d.Low.Known() && d.High.Known()) {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.BadInterval, Span: d.Span,
			Summary: "a shot needs both its nearest and its farthest distance",
			Detail:  "Write both ends, as \"1.6m..2.8m\".",
		})
	}
	if w := b.Weight; w.Known() && !(w.Value > 0 && w.Value <= kit.MaxWeight) {
		l.outOfRange(w.Span, fmt.Sprintf("%q is no weight", w.Span.Text()), fmt.Sprintf("Weights lie above 0 and up to %d; 1 is usual.", kit.MaxWeight))
	}
	if o := b.Offset; o.Known() && !(o.Value >= 0 && o.Value <= 1) {
		l.outOfRange(o.Span, fmt.Sprintf("%q puts the subject outside the frame", o.Span.Text()), "Write 0% for the middle and up to 100% for the edge.")
	}
	if b.Background.Known() && b.Background.Value < shot.Far {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.Contradiction, Span: b.Background.Span,
			Summary: "the background stands nearer than the farthest subject",
			Detail:  "Write the distance from the sensor plane to what is behind the subject.",
			Related: []lang.Related{{Span: b.Distance.Span, Note: "the distances of the subject are here"}},
		})
	}
	if shot.Shutter > 2*math.Pi {
		span := b.Shutter.Span
		if !span.Known() {
			span = l.doc.Scenario.Shutter.Span
		}
		l.outOfRange(span, "a shutter cannot be open for more than 360deg", "Write an angle up to 360deg.")
	}
	if shot.Near < 0.3 {
		l.report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Improbable, Span: b.Distance.Span,
			Summary: "the subject comes nearer than 30 cm to the sensor plane",
			Detail:  "Check the unit; the front of a lens reaches about that far.",
		})
	}
	if b.Move.Span.Known() && b.Move.Way == motion.Standing && shot.Near < shot.Far {
		l.report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Improbable, Span: b.Move.Span,
			Summary: "the camera holds still, and the distance changes",
			Detail:  "That is right when the subject moves; else write one distance, or the move.",
		})
	}
}

func (l *loader) expectations(s *Scenario) {
	shots := map[string]bool{}
	var ids []string
	for _, shot := range s.Shots {
		shots[shot.ID] = true
		ids = append(ids, shot.ID)
	}
	for _, e := range l.doc.Expects {
		expect := Expectation{Shot: e.Shot.Value, Lens: e.Lens.Value, Span: e.Span}
		for _, name := range e.Kit {
			resolve(l, &s.Catalogue.Lenses, name)
			expect.Kit = append(expect.Kit, name.Value)
		}
		if e.Kit == nil {
			resolve(l, &s.Catalogue.Lenses, e.Lens)
			if !shots[e.Shot.Value] && e.Shot.Span.Known() {
				l.report(lang.Diagnostic{
					Severity: lang.Error, Code: lang.UnknownName, Span: e.Shot.Span,
					Summary: fmt.Sprintf("there is no shot %q", e.Shot.Value),
					Detail:  fmt.Sprintf("The shots are %s.", lang.Quoted(ids)),
					Instead: lang.Nearest(e.Shot.Value, ids),
				})
			}
		}
		s.Expects = append(s.Expects, expect)
	}
}

// input gives what the facts of the shot are computed from, on a camera.
func (s *Scenario) input(shot *Shot, camera *catalog.Camera) facts.ShotInput {
	return facts.ShotInput{
		Subject: shot.Subject.subject(shot.Offset),
		Near:    shot.Near, Far: shot.Far, Background: shot.Background,
		WantNear: shot.Frame.Near, WantFar: shot.Frame.Far,
		Motion: shot.Move.motion(shot.Near), Focus: shot.Focus,
		Light: shot.Light, Rate: shot.Rate, ShutterAngle: shot.Shutter,
		BaseISO: camera.ISO.OrNaN(), TopISO: s.TopISO(camera),
		Autofocus: camera.Autofocus.Set, RigIsolation: s.Rig.Isolation.OrNaN(),
	}
}
