package engine

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// A criterionByHand is a standard criterion as somebody would write it who writes rules in
// Go.
type criterionByHand struct {
	weight float64
	when   func(r *facts.Record) bool
	vetoes []func(r *facts.Record) bool
	score  func(r *facts.Record) float64
}

func riseByHand(x, from, to float64) float64 { return min(1, max(0, (x-from)/(to-from))) }
func fallByHand(x, from, to float64) float64 { return min(1, max(0, (to-x)/(to-from))) }

// byHand holds the standard criteria.
var byHand = []criterionByHand{
	{weight: 4,
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool { return r.Value[facts.Mounts] != 1 },
			func(r *facts.Record) bool { return r.Value[facts.CircleMargin] < -0.02 },
			func(r *facts.Record) bool { return r.Value[facts.FocusMargin] < 0 },
			func(r *facts.Record) bool { return r.Value[facts.FramingError] > 0.41 },
			func(r *facts.Record) bool {
				return math.Abs(r.Value[facts.Squeeze]-r.Value[facts.WantedSqueeze]) > 0.01
			},
		},
		score: func(r *facts.Record) float64 {
			return 0.5*r.Value[facts.FramingHeld] + 0.5*fallByHand(r.Value[facts.FramingError], 0, 0.41)
		}},
	{weight: 2,
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool { return r.Value[facts.IsPerson] == 1 && r.Value[facts.EdgeStretch] > 0.35 },
			func(r *facts.Record) bool { return r.Value[facts.Bending] > 0.25 },
		},
		score: func(r *facts.Record) float64 {
			return fallByHand(r.Value[facts.Bending], 0.02, 0.25) * fallByHand(r.Value[facts.EdgeStretch], 0.03, 0.25) *
				fallByHand(r.Value[facts.CornerStretch], 0.3, 1.1)
		}},
	{weight: 3,
		vetoes: []func(r *facts.Record) bool{func(r *facts.Record) bool { return r.Value[facts.FocusHeld] < 0.5 }},
		score: func(r *facts.Record) float64 {
			return riseByHand(r.Value[facts.FocusHeld], 0.5, 1) * fallByHand(r.Value[facts.DiffractionShare], 0.8, 2.4)
		}},
	{weight: 3,
		vetoes: []func(r *facts.Record) bool{func(r *facts.Record) bool { return r.Value[facts.Short] > 0.5 }},
		score: func(r *facts.Record) float64 {
			return 0.2 + 0.8*fallByHand(math.Log2(r.Value[facts.ISO]/r.Value[facts.BaseISO]), 0.5, 4)
		}},
	{weight: 2, score: func(r *facts.Record) float64 {
		return fallByHand(r.Value[facts.Swing]+r.Value[facts.BobShare], 0.005, 0.06)
	}},
	{weight: 1,
		when:  func(r *facts.Record) bool { return r.Value[facts.TurnRate] > 0 || r.Value[facts.SweepSpeed] > 0 },
		score: func(r *facts.Record) float64 { return 0.2 + 0.8*riseByHand(r.Value[facts.Pace], 0.05, 1) }},
	{weight: 2,
		when: func(r *facts.Record) bool { return r.Value[facts.OnLegs] == 0 },
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool { return r.Value[facts.RigMass] < r.Value[facts.PayloadLow] },
			func(r *facts.Record) bool { return r.Value[facts.RigMass] > r.Value[facts.PayloadHigh] },
		},
		score: func(r *facts.Record) float64 {
			return fallByHand(r.Value[facts.PayloadPlace], 0.5, 1.3) * riseByHand(r.Value[facts.PayloadPlace], -0.1, 0.05)
		}},
	{weight: 1,
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool {
				return r.Value[facts.FocusAuto] == 1 && r.Value[facts.CameraAutofocus] != 1
			},
			func(r *facts.Record) bool { return r.Value[facts.FocusAuto] == 1 && r.Value[facts.LensAutofocus] != 1 },
			func(r *facts.Record) bool { return r.Value[facts.Clearance] < 0.15 },
		},
		score: func(r *facts.Record) float64 { return riseByHand(r.Value[facts.Clearance], 0.15, 0.5) }},
}

