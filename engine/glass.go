package engine

import (
	"context"
	"math"
	"sync"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
	"glassbrief/engine/parallel"
	"glassbrief/engine/plausible"
)

// glass is a lens as it goes on a camera in a sensor mode.
type glass struct {
	lens          *catalog.Lens
	fitting       catalog.Fitting
	refusal       string   // why it does not fit; "" when it does
	lacks         []string // fields that it cannot be judged without and that the catalogue does not give
	mass, dayRate float64  // kg with its adapter, and money; NaN when not known
	*fitted                // nil of one of many lenses, see [Table.at]
}

// fitted is what a lens is judged by: the input of its facts, and their record at its shortest focal
// length, which for a prime needs no search.
type fitted struct {
	input   facts.LensInput
	record  facts.Record  // at the shortest focal length
	zoom    []facts.Focal // at every setting; nil for a prime, and for what does not fit
	filters *filterSet
	ways    []way
	modes   map[string]*glass // the same in the modes of shots that are not in that of the scenario
}

// keptFitted is how many lenses stay fitted while they are in a table: for each that takes 3 kB, many
// times what the catalogue says of it.
const keptFitted = 2000

// at gives a lens ready to be judged. Of many lenses, each is fitted when it is looked at.
func (t *Table) at(lens int) *glass {
	if g := t.glass[lens]; g.fitted != nil {
		return g
	}
	return fit(t.Scenario, t.glass[lens].lens, t.Camera, t.filters)
}

// keepFitted fits the lenses of a table that is a small part of a large one.
func (t *Table) keepFitted() {
	if len(t.glass) > keptFitted {
		return
	}
	for j := range t.glass {
		t.glass[j] = t.at(j)
	}
}

// in gives the lens in the sensor mode of a shot.
func (g *glass) in(shot *brief.Shot) *glass {
	if other, ok := g.modes[shot.Mode]; ok {
		return other
	}
	return g
}

// glassOf puts every lens of the catalogue on a camera.
func glassOf(ctx context.Context, s *brief.Scenario, camera *catalog.Camera, filters *filterSets, workers int) ([]*glass, error) {
	lenses := s.Catalogue.Lenses.All()
	all := make([]*glass, len(lenses))
	firsts := firstOfThreads(lenses) // whose filters come first, because lenses of one thread would wait for them
	err := parallel.For(ctx, len(firsts)+len(lenses), workers, func(n int) {
		if n < len(firsts) {
			filters.of(firsts[n])
			return
		}
		n -= len(firsts)
		if len(lenses) <= keptFitted {
			all[n] = fit(s, lenses[n], camera, filters)
			return
		}
		spare := spareGlass.Get().(*glass)
		spare.fit(s, lenses[n], camera, filters)
		bare := *spare
		bare.fitted = nil
		all[n] = &bare
		spareGlass.Put(spare)
	})
	return all, err
}

// spareGlass keeps the memory of lenses that are fitted for a moment.
var spareGlass = sync.Pool{New: func() any { return new(glass) }}

// fit puts a lens on a camera, in the sensor mode of the scenario and in those of its shots.
func fit(s *brief.Scenario, lens *catalog.Lens, camera *catalog.Camera, filters *filterSets) *glass {
	g := new(glass)
	g.fit(s, lens, camera, filters)
	return g
}

func (g *glass) fit(s *brief.Scenario, lens *catalog.Lens, camera *catalog.Camera, filters *filterSets) {
	g.fitIn(s, lens, camera, s.Mode, filters)
	for _, shot := range s.Shots {
		if shot.Mode == s.Mode || g.modes[shot.Mode] != nil || camera.Mode(shot.Mode) == nil {
			continue
		}
		if g.modes == nil {
			g.modes = map[string]*glass{}
		}
		other := new(glass)
		other.fitIn(s, lens, camera, shot.Mode, filters)
		g.modes[shot.Mode] = other
	}
}

