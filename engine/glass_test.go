package engine_test

import (
	"math"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
)

// A lens of which a chart was photographed on full frame, straight on a camera and behind
// a reducer. The coefficients are invented.
const measuredKit = `mount "Short" { flange 18mm }
mount "Deep" { flange 45mm }
adapter "Reducer" {
  from "Deep" to "Short"
  factor 0.5
  thickness 26mm
}
rig "Sled" { payload 0.5kg..5kg }
camera "Body" {
  mount "Short"
  mode "All" 24mm x 16mm
  iso 800
}
lens "Direct" {
  mount "Short"
  focal 20mm..60mm
  pupil thin
  aperture f/2.8..f/22
  circle 43mm
  distortion -9%
  correction {
    source "a chart"
    crop 1
    distortion 20mm poly3 -0.02
    distortion 60mm poly3 0.02
    shading 20mm f/2.8 1000m -0.5 0 0
    shading 60mm f/2.8 1000m -0.5 0 0
  }
}
lens "Reduced" {
  mount "Deep"
  focal 40mm
  pupil thin
  aperture f/2.8..f/22
  circle 43mm
  correction {
    source "a chart"
    crop 1
    distortion 40mm poly3 -0.02
  }
}
`

const measuredBrief = `use "kit.catalog"
scenario "Measured" {
  camera "Body"
  rig "Sled"
  carry 2 lenses
}
shot "1" {
  subject person 1.7m
  frame full
  distance 3m
}
`

func TestMeasuredDistortionIsUsed(t *testing.T) {
	r := enginetest.Recommend(t, enginetest.ReadWith(t, measuredBrief, measuredKit), engine.Options{})
	for i := range r.Shots[0].Ranking {
		j := &r.Shots[0].Ranking[i]
		lens, _ := r.Scenario.Catalogue.Lenses.Lookup(j.Lens)
		curve, _ := lens.Correction.DistortionCurve()
		// Behind a reducer of 0.5 the sensor sees what lies twice as far out in the picture
		// of the lens.
		factor := j.Fitting.Factor
		focal := j.Fact(facts.FocalLength)
		want := math.Abs(curve.Edges(focal/factor, 24e-3/factor, 16e-3/factor).Corner)
		if got := j.Fact(facts.Bending); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s at %v m: lines bend by %v, want %v", j.Lens, focal, got, want)
		}
		if strings.Contains(strings.Join(j.Missing, " "), "distortion") {
			t.Errorf("%s: distortion is said to be missing", j.Lens)
		}
		// The drawing moves a point by the same.
		p := r.Picture(r.Shots[0].Shot, j)
		const aside, distance = 0.5, 2
		x, _ := p.At(aside, 0, distance)
		plain := focal * aside / p.FieldDistance(distance)
		if moved := plain * (1 + curve.Share(focal/factor, plain/factor)); math.Abs(x-moved) > 1e-12 || !p.Bends {
			t.Errorf("%s: drawn at %v m, want %v", j.Lens, x, moved)
		}
		if j.Lens == "Direct" {
			light := lens.Correction.Falloff(lens, focal, 2.8, 1000, math.Hypot(24e-3, 16e-3)/2)
			if got := j.Fact(facts.CornerFalloff); math.Abs(got-light) > 1e-12 {
				t.Errorf("%s: %v stops lost in the corner, want %v as measured", j.Lens, got, light)
			}
		}
	}
}
