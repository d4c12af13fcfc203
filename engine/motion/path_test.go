package motion

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawPath(t *rapid.T, ways ...Way) Path {
	p := Path{
		Way:   rapid.SampledFrom(ways).Draw(t, "way"),
		Near:  rapid.Float64Range(0.3, 5).Draw(t, "near"),
		Speed: rapid.Float64Range(0.1, 4).Draw(t, "speed"),
	}
	p.Far = p.Near + rapid.SampledFrom([]float64{0, 0.4, 3}).Draw(t, "depth")
	return p
}

var allWays = []Way{Standing, Behind, Before, Beside, Circling, Approaching, Retreating, Rising}

func TestPathStaysBetweenItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPath(t, allWays...)
		first, last := p.At(0).Distance, p.At(1).Distance
		if p.Way == Retreating {
			first, last = last, first
		}
		if !near(first, p.Far, 1e-12) || !near(last, p.Near, 1e-12) {
			t.Errorf("got ends %g and %g, want %g and %g", first, last, p.Far, p.Near)
		}
		distance := p.At(rapid.Float64Range(0, 1).Draw(t, "share")).Distance
		if !(distance >= p.Near*(1-1e-12) && distance <= p.Far*(1+1e-12)) {
			t.Errorf("got %g m, want from %g to %g", distance, p.Near, p.Far)
		}
	})
}

// Where it is known how fast the distance shrinks, that sums up to what it shrinks by.
func TestClosingSumsUpToTheWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPath(t, Approaching, Retreating, Rising)
		const steps = 2000
		sum := 0.0
		for i := range steps {
			sum += p.At((float64(i) + 0.5) / steps).Closing
		}
		got, want := sum/steps*p.Duration(), p.At(0).Distance-p.At(1).Distance
		if math.Abs(got-want) > 1e-5*p.Far {
			t.Errorf("%v: got %g m, want %g", p, got, want)
		}
	})
}

func TestCircleIsWalkedOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPath(t, Circling)
		p.Far = p.Near
		if got, want := p.Duration()*p.Speed, 2*math.Pi*p.Near; !near(got, want, 1e-12) {
			t.Errorf("got a way of %g m, want %g", got, want)
		}
		if got := p.At(0.3).Turn * p.Duration(); !near(got, 2*math.Pi, 1e-12) {
			t.Errorf("got a turn of %g rad, want a whole one", got)
		}
	})
}

func TestStatesOfTheMoves(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name     string
		path     Path
		want     State
		duration float64
	}{
		{"a pan", Path{Way: Standing, Near: 2, Far: 2, Turn: 0.1}, State{Distance: 2, Turn: 0.1}, nan},
		{"a follow that drifts", Path{Way: Behind, Near: 2, Far: 3, Speed: 1.2}, State{2.5, nan, 1.2, 0, 0}, nan},
		{"a lead", Path{Way: Before, Near: 2, Far: 2, Speed: 1.2}, State{2, 0, -1.2, 0, 0}, nan},
		{"beside", Path{Way: Beside, Near: 2, Far: 2, Speed: 1.2}, State{2, 0, 0, 1.2, 0}, nan},
		{"a push in", Path{Way: Approaching, Near: 1, Far: 3, Speed: 0.5}, State{2, 0.5, 0.5, 0, 0}, 4},
		{"a pull out", Path{Way: Retreating, Near: 1, Far: 3, Speed: 0.5}, State{2, -0.5, -0.5, 0, 0}, 4},
		{"a boom at one distance", Path{Way: Rising, Near: 2, Far: 2, Speed: 0.5}, State{2, 0, 0, 0.5, 0}, 0},
		{"no speed known", Path{Way: Approaching, Near: 1, Far: 3, Speed: nan}, State{nan, nan, nan, nan, nan}, nan},
		{"ends turned round", Path{Way: Approaching, Near: 3, Far: 1, Speed: 1}, State{nan, nan, nan, nan, nan}, nan},
	} {
		got := c.path.At(0.5)
		for _, v := range [][2]float64{
			{got.Distance, c.want.Distance}, {got.Closing, c.want.Closing}, {got.Advance, c.want.Advance},
			{got.Sweep, c.want.Sweep}, {got.Turn, c.want.Turn}, {c.path.Duration(), c.duration},
		} {
			if v[0] != v[1] && !(math.IsNaN(v[0]) && math.IsNaN(v[1])) {
				t.Errorf("%s: got %+v in %g s, want %+v in %g s", c.name, got, c.path.Duration(), c.want, c.duration)
				break
			}
		}
	}
	if got := (Path{Way: Beside, Near: 1, Far: 1}).At(1.1).Distance; !math.IsNaN(got) {
		t.Errorf("beyond the end: got %g m, want NaN", got)
	}
}

// The image of a thing grows by its distance: a step towards it moves its edge so far.
func TestEdgeRateIsThatOfTheImage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		distance := rapid.Float64Range(0.5, 50).Draw(t, "distance")
		speed := rapid.Float64Range(0, 4).Draw(t, "speed")
		const moment = 1e-6
		want := 0.5 * (distance/(distance-speed*moment) - 1) / moment
		if got := EdgeRate(speed, distance); math.Abs(got-want) > 1e-4*(1+want) {
			t.Errorf("got %g widths a second, want %g", got, want)
		}
	})
	if got := EdgeRate(1, 0); !math.IsNaN(got) {
		t.Errorf("at no distance: got %g, want NaN", got)
	}
}
