package brief

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// A Unit works beside others, with a camera and a rig of its own.
type Unit struct {
	Name   string
	Camera string
	Mode   string // of the sensor, where the shot does not say another; "" for the first of the camera
	Rig    string
	Carry  int
	Span   lang.Span
}

// unitLine is a "unit" statement.
type unitLine struct {
	name, camera, mode, rig lang.Text
	carry                   lang.Quantity
}

// DecodeArgs reads "B" camera "House body C" mode "Full" rig "Long sled" carry 1 lens.
func (u *unitLine) DecodeArgs(args *lang.Args) {
	u.name = args.Text()
	for args.More() && !args.Failed() {
		switch args.Word("camera", "mode", "rig", "carry").Value {
		case "camera":
			u.camera = args.Text()
		case "mode":
			u.mode = args.Text()
		case "rig":
			u.rig = args.Text()
		case "carry":
			u.carry = args.Quantity(lang.Plain)
			args.Skip("lenses", "lens")
		}
	}
}

// own reports where the unit says something of its own.
func (u *unitLine) own() lang.Span {
	for _, span := range []lang.Span{u.camera.Span, u.mode.Span, u.rig.Span, u.carry.Span} {
		if span.Known() {
			return span
		}
	}
	return lang.Span{}
}

// mostUnits bounds the units that are planned at once.
const mostUnits = 4

// units resolves the units. One alone only has a name.
func (l *loader) units(s *Scenario) {
	lines := l.doc.Scenario.Units
	if len(lines) == 1 {
		s.Unit = lines[0].name.Value
		if own := lines[0].own(); own.Known() {
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.Contradiction, Span: own,
				Summary: "a unit that works alone has what the scenario says", Detail: "Write this on a line of its own, or add a \"unit\" line for the other unit.",
			})
		}
		return
	}
	if len(lines) > mostUnits {
		l.outOfRange(lines[mostUnits].name.Span, fmt.Sprintf("there are more than %d units", mostUnits), "Split the scenario.")
		return
	}
	first := map[string]lang.Span{}
	for i := range lines {
		u := &lines[i]
		if !u.name.Span.Known() {
			continue
		}
		if earlier, twice := first[u.name.Value]; twice {
			l.nameTwice("unit", u.name, earlier)
			continue
		}
		first[u.name.Value] = u.name.Span
		s.Units = append(s.Units, l.unit(s, u))
	}
}

func (l *loader) unit(s *Scenario, u *unitLine) Unit {
	unit := Unit{Name: u.name.Value, Mode: cmp.Or(u.mode.Value, s.Mode), Carry: s.Limits.Carry, Span: u.name.Span}
	var camera *catalog.Camera
	if len(s.Cameras) > 0 {
		camera = s.Cameras[0]
	}
	if u.camera.Span.Known() {
		camera = resolve(l, &s.Catalogue.Cameras, u.camera)
		unit.Mode = u.mode.Value
	}
	if camera != nil {
		unit.Camera = camera.Name.Value
		l.checkMode(camera, u.mode)
	}
	rig := s.Rig
	if u.rig.Span.Known() {
		rig = resolve(l, &s.Catalogue.Rigs, u.rig)
		l.checkPayload(rig)
	}
	if rig != nil {
		unit.Rig = rig.Name.Value
	}
	if u.carry.Known() {
		unit.Carry = int(u.carry.Value)
		if u.carry.Value != math.Trunc(u.carry.Value) {
			l.outOfRange(u.carry.Span, fmt.Sprintf("%q is no number of lenses to carry", u.carry.Span.Text()), "Write a whole number.")
		}
	}
	return unit
}

// unitOf resolves which unit shoots a shot: its place, or -1 for any. The sensor mode of the shot must be
// one of every camera that may shoot it.
func (l *loader) unitOf(s *Scenario, b *shotBlock) int {
	of := -1
	if name := b.Unit; name.Span.Known() {
		var known []string
		for _, unit := range s.Units {
			known = append(known, unit.Name)
		}
		if of = slices.Index(known, name.Value); of < 0 {
			l.unknownName(name, fmt.Sprintf("there is no unit %q", name.Value), "The units are", known,
				"Add a line for each unit to \"scenario\", as: unit \"B\" camera \"House body C\".")
		}
	}
	for i, unit := range s.Units {
		if camera, ok := s.Catalogue.Cameras.Lookup(unit.Camera); ok && (of < 0 || of == i) && !slices.Contains(s.Cameras, camera) {
			l.checkMode(camera, b.Mode)
		}
	}
	return of
}

// ByUnit gives the scenario as a unit shoots it, with the camera, the rig and the bag of that unit.
func (s *Scenario) ByUnit(u *Unit) *Scenario {
	changed := *s
	changed.Unit, changed.Units, changed.Mode, changed.Limits.Carry = u.Name, nil, u.Mode, u.Carry
	changed.Catalogue, changed.Assumed = s.Stated, nil
	camera, _ := s.Stated.Cameras.Lookup(u.Camera)
	changed.Cameras = []*catalog.Camera{camera}
	changed.Rig, _ = s.Stated.Rigs.Lookup(u.Rig)
	changed.Shots = slices.Clone(s.Shots)
	for i, shot := range s.Shots {
		if mode := cmp.Or(shot.Asked.Mode.Value, u.Mode); mode != shot.Mode {
			other := *shot
			other.Mode = mode
			changed.Shots[i] = &other
		}
	}
	changed.assume()
	return &changed
}