// fitIn puts a lens on a camera in a sensor mode.
func (g *glass) fitIn(s *brief.Scenario, lens *catalog.Lens, camera *catalog.Camera, mode string, filters *filterSets) {
	fitting, err := s.Catalogue.Fit(lens, camera)
	of := g.fitted
	if of == nil {
		of = new(fitted)
	}
	*of = fitted{}
	*g = glass{lens: lens, fitting: fitting, fitted: of}
	if err != nil {
		g.refusal = err.Error()
		g.fitting.Factor = 1
	}
	g.input = lensInput(s, g, camera, camera.Mode(mode))
	g.mass, g.dayRate = g.input.Mass, g.input.DayRate
	g.lacks = vitalLacks(lens)
	g.filters = filters.of(lens)
	facts.FillLens(&g.record, &g.input, g.input.FocalLow)
	if lens.IsZoom() && g.refusal == "" {
		g.zoom = g.settings()
	}
	g.ways = g.waysOf(g.stops())
}

func lensInput(s *brief.Scenario, g *glass, camera *catalog.Camera, mode *catalog.Mode) facts.LensInput {
	lens, factor := g.lens, g.fitting.Factor
	projection, _ := optics.ParseProjection(lens.Projection.Value)
	in := onCamera(s, camera, mode, lens.SqueezeFactor())
	in.FocalLow, in.FocalHigh = lens.Focal.Low.Value*factor, lens.Focal.High.Value*factor
	in.WidestStop, in.SmallestStop = lens.WidestStop().OrNaN()*factor, lens.SmallestStop().OrNaN()*factor
	in.WidestT = lens.Transmission.OrNaN() * factor
	in.CloseFocus, in.Magnification, in.Scale = lens.CloseFocus.OrNaN(), magnificationOf(lens)*factor, scales[lens.FocusScale()]
	seen(&in, s, g)
	in.Projection, in.Circle = projection, lens.Circle.OrNaN()*factor
	in.ZoomDistortion = zoomDistortion(s, g)
	in.Distortion, in.Falloff = lens.Distortion.OrNaN(), lens.Falloff.OrNaN()
	in.Mass, in.Length = lens.Mass.OrNaN()+g.fitting.Mass, lens.Length.OrNaN()+g.fitting.Thickness
	in.Mounts, in.Adapted = g.refusal == "", g.fitting.Adapter != nil
	in.Autofocus = lens.Focus.Value == catalog.FocusAuto && g.fitting.Contacts
	in.Hired = lens.Have.Kind == catalog.Hired
	measure(&in, g)
	switch lens.Have.Kind {
	case catalog.Hired:
		in.DayRate = lens.Have.DayRate.OrNaN()
	case "":
		in.DayRate = math.NaN()
	}
	return in
}

// seen gives the facts where the perspective of the lens begins and by how much its picture narrows.
// A prime whose magnification is known shows at its closest focus what that says. An adapter with
// glass puts the lens nearer to the sensor than it is made for.
func seen(in *facts.LensInput, s *brief.Scenario, g *glass) {
	lens := g.lens
	in.Pupil, in.Breathing = facts.Ends{Wide: math.NaN(), Long: math.NaN()}, facts.Ends{Wide: math.NaN(), Long: math.NaN()}
	if lens.Pupil.Thin || !lens.Pupil.Known() {
		return
	}
	pupils, breaths := plausible.Perspective(lens, s.Around)
	in.Pupil, in.Breathing = facts.Ends{Wide: pupils[0], Long: pupils[1]}, facts.Ends{Wide: breaths[0], Long: breaths[1]}
	if mount, ok := s.Catalogue.Mounts.Lookup(lens.Mount.Value); ok && g.fitting.Factor != 1 && mount.Flange.Known() {
		moved := in.Flange + g.fitting.Thickness - mount.Flange.Value
		in.Pupil.Wide, in.Pupil.Long = in.Pupil.Wide+moved, in.Pupil.Long+moved
	}
	if !lens.Breathing.Known() && !lens.IsZoom() {
		in.Breathing.Wide = in.FocalLow/(in.Magnification*(in.CloseFocus-in.Pupil.Wide)) - 1
		in.Breathing.Long = in.Breathing.Wide
	}
}

