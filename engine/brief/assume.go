package brief

import (
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/plausible"
	"glassbrief/lang"
)

// An Owner is whose figure it is.
type Owner uint8

const (
	OfShot Owner = iota
	OfCamera
	OfRig
	OfMount
	OfAdapter
	OfLens
	OfFilter // of which nothing is assumed
)

// String gives the word, which is the keyword of its block.
func (o Owner) String() string {
	return [...]string{"shot", "camera", "rig", "mount", "adapter", "lens", "filter"}[o]
}

// An Assumption is a figure that nobody has stated, with the range in which it lies. Where one
// value is needed, it is the middle.
type Assumption struct {
	Of      Owner
	Name    string // of the item, or of the shot
	Keyword string
	Dim     lang.Dimension
	Unit    string // to show it in
	Rough   bool   // it is stated, but roughly
	plausible.Range
	row int // of its table
}

// AssumedAbout gives the places of the assumed figures of an item or a shot.
func (s *Scenario) AssumedAbout(of Owner, name string) []int { return s.about[of][name] }

// Values are figures in the place of assumed ones, in SI units, by the place of the assumption
// in [Scenario.Assumed].
type Values map[int]float64

// assume fills in the middle of its range for every figure that the brief and its equipment
// lack, and lists them: shots and camera first, since they move more than the glass does.
func (s *Scenario) assume() {
	s.Stated = s.Catalogue
	s.Around = plausible.NewContext(s.Catalogue)
	c := s.Around
	for _, shot := range s.Shots {
		if !shot.Metered() {
			s.Assumed = append(s.Assumed, Assumption{Of: OfShot, Name: shot.ID, Keyword: "light", Dim: lang.Illuminance, Unit: "lx", Range: plausible.Light(shot.setting())})
		}
	}
	for _, camera := range s.Cameras {
		lack(s, OfCamera, camera.Name.Value, plausible.Cameras, camera, c)
	}
	if s.Rig != nil {
		lack(s, OfRig, s.Rig.Name.Value, plausible.Rigs, s.Rig, c)
	}
	s.assumeMounts(c)
	for _, lens := range s.Catalogue.Lenses.All() {
		lack(s, OfLens, lens.Name.Value, plausible.Lenses, lens, c)
	}
	if len(s.Assumed) > 0 {
		s.about = [OfFilter + 1]map[string][]int{}
		for i := range s.Assumed {
			a := &s.Assumed[i]
			if s.about[a.Of] == nil {
				s.about[a.Of] = map[string][]int{}
			}
			s.about[a.Of][a.Name] = append(s.about[a.Of][a.Name], i)
		}
		middle := Values{}
		for i := range s.Assumed {
			middle[i] = s.Assumed[i].Middle
		}
		*s = *s.Under(middle)
	}
}

// assumeMounts looks at the mounts of the cameras and at the adapters that lead to them.
func (s *Scenario) assumeMounts(c *plausible.Context) {
	seen := map[string]bool{}
	mount := func(name string) {
		if m, ok := s.Catalogue.Mounts.Lookup(name); ok && !seen[name] {
			seen[name] = true
			lack(s, OfMount, name, plausible.Mounts, m, c)
		}
	}
	for _, camera := range s.Cameras {
		mount(camera.Mount.Value)
	}
	for _, a := range s.Catalogue.Adapters.All() {
		if seen[a.From.Camera.Value] {
			lack(s, OfAdapter, a.Name.Value, plausible.Adapters, a, c)
		}
	}
}

// Filled gives a lens as it is stated with the middle of its range for every figure that it
// lacks.
func (s *Scenario) Filled(stated *catalog.Lens) *catalog.Lens {
	filled := *stated
	for i := range plausible.Lenses {
		if r := plausible.Lenses[i].Of(stated, s.Around); r.Low < r.High {
			plausible.Lenses[i].Put(&filled, r.Middle)
		}
	}
	return &filled
}

// A Statement is what somebody found out: items in the place of those of the same names as
// the files have them, or the light of a shot that lacks it, in lux.
type Statement struct {
	catalog.Changed
	Shot  string // whose light it is; "" for none
	Light float64
}

// Stating gives the scenario as it would be read with a statement in its files: what the
// figures tell of others is assumed anew.
func (s *Scenario) Stating(said Statement) *Scenario {
	changed := *s
	changed.Catalogue, changed.Assumed = s.Stated.WithAll(said.Changed), nil
	changed.Cameras = make([]*catalog.Camera, len(s.Cameras))
	for i, camera := range s.Cameras {
		changed.Cameras[i], _ = changed.Catalogue.Cameras.Lookup(camera.Name.Value)
	}
	if s.Rig != nil {
		changed.Rig, _ = changed.Catalogue.Rigs.Lookup(s.Rig.Name.Value)
	}
	changed.Shots = slices.Clone(s.Shots)
	for i, shot := range s.Shots {
		if shot.ID == said.Shot {
			lit := *shot
			lit.Light, lit.Readings = said.Light, []Reading{{Lux: said.Light}}
			changed.Shots[i] = &lit
		}
	}
	changed.assume()
	return &changed
}

