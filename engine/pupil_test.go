package engine_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
)

// pupilBrief is one shot of a thing at a distance; pupilKit a lens for it, of a mount 44 mm deep before
// a camera 18 mm deep, with an adapter without glass and one with.
const (
	pupilBrief = `use "kit.catalog"
scenario "Pupils" {
  camera "Body"
  rig    "Sled"
}
shot "1" {
  subject  object 10cm x 10cm
  frame    5%%..500%%
  distance %gm
  move     hold
  light    500lx
}
`
	pupilKit = `mount "Short" {
  flange 18mm
}
mount "Deep" {
  flange 44mm
}
camera "Body" {
  mount "Short"
  mode  "Whole" 36mm x 24mm
  iso   800
  mass  1kg
}
rig "Sled" {
  payload 0.5kg..4kg
}
adapter "Plain" {
  from      "Deep" to "Short"
  thickness %gmm
  factor    %g
  mass      100g
}
lens "L" {
  mount       "Deep"
  aperture    f/2..f/22
  close_focus 0.3m
  have        owned
  %s
}
`
)

// pupilLens judges a lens of some lines in the shot at a distance.
func pupilLens(t *testing.T, distance, thickness, factor float64, lines string) (*brief.Scenario, *engine.Judgement) {
	t.Helper()
	s := enginetest.ReadWith(t, fmt.Sprintf(pupilBrief, distance), fmt.Sprintf(pupilKit, thickness, factor, lines))
	r := enginetest.Recommend(t, s, engine.Options{})
	return s, r.Shots[0].Find("L")
}

// assumedOfLens gives the keywords of what is assumed of the lens.
func assumedOfLens(s *brief.Scenario) (keywords []string) {
	for _, i := range s.AssumedAbout(brief.OfLens, "L") {
		keywords = append(keywords, s.Assumed[i].Keyword)
	}
	return keywords
}

// A prime whose pupil and magnification are known shows at its closest focus what the magnification
// says, and nobody need guess how it breathes.
func TestMagnificationSaysHowALensBreathes(t *testing.T) {
	s, j := pupilLens(t, 0.3, 26, 1, "focal 50mm\n pupil 70mm\n magnification 1:4")
	if width, want := j.Fact(facts.SpreadWidth)/j.Fact(facts.SpreadHeight)*j.Fact(facts.FieldNear), 4*0.036; math.Abs(width-want) > 1e-9 {
		t.Errorf("at its closest focus it shows %g m, want %g m", width, want)
	}
	if slices.Contains(assumedOfLens(s), "breathing") {
		t.Error("its breathing is assumed, though it follows")
	}
}

// A plain adapter leaves the pupil where it is, and one with glass brings it as much nearer to the
// sensor as the lens.
func TestPupilBehindAnAdapter(t *testing.T) {
	const lines = "focal 50mm\n pupil 70mm\n breathing -5%"
	_, plain := pupilLens(t, 1, 26, 1, lines)
	_, reducer := pupilLens(t, 1, 21, 0.71, lines)
	if got := plain.Fact(facts.Pupil); got != 0.07 {
		t.Errorf("behind a plain adapter it lies at %g m, want 0.07 m", got)
	}
	if got := reducer.Fact(facts.Pupil); math.Abs(got-0.065) > 1e-12 {
		t.Errorf("behind glass it lies at %g m, want 0.065 m", got)
	}
}

// A zoom has what is stated at its ends, and between them evenly; where it is assumed, both ends lie at
// the same place of their ranges.
func TestPupilOfAZoom(t *testing.T) {
	const at = 47e-3 // half way
	between := func(s *brief.Scenario) (pupil, breathing float64) {
		lens, _ := s.Catalogue.Lenses.Lookup("L")
		r, _ := engine.LensFacts(s, lens, s.Cameras[0], at)
		return r.Value[facts.Pupil], r.Value[facts.Breathing]
	}
	s, _ := pupilLens(t, 1, 26, 1, "focal 24mm..70mm\n pupil 128mm 104mm\n breathing 1% -6%")
	if pupil, breathing := between(s); math.Abs(pupil-0.116) > 1e-12 || math.Abs(breathing+0.025) > 1e-12 {
		t.Errorf("half way it is %g m with %g, want 0.116 m with -0.025", pupil, breathing)
	}
	s, _ = pupilLens(t, 1, 26, 1, "focal 24mm..70mm\n length 120mm")
	for _, i := range s.AssumedAbout(brief.OfLens, "L") {
		a := &s.Assumed[i]
		if a.Keyword != "pupil" {
			continue
		}
		// By the table: 0.80, 0.84 and 0.87 of the length of 160 mm at 24 mm, and 0.37, 0.59 and 0.89 at 70 mm.
		const front = 160e-3
		for value, want := range map[float64]float64{a.Low: (0.80 + 0.37) / 2, a.Middle: (0.84 + 0.59) / 2} {
			if pupil, _ := between(s.Under(brief.Values{i: value})); math.Abs(pupil-want*front) > 1e-9 {
				t.Errorf("with %g m at the wide end it is %g m half way, want %g m", value, pupil, want*front)
			}
		}
		return
	}
	t.Error("no pupil is assumed")
}

// Where nobody says where a lens begins to see, its framing is a range that holds the thin lens or
// one tighter; with its length stated a wide one frames to 2 % at a metre.
func TestFramingOfAnUnknownPupil(t *testing.T) {
	spread := func(lines string) (low, high, thin float64) {
		s, j := pupilLens(t, 1, 26, 1, lines)
		low, high = j.Fact(facts.FieldNear), j.Fact(facts.FieldNear)
		for _, i := range s.AssumedAbout(brief.OfLens, "L") {
			for _, value := range s.Assumed[i].Probes() {
				if keyword := s.Assumed[i].Keyword; keyword == "pupil" || keyword == "breathing" {
					at := enginetest.Recommend(t, s.Under(brief.Values{i: value}), engine.Options{}).Shots[0].Find("L").Fact(facts.FieldNear)
					low, high = min(low, at), max(high, at)
				}
			}
		}
		_, as := pupilLens(t, 1, 26, 1, lines+"\n pupil thin")
		return low, high, as.Fact(facts.FieldNear)
	}
	low, high, thin := spread("focal 20mm\n length 76mm")
	if middle := (low + high) / 2; high/low < 1.005 || high > middle*1.02 || high > thin {
		t.Errorf("a wide lens of known length shows %g to %g m, want within 2 %%, and less than the %g m of a thin one", low, high, thin)
	}
	if low, high, _ := spread("focal 20mm"); high/low < 1.02 || high/low > 1.2 {
		t.Errorf("a wide lens shows %g to %g m, want a few per cent between", low, high)
	}
}
