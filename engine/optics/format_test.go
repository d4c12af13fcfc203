package optics

import (
	"testing"

	"pgregory.net/rapid"
)

func drawFrame(t *rapid.T, name string) Frame {
	side := rapid.Float64Range(0.004, 0.06)
	return Frame{side.Draw(t, name+" width"), side.Draw(t, name+" height")}
}

func TestDeliveredFitsTheSensor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sensor := drawFrame(t, "sensor")
		squeeze := rapid.Float64Range(1, 2).Draw(t, "squeeze")
		ratio := rapid.Float64Range(0.5, 3).Draw(t, "ratio")
		got := Delivered(sensor, squeeze, ratio)
		if !near(got.Aspect()*squeeze, ratio, 1e-12) {
			t.Errorf("desqueezed ratio: got %g, want %g", got.Aspect()*squeeze, ratio)
		}
		if got.Width > sensor.Width || got.Height > sensor.Height {
			t.Errorf("got %v, want it within %v", got, sensor)
		}
		if got.Width != sensor.Width && got.Height != sensor.Height {
			t.Errorf("got %v, want one side of %v kept", got, sensor)
		}
	})
}

func TestDeliveredWholeSensor(t *testing.T) {
	if got := Delivered(FullFrame, 1.33, 0); got != FullFrame {
		t.Errorf("got %v, want %v", got, FullFrame)
	}
}

func TestMatchGoesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := drawFrame(t, "from"), drawFrame(t, "to")
		by := Basis(rapid.IntRange(0, 2).Draw(t, "basis"))
		focal := drawFocal(t)
		there := Match(focal, from, to, by)
		if got := Match(there, to, from, by); !near(got, focal, 1e-12) {
			t.Errorf("got %g, want %g", got, focal)
		}
		if got := Match(focal, FullFrame, to, by) * Crop(to, by); !near(got, focal, 1e-12) {
			t.Errorf("full-frame equivalent: got %g, want %g", got, focal)
		}
		// A match sees the same angle across the extent that it goes by.
		got := AngleOfView(Rectilinear, there, to.along(by), 0)
		if want := AngleOfView(Rectilinear, focal, from.along(by), 0); !near(got, want, 1e-12) {
			t.Errorf("angle: got %g, want %g", got, want)
		}
	})
}

func TestWordsOfBasisAndProjection(t *testing.T) {
	for b := ByDiagonal; b <= ByHeight; b++ {
		if got, ok := ParseBasis(b.String()); got != b || !ok {
			t.Errorf("%q: got %v %t, want %v", b.String(), got, ok, b)
		}
	}
	for p := Rectilinear; p <= Orthographic; p++ {
		if got, ok := ParseProjection(p.String()); got != p || !ok {
			t.Errorf("%q: got %v %t, want %v", p.String(), got, ok, p)
		}
	}
	if _, ok := ParseBasis("area"); ok {
		t.Error("the basis \"area\" was taken")
	}
	if _, ok := ParseProjection("fisheye"); ok {
		t.Error("the projection \"fisheye\" was taken, though it says not which")
	}
}