// AssumedOf lists the assumed figures of some lenses, of a camera, and of what they stand on: the
// rig, mounts, adapters and the light of the shots.
func (s *Scenario) AssumedOf(camera string, lenses []string) []*Assumption {
	var all []*Assumption
	for i := range s.Assumed {
		switch a := &s.Assumed[i]; {
		case a.Of == OfCamera && a.Name != camera, a.Of == OfLens && !slices.Contains(lenses, a.Name):
		default:
			all = append(all, a)
		}
	}
	return all
}

// lack lists the figures that an item lacks.
func lack[T any](s *Scenario, of Owner, name string, rows []plausible.Row[T], item *T, c *plausible.Context) {
	for i := range rows {
		row := &rows[i]
		if r := row.Of(item, c); r.Low < r.High {
			s.Assumed = append(s.Assumed, Assumption{
				Of: of, Name: name, Keyword: row.Keyword, Dim: row.Dim, Unit: row.Unit, Rough: row.Given(item).Known(), Range: r, row: i,
			})
		}
	}
}

// setting reads what the shot's heading says of the light.
func (s *Shot) setting() lang.Scene {
	heading := s.Heading.Value
	if heading == "" {
		heading = s.Scene
	}
	scene, _ := lang.SceneOf(heading)
	return scene
}

// Under gives the scenario with other values of assumed figures.
func (s *Scenario) Under(values Values) *Scenario {
	changed := *s
	var items catalog.Changed
	lenses, adapters := map[string]*catalog.Lens{}, map[string]*catalog.Adapter{}
	copied := false
	for i := range s.Assumed {
		value, ok := values[i]
		if !ok {
			continue
		}
		switch a := &s.Assumed[i]; a.Of {
		case OfShot:
			if !copied {
				copied = true
				changed.Shots = append([]*Shot(nil), s.Shots...)
			}
			for k, shot := range changed.Shots {
				if shot.ID == a.Name {
					lit := *shot
					lit.Light = value
					changed.Shots[k] = &lit
				}
			}
		case OfCamera:
			changed.Cameras = append([]*catalog.Camera(nil), changed.Cameras...)
			for k, camera := range changed.Cameras {
				if camera.Name.Value == a.Name {
					other := *camera
					plausible.Cameras[a.row].Put(&other, value)
					changed.Cameras[k] = &other
					items.Cameras = changed.Cameras
				}
			}
		case OfRig:
			rig := *changed.Rig
			plausible.Rigs[a.row].Put(&rig, value)
			changed.Rig = &rig
		case OfMount:
			mount, _ := s.Catalogue.Mounts.Lookup(a.Name)
			other := *mount
			plausible.Mounts[a.row].Put(&other, value)
			items.Mounts = append(items.Mounts, &other)
		case OfAdapter:
			put(adapters, &items.Adapters, &s.Catalogue.Adapters, a, plausible.Adapters, value)
		case OfLens:
			put(lenses, &items.Lenses, &s.Catalogue.Lenses, a, plausible.Lenses, value)
		}
	}
	if changed.Rig != s.Rig {
		items.Rigs = []*catalog.Rig{changed.Rig}
	}
	changed.Catalogue = s.Catalogue.WithAll(items)
	return &changed
}

// PutUnder puts other values of its assumed figures into a lens, which is a copy of one of the
// scenario.
func (s *Scenario) PutUnder(lens *catalog.Lens, values Values) {
	for _, i := range s.AssumedAbout(OfLens, lens.Name.Value) {
		if value, ok := values[i]; ok {
			plausible.Lenses[s.Assumed[i].row].Put(lens, value)
		}
	}
}

// put sets a figure of an item that is copied once for all its figures.
func put[T any](copies map[string]*T, changed *[]*T, shelf *catalog.Shelf[T], a *Assumption, rows []plausible.Row[T], value float64) {
	if copies[a.Name] == nil {
		item, _ := shelf.Lookup(a.Name)
		other := *item
		copies[a.Name] = &other
		*changed = append(*changed, &other)
	}
	rows[a.row].Put(copies[a.Name], value)
}

// Draw gives a value for every assumed figure, at a place of its range from -1 to 1 with 0 at
// the middle. A heavy lens is long: where both are assumed, the length follows the mass.
func (s *Scenario) Draw(place func(i int) float64) Values {
	values := Values{}
	masses := map[string]float64{}
	for i := range s.Assumed {
		a := &s.Assumed[i]
		r := a.Range
		if a.Of == OfLens && a.Keyword == "length" && !a.Rough && masses[a.Name] > 0 {
			lens, _ := s.Stated.Lenses.Lookup(a.Name)
			weighed := *lens
			weighed.Mass = lang.NewQuantity(masses[a.Name], lang.Mass)
			r = plausible.Lenses[a.row].Range(&weighed, s.Around)
		}
		values[i] = r.At(place(i))
		if a.Of == OfLens && a.Keyword == "mass" {
			masses[a.Name] = values[i]
		}
	}
	return values
}
