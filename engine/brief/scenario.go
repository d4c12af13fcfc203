package brief

import (
	"fmt"
	"math"
	"time"

	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/engine/plausible"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// A Scenario is a brief with all names resolved: what must be shot, with what equipment,
// judged by which rules. It is not changed once loaded.
type Scenario struct {
	Name      string
	Script    lang.Text         // path of the script; zero when none is named
	Unit      string            // of the production; "" for the only one, or where there are several
	Cameras   []*catalog.Camera // candidates; the first is the plan
	Rig       *catalog.Rig
	Shots     []*Shot
	Catalogue *catalog.Catalogue             // with the middle of its range for every figure that is assumed
	Stated    *catalog.Catalogue             // as the files have it
	Assumed   []Assumption                   // the figures that nobody has stated
	about     [OfFilter + 1]map[string][]int // their places, by what has them and its name
	Around    *plausible.Context             // what tells the class of a lens
	Rules     *rules.Set
	Limits    Limits
	Expects   []Expectation

	Accessories Accessories
	Drop        DropWindow // of the drop time that the rig is trimmed to
	Tolerances  Tolerances // of what the shots say
	Prices      Prices     // of minutes and money

	Units  []Unit         // that work side by side; none for one
	Days   []Day          // the earliest first; none for one day without hours
	Zone   *time.Location // of the days; nil for no zone in particular
	Places []Place
	Truck  Truck
	Budget float64   // money for all hire; negative for no limit
	start  time.Time // of the first day

	Mode      string    // of the camera; "" for its first
	Squeeze   float64   // of all glass; 0 for any
	Delivery  Delivery  // which part of the sensor is delivered
	Confusion float64   // circle of confusion in metres; NaN for the diagonal rule
	ISO       float64   // highest to use; NaN for the camera's own
	Span      lang.Span // of the scenario block
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
		Mode: h.Mode.Value, Squeeze: h.Squeeze.Value, Confusion: h.Confusion.OrNaN(),
		Accessories: h.Accessories, Drop: l.drop(h.Drop), Tolerances: l.tolerances(h.Vary), Prices: l.prices(),
		ISO: h.ISO.OrNaN(), Budget: h.Budget.Or(-1), Span: h.Span,
	}
	for _, name := range h.Cameras {
		if camera := resolve(l, &s.Catalogue.Cameras, name); camera != nil {
			s.Cameras = append(s.Cameras, camera)
			l.checkMode(camera, h.Mode)
		}
	}
	s.Delivery = l.delivery(s.Cameras)
	l.listing(s)
	if h.Rig.Span.Known() {
		s.Rig = resolve(l, &s.Catalogue.Rigs, h.Rig)
		l.checkPayload(s.Rig)
	}
	s.Limits = l.limits(s.Catalogue)
	l.units(s)
	l.days(s)
	l.places(s)
	l.shots(s)
	l.after(s)
	l.order(s)
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

func (l *loader) outOfRange(span lang.Span, summary, detail string) {
	l.report(lang.Diagnostic{Severity: lang.Error, Code: lang.OutOfRange, Span: span, Summary: summary, Detail: detail})
}

// ShotInput gives what the facts of the shot are computed from, on a camera.
func (s *Scenario) ShotInput(shot *Shot, camera *catalog.Camera) facts.ShotInput {
	moves := shot.Move.motion(shot.Near)
	moves.KeepsByEye = moves.KeepsByEye && !shot.Marks
	if shot.Support != facts.Sled {
		moves.Unrest = 0
	}
	return facts.ShotInput{
		Subject: shot.Subject.subject(shot.Offset),
		Near:    shot.Near, Far: shot.Far, Background: shot.Background,
		WantNear: shot.Frame.Near, WantFar: shot.Frame.Far,
		Motion: moves, Support: shot.Support, Marks: shot.Marks, Free: shot.Room != nil, Focus: shot.Focus,
		Light: shot.Light, Rate: shot.Rate, ShutterAngle: shot.Shutter,
		BaseISO: camera.LowestBase().OrNaN(), HighBaseISO: highestBase(camera), TopISO: s.TopISO(camera),
		Autofocus: camera.Autofocus.Set, RigIsolation: s.Rig.Isolation.OrNaN(),
	}
}

func highestBase(camera *catalog.Camera) float64 {
	if bases := camera.BaseISOs(); len(bases) > 0 {
		return bases[len(bases)-1]
	}
	return math.NaN()
}

// TopISO gives the highest ISO to use: that of the scenario, or else of the camera; NaN
// when neither says.
func (s *Scenario) TopISO(camera *catalog.Camera) float64 {
	top := s.ISO
	if math.IsNaN(top) {
		top = camera.ISORange.High.OrNaN()
	}
	return max(top, camera.LowestBase().Or(top))
}

// WithTopISO gives the scenario with another highest ISO.
func (s *Scenario) WithTopISO(iso float64) *Scenario {
	changed := *s
	changed.ISO = iso
	return &changed
}

// Weighing gives the scenario with other weights of the criteria in force, in their order. What shots
// prefer keeps its weight.
func (s *Scenario) Weighing(weights []float64) *Scenario {
	changed := *s
	changed.Rules, changed.Shots = s.Rules.Weighing(weights), make([]*Shot, len(s.Shots))
	for i, shot := range s.Shots {
		weighed := *shot
		weighed.judgeBeside(changed.Shots[:i], shot.Rules.Weighing(weights))
		changed.Shots[i] = &weighed
	}
	return &changed
}

// Camera gives the candidate of a name, the first for "". It fails with [lang.Diagnostics]
// when the name is of no candidate.
func (s *Scenario) Camera(name string) (*catalog.Camera, error) {
	if name == "" {
		return s.Cameras[0], nil
	}
	var names []string
	for _, camera := range s.Cameras {
		if camera.Name.Value == name {
			return camera, nil
		}
		names = append(names, camera.Name.Value)
	}
	return nil, lang.Diagnostics{{
		Severity: lang.Error, Code: lang.UnknownName,
		Summary: fmt.Sprintf("the scenario has no camera %q", name),
		Detail:  fmt.Sprintf("Its candidates are %s.", lang.Quoted(names)),
		Instead: lang.Nearest(name, names),
	}}
}