// judgeByHand computes all facts of a pair and judges it by closures.
func judgeByHand(g *glass, in *facts.ShotInput) (excluded bool, score float64) {
	var r facts.Record
	facts.FillShot(&r, in)
	facts.FillLens(&r, &g.input, g.input.FocalLow)
	facts.Refill(&r, facts.Every())
	logs, weight := 0.0, 0.0
	for i := range byHand {
		c := &byHand[i]
		if c.when != nil && !c.when(&r) {
			continue
		}
		for _, veto := range c.vetoes {
			excluded = veto(&r) || excluded
		}
		logs += c.weight * math.Log(c.score(&r))
		weight += c.weight
	}
	return excluded, math.Exp(logs / weight)
}

// crowd makes shots like those of the demo, and primes that nobody has.
func crowd(t testing.TB, lenses, shots int) *Table {
	t.Helper()
	text, err := os.ReadFile("../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	src, ds := lang.NewSource("night-ferry.scenario", text)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	s, ds := brief.Load(src, brief.Files{Tree: os.DirFS("../scenarios")})
	if s == nil {
		t.Fatal(ds)
	}
	draw := rand.New(rand.NewPCG(1, 2))
	between := func(low, high float64) float64 { return low * math.Pow(high/low, draw.Float64()) }
	table := &Table{Scenario: s, Camera: s.Cameras[0]}
	own := s.Shots
	s.Shots = nil
	for i := range shots {
		shot := *own[i%len(own)]
		shot.JudgeBy(s.Rules)
		stretch := between(0.6, 1.6)
		shot.Near, shot.Far, shot.Light = shot.Near*stretch, shot.Far*stretch, shot.Light*between(0.3, 3)
		s.Shots = append(s.Shots, &shot)
		table.inputs = append(table.inputs, s.ShotInput(&shot, table.Camera))
	}
	length := func(metres float64) lang.Quantity { return lang.NewQuantity(metres, lang.Length) }
	for i := range lenses {
		focal, stop := length(between(0.008, 0.15)), between(1.2, 5.6)
		table.glass = append(table.glass, fit(s, &catalog.Lens{
			Name: lang.Text{Value: fmt.Sprintf("Lens %d", i)}, Mount: table.Camera.Mount,
			Focal:        lang.Interval{Low: focal, High: focal},
			Aperture:     lang.Interval{Low: lang.NewQuantity(stop, lang.Aperture), High: lang.NewQuantity(22, lang.Aperture)},
			Transmission: lang.NewQuantity(1.1*stop, lang.Aperture),
			CloseFocus:   length(between(0.15, 1.5)), Circle: length(between(0.02, 0.06)), Length: length(between(0.03, 0.2)),
			Mass: lang.NewQuantity(between(0.1, 2), lang.Mass), Distortion: lang.NewQuantity(between(0.001, 0.05), lang.Plain),
		}, table.Camera))
	}
	return table
}

// The benchmark compares two ways to the same judgement.
func TestRankingAgreesWithGoByHand(t *testing.T) {
	table := crowd(t, 300, 20)
	outcomes, err := judgeAll(context.Background(), table.Scenario.Shots, table.inputs, table.glass, Options{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	able := 0
	for i := range table.inputs {
		for j, g := range table.glass {
			excluded, score := judgeByHand(g, &table.inputs[i])
			o := outcomes[i][j]
			if excluded != (o.Standing == Excluded) || math.Abs(score-o.Score) > 1e-9 {
				t.Fatalf("shot %d, lens %d: got %v with %g, want excluded %v with %g", i, j, o.Standing, o.Score, excluded, score)
			}
			if !excluded {
				able++
			}
		}
	}
	if able == 0 {
		t.Error("every lens is excluded from every shot, so that the comparison says little")
	}
}

// BenchmarkRank judges 10,000 lenses in 100 shots: with one worker against Go by hand with
// all facts of each pair, and with two workers.
func BenchmarkRank(b *testing.B) {
	table := crowd(b, 10_000, 100)
	r := langtest.NewRace(langtest.Wall,
		langtest.Way{Name: "hand", Do: func() {
			for i := range table.inputs {
				for _, g := range table.glass {
					judgeByHand(g, &table.inputs[i])
				}
			}
		}},
		langtest.Way{Name: "one", Do: func() { rankWith(b, table, 1) }},
		langtest.Way{Name: "two", Do: func() { rankWith(b, table, 2) }},
	)
	langtest.Hold(b, r.Round, r.AtMost("one", "hand", 0.5), r.AtLeast("one", "two", 1.75))
}

func rankWith(b *testing.B, table *Table, workers int) {
	if _, err := judgeAll(context.Background(), table.Scenario.Shots, table.inputs, table.glass, Options{Workers: workers}); err != nil {
		b.Fatal(err)
	}
}
