package facts

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"glassbrief/engine/optics"
	"glassbrief/lang/langtest"
)

// walk is a lead before a person, on a Super 35 frame: every input known.
func walk() ShotInput {
	return ShotInput{
		Subject: Subject{Person: true, Height: 1.78, Width: 0.46},
		Near:    1.6, Far: 2.8, Background: 9,
		WantNear: Band{1.13, 1.69}, WantFar: Band{1.13, 1.69},
		Motion: Motion{Speed: 1.2, Bob: 0.04, Sweep: 0.2, Turn: 0.1, Unrest: 2, Backwards: true, KeepsByEye: true},
		Light:  320, Rate: 25, ShutterAngle: math.Pi,
		BaseISO: 800, TopISO: 6400, RigIsolation: 0.8,
	}
}

func wide() LensInput {
	return LensInput{
		FocalLow: 0.018, FocalHigh: 0.018, WidestStop: 2, SmallestStop: 16, WidestT: 2.2,
		CloseFocus: 0.2, Magnification: 0.1, Scale: MarkedScale, Circle: 0.0315, Squeeze: 1, Distortion: -0.02, Falloff: math.NaN(),
		Mass: 0.62, Length: 0.09, Flange: 0.02,
		Sensor: optics.Frame{Width: 0.02489, Height: 0.01867}, Ratio: 2.39, Confusion: math.NaN(),
		CameraMass: 1.4, PayloadLow: 1, PayloadHigh: 3, Wobble: 0.004, DayRate: 0, Mounts: true,
	}
}

func pair(shot ShotInput, lens LensInput, focal float64) *Record {
	var r Record
	FillShot(&r, &shot)
	FillLens(&r, &lens, focal)
	Refill(&r, Every())
	return &r
}

// TestStagesFillTheirScope marks every fact as unknown and lets each stage write: it must
// write the facts of its scope, all of them and no others.
func TestStagesFillTheirScope(t *testing.T) {
	shot, lens := walk(), wide()
	var r Record
	for id := range ID(Count) {
		r.Set(id, math.NaN())
	}
	for _, stage := range []struct {
		scope Scope
		fill  func()
	}{
		{OfShot, func() { FillShot(&r, &shot) }},
		{OfLens, func() { FillLens(&r, &lens, lens.FocalLow) }},
		{OfPair, func() { Refill(&r, Every()) }},
	} {
		before := r.Unknown
		stage.fill()
		for id, fact := range Table() {
			wrote := before.Has(ID(id)) && !r.Unknown.Has(ID(id))
			if wrote != (fact.Scope == stage.scope) {
				t.Errorf("stage %s: wrote %s, a fact of the %s: %v", stage.scope, fact.Name, fact.Scope, wrote)
			}
		}
	}
}

func TestTable(t *testing.T) {
	seen := map[string]bool{}
	if got := len(Table()); got != int(Count) {
		t.Fatalf("the table has %d rows for %d facts", got, Count)
	}
	scope := OfShot
	for id, fact := range Table() {
		switch {
		case fact.Name == "" || fact.Meaning == "":
			t.Errorf("fact %d lacks its name or meaning", id)
		case seen[fact.Name]:
			t.Errorf("two facts are called %s", fact.Name)
		case fact.Formula == "" && !strings.HasPrefix(fact.Source, "given: "):
			t.Errorf("%s has neither a formula nor a field that gives it", fact.Name)
		case fact.Scope < scope:
			t.Errorf("%s stands behind facts of a later scope", fact.Name)
		}
		seen[fact.Name], scope = true, fact.Scope
		if place, ok := Vocabulary().Lookup(fact.Name); !ok || place != id {
			t.Errorf("the vocabulary has %s at %d, %v, want %d", fact.Name, place, ok, id)
		}
	}
}

