package sun

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Light falls with the sun, without a jump, and a cloud or a shade takes some of it.
func TestLightFollowsTheSun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		altitude := rapid.Float64Range(Twilight, math.Pi/2-1e-4).Draw(t, "altitude")
		day := rapid.IntRange(1, 366).Draw(t, "day")
		clear, shade, overcast := Light(altitude, day, Clear), Light(altitude, day, Shade), Light(altitude, day, Overcast)
		if !(clear >= shade && clear > overcast && overcast > 0) {
			t.Errorf("got %g clear, %g in the shade, %g overcast, want the first the most", clear, shade, overcast)
		}
		const step = 1e-5
		for sky, light := range map[Sky]float64{Clear: clear, Shade: shade, Overcast: overcast} {
			higher := Light(altitude+step, day, sky)
			if higher < light || higher > light*1.001 {
				t.Errorf("%s: got %g and then %g lx, want a little more with the sun a little higher", sky, light, higher)
			}
		}
	})
}

// The estimate must come within its stop of the published levels that it was not made from.
func TestLightMeetsThePublishedLevels(t *testing.T) {
	for _, c := range []struct {
		name     string
		altitude float64
		sky      Sky
		want     float64
	}{
		{"bright sun", 65, Clear, 110e3},
		{"distinct shadows, EV 15", 40, Clear, 81920},
		{"shade under a clear sky at noon", 60, Shade, 20e3},
		{"open shade, EV 12", 40, Shade, 10240},
		{"heavy overcast, EV 12", 40, Overcast, 10240},
		{"overcast noon, 10 to 25 klx", 50, Overcast, 17.5e3},
	} {
		got := Light(c.altitude*degree, 100, c.sky)
		if off := math.Abs(math.Log2(got / c.want)); off > 1 {
			t.Errorf("%s: got %.0f lx, %.1f stops from %.0f", c.name, got, off, c.want)
		}
	}
}

func TestSkiesByName(t *testing.T) {
	for i, name := range Skies() {
		sky, ok := ParseSky(name)
		if !ok || sky != Sky(i) || sky.String() != name {
			t.Errorf("%q: got %q %t", name, sky, ok)
		}
	}
	if _, ok := ParseSky("gloomy"); ok {
		t.Error(`the sky "gloomy" was taken`)
	}
	if got := Sky(9).String(); got != "invalid sky" {
		t.Errorf("a sky beyond the last: got %q", got)
	}
}
