package facts

import (
	"math"
	"strings"
	"testing"

	"glassbrief/engine/optics"
	"glassbrief/engine/people"
	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

// walk is a lead before a person, on a Super 35 frame: every input known.
func walk() ShotInput {
	return ShotInput{
		Subject: Subject{Person: true, Height: 1.78, Width: 0.46},
		Near:    1.6, Far: 2.8, Background: 9,
		WantNear: Band{1.13, 1.69}, WantFar: Band{1.13, 1.69},
		Motion: Motion{Speed: 1.2, Bob: people.Walking.Bob(1.2), Sway: people.Walking.Sway(1.2), Sweep: 0.2, Turn: 0.1, Unrest: 2, Backwards: true, KeepsByEye: true},
		Light:  320, Rate: 25, ShutterAngle: math.Pi,
		BaseISO: 800, TopISO: 6400, RigIsolation: 0.8,
	}
}

// super35 is a Super 35 frame, cropped to 2.39:1.
var super35 = optics.Window{Frame: optics.Delivered(optics.Frame{Width: 0.02489, Height: 0.01867}, 1, 2.39)}

// thin is what a lens has for its pupil and its breathing that is taken for a thin one.
var thin = Ends{math.NaN(), math.NaN()}

func wide() LensInput {
	return LensInput{
		FocalLow: 0.018, FocalHigh: 0.018, WidestStop: 2, SmallestStop: 16, WidestT: 2.2,
		CloseFocus: 0.2, Magnification: 0.1, Pupil: thin, Breathing: thin, Scale: MarkedScale, Circle: 0.0315, Squeeze: 1, Distortion: -0.02, Falloff: math.NaN(),
		Mass: 0.62, Length: 0.09, Flange: 0.02,
		Delivered: super35, Protected: []optics.Window{super35}, Confusion: math.NaN(),
		CameraMass: 1.4, PayloadLow: 1, PayloadHigh: 3, Wobble: 0.004, DayRate: 0, Mounts: true,
	}
}

// dialled is a set-up: f/4 focused at 2 m, ISO 800 and a filter of 2 stops.
func dialled(r *Record) {
	for id, value := range map[ID]float64{Stop: 4, FocusMark: 2, Following: 0, ISO: 800, StandsOn: 800, ND: 2, Filters: 1, FilterCross: 0} {
		r.Set(id, value)
	}
}

// pair gives the facts of a lens in a shot as dialled, or as set with pairs of a fact and its
// value.
func pair(shot ShotInput, lens LensInput, focal float64) *Record {
	return pairAt(shot, lens, focal, nil)
}

func pairAt(shot ShotInput, lens LensInput, focal float64, set map[ID]float64) *Record {
	var r Record
	FillShot(&r, &shot)
	FillLens(&r, &lens, focal)
	dialled(&r)
	for id, value := range set {
		r.Set(id, value)
	}
	Refill(&r, Every())
	return &r
}

// TestStagesFillTheirScope marks every fact as unknown and lets each stage write: it must
// write the facts of its scope, all of them and no others.
func TestStagesFillTheirScope(t *testing.T) {
	shot, lens := walk(), wide()
	lens.Pupil, lens.Breathing = Ends{0.08, 0.08}, Ends{-0.05, -0.05}
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
		{OfPair, func() { dialled(&r); Refill(&r, Every()) }},
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
		{"T-stop", func(_ *ShotInput, l *LensInput) { l.WidestT = math.NaN() }, []ID{TStop, ISONeeded, ExposureGap, Over, Short, ExposureError}, []ID{ISO, Noise, Pull, NearLimit, BackgroundBlur}},
		{"widest stop", func(_ *ShotInput, l *LensInput) { l.WidestStop = math.NaN() }, []ID{TStop, ISONeeded, Short}, []ID{NeededStop, NearLimit, BackgroundBlur}},
		{"light", func(s *ShotInput, _ *LensInput) { s.Light = math.NaN() }, []ID{Light, LightEV, ISONeeded, ExposureGap, Over, Short, ExposureError}, []ID{TStop, Noise, Pull}},
		{"rig", func(s *ShotInput, l *LensInput) { s.RigIsolation, l.Wobble = math.NaN(), math.NaN() }, []ID{Bob, BobHigh, Sway, BobShare, SwayShare, StepShare, StepHigh, WobbleShare, Swing}, []ID{AngleWidth}},
		{"rig of a camera on legs", func(s *ShotInput, l *LensInput) {
			s.RigIsolation, l.Wobble, s.Motion = math.NaN(), math.NaN(), Motion{}
		}, []ID{WobbleShare}, []ID{Bob, Sway, BobShare, StepShare, StepHigh, Swing}},
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

// What is not known of a set-up spreads as what is not known of a lens does.
func TestUnknownSetup(t *testing.T) {
	for id, unknown := range map[ID][]ID{
		Stop:      {TStop, NearLimit, FarLimit, FocusHeld, FocusEase, SceneSharp, BackgroundBlur, DiffractionShare, ExposureGap},
		FocusMark: {MarkFromLens, NearLimit, FocusEase, BackgroundBlur},
		ISO:       {ExposureGap, Over, Short, Noise, Pull},
	} {
		r := pairAt(walk(), wide(), 0.018, map[ID]float64{id: math.NaN()})
		for _, other := range unknown {
			if !r.Unknown.Has(other) {
				t.Errorf("without %s, %s is %g, and must be unknown", Table()[id].Name, Table()[other].Name, r.Value[other])
			}
		}
		for _, other := range []ID{NeededStop, FramingHeld, Swing, FilterCross} {
			if r.Unknown.Has(other) {
				t.Errorf("without %s, %s is unknown, and does not depend on it", Table()[id].Name, Table()[other].Name)
			}
		}
	}
}

func TestSetup(t *testing.T) {
	// Of all, c is 26.98 mm / 1500 and the lens stands 18.2 mm before the sensor.
	for _, c := range []struct {
		name   string
		change func(*ShotInput, *LensInput)
		set    map[ID]float64
		id     ID
		want   float64
	}{
		// N = 18² (2922 - 1502) / (c (2922·1484 + 1502·2904)): 5 % are lost at each end.
		{"needed stop", nil, nil, NeededStop, 2.94},
		{"T-stop follows the loss of glass", nil, nil, TStop, 4.4},
		// h = 18² / (4 c) = 4503 mm; s h / (h + s - f) with s = 1982 mm.
		{"near limit", nil, nil, NearLimit, 1.3982},
		{"far limit", nil, nil, FarLimit, 3.5324},
		{"reserve near", nil, nil, ReserveNear, (1.6 - 1.3982) / 1.6},
		{"reserve far", nil, nil, ReserveFar, (3.5324 - 2.8) / 2.8},
		{"reserve far of what is followed", nil, map[ID]float64{Following: 1}, ReserveFar, (3.5324 - 1.6) / 1.6},
		{"a tenth is comfortable by eye", nil, nil, ReserveWanted, 0.1},
		{"half a face for a puller", func(s *ShotInput, _ *LensInput) { s.Focus = Pulled }, map[ID]float64{Following: 1}, ReserveWanted, 0.05 / 1.6},
		{"3 % for a puller far off", func(s *ShotInput, _ *LensInput) { s.Focus, s.Near, s.Far = Pulled, 4, 4 }, map[ID]float64{Following: 1}, ReserveWanted, 0.03},
		{"2 % for a camera", func(s *ShotInput, _ *LensInput) { s.Focus, s.Near, s.Far = Auto, 4, 4 }, map[ID]float64{Following: 1}, ReserveWanted, 0.02},
		{"the lesser reserve counts", nil, nil, FocusEase, 10 * (1.6 - 1.3982) / 1.6},
		{"into the background of 9 m", nil, nil, SceneSharp, 3.5324 / 9},
		// 250 · 4.4² / (320 lx / 50)
		{"what the light asks for", nil, nil, ISONeeded, 756.25},
		// log2(800 / 756.25) - 2
		{"a filter too many", nil, nil, ExposureGap, -1.919},
		{"is short", nil, nil, Short, 1.919},
		{"and not over", nil, nil, Over, 0},
		{"is off", nil, nil, ExposureError, 1.919},
		{"ISO takes it over", nil, map[ID]float64{ISO: 6400}, Over, 1.081},
		{"clean at 800", nil, nil, Noise, 0},
		{"one base is not cleaner for being high", func(s *ShotInput, _ *LensInput) { s.BaseISO = 1600 }, map[ID]float64{ISO: 1600, StandsOn: 1600}, Noise, 1},
		{"three stops above clean", nil, map[ID]float64{ISO: 6400}, Noise, 3},
		{"a higher base", nil, map[ID]float64{ISO: 6400, StandsOn: 4000}, Noise, 0.5 + 0.678},
		{"two stops pulled", nil, map[ID]float64{ISO: 200}, Pull, 2},
		{"no pull above", nil, map[ID]float64{ISO: 1600}, Pull, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			shot, lens := walk(), wide()
			if c.change != nil {
				c.change(&shot, &lens)
			}
			r := pairAt(shot, lens, lens.FocalLow, c.set)
			if got := r.Value[c.id]; math.Abs(got-c.want) > 1e-3*max(0.1, math.Abs(c.want)) {
				t.Errorf("%s = %.5g, want %.5g", Table()[c.id].Name, got, c.want)
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
	lens.CloseFocus = 0.7 // no macro, even when made twice as long
	lens.WidestStop = rapid.Float64Range(1.2, 5.6).Draw(t, "stop")
	lens.WidestT = lens.WidestStop * 1.1
	if rapid.Bool().Draw(t, "off the middle") {
		lens.Delivered.X = lens.Delivered.Width / 4 * rapid.Float64Range(-1, 1).Draw(t, "x")
		lens.Delivered.Y = lens.Delivered.Height / 4 * rapid.Float64Range(-1, 1).Draw(t, "y")
	}
	return shot, lens
}

func TestNearFocusFar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := inputs(t)
		r := pairAt(shot, lens, lens.FocalLow, map[ID]float64{
			Stop:      lens.WidestStop * rapid.Float64Range(1, 8).Draw(t, "closed"),
			FocusMark: rapid.Float64Range(0.7, 20).Draw(t, "mark"),
		})
		near, mark, far := r.Value[NearLimit], r.Value[FocusMark], r.Value[FarLimit]
		if rounding := 1e-12 * mark; !(near <= mark+rounding && mark <= far+rounding) {
			t.Errorf("near %g, mark %g, far %g are out of order", near, mark, far)
		}
		// At the stop that just holds the plan, and the mark for it, all of it is sharp.
		needed := r.Value[NeededStop]
		n, f := LensDistance(&r.Value, r.Value[FocusNear]), LensDistance(&r.Value, r.Value[FocusFar])
		at := SensorDistance(&r.Value, optics.FocusMark(n, f))
		held := pairAt(shot, lens, lens.FocalLow, map[ID]float64{Stop: needed * (1 + 1e-9), FocusMark: at}).Value[FocusHeld]
		less := pairAt(shot, lens, lens.FocalLow, map[ID]float64{Stop: needed * 0.99, FocusMark: at}).Value[FocusHeld]
		if held < 1-1e-6 || less >= 1 {
			t.Errorf("f/%g holds %g of the plan, and f/%g %g", needed, held, needed*0.99, less)
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
		"object from a camera that is held":    {ShotInput{Subject: object, Near: 0.5, Far: 0.5}, 0.4782, 0.5218},
		"object from hardly more than a plane": {ShotInput{Subject: object, Near: 0.5, Far: 0.51}, 0.4832, 0.5268},
		"face":                                 {ShotInput{Subject: person, Near: 1, Far: 1}, 0.9, 1.1},
		"distance kept by eye":                 {ShotInput{Subject: object, Near: 3, Far: 3, Motion: Motion{KeepsByEye: true}}, 2.85, 3.15},
		"interval of distances":                {ShotInput{Subject: person, Near: 1.6, Far: 2.8}, 1.6, 2.8},
		"interval kept by eye":                 {ShotInput{Subject: person, Near: 1.6, Far: 2.8, Motion: Motion{KeepsByEye: true}}, 1.52, 2.94},
		"object from legs":                     {ShotInput{Subject: object, Near: 0.5, Far: 0.5, Support: Legs}, 0.5, 0.5},
		"half a face for a puller":             {ShotInput{Subject: person, Near: 1.25, Far: 2.8, Focus: Pulled}, 1.2, 1.3},
		"a puller's error":                     {ShotInput{Subject: person, Near: 4, Far: 6, Focus: Pulled}, 3.88, 4.12},
		"a camera's error":                     {ShotInput{Subject: person, Near: 4, Far: 6, Focus: Auto}, 3.92, 4.08},
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
	judged := PlanOf(setOf(FramingError, FramingLost, Clearance, EdgeStretch, ReserveNear, ReserveFar, FocusEase, SceneSharp, BackgroundBlur,
		DiffractionShare, Over, Short, ExposureError, Noise, Pull, Swing, BobShare, Pace))
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