// An unknown input must make unknown what is computed from it, and nothing else.
func TestUnknownSpreads(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(*ShotInput, *LensInput)
		unknown []ID
		known   []ID
	}{
		{"image circle", func(_ *ShotInput, l *LensInput) { l.Circle = math.NaN() }, []ID{ImageCircle, CircleMargin, Bending}, []ID{Stop, RigMass, FramingHeld}},
		{"lens mass", func(_ *ShotInput, l *LensInput) { l.Mass = math.NaN() }, []ID{LensMass, RigMass, PayloadPlace}, []ID{CircleMargin, Stop}},
		{"close focus", func(_ *ShotInput, l *LensInput) { l.CloseFocus = math.NaN() }, []ID{CloseFocus, FocusMargin}, []ID{NearLimit}},
		{"T-stop", func(_ *ShotInput, l *LensInput) { l.WidestT = math.NaN() }, []ID{TStop, ISO, ND, Short}, []ID{Stop, NearLimit, BackgroundBlur}},
		{"widest stop", func(_ *ShotInput, l *LensInput) { l.WidestStop = math.NaN() }, []ID{Stop, NearLimit, FocusHeld, BackgroundBlur, ISO}, []ID{NeededStop, FocusMark}},
		{"light", func(s *ShotInput, _ *LensInput) { s.Light = math.NaN() }, []ID{Light, LightEV, ISO, ND, Short}, []ID{Stop, TStop}},
		{"rig", func(s *ShotInput, l *LensInput) { s.RigIsolation, l.Wobble = math.NaN(), math.NaN() }, []ID{Bob, BobShare, WobbleShare, Swing}, []ID{AngleWidth}},
		{"rig of a camera on legs", func(s *ShotInput, l *LensInput) {
			s.RigIsolation, l.Wobble, s.Motion = math.NaN(), math.NaN(), Motion{}
		}, []ID{WobbleShare}, []ID{Bob, BobShare, Swing}},
		{"focus scale and magnification", func(_ *ShotInput, l *LensInput) { l.Scale, l.Magnification = UnknownScale, math.NaN() },
			[]ID{FocusScaleMarked, FocusByWire, FocusScaleAbsent, Magnification}, []ID{CloseFocus}},
		{"no face", func(s *ShotInput, _ *LensInput) { s.Subject.Person = false }, []ID{FaceStretch}, []ID{EdgeStretch}},
	} {
		t.Run(c.name, func(t *testing.T) {
			shot, lens := walk(), wide()
			c.change(&shot, &lens)
			r := pair(shot, lens, lens.FocalLow)
			for _, id := range c.unknown {
				if value, known := r.Get(id); known || !math.IsNaN(value) {
					t.Errorf("%s is %g, and must be unknown", Table()[id].Name, value)
				}
			}
			for _, id := range c.known {
				if _, known := r.Get(id); !known {
					t.Errorf("%s is unknown, and does not depend on it", Table()[id].Name)
				}
			}
		})
	}
}

func TestSetup(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*ShotInput, *LensInput)
		id     ID
		want   float64
	}{
		// N = 18² (2782 - 1582) / (c (2782·1564 + 1582·2764)), with c = 26.98 mm / 1500.
		{"needed stop", nil, NeededStop, 2.47},
		{"next third", nil, Stop, 2.5},
		{"T-stop follows the loss of glass", nil, TStop, 2.75},
		{"bright enough for the base", nil, ISO, 800},
		{"ND takes the rest", nil, ND, 4.0 / 3},
		{"dim light raises ISO", func(s *ShotInput, _ *LensInput) { s.Light = 40 }, ISO, 2500},
		{"and needs no ND", func(s *ShotInput, _ *LensInput) { s.Light = 40 }, ND, 0},
		{"darkness is short of stops", func(s *ShotInput, _ *LensInput) { s.Light = 4 }, Short, 2},
		{"at the highest ISO", func(s *ShotInput, _ *LensInput) { s.Light = 4 }, ISO, 6400},
		{"the widest stop is enough", func(s *ShotInput, _ *LensInput) { s.Focus = Pulled }, Stop, 2},
		{"the smallest stop is not enough", func(s *ShotInput, l *LensInput) { s.Near, s.Far = 0.3, 9; l.SmallestStop = 5.6 }, Stop, 5.6},
	} {
		t.Run(c.name, func(t *testing.T) {
			shot, lens := walk(), wide()
			if c.change != nil {
				c.change(&shot, &lens)
			}
			r := pair(shot, lens, lens.FocalLow)
			if got := r.Value[c.id]; math.Abs(got-c.want) > 0.02 {
				t.Errorf("%s = %.4g, want %.4g", Table()[c.id].Name, got, c.want)
			}
		})
	}
}

func inputs(t *rapid.T) (ShotInput, LensInput) {
	shot, lens := walk(), wide()
	shot.Near = rapid.Float64Range(1, 8).Draw(t, "near")
	shot.Far = shot.Near + rapid.Float64Range(0, 8).Draw(t, "depth")
	shot.Focus = Focus(rapid.IntRange(0, 2).Draw(t, "focus"))
	shot.Light = rapid.Float64Range(1, 1e5).Draw(t, "light")
	lens.FocalLow = rapid.Float64Range(0.008, 0.08).Draw(t, "focal")
	lens.FocalHigh = lens.FocalLow
	lens.WidestStop = rapid.Float64Range(1.2, 5.6).Draw(t, "stop")
	lens.WidestT = lens.WidestStop * 1.1
	return shot, lens
}

