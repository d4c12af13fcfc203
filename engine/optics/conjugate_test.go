package optics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawFocal gives the focal length of some lens, in metres.
func drawFocal(t *rapid.T) float64 { return rapid.Float64Range(0.004, 0.6).Draw(t, "focal") }

// drawDistance gives a distance from the lens that a thin lens of that focal length can
// focus as a camera does: no nearer than 1:1.
func drawDistance(t *rapid.T, focal float64) float64 {
	return focal * math.Exp(rapid.Float64Range(math.Log(2.001), math.Log(1e5)).Draw(t, "log of distance"))
}

// near reports whether two numbers agree to a share.
func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

func TestConjugatesInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFocal(t)
		s := drawDistance(t, f)
		if got := FromSensor(f, SensorDistance(f, s)); !near(got, s, 1e-6) {
			t.Errorf("from the sensor and back: got %g, want %g", got, s)
		}
		// A distance of 1e5 focal lengths moves the image by 1e-5 of one.
		if got := ObjectDistance(f, ImageDistance(f, s)); !near(got, s, 1e-9) {
			t.Errorf("to the image and back: got %g, want %g", got, s)
		}
		if m := Magnification(f, s); !near(ImageDistance(f, s)/s, m, 1e-12) {
			t.Errorf("image over object distance: got %g, want the magnification %g", ImageDistance(f, s)/s, m)
		}
	})
}

func TestConjugatesOfInfinity(t *testing.T) {
	inf := math.Inf(1)
	for name, c := range map[string]struct{ got, want float64 }{
		"magnification":   {Magnification(0.05, inf), 0},
		"image distance":  {ImageDistance(0.05, inf), 0.05},
		"object distance": {ObjectDistance(0.05, 0.05), inf},
		"sensor distance": {SensorDistance(0.05, inf), inf},
		"from sensor":     {FromSensor(0.05, inf), inf},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %g, want %g", name, c.got, c.want)
		}
	}
}
