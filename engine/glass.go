package engine

import (
	"context"
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
	"glassbrief/engine/parallel"
)

// glass is a lens as it goes on a camera: the input of its facts, and their record at its
// shortest focal length, which for a prime needs no search.
type glass struct {
	lens    *catalog.Lens
	fitting catalog.Fitting
	refusal string // why it does not fit; "" when it does
	input   facts.LensInput
	record  facts.Record  // at the shortest focal length
	zoom    []facts.Focal // at every setting; nil for a prime, and for what does not fit
	lacks   []string      // fields that the catalogue does not give
}

// glassOf puts every lens of the catalogue on a camera.
func (s *Scenario) glassOf(ctx context.Context, camera *catalog.Camera, workers int) ([]*glass, error) {
	lenses := s.Catalogue.Lenses.All()
	all := make([]*glass, len(lenses))
	err := parallel.For(ctx, len(lenses), workers, func(i int) { all[i] = s.fit(lenses[i], camera) })
	return all, err
}

// fit puts a lens on a camera.
func (s *Scenario) fit(lens *catalog.Lens, camera *catalog.Camera) *glass {
	sensor := s.sensor(camera)
	fitting, err := s.Catalogue.Fit(lens, camera)
	g := &glass{lens: lens, fitting: fitting}
	if err != nil {
		g.refusal = err.Error()
		g.fitting.Factor = 1
	}
	g.input = s.lensInput(g, camera, sensor)
	g.lacks = g.missing()
	facts.FillLens(&g.record, &g.input, g.input.FocalLow)
	if lens.IsZoom() && g.refusal == "" {
		g.zoom = g.settings()
	}
	return g
}

// sensor gives the mode of the camera that the scenario uses.
func (s *Scenario) sensor(camera *catalog.Camera) optics.Frame {
	size := camera.Mode(s.mode).Size
	return optics.Frame{Width: size.Width.Value, Height: size.Height.Value}
}

func (s *Scenario) lensInput(g *glass, camera *catalog.Camera, sensor optics.Frame) facts.LensInput {
	lens, factor := g.lens, g.fitting.Factor
	projection, _ := optics.ParseProjection(lens.Projection.Value)
	in := facts.LensInput{
		FocalLow: lens.Focal.Low.Value * factor, FocalHigh: lens.Focal.High.Value * factor,
		WidestStop: lens.WidestStop().OrNaN() * factor, SmallestStop: lens.SmallestStop().OrNaN() * factor,
		WidestT:    lens.Transmission.OrNaN() * factor,
		CloseFocus: lens.CloseFocus.OrNaN(), Circle: lens.Circle.OrNaN() * factor,
		Projection: projection, Squeeze: lens.SqueezeFactor(),
		Distortion: lens.Distortion.OrNaN(), Falloff: lens.Falloff.OrNaN(),
		Mass: lens.Mass.OrNaN() + g.fitting.Mass, Length: lens.Length.OrNaN() + g.fitting.Thickness,
		Flange: s.flange(camera), Sensor: sensor, Ratio: s.ratio, Confusion: s.confusion,
		CameraMass: camera.Mass.OrNaN() + s.Accessories.Mass,
		PayloadLow: s.Rig.Payload.Low.OrNaN(), PayloadHigh: s.Rig.Payload.High.OrNaN(),
		Wobble: s.Rig.Wobble.OrNaN(),
		Mounts: g.refusal == "", Adapted: g.fitting.Adapter != nil,
		Autofocus: lens.Focus.Value == catalog.FocusAuto && g.fitting.Contacts,
		Hired:     lens.Have.Kind == catalog.Hired,
	}
	measure(&in, g)
	switch lens.Have.Kind {
	case catalog.Hired:
		in.DayRate = lens.Have.DayRate.OrNaN()
	case "":
		in.DayRate = math.NaN()
	}
	return in
}

func (s *Scenario) flange(camera *catalog.Camera) float64 {
	if mount, ok := s.Catalogue.Mounts.Lookup(camera.Mount.Value); ok {
		return mount.Flange.OrNaN()
	}
	return math.NaN()
}

// missing lists the fields that the catalogue does not give of the lens and that facts are
// computed from.
func (g *glass) missing() []string {
	var fields []string
	for _, field := range []struct {
		keyword string
		known   bool
	}{
		{"aperture", g.lens.WidestStop().Known()}, {"transmission", g.lens.Transmission.Known()},
		{"close_focus", g.lens.CloseFocus.Known()}, {"circle", g.lens.Circle.Known()},
		{"mass", g.lens.Mass.Known()}, {"length", g.lens.Length.Known()}, {"distortion", g.lens.Distortion.Known() || g.input.EdgeDistortion != nil},
	} {
		if !field.known {
			fields = append(fields, field.keyword)
		}
	}
	return fields
}
