package optics

import (
	"math"
	"testing"
)

func TestOutsideTheDomainIsNaN(t *testing.T) {
	nan := math.NaN()
	second := func(_, far float64) float64 { return far }
	for name, got := range map[string]float64{
		"object at the focus":                   Magnification(0.05, 0.05),
		"object nearer than the focus":          ImageDistance(0.05, 0.01),
		"no focal length":                       Magnification(0, 1),
		"image nearer than the focus":           ObjectDistance(0.05, 0.049),
		"nearer than four focal lengths":        FromSensor(0.05, 0.199),
		"unknown distance":                      SensorDistance(0.05, nan),
		"negative stop":                         Hyperfocal(0.05, -8, 3e-5),
		"no circle of confusion":                second(Limits(0.05, 8, 0, 3)),
		"focused nearer than the focus":         second(Limits(0.05, 8, 3e-5, 0.04)),
		"unknown stop":                          second(Limits(0.05, nan, 3e-5, math.Inf(1))),
		"far before near":                       FocusMark(4, 2),
		"range from nothing":                    FocusMark(0, 2),
		"range upside down":                     StopFor(0.05, 3e-5, 4, 2),
		"range within the focal length":         StopFor(0.05, 3e-5, 0.05, 2),
		"point at the lens":                     Blur(0.05, 2, 2, 0),
		"no wavelength":                         Airy(0, 8),
		"no circle for diffraction":             DiffractionStop(Wavelength, 0),
		"negative magnification":                AngleOfView(Rectilinear, 0.05, 0.036, -0.1),
		"no sensor":                             AngleOfView(Rectilinear, 0.05, 0, 0),
		"orthographic image too small":          AngleOfView(Orthographic, 0.008, 0.036, 0),
		"equisolid image too small":             Angle(Equisolid, 0.008, 0.017),
		"equidistant image too small":           Angle(Equidistant, 0.008, 0.026),
		"rectilinear at 90 degrees":             Radius(Rectilinear, 0.02, math.Pi/2),
		"stereographic at 180 degrees":          Radius(Stereographic, 0.02, math.Pi),
		"orthographic beyond 90 degrees":        RadialScale(Orthographic, 1.6),
		"equidistant beyond 180 degrees":        TangentialScale(Equidistant, 3.2),
		"no such projection":                    Radius(Projection(9), 0.02, 0.1),
		"no such projection, inverse":           Angle(Projection(9), 0.02, 0.01),
		"no such projection, bend":              Bend(Projection(9), 0.02, 0.01),
		"edge stretch beyond the picture":       EdgeStretch(Rectilinear, 1.6),
		"fall-off at 90 degrees":                NaturalFalloff(math.Pi / 2),
		"object of no size":                     DistanceFor(0.05, 0.036, 0),
		"share of nothing":                      FocalFor(3, 0.036, 1.8, 0),
		"negative size":                         Share(-1, 2),
		"no field":                              Share(1, 0),
		"face at the lens":                      FaceStretch(0, 0.1995, 0.021),
		"no divisor":                            Confusion(FullFrame, 0),
		"no squeeze":                            Delivered(FullFrame, 0, 2).Width,
		"no such basis":                         Crop(FullFrame, Basis(7)),
		"adapter for the same flange":           AdapterThickness(0.044, 0.044),
		"adapter of unknown thickness":          AdapterThickness(nan, 0.044),
		"longest focal length of a point":       LongestFocal(3, FullFrame, Frame{}),
		"field of an object inside the focus":   Field(0.05, 0.036, 0.02),
		"fisheye field of unknown distance":     FieldAt(Equisolid, 0.015, 0.036, nan),
		"fisheye field larger than the mapping": FieldAt(Equisolid, 0.008, 0.036, 2),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: got %g, want NaN", name, got)
		}
	}
}