// onCamera is what a lens of which only the squeeze is known meets on a camera and its rig.
func onCamera(s *brief.Scenario, camera *catalog.Camera, mode *catalog.Mode, squeeze float64) facts.LensInput {
	delivered, also := s.Delivery.Windows(camera, mode, squeeze)
	return facts.LensInput{
		Flange: flangeOf(s, camera), Delivered: delivered.Frame, Protected: protectedOf(delivered, also), Squeeze: squeeze, Confusion: s.Confusion, WantedSqueeze: s.Squeeze,
		CameraMass: camera.Mass.OrNaN() + s.Accessories.Mass,
		PayloadLow: s.Rig.Payload.Low.OrNaN(), PayloadHigh: s.Rig.Payload.High.OrNaN(),
		Wobble: s.Rig.Wobble.OrNaN(),
	}
}

// protectedOf lists what must be lit.
func protectedOf(delivered brief.Windows, also []brief.Windows) []optics.Window {
	all := []optics.Window{delivered.Protected}
	for _, w := range also {
		all = append(all, w.Protected)
	}
	return all
}

func magnificationOf(lens *catalog.Lens) float64 {
	if !lens.Magnification.Known() {
		return math.NaN()
	}
	return lens.Magnification.Value
}

var scales = map[string]facts.Scale{
	catalog.ScaleMarked: facts.MarkedScale, catalog.ScaleWire: facts.ByWire, catalog.ScaleNone: facts.NoScale,
}

func flangeOf(s *brief.Scenario, camera *catalog.Camera) float64 {
	if mount, ok := s.Catalogue.Mounts.Lookup(camera.Mount.Value); ok {
		return mount.Flange.OrNaN()
	}
	return math.NaN()
}

// vitalLacks lists the fields that a lens cannot be judged without and lacks: nothing stands in
// for them. A catalogue without mount or focal length cannot be read.
func vitalLacks(lens *catalog.Lens) []string {
	if lens.WidestStop().Known() {
		return nil
	}
	return []string{"aperture"}
}

// infinityDistance stands for a far subject where a measurement asks for a distance, in
// metres.
const infinityDistance = 1000

// measure gives the facts what was measured of the lens, in place of the single figures for its whole
// circle: for the frame that is delivered, or for the one about the axis that holds it where it stands off
// the middle. An adapter with glass spreads the picture of the lens by its factor, so the frame sees a part
// that is so much smaller.
func measure(in *facts.LensInput, g *glass) {
	correction, factor := &g.lens.Correction, g.fitting.Factor
	frame := in.Delivered.Reach()
	width, height := frame.Width/factor, frame.Height/factor
	if curve, ok := correction.DistortionCurve(); ok {
		in.EdgeDistortion = func(focal float64) float64 { return curve.Edges(focal/factor, width, height).Worst() }
	}
	if stop := g.lens.WidestStop(); len(correction.Shadings) > 0 && stop.Known() {
		in.EdgeFalloff = func(focal float64) float64 {
			return correction.Falloff(g.lens, focal/factor, stop.Value, infinityDistance, math.Hypot(width, height)/2)
		}
	}
}

// zoomDistortion gives the share of a zoom's worst distortion by focal length, that of the
// adapter included; nil for a prime.
func zoomDistortion(s *brief.Scenario, g *glass) func(focal float64) float64 {
	share, factor := plausible.ZoomDistortion(g.lens, s.Around), g.fitting.Factor
	if share == nil || factor == 1 {
		return share
	}
	return func(focal float64) float64 { return share(focal / factor) }
}

// distortionAt gives the share by which a point of the lens's picture lies too far out, by
// its distance in metres from the middle of the sensor; nil when it was not measured.
func distortionAt(lens *catalog.Lens, fitting catalog.Fitting, focal float64) func(radius float64) float64 {
	curve, ok := lens.Correction.DistortionCurve()
	if !ok {
		return nil
	}
	return func(radius float64) float64 { return curve.Share(focal/fitting.Factor, radius/fitting.Factor) }
}