func TestNearFocusFar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := inputs(t)
		r := pair(shot, lens, lens.FocalLow)
		near, mark, far := r.Value[NearLimit], r.Value[FocusMark], r.Value[FarLimit]
		if !(near <= mark && mark <= far) {
			t.Errorf("near %g, mark %g, far %g are out of order", near, mark, far)
		}
		if held := r.Value[FocusHeld]; r.Value[Stop] < lens.SmallestStop && held < 1-1e-9 {
			t.Errorf("the stop could close further than %g, and only %g is sharp", r.Value[Stop], held)
		}
	})
}

// What must be sharp is never one plane: whoever is on the move keeps a distance by eye, a
// camera that is held sways, a face has its depth, and whoever pulls focus needs room.
func TestSharpRange(t *testing.T) {
	object, person := Subject{Height: 0.1, Width: 0.3}, Subject{Person: true, Height: 1.7, Width: 0.46}
	for name, c := range map[string]struct {
		in        ShotInput
		near, far float64
	}{
		"object from a camera that is held":    {ShotInput{Subject: object, Near: 0.5, Far: 0.5}, 0.48, 0.52},
		"object from hardly more than a plane": {ShotInput{Subject: object, Near: 0.5, Far: 0.51}, 0.485, 0.525},
		"face":                                 {ShotInput{Subject: person, Near: 1, Far: 1}, 0.9, 1.1},
		"distance kept by eye":                 {ShotInput{Subject: object, Near: 3, Far: 3, Motion: Motion{KeepsByEye: true}}, 2.85, 3.15},
		"interval of distances":                {ShotInput{Subject: person, Near: 1.6, Far: 2.8}, 1.6, 2.8},
		"focus that is pulled":                 {ShotInput{Subject: person, Near: 1.6, Far: 2.8, Focus: Pulled}, 1.4, 1.8},
		"camera that follows focus":            {ShotInput{Subject: person, Near: 1.6, Far: 2.8, Focus: Auto}, 1.5, 1.7},
	} {
		if got := sharpRange(&c.in); math.Abs(got.near-c.near) > 1e-12 || math.Abs(got.far-c.far) > 1e-12 {
			t.Errorf("%s: got %g to %g, want %g to %g", name, got.near, got.far, c.near, c.far)
		}
	}
}

func TestMonotoneInFocalLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := inputs(t)
		longer := lens.FocalLow * rapid.Float64Range(1.01, 2).Draw(t, "factor")
		a, b := pair(shot, lens, lens.FocalLow), pair(shot, lens, longer)
		for _, id := range []ID{AngleWidth, AngleHeight, AngleDiagonal, SpreadWidth, SpreadHeight, CornerStretch} {
			if !(b.Value[id] < a.Value[id]) {
				t.Errorf("%s does not fall with the focal length: %g, then %g", Table()[id].Name, a.Value[id], b.Value[id])
			}
		}
		for _, id := range []ID{FillNear, FillFar, NeededStop, WobbleShare, BobShare} {
			if b.Value[id] < a.Value[id] {
				t.Errorf("%s falls with the focal length: %g, then %g", Table()[id].Name, a.Value[id], b.Value[id])
			}
		}
	})
}

// BenchmarkFacts measures what hoisting saves: all facts for each pair, against the pair
// facts that the standard criteria read, with those of shot and lens copied in.
func BenchmarkFacts(b *testing.B) {
	const shots, lenses = 64, 64
	shot, lens := walk(), wide()
	fillAll := func() {
		var r Record
		for range shots {
			for range lenses {
				FillShot(&r, &shot)
				FillLens(&r, &lens, lens.FocalLow)
				Refill(&r, Every())
			}
		}
	}
	ofLens := make([]Record, lenses)
	// What the standard criteria read of the pair.
	judged := PlanOf(setOf(FramingError, FramingHeld, FocusMargin, Clearance, EdgeStretch, FocusHeld, DiffractionShare, ISO, Short, BobShare, Pace))
	hoisted := func() {
		for i := range ofLens {
			FillLens(&ofLens[i], &lens, lens.FocalLow)
		}
		for range shots {
			var r Record
			FillShot(&r, &shot)
			for i := range ofLens {
				FillPair(&r, &ofLens[i], judged)
			}
		}
	}
	r := langtest.NewRace(langtest.Processor, langtest.Way{Name: "all", Do: fillAll}, langtest.Way{Name: "hoisted", Do: hoisted})
	langtest.Hold(b, r.Round, r.AtMost("hoisted", "all", 0.30))
}
