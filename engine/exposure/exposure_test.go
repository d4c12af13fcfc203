package exposure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

func drawLux(t *rapid.T) float64 {
	return Illuminance(rapid.Float64Range(-6, 17).Draw(t, "EV"))
}

func TestLightEquationInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lux := drawLux(t)
		iso := rapid.Float64Range(25, 25600).Draw(t, "ISO")
		time := rapid.Float64Range(1e-4, 1).Draw(t, "time")
		n := Stop(lux, iso, time)
		if got := ISO(lux, n, time); !near(got, iso, 1e-12) {
			t.Errorf("ISO: got %g, want %g", got, iso)
		}
		if got := Lux(n, iso, time); !near(got, lux, 1e-12) {
			t.Errorf("lux: got %g, want %g", got, lux)
		}
		if got := StopsBetween(n, Stop(2*lux, iso, time)); !near(got, 1, 1e-9) {
			t.Errorf("twice the light: got %g stops, want 1", got)
		}
		if got, want := EVOfSetting(Stop(lux, 100, time), time), EV(lux); math.Abs(got-want) > 1e-9 {
			t.Errorf("exposure value at ISO 100: got %g, want %g", got, want)
		}
	})
}

func TestExposureValueInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ev := rapid.Float64Range(-10, 20).Draw(t, "EV")
		if got := EV(Illuminance(ev)); math.Abs(got-ev) > 1e-12 {
			t.Errorf("illuminance: got %g, want %g", got, ev)
		}
		if got := EVOfLuminance(Luminance(ev)); math.Abs(got-ev) > 1e-12 {
			t.Errorf("luminance: got %g, want %g", got, ev)
		}
	})
}

func TestOutsideTheDomainIsNaN(t *testing.T) {
	nan := math.NaN()
	for name, got := range map[string]float64{
		"EV of darkness":            EV(0),
		"EV of a black surface":     EVOfLuminance(0),
		"EV without time":           EVOfSetting(2, 0),
		"stop in the dark":          Stop(0, 800, 0.02),
		"ISO without light":         ISO(0, 2, 0.02),
		"ISO of unknown light":      ISO(nan, 2, 0.02),
		"lux without a stop":        Lux(0, 800, 0.02),
		"stops from nothing":        StopsBetween(0, 2),
		"more light than comes in":  TStop(2, 1.1),
		"no light through":          TStop(2, 0),
		"more than a full turn":     ShutterTime(6.3, 24),
		"closed shutter":            ShutterTime(0, 24),
		"no frames":                 ShutterTime(math.Pi, 0),
		"mark of nothing":           Marked(0),
		"mark of unknown":           Marked(nan),
		"next mark of nothing":      NextMarked(0),
		"next mark of unknown":      NextMarked(nan),
		"next mark without end":     NextMarked(math.Inf(1)),
		"marked ISO of unknown":     MarkedISO(nan),
		"marked ISO without end":    MarkedISO(math.Inf(1)),
		"marked ISO below nothing":  MarkedISO(-100),
		"next mark of a minus stop": NextMarked(-2),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: got %g, want NaN", name, got)
		}
	}
}
